"""What the answers of the short path leave open: for each check one home that draws it and a near one that does not."""

from typing import Any

import pytest

from alarmlib.checks.home import short_path
from alarmlib.model import Home

ROOMS = [{"id": "hall", "name": "Hall", "storey": "s"}, {"id": "den", "name": "Den", "storey": "s"}]
DOOR = {"id": "door", "name": "Door", "room": "hall", "kind": "door"}
WINDOW = {"id": "window", "name": "Window", "room": "den"}
JOINED = {"id": "way", "first": "hall", "second": "den"}
SIREN = {"id": "siren", "name": "Siren", "kind": "siren"}
MOBILE = {"id": "mobile", "name": "Mobile", "kind": "mobile"}


def home(
    answers: dict[str, Any], openings: Any = (DOOR, WINDOW), passages: Any = (JOINED,), paths: Any = (), **hall: Any
) -> Home:
    """Two rooms on one storey, with a night set, and these answers."""
    told = [{"id": "m", "event": "burglary", "to": ["aunt"], "paths": [path["id"] for path in paths]}] if paths else []
    rooms = [ROOMS[0] | hall, ROOMS[1]]
    storeys = [{"id": "s", "name": "Ground floor"}]
    return Home.model_validate(
        {
            "short_path": {"rooms": "Hall, Den"} | answers,
            "site": {"storeys": storeys, "rooms": rooms, "openings": openings, "passages": passages},
            "control_unit": {"part_sets": [{"id": "night", "name": "Night"}]},
            "messages": {"paths": paths, "responders": [{"id": "aunt", "role": "Aunt"}], "messages": told},
        }
    )


CASES = [
    ("smoke_alarms_missing", home({"smoke_alarms": "no"}), home({"smoke_alarms": "no"}, smoke_alarm="yes")),
    ("smoke_alarms_missing", home({"smoke_alarms": "no"}), home({"smoke_alarms": "yes"})),
    ("siren_unanswered", home({"answers_siren": "no"}), home({"answers_siren": "no"}, paths=(MOBILE,))),
    ("siren_unanswered", home({"answers_siren": "no"}, paths=(SIREN,)), home({"answers_siren": "yes"})),
    ("rooms_not_joined", home({}, passages=(), openings=(DOOR,)), home({}, passages=())),
    ("rooms_not_joined", home({}, passages=({**JOINED, "kind": "outside"},), openings=(DOOR,)), home({}, openings=())),
    ("no_window_listed", home({}, openings=(DOOR,)), home({})),
    ("nobody_sleeps", home({}), home({}, sleeps_here=True)),
    ("nobody_sleeps", home({}), home({"night_set": False})),
]


@pytest.mark.parametrize(("check", "drawn", "near"), CASES)
def test_drawn_and_near(check: str, drawn: Home, near: Home) -> None:
    """The finding is drawn by one home and not by the other."""
    (found,) = (each for each in short_path.GROUP.checks if each.id == f"short_path.{check}")
    assert [each.verdict.value for each in found.result(drawn)] == ["should"]  # type: ignore[union-attr]
    assert found.result(near) == ()


def test_silent_without_a_short_path() -> None:
    """Whoever never answered the short path is told nothing of it."""
    bare = home({"rooms": ""}, openings=(DOOR,), passages=())
    assert [each for check in short_path.GROUP.checks for each in check.result(bare)] == []
