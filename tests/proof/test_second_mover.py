"""An intruder beside one person who comes or goes, on a hall and a living room counted by hand."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.intruder.intrusions import Intruders
from alarmlib.proof.intruder.second_mover_verdicts import second_mover_proved
from alarmlib.proof.report.verdicts import ProofVerdict, Proved

LEAVING = [("set_full", "", 3), ("walk_to", "hall", 1), ("open", "front", 2), ("close", "front", 2), ("wait", "", 30)]
COMING = [("open", "front", 2), ("close", "front", 2), ("walk_to", "hall", 1), ("unset", "", 3)]


@pytest.fixture
def two_doors() -> Callable[..., Home]:
    """A hall with the front door, behind it a living room with the back door; each has a contact. No plan is drawn."""

    def made(back: str = "entry_exit", steps: list[tuple[str, str, int]] = LEAVING, **habit: Any) -> Home:
        told = [{"id": f"s{n}", "deed": d, "place": p, "seconds": s} for n, (d, p, s) in enumerate(steps)]
        doing = {"id": "walk", "name": "Walk", "who": "owner", "starts_at": "hall", "begins_in": "unset", "steps": told}
        zones = [{"id": "front_zone", "label": "Front", "function": "entry_exit", "areas": ["house"]}]
        zones += [{"id": "back_zone", "label": "Back", "function": back, "areas": ["house"]}]
        doors = {"front": "hall", "back": "living"}
        openings = [
            {"id": n, "name": n, "room": r, "kind": "door", "reach": "ground", "entry_exit": True}
            for n, r in doors.items()
        ]
        devices = [
            {"id": f"{n}_contact", "name": n, "kind": "contact", "room": r, "openings": [n], "zone": f"{n}_zone"}
            for n, r in doors.items()
        ]
        return Home.model_validate(
            {
                "site": {
                    "storeys": [{"id": "ground", "name": "Ground"}],
                    "rooms": [{"id": r, "name": r, "storey": "ground"} for r in ("hall", "living")],
                    "openings": openings,
                    "passages": [{"id": "between", "first": "hall", "second": "living", "seconds": 3}],
                },
                "household": {"people": [{"id": "owner", "role": "owner"}], "habits": [doing | habit]},
                "control_unit": {
                    "areas": [{"id": "house", "name": "House"}],
                    "zones": zones,
                    "times": {"entry_s": 15, "exit_s": 20, "siren_s": 90, "abort_s": 0},
                },
                "devices": [*devices, {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "hall"}],
                "proof": {"tolerance_percent": 0},
            }
        )

    return made


def proved(home: Home) -> dict[str, Proved]:
    """The verdicts by id, ways in searched first."""
    intruders = Intruders(home, faults_of(home, "none"))
    tallies = intruders.search()
    return {each.id: each for each in second_mover_proved(home, intruders, tallies)}


def test_who_slips_in_by_another_entry_exit_door_while_one_leaves_is_not_noticed(
    two_doors: Callable[..., Home],
) -> None:
    """Set from second 23 on, begun in second 3: until then the back door only counts as leaving, and is closed again.

    The intruder is in the hall when it is set: of rooms reached at once the first by name is told.
    """
    found = proved(two_doors())["beside/house/set_full"]
    assert found.verdict is ProofVerdict.BREACHED
    assert found.counterexample[-1].at_s == 3 + 20
    assert found.counterexample[-1].place == "hall"
    assert any("back_contact" in beat.devices for beat in found.counterexample)
    assert found.worst["habit"] == "Walk"


def test_a_back_door_that_alarms_at_once_keeps_everybody_out(two_doors: Callable[..., Home]) -> None:
    """Off the way out it sounds at once (the stated default), so nobody slips in."""
    found = proved(two_doors(back="at_once"))["beside/house/set_full"]
    assert found.verdict is ProofVerdict.HOLDS
    assert found.worst == {"habits": "1"}
    assert found.states > 20


def test_whoever_comes_home_unsets_before_it_matters(two_doors: Callable[..., Home]) -> None:
    """While somebody comes home the unit has noticed them, and then it is unset: nothing is set and unnoticed."""
    home = two_doors(steps=COMING, starts_at="front", begins_in="set_full")
    assert proved(home)["beside/house/set_full"].verdict is ProofVerdict.HOLDS


def test_ways_that_are_open_anyway_are_left_to_their_own_property(two_doors: Callable[..., Home]) -> None:
    """A back door without a function is a hole of `noticed_first`; beside a person it says nothing new."""
    assert proved(two_doors(back="unused"))["beside/house/set_full"].verdict is ProofVerdict.HOLDS
