"""The intruder on two rooms, states counted by hand; sets of other areas; typed limits; faults in one sweep."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.proof.faults.fault import NONE
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.intruder.intrusions import Intruders, Tally
from alarmlib.proof.intruder.search import UNHEARD
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.report.verdicts import ProofVerdict, Proved

Made = Callable[..., Home]


@pytest.fixture
def small() -> Made:
    """A hall with front door (contact), window (none) and a detector; a study so many seconds away; 3 s of delay."""

    def made(seconds: float = 1, areas: tuple[str, ...] = ("house",), **more: Any) -> Home:
        zones = {"door": "entry_exit", "eye": "entry_route"}
        return Home.model_validate(
            {
                "site": {
                    "storeys": [{"id": "ground", "name": "Ground"}],
                    "rooms": [{"id": room, "name": room.title(), "storey": "ground"} for room in ("hall", "study")],
                    "openings": [
                        {"id": "front", "name": "Front", "room": "hall", "kind": "door", "reach": "ground",
                         "entry_exit": True},
                        {"id": "window", "name": "Window", "room": "hall", "reach": "ground"},
                    ],
                    "passages": [{"id": "between", "first": "hall", "second": "study", "seconds": seconds}],
                },
                "control_unit": {
                    "areas": [{"id": area, "name": area.title()} for area in areas],
                    "zones": [{"id": z, "label": z, "function": f, "areas": list(areas)} for z, f in zones.items()],
                    "times": {"entry_s": 3, "exit_s": 5, "siren_s": 60, "abort_s": 4},
                },
                "devices": [
                    {"id": "contact", "name": "Contact", "kind": "contact", "openings": ["front"], "zone": "door"},
                    {"id": "hall_eye", "name": "Eye", "kind": "motion", "room": "hall", "zone": "eye"},
                    {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "hall"},
                    {"id": "siren", "name": "Siren", "kind": "inside_sounder", "room": "hall"},
                ],
                "proof": {"tolerance_percent": 0, "heard_first": ["study"]},
            }
            | more
        )  # fmt: skip

    return made


def searched(home: Home, *names: str, faults: str = "none") -> dict[str, Tally]:
    known = faults_of(home, faults)  # type: ignore[arg-type]
    return {tally.id: tally for tally in Intruders(home, known).search(None, frozenset(names) or None)}


def proved(home: Home) -> dict[str, Proved]:
    return {each.id: each for each in prove(home, "none", None, Asked(("ways",))).properties}


# By the window nothing need trip: set, in each cell of the home, one state each. The eye may see: siren, over.
# By the door the delay runs with 3 s left in the hall (seen or not, the door's alarm waits anyway: one state); a second
# later 2 s are left wherever one got to, then 1 s, then the siren sounds. Once the study was reached nobody is followed
# further. Cells: hall, study, and two on a way of 1 s, five on one of 2 s, ten on one of 4 s; from the hall one gets in
# a second over all of a way of 1 s and into the study, over the five of a way of 2 s, over five of the ten.
@pytest.mark.parametrize(
    ("seconds", "by_window", "by_door", "study_before_the_siren"),
    [(1, 4, 1 + 4, 1), (2, 7, 1 + 6 + 7, 2), (4, 12, 1 + 6 + 11, None)],
)
def test_states_counted_by_hand(
    small: Made, seconds: int, by_window: int, by_door: int, study_before_the_siren: int | None
) -> None:
    """States by both ways in; in which second the study is reached before the siren by the door."""
    home = small(seconds)
    tallies = searched(home)
    first = tallies["sounds_first/house/set_full"]
    assert first.states == by_window + by_door
    assert ("window", "study") in first.plain
    assert (("front", "study") in first.plain) == (study_before_the_siren is not None)
    assert tallies["noticed_first/house/set_full"].plain == {("window", "hall"), ("window", "study")}
    assert tallies["sounds_in_time/house/set_full"].worst_s == 3
    by_door_alone = Intruders(home, faults_of(home, "none"))
    by_door_alone.parts = tuple(replace(part, ways=part.ways[:1]) for part in by_door_alone.parts)
    found = {tally.rule: tally for tally in by_door_alone.search()}["sounds_first"].first
    assert (found and found.tick) == study_before_the_siren


@pytest.mark.parametrize(
    ("within_s", "verdict"), [(2, ProofVerdict.BREACHED), (3, ProofVerdict.HOLDS), (None, ProofVerdict.HOLDS)]
)
def test_sounds_in_time_with_a_typed_limit(small: Made, put: Made, within_s: int | None, verdict: ProofVerdict) -> None:
    """The siren comes 3 s after the door; left blank, the longest entry delay is allowed."""
    home = put(small(), {"proof.sounds_within_s": within_s})
    found = proved(home)["sounds_in_time/house/set_full"]
    assert (found.verdict, found.worst["seconds"], found.worst["slowest"]) == (verdict, "3", "Front")
    assert bool(found.counterexample) == (verdict is ProofVerdict.BREACHED)


def test_siren_that_is_not_there(small: Made, put: Made) -> None:
    """Without a sounder and with nobody who is told nothing is ever heard; with a friend told, after the 4 s held."""
    silent = put(small(), {"devices.siren": None})
    found = proved(silent)["sounds_in_time/house/set_full"]
    assert (found.verdict, found.worst["seconds"]) == (ProofVerdict.BREACHED, "never")
    messages = {
        "paths": [{"id": "net", "name": "Net"}],
        "responders": [{"id": "friend", "role": "friend"}],
        "messages": [{"id": "burglary", "event": "burglary", "to": ["friend"]}],
    }
    told = searched(put(silent, {"messages": messages}))["sounds_in_time/house/set_full"]
    assert told.worst_s == 3 + 4
    assert searched(silent)["sounds_in_time/house/set_full"].worst_s == UNHEARD


@pytest.mark.parametrize("all_needed", [True, False])
def test_every_combination_of_other_areas_sets(small: Made, put: Made, all_needed: bool) -> None:
    """A zone of two areas that listens only while both are set: away alone, the front door is not noticed.

    Where one set area is enough for it, it is.
    """
    home = small(areas=("house", "office"))
    home = put(home, {"control_unit.behaviour.common_needs_all": all_needed, "site.rooms.study.area": "office"})
    tallies = searched(home)
    house, office = tallies["noticed_first/house/set_full"], tallies["noticed_first/office/set_full"]
    assert (("front", "hall") in house.plain) == all_needed
    assert (("front", "study") in office.plain) == all_needed
    assert ("window", "hall") in house.plain


def opened_by(tallies: dict[str, Tally], fault: int) -> dict[str, dict[tuple[str, str], int]]:
    return {name: tally.opened[fault] for name, tally in tallies.items() if tally.opened.get(fault)}


def compared(home: Home, place: int, sweep: Intruders, alone: Intruders) -> None:
    """What one sweep says of a fault is what a search with that fault alone says of it."""
    whole, part = ({t.id: t for t in each.tallies.values()} for each in (sweep, alone))
    assert opened_by(whole, place) == opened_by(part, 1), sweep.faults[place].id
    assert {name: tally.plain for name, tally in whole.items()} == {name: tally.plain for name, tally in part.items()}


def test_faults_in_one_sweep_as_each_alone_on_a_small_home(small: Made) -> None:
    """Holes and seconds, fault by fault."""
    home = small(2)
    faults = faults_of(home, "single")
    sweep = Intruders(home, faults)
    sweep.search()
    assert len(faults) > 5
    assert any(tally.opened for tally in sweep.tallies.values())
    for place in range(1, len(faults)):
        alone = Intruders(home, (faults[0], faults[place]))
        alone.search()
        compared(home, place, sweep, alone)


def test_faults_in_one_sweep_as_each_alone_on_a_part_of_the_demo_home(demo: Home, put: Made) -> None:
    """The garage's ways in and the back door, at night; every 25th fault, and those of what is met there."""
    home = put(demo, {"control_unit.seasons": [], "proof.tolerance_percent": 0})
    faults = faults_of(home, "single")
    names = frozenset({"noticed_first/house/night", "sounds_first/house/night"})
    concerned = {"garage_door_contact", "garage_shock", "pass_door_contact", "back_door_contact", "garage_motion"}
    places = {n for n, fault in enumerate(faults) if n and (n % 25 == 0 or fault.dead & concerned)}
    parts = Intruders(home, (NONE,)).parts
    ways = ("garage_window", "garage_door", "back_door")
    kept = tuple(replace(part, ways=tuple(way for way in part.ways if way.opening in ways)) for part in parts)
    kept = tuple(part for part in kept if part.ways)
    sweep = Intruders(home, faults)
    sweep.parts = kept
    sweep.search(None, names)
    assert any(tally.opened for tally in sweep.tallies.values())
    for place in sorted(places):
        alone = Intruders(home, (faults[0], faults[place]))
        alone.parts = kept
        alone.search(None, names)
        compared(home, place, sweep, alone)


def test_long_rests_do_not_hide_the_end_of_a_delay(small: Made, put: Made) -> None:
    """Found with a planted hole: seconds were skipped past a delay's end while a detector rested."""
    from alarmlib.calc.cells.sights import Sight

    home = put(small(), {"devices.hall_eye.sleep_s": 150})
    always = Sight("hall_eye", frozenset({"hall"}), sure=(((0, 0), (1, 0), (1, 1)),))  # counts as sure: it may rest
    intruders = Intruders(home, (NONE,), (always,))
    tallies = {tally.id: tally for tally in intruders.search()}
    assert any(zone.devices[0].sleep_s == 150 for zone in intruders.setups[0].setup.zones)
    assert tallies["sounds_in_time/house/set_full"].worst_s == 3
