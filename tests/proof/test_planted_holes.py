"""Homes with a planted hole: the proof finds it, tells its seconds as they are by hand, and clears the twin without it.

An intruder runs 2.533 m/s and is in by an opening within the second that opens it (second 0).
"""

from collections.abc import Callable, Sequence
from math import ceil
from typing import Any

import pytest

from alarmlib.calc.cells.sights import Sight
from alarmlib.model import Home
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.intruder.intrusions import Intruders
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.report.counterexample import Teller
from alarmlib.proof.report.verdicts import ProofVerdict, Proved

Made = Callable[..., Home]
TOP_M_S = 2.533


def box(x: float, y: float, width: float, depth: float) -> list[list[float]]:
    return [[x, y], [x + width, y], [x + width, y + depth], [x, y + depth]]


def outline(x: float, y: float, width: float, depth: float) -> tuple[tuple[float, float], ...]:
    return tuple((px, py) for px, py in box(x, y, width, depth))


def drawn(
    rooms: dict[str, tuple[float, float, float, float]],
    openings: dict[str, dict[str, Any]],
    doors: Sequence[tuple[str, str, tuple[float, float]]],
    zones: dict[str, str],
    devices: Sequence[dict[str, Any]],
    **more: Any,
) -> Home:
    """A home of rectangles; zones by function, a keypad in the first room, entry delay 20 s, exit 10 s."""
    first = next(iter(rooms))
    return Home.model_validate(
        {
            "site": {
                "storeys": [{"id": "ground", "name": "Ground"}],
                "rooms": [
                    {"id": r, "name": r.title(), "storey": "ground", "outline": box(*b)} for r, b in rooms.items()
                ],
                "openings": [{"id": o, "name": o.title(), "reach": "ground"} | facts for o, facts in openings.items()],
                "passages": [{"id": f"{a}_{b}", "first": a, "second": b, "at": at} for a, b, at in doors],
            },
            "control_unit": {
                "areas": [{"id": "house", "name": "House"}],
                "zones": [{"id": z, "label": z, "function": f, "areas": ["house"]} for z, f in zones.items()],
                "times": {"entry_s": 20, "exit_s": 10, "siren_s": 90, "abort_s": 5},
                "part_sets": more.pop("part_sets", []),
            },
            "devices": [
                {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": first},
                {"id": "siren", "name": "Siren", "kind": "inside_sounder", "room": first},
                *devices,
            ],
            "proof": {"tolerance_percent": 0} | more.pop("proof", {}),
        }
        | more
    )


def contact(opening: str, zone: str) -> dict[str, Any]:
    return {"id": f"{opening}_contact", "name": opening, "kind": "contact", "openings": [opening], "zone": zone}


def motion(device: str, room: str, zone: str, sleep_s: float = 0) -> dict[str, Any]:
    return {"id": device, "name": device, "kind": "motion", "room": room, "zone": zone, "sleep_s": sleep_s}


def by_id(home: Home, *runs: str, sights: tuple[Sight, ...] | None = None) -> dict[str, Proved]:
    return {each.id: each for each in prove(home, "none", None, Asked(runs, None, sights)).properties}


# A hall and a bedroom of 4 m by 4 m side by side, a door between; the front door in the hall, a window in the bedroom.


def bungalow(left_out: Sequence[str] = ()) -> Home:
    return drawn(
        {"hall": (0, 0, 4, 4), "bedroom": (4.1, 0, 4, 4)},
        {"front": {"room": "hall", "kind": "door", "at": [0, 2], "entry_exit": True},
         "window": {"room": "bedroom", "at": [8.1, 2]}},
        [("hall", "bedroom", (4.0, 2.0))],
        {"door": "entry_exit", "pane": "at_once"},
        [contact("front", "door"), contact("window", "pane")],
        part_sets=[{"id": "night", "name": "Night", "area": "house", "left_out": left_out}],
    )  # fmt: skip


def test_window_missed_in_the_night_set() -> None:
    """From the window it is 2 m to the bedroom's middle: there one second after coming in, and nothing is tripped."""
    planted, twin = by_id(bungalow(["pane"]), "ways"), by_id(bungalow(), "ways")
    found = planted["noticed_first/house/night"]
    assert found.verdict is ProofVerdict.BREACHED
    assert (found.worst["way_in"], found.worst["room"], found.worst["after_s"]) == ("Window", "Bedroom", "1")
    assert [beat.at_s for beat in found.counterexample] == [0, 1]
    assert not any(beat.devices for beat in found.counterexample if beat.at_s)
    last = found.counterexample[-1].at
    assert last is not None
    assert abs(last[0] - 6.1) < 0.5
    assert planted["noticed_first/house/set_full"].verdict is ProofVerdict.HOLDS
    assert twin["noticed_first/house/night"].verdict is ProofVerdict.HOLDS
    assert twin["noticed_first/house/set_full"].verdict is ProofVerdict.HOLDS


def test_window_missed_in_the_demo_homes_night_set(demo: Home, put: Made) -> None:
    """The study's window left out at night; seconds to each room by the study's window, by no way in before."""
    name = "noticed_first/house/night"
    out = ["landing_motion", "teen_window", "study_window"]
    plain = put(demo, {"control_unit.seasons": [], "proof.tolerance_percent": 0})
    planted = put(plain, {"control_unit.part_sets.night.left_out": out})
    searched = [Intruders(home, faults_of(home, "none")) for home in (plain, planted)]
    for intruders in searched:
        keep_way(intruders, "study_window")
    (before,), (after,) = (
        [tally for tally in each.search(None, frozenset({name})) if tally.id == name] for each in searched
    )
    assert before.first is None
    assert after.first is not None
    assert after.first.reached is not None
    assert after.first.reached.tick == 1  # no more than 2.5 m from the window to the middle of the study
    assert {("study_window", room) for room in ("study", "hall", "landing", "teen_room")} <= after.plain
    counterexample = Teller(planted, searched[1].plan, searched[1].sights, 40).tell(after.first)
    assert counterexample.verdict is ProofVerdict.BREACHED
    assert [device for beat in counterexample.beats for device in beat.devices] == [
        "study_contact"
    ]  # whose zone is left out
    assert not any(beat.output for beat in counterexample.beats)


def keep_way(intruders: Intruders, opening: str) -> None:
    """Search this way in alone."""
    from dataclasses import replace

    parts = (replace(p, ways=tuple(way for way in p.ways if way.opening == opening)) for p in intruders.parts)
    intruders.parts = tuple(part for part in parts if part.ways)


# Habits of the two rooms of the fixture: home by the front door, 20 s to the keypad, then the code.

HOME_ON_FOOT = {"steps": [("open", "front", 0), ("walk_to", "keypad", 20), ("unset", "house", 2)]}


def test_detector_that_sounds_at_once_on_the_way_in(two_rooms: Made) -> None:
    """Seen in the hall right after the door, in the same second: siren; as an entry route it waits for the keypad."""
    home = two_rooms(HOME_ON_FOOT, functions={"hall_zone": "at_once"})
    planted = by_id(home, "habits")["habit/habit_0"]
    assert (planted.verdict, planted.worst["at_s"]) == (ProofVerdict.BREACHED, "0")
    assert [device for beat in planted.counterexample for device in beat.devices] == ["contact", "hall_eye"]
    assert any("iren" in beat.output for beat in planted.counterexample)
    assert by_id(two_rooms(HOME_ON_FOOT), "habits")["habit/habit_0"].verdict is ProofVerdict.HOLDS


def test_entry_delay_shorter_than_the_slow_walk(two_rooms: Made) -> None:
    """One walk in twenty takes 23.9 s, and 2 s the code: unset in second 25 or 26. A delay of 24 s is too short."""
    planted = by_id(two_rooms(HOME_ON_FOOT, entry_s=24), "habits")["habit/habit_0"]
    assert (planted.verdict, planted.worst["at_s"]) == (ProofVerdict.BREACHED, "24")
    assert planted.worst["pace"] == "one in twenty is slower"
    twin = by_id(two_rooms(HOME_ON_FOOT, entry_s=27), "habits")["habit/habit_0"]
    assert (twin.verdict, twin.worst["margin_of"]) == (ProofVerdict.HOLDS, "entry delay")


# A lounge of 14 m by 14 m that a sure detector watches: its middle is 7 m from the window that has no contact. Four
# steps are 2.44 m, so at 2.533 m/s one is seen for sure on the way. Who leaves is seen too, and then it rests.

LEAVES = {
    "id": "leaves", "name": "Leaves", "who": "owner", "starts_at": "keypad", "begins_in": "unset", "area": "house",
    "steps": [
        {"id": "one", "deed": "set_full", "place": "house", "seconds": 2},
        {"id": "two", "deed": "walk_to", "place": "front"},
        {"id": "three", "deed": "open", "place": "front", "seconds": 1},
        {"id": "four", "deed": "close", "place": "front", "seconds": 1},
        {"id": "five", "deed": "wait", "seconds": 12},
    ],
}  # fmt: skip


def lounge(sleep_s: float) -> Home:
    return drawn(
        {"lounge": (0, 0, 14, 14)},
        {"front": {"room": "lounge", "kind": "door", "at": [0, 7], "entry_exit": True},
         "window": {"room": "lounge", "at": [14, 7]}},
        [],
        {"door": "entry_exit", "eye": "entry_route"},
        [contact("front", "door"), motion("lounge_eye", "lounge", "eye", sleep_s)],
        household={"people": [{"id": "owner", "role": "Owner", "speed_m_s": 1.3}], "habits": [LEAVES]},
        proof={"sure_detectors": ["lounge_eye"]},
    )  # fmt: skip


def test_battery_detector_in_its_sleep_time() -> None:
    """Whoever slips in by the window within 150 s of somebody's leaving isn't seen; without a rest they are."""
    planted, twin = by_id(lounge(150), "ways", "beside"), by_id(lounge(0), "ways", "beside")
    assert planted["noticed_first/house/set_full"].verdict is ProofVerdict.BREACHED
    assert twin["noticed_first/house/set_full"].verdict is ProofVerdict.HOLDS
    assert twin["beside/house/set_full"].verdict is ProofVerdict.HOLDS
    found = planted["beside/house/set_full"]
    assert found.verdict is ProofVerdict.BREACHED
    assert found.worst["room"] == "Lounge"
    # setting in second 2, set 10 s later; the middle is 3 s from the window: coming in a second or more after leaving
    seconds = [beat.at_s for beat in found.counterexample if beat.who == "Intruder"]
    assert 12 <= seconds[-1] <= 2 + 150
    assert seconds[-1] - seconds[0] >= ceil(7 / TOP_M_S) - 1


def test_battery_detector_on_the_way_out_of_a_home_without_habits(put: Made) -> None:
    """Nobody entered a habit of leaving: the walk out is the home's own, and the hole has its length.

    Set after an exit time of 10 s; seen in the second before the last one, it has slept 2 s of 150 s. The middle
    is 7 m from the window; whoever comes in just after setting is there in 3 s, in metres in 4.
    """
    none: dict[str, Any] = {"household.habits": []}
    planted, twin = by_id(put(lounge(150), none), "ways"), by_id(put(lounge(0), none), "ways")
    assert twin["noticed_first/house/set_full"].verdict is ProofVerdict.HOLDS
    found = planted["noticed_first/house/set_full"]
    assert found.verdict is ProofVerdict.BREACHED
    assert (found.worst["way_in"], found.worst["room"]) == ("Window", "Lounge")
    assert (found.worst["open_just_after_setting"], found.worst["for_up_to_s"]) == ("Window", "148")
    assert "2 min 28 s" in found.why
    assert "lounge_eye" in found.why
    assert "148 s left" in found.counterexample[0].state
    assert not any(beat.output for beat in found.counterexample)
    assert ceil(7 / TOP_M_S) <= found.counterexample[-1].at_s <= ceil(7 / TOP_M_S) + 1


# The two-detector example: a passage of 24 m by 2 m from a window without a contact to a bedroom. A delayed detector
# may see the passage's first metres at its fringe, a follower surely sees the rest and waits for a running delay.

FRINGE = Sight("fringe", frozenset({"passage"}), "ground", (outline(1, 0, 3, 2),))
FOLLOWER = Sight("follower", frozenset({"passage"}), "ground", (outline(6, 0, 18, 2),), (outline(6, 0, 18, 2),))


def passage(fringe: str = "entry_exit") -> Home:
    return drawn(
        {"passage": (0, 0, 24, 2), "bedroom": (24.1, 0, 4, 2)},
        {"window": {"room": "passage", "at": [0, 1]},
         "front": {"room": "bedroom", "kind": "door", "at": [28.1, 1], "reach": "not", "entry_exit": True}},
        [("passage", "bedroom", (24.0, 1.0))],
        {"fringe_zone": fringe, "follower_zone": "entry_route"},
        [motion("fringe", "passage", "fringe_zone"), motion("follower", "passage", "follower_zone")],
        proof={"heard_first": ["bedroom"]},
    )  # fmt: skip


def test_fringe_that_mutes_a_follower() -> None:
    """The fringe fires and begins 20 s of delay; the follower waits. 26.1 m at 2.533 m/s: in the bedroom's middle in
    second 11 at the earliest, while the delay still runs. Nobody is unnoticed in it.
    """
    planted = by_id(passage(), "ways", sights=(FRINGE, FOLLOWER))
    assert planted["noticed_first/house/set_full"].verdict is ProofVerdict.HOLDS
    found = planted["sounds_first/house/set_full"]
    assert (found.verdict, found.worst["room"], found.worst["way_in"]) == (ProofVerdict.BREACHED, "Bedroom", "Window")
    assert (
        int(found.worst["after_s"]) <= found.counterexample[-1].at_s
    )  # the search's cells run a little faster than anybody
    assert ceil(26.1 / TOP_M_S) <= found.counterexample[-1].at_s < 20
    told = [device for beat in found.counterexample for device in beat.devices]
    assert told[0] == "fringe"
    assert "follower" in told
    assert not any("iren" in beat.output for beat in found.counterexample)


@pytest.mark.parametrize(
    ("fringe", "sights"),
    [("entry_exit", (FOLLOWER,)), ("entry_route", (FRINGE, FOLLOWER)), ("at_once", (FRINGE, FOLLOWER))],
)
def test_fringe_that_never_fires_or_begins_no_delay(fringe: str, sights: tuple[Sight, ...]) -> None:
    """Then the follower sounds at once, metres before the bedroom."""
    twin = by_id(passage(fringe), "ways", sights=sights)
    assert twin["sounds_first/house/set_full"].verdict is ProofVerdict.HOLDS


@pytest.mark.parametrize("shared", [True, False])
def test_fringe_of_two_areas_mutes_a_follower_while_both_are_set(put: Made, shared: bool) -> None:
    """A shed in the garden is an area of its own; the fringe's zone belongs to both and listens while both are set.

    Only then it begins a delay: the sets of an area count wherever its devices are, not only where its rooms are.
    """
    home = put(
        passage(),
        {
            "site.rooms.+": {"id": "shed", "name": "Shed", "storey": "ground", "area": "garden"},
            "control_unit.areas.+": {"id": "garden", "name": "Garden"},
            "control_unit.zones.fringe_zone.areas": ["house", "garden"] if shared else ["garden"],
        },
    )
    found = by_id_of_ways(home, (FRINGE, FOLLOWER))["sounds_first/house/set_full"]
    assert found.verdict is (ProofVerdict.BREACHED if shared else ProofVerdict.HOLDS)


def by_id_of_ways(home: Home, sights: tuple[Sight, ...]) -> dict[str, Proved]:
    """The ways in alone, of a home that need not be ready: nobody can come into its shed."""
    home = home.model_copy(
        update={"site": home.site.model_copy(update={"rooms": tuple(_unguarded(room) for room in home.site.rooms)})}
    )
    return by_id(home, "ways", sights=sights)


def _unguarded(room: Any) -> Any:
    return room.model_copy(update={"guarded": room.id != "shed"})


def test_fringe_that_stays_still_while_somebody_comes_home(two_rooms: Made, put: Made) -> None:
    """The other way round: coming down past the delayed detector is quiet only if it fires; if not, the hall sounds."""
    down = {"starts_at": "attic", "begins_in": "part_set", "part_set": "night",
            "steps": [("walk_to", "living", 8), ("walk_to", "keypad", 4), ("unset", "house", 2)]}  # fmt: skip
    home = put(two_rooms(down, functions={"living_zone": "entry_exit"}), {"control_unit.part_sets.night.left_out": []})
    planted = by_id(home, "habits")["habit/habit_0"]
    assert planted.verdict is ProofVerdict.BREACHED
    assert [device for beat in planted.counterexample for device in beat.devices] == ["hall_eye"]
    twin = put(home, {"control_unit.part_sets.night.left_out": ["hall_zone"]})
    assert by_id(twin, "habits")["habit/habit_0"].verdict is ProofVerdict.HOLDS
