"""What is missing before a home can be proved."""

from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.proof.report.readiness import NotReady, unready
from alarmlib.record.produce import demo_home


def spoiled(spoil: Any) -> tuple[str, ...]:
    """What is missing in the demo home after a change of its document."""
    document = demo_home().model_dump(mode="json")
    spoil(document)
    return unready(Home.model_validate(document))


def test_demo_home__is_ready() -> None:
    """Nothing is missing in the demo home."""
    assert unready(demo_home()) == ()


def test_blank_home__says_all_that_is_missing() -> None:
    """A blank home lacks rooms, zones, detectors, a keypad and an entry/exit door."""
    assert len(unready(Home())) == 5
    assert str(NotReady(unready(Home()))).startswith("This home cannot be proved yet. No room is entered.")


def _room(document: Any) -> None:
    ground = document["site"]["storeys"][0]["id"]
    document["site"]["rooms"].append({"id": "island", "name": "Island", "storey": ground})


def _rooms_joined_to_each_other_only(document: Any) -> None:
    ground = document["site"]["storeys"][0]["id"]
    document["site"]["rooms"] += [{"id": name, "name": name.title(), "storey": ground} for name in ("east", "west")]
    document["site"]["passages"].append({"id": "between", "first": "east", "second": "west"})


def _across_the_yard(document: Any) -> None:
    _room(document)
    first = document["site"]["rooms"][0]["id"]
    document["site"]["passages"].append({"id": "over_there", "first": first, "second": "island", "kind": "outside"})


def _function(document: Any) -> None:
    used = next(device["zone"] for device in document["devices"] if device["zone"])
    next(zone for zone in document["control_unit"]["zones"] if zone["id"] == used)["function"] = "unused"


def _kind(document: Any, device: Any) -> str:
    """What a device is: its type says so, or the device itself where it has none."""
    kinds = {each["id"]: each["kind"] for each in document["device_types"]}
    return str(device.get("kind") or kinds[device["type"]])


def _no_keypad(document: Any) -> None:
    for device in document["devices"]:
        if _kind(document, device) in ("keypad", "key_switch", "fob"):
            device["state"] = "removed"


def _no_zone(document: Any) -> None:
    next(device for device in document["devices"] if _kind(document, device) == "contact" and device["zone"])[
        "zone"
    ] = ""


def _no_entry_exit_door(document: Any) -> None:
    for opening in document["site"]["openings"]:
        opening["entry_exit"] = False


def _blank_names(document: Any) -> None:
    document["site"]["rooms"][0]["name"] = " "
    document["control_unit"]["part_sets"][0]["name"] = ""
    document["control_unit"]["part_sets"][1]["name"] = ""


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (_room, ["No way leads into the room “Island”"]),
        (_rooms_joined_to_each_other_only, ["the room “East”", "the room “West”"]),
        (_across_the_yard, ["the room “Island”"]),
        (_function, ["has devices but no function"]),
        (_no_keypad, ["no keypad, key switch or fob"]),
        (_no_zone, ["belongs to no zone"]),
        (_no_entry_exit_door, ["entry/exit door"]),
        (_blank_names, ["One room has no name", "2 of the part sets have no name"]),
    ],
)
def test_unready__one_sentence_each(spoil: Any, words: list[str]) -> None:
    """Each missing fact is one sentence, and there is no other sentence."""
    missing = spoiled(spoil)
    assert len(missing) == len(words), missing
    assert all(word in sentence for word, sentence in zip(words, missing, strict=True)), missing
    assert all(sentence.endswith(".") for sentence in missing)


def test_unready__a_room_that_is_not_guarded_needs_no_way_in() -> None:
    """A void behind a wall may be entered as a room without a door."""

    def spoil(document: Any) -> None:
        _room(document)
        document["site"]["rooms"][-1]["guarded"] = False

    assert spoiled(spoil) == ()
