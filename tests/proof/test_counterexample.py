"""Counterexamples of breaches: played again in metres on the whole unit, or not settled."""

from collections.abc import Callable
from itertools import pairwise
from math import hypot
from typing import Any

import pytest

from alarmlib.calc.cells.sights import Sight
from alarmlib.model import Home
from alarmlib.proof.faults.fault import NONE
from alarmlib.proof.intruder.intrusions import Breach, Intruders
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.report.counterexample import Counterexample, Teller
from alarmlib.proof.report.verdicts import ProofVerdict

Made = Callable[..., Home]
TOP_M_S = 2.533


def box(x: float, width: float) -> list[list[float]]:
    return [[x, 0], [x + width, 0], [x + width, 2], [x, 2]]


@pytest.fixture
def passage() -> Made:
    """A passage so long, a window without a contact at one end, at the other a bedroom to be reached after a siren.

    The front door is not to be reached; a detector in the passage sounds at once.
    """

    def made(length_m: float, **more: Any) -> Home:
        rooms = {"passage": box(0, length_m), "bedroom": box(length_m + 0.1, 4)}
        return Home.model_validate(
            {
                "site": {
                    "storeys": [{"id": "ground", "name": "Ground"}],
                    "rooms": [{"id": r, "name": r, "storey": "ground", "outline": o} for r, o in rooms.items()],
                    "openings": [
                        {"id": "window", "name": "Window", "room": "passage", "at": [0, 1], "reach": "ground"},
                        {"id": "front", "name": "Front", "room": "bedroom", "at": [length_m + 4.1, 1], "reach": "not",
                         "kind": "door", "entry_exit": True},
                    ],
                    "passages": [{"id": "d", "first": "passage", "second": "bedroom", "at": [length_m, 1]}],
                },
                "control_unit": {
                    "areas": [{"id": "house", "name": "House"}],
                    "zones": [{"id": "eye_zone", "label": "Eye", "function": "at_once", "areas": ["house"]}],
                    "times": {"entry_s": 20, "exit_s": 5, "siren_s": 60, "abort_s": 4},
                },
                "devices": [
                    {"id": "eye", "name": "Eye", "kind": "motion", "room": "passage", "zone": "eye_zone"},
                    {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "passage"},
                    {"id": "siren", "name": "Siren", "kind": "inside_sounder", "room": "passage"},
                ],
                "proof": {"tolerance_percent": 0, "heard_first": ["bedroom"]},
            }
            | more
        )  # fmt: skip

    return made


def sure(start_m: float, end_m: float) -> Sight:
    """The passage's detector, sure between these metres and blind beyond."""
    area = tuple((x, y) for x, y in box(start_m, end_m - start_m))
    return Sight("eye", frozenset({"passage"}), "ground", (area,), (area,))


def first_breach(
    home: Home, sight: Sight, name: str = "sounds_first/house/set_full"
) -> tuple[Intruders, Breach | None]:
    intruders = Intruders(home, (NONE,), (sight,))
    return intruders, next(t.first for t in intruders.search(None, frozenset({name})) if t.id == name)


def told(intruders: Intruders, found: Breach, home: Home) -> Counterexample:
    return Teller(home, intruders.plan, intruders.sights, 20).tell(found)


def test_a_counterexample_is_a_walk_in_metres(passage: Made) -> None:
    """The eye sees the first 2 m only, too few for four steps: the bedroom's middle, 14.1 m away, takes 6 s or more."""
    home = passage(12)
    intruders, found = first_breach(home, sure(0, 2))
    assert found is not None
    counterexample = told(intruders, found, home)
    assert counterexample.verdict is ProofVerdict.BREACHED
    assert counterexample.beats[0].place == "passage"
    assert counterexample.beats[-1].place == "bedroom"
    assert counterexample.beats[-1].at_s >= 14.1 / TOP_M_S
    for one, other in pairwise(counterexample.beats):
        assert one.at is not None
        assert other.at is not None
        metres = hypot(one.at[0] - other.at[0], one.at[1] - other.at[1])
        assert metres <= TOP_M_S * (other.at_s - one.at_s) + 1e-3


def test_what_only_squares_let_one_do_is_not_settled(passage: Made) -> None:
    """10 m of sure area, entered and left by doors: squares let somebody run it unseen, metres never do.

    Cells hold only where four steps lie behind on both sides, and 5.1 m of them can be leapt in squares.
    """
    home = passage(16)
    intruders, found = first_breach(home, sure(6, 16))
    assert found is not None
    counterexample = told(intruders, found, home)
    assert (counterexample.verdict, counterexample.beats) == (ProofVerdict.NOT_SETTLED, ())
    assert counterexample.why
    (proved,) = (
        each
        for each in prove(home, "none", None, Asked(("ways",), None, (sure(6, 16),))).properties
        if each.id == "sounds_first/house/set_full"
    )
    assert proved.verdict is ProofVerdict.NOT_SETTLED
    assert proved.why


def test_long_sure_area_is_enough(passage: Made) -> None:
    """18 m of it: nobody leaps that, in squares neither."""
    assert first_breach(passage(24), sure(6, 24))[1] is None


def test_a_unit_that_does_something_else_confirms_nothing(passage: Made, put: Made) -> None:
    """Reaching the bedroom in a contact's delay is no breach with a unit that sounds at once for that contact."""
    contact = {"id": "pane", "name": "Pane", "kind": "contact", "openings": ["window"], "zone": "eye_zone"}
    delayed = put(passage(12), {"devices.+": contact, "control_unit.zones.eye_zone.function": "entry_exit"})
    intruders, found = first_breach(delayed, sure(0, 2))
    assert found is not None
    assert told(intruders, found, delayed).verdict is ProofVerdict.BREACHED
    other = told(intruders, found, put(delayed, {"control_unit.zones.eye_zone.function": "at_once"}))
    assert other.verdict is ProofVerdict.NOT_SETTLED
    assert other.why == "The whole control unit does something else when this is played again."


@pytest.mark.parametrize(("abort_s", "limit_s"), [(4, 20), (30, 20)])
def test_waiting_in_one_place_until_it_sounds(passage: Made, put: Made, abort_s: int, limit_s: int) -> None:
    """No siren is fitted and a friend is told after the abort window: in time or not, the intruder waits as long."""
    home = put(passage(12), {
        "control_unit.times.abort_s": abort_s, "proof.sounds_within_s": limit_s, "devices.siren": None,
        "messages": {"paths": [{"id": "net", "name": "Net"}], "responders": [{"id": "friend", "role": "friend"}],
                     "messages": [{"id": "burglary", "event": "burglary", "to": ["friend"]}]},
    })  # fmt: skip
    (found,) = (
        p for p in prove(home, "none", None, Asked(("ways",))).properties if p.id == "sounds_in_time/house/set_full"
    )
    assert found.worst["seconds"] == str(abort_s)
    assert found.verdict is (ProofVerdict.HOLDS if abort_s <= limit_s else ProofVerdict.BREACHED)
    if found.counterexample:
        assert found.counterexample[-1].at_s >= limit_s
