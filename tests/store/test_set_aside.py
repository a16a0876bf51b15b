"""Home files of 0.1 to 0.4 with values that are refused now: they open, and the home's note says what was set aside."""

import gzip
import json
from pathlib import Path
from typing import Any

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store.document import parsed, text_of

EARLIER = Path(__file__).parent / "earlier"
BEGINS = "Some entries of this file cannot be right. They were set aside when a newer workbook opened it."
OLD = json.loads(gzip.decompress((EARLIER / "home_of_0_4.json.gz").read_bytes()))


def old_with(*puts: tuple[tuple[str | int, ...], Any]) -> bytes:
    """The demo home of 0.4 with other values at some places."""
    document = json.loads(json.dumps(OLD))
    for place, value in puts:
        inside = document
        for step in place[:-1]:
            inside = inside[step]
        inside[place[-1]] = value
    return json.dumps(document).encode()


def opened(*puts: tuple[tuple[str | int, ...], Any]) -> tuple[dict[str, Any], list[str]]:
    """The home that such a file becomes, and what its note says beyond what it said."""
    home = parsed(old_with(*puts), "home.json")
    assert parsed(text_of(home), "home.json") == home
    note = home.note.removeprefix(OLD["note"]).strip().splitlines()
    return home.model_dump(mode="json"), note


ROOM = OLD["site"]["rooms"][0]["name"]
TESTS = [{"id": "a", "retest_of": "b"}, {"id": "b", "retest_of": "a"}]
CASES: list[tuple[tuple[str | int, ...], Any, Any, list[str]]] = [
    (("devices", 0, "fitted_on"), "2026-02-30", "", ["Fitted on of “{device}”: “2026-02-30”."]),
    (("devices", 0, "fitted_on"), "9999-12-31", "", ["Fitted on of “{device}”: “9999-12-31”."]),
    (("site", "rooms", 0, "name"), "Ha\x00ll\u202e way", "Hall way", ["Room of “Ha�ll� way”: “Ha�ll� way”."]),
    (("site", "rooms", 0, "name"), "Hall\nway", "Hall way", ["Room of “Hall way”: “Hall way”."]),
    (("site", "rooms", 0, "note"), "two\nlines\u2066", "two\nlines", ["Note of “{room}”: “two lines�”."]),
    (("site", "openings", 0, "width_m"), True, None, ["Width of “{opening}”: “true”."]),
    (("site", "openings", 0, "at"), [True, 2.0], None, ["Place on the wall of “{opening}”: “true”."]),
    (("site", "openings", 0, "width_m"), "0.9", 0.9, []),
    (("site", "storeys", 0, "level"), "-1", -1, []),
    (("log", "tests"), TESTS, None, ["Earlier test that it repeats of test 1: “b”."]),
]


@pytest.mark.parametrize(("place", "value", "now", "told"), CASES)
def test_a_value_that_no_home_can_have_is_set_aside(
    place: tuple[str | int, ...], value: Any, now: Any, told: list[str]
) -> None:
    found, note = opened((place, value))
    names = {"device": OLD["devices"][0]["name"], "room": ROOM, "opening": OLD["site"]["openings"][0]["name"]}
    assert note == [line.format(**names) for line in (BEGINS, *told)] * bool(told)
    inside: Any = found
    for step in place:
        inside = inside[step]
    if place == ("log", "tests"):
        assert [each["retest_of"] for each in inside] == ["", "a"]
    else:
        assert inside == now


def test_areas_and_repeaters_that_lead_back_are_set_aside() -> None:
    areas = [{"id": "annexe", "name": "Annexe", "follows": "annexe"}]
    radio = [
        {"id": name, "name": name.upper(), "kind": "repeater", "link": "wire_free", "wire_free": {"repeater": by}}
        for name, by in (("r1", "r2"), ("r2", "r1"), ("r3", "r3"))
    ]
    found, note = opened(
        (("unit", "areas"), [*OLD["unit"]["areas"], *areas]), (("devices",), [*OLD["devices"], *radio])
    )
    by = "Wireless facts: Repeater that passes on its messages".removeprefix("Wireless facts: ")
    assert note == [
        BEGINS,
        "Area whose entry delay it waits for of “Annexe”: “annexe”.",
        f"{by} of “R1”: “r2”.",
        f"{by} of “R3”: “r3”.",
    ]
    assert found["control_unit"]["areas"][-1]["follows"] == ""
    assert [each["wireless"]["repeater"] for each in found["devices"][-3:]] == ["", "r1", ""]


def test_many_are_told_as_far_as_there_is_room() -> None:
    """A note has 2,000 characters at most; every value is set aside all the same."""
    found, note = opened(*((("devices", n, "fitted_on"), "2026-02-30") for n in range(len(OLD["devices"]))))
    assert {each["fitted_on"] for each in found["devices"]} == {""}
    assert note[-1] == "And more."
    assert len(note) > 20


@pytest.mark.parametrize(
    ("place", "value"), [(("site", "openings", 0, "width_m"), "wide"), (("site", "openings", 0, "room"), "gone")]
)
def test_what_was_refused_before_is_refused_still(place: tuple[str | int, ...], value: Any) -> None:
    with pytest.raises(AlarmProblem, match=str(value)):
        parsed(old_with((place, value)), "home.json")


@pytest.mark.parametrize(
    ("place", "value", "path"),
    [
        (("devices", 0, "range_m"), [], "range_m"),
        (("devices", 0, "id"), {}, "id"),
        (("unit", "zones", 0, "id"), [], "id"),
        (("unit", "zones", 0, "function"), [], "function"),
        (("unit", "part_sets", 0, "doors"), [{"zone": []}], "zone"),
        (("unit", "seasons"), [{"id": "s", "name": "S", "zones": [{"zone": {}}]}], "zone"),
    ],
)
def test_a_value_of_another_sort_is_named_by_its_field(place: tuple[str | int, ...], value: Any, path: str) -> None:
    """Bringing up such an old file had ended in a traceback."""
    with pytest.raises(AlarmProblem) as caught:
        parsed(old_with((place, value)), "home.json")
    assert f"{path} in home.json" in str(caught.value)


def test_a_file_of_this_version_is_never_changed_to_fit() -> None:
    document = Home().model_dump(mode="json") | {"name": "Ho\x00me"}
    with pytest.raises(AlarmProblem, match="control characters"):
        parsed(json.dumps(document).encode(), "home.json")
