"""Values that no home can have: refused when the file is read, in a sentence that names the field."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.store import load

Refused = Callable[[str], str]


@pytest.fixture
def refused(tmp_path: Path) -> Refused:
    """The sentence with which a text is refused as a home file."""

    def refuses(text: str) -> str:
        file = tmp_path / "home.json"
        file.write_text(text, encoding="utf-8")
        with pytest.raises(AlarmProblem) as caught:
            load(file)
        sentence = str(caught.value)
        assert "\n" not in sentence
        assert len(sentence) < 400
        return sentence

    return refuses


@pytest.mark.parametrize("day", ["2026-02-30", "2025-02-29", "2026-06-31", "0000-01-01", "9999-12-31", "2999-01-01"])
@pytest.mark.parametrize(
    "place",
    [
        ("devices", 1, "wireless", "battery_fitted_on"),
        ("devices", 0, "made_on"),
        ("devices", 0, "fitted_on"),
        ("log", "tests", 0, "on"),
        ("household", "people", 0, "trained_on"),
    ],
)
def test_a_day_that_no_calendar_has(
    day: str, place: tuple[str | int, ...], document: dict[str, Any], refused: Refused
) -> None:
    inside: Any = document
    for step in place[:-1]:
        inside = inside[step]
    inside[place[-1]] = day
    sentence = refused(json.dumps(document))
    assert f"{place[-1]} in home.json: “{day}” is not allowed here" in sentence
    assert "such as 2026-03-01" in sentence


@pytest.mark.parametrize("day", ["", "2024-02-29", "1900-01-01", "2199-12-31"])
def test_a_day_of_the_calendar_is_taken(day: str, document: dict[str, Any], tmp_path: Path) -> None:
    """2024 had a 29 February."""
    document["devices"][0]["fitted_on"] = day
    (tmp_path / "home.json").write_text(json.dumps(document))
    assert load(tmp_path / "home.json").devices[0].fitted_on == day


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity"])
def test_a_number_that_is_none_is_named_with_its_field(number: str, document: dict[str, Any], refused: Refused) -> None:
    text = json.dumps(document).replace("2.5019", number)
    assert f"site.rooms.hall.ceiling_m in home.json: “{number}”" in refused(text)


def test_a_field_given_twice_is_named(document: dict[str, Any], refused: Refused) -> None:
    text = json.dumps(document).replace('"ceiling_m": 2.5019', '"ceiling_m": 2.5, "ceiling_m": 2.4')
    assert refused(text) == "home.json gives the field “ceiling_m” twice in one place. Keep one of the two."


def test_a_field_that_is_missing_is_named(document: dict[str, Any], refused: Refused) -> None:
    del document["site"]["rooms"][0]["storey"]
    sentence = refused(json.dumps(document))
    assert sentence == "site.rooms.hall.storey in home.json: nothing is written here; this field is needed."


def test_a_long_id_is_cut(document: dict[str, Any], refused: Refused) -> None:
    document["site"]["rooms"][0] |= {"id": "x" * 4_000_000, "ceiling_m": "high"}
    assert "site.rooms.xxx" in refused(json.dumps(document))
    document["site"]["rooms"][0] = {"id": "hall", "name": "Hall", "storey": "ground", "y" * 4_000_000: 1}
    assert "yyy" in refused(json.dumps(document))


def test_a_long_reference_is_cut(document: dict[str, Any], refused: Refused) -> None:
    document["site"]["openings"][0]["room"] = "x" * 4_000_000
    assert "site.openings.front_door.room" in refused(json.dumps(document))
