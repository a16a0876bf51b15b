"""Properties that hold in every state a small unit can reach, searched through breadth first, delays scaled down.

The list is the property list of timed alarm models (car alarm, fire alarm and textbook burglar alarm models); the
search is exhaustive for the events named, one a second.
"""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import replace
from typing import Any, NamedTuple

import pytest

from alarmlib.control import inputs as i
from alarmlib.control.layout import A, State, U, Z
from alarmlib.control.machine import step
from alarmlib.control.setup import Behaviour, Setup, start_state
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, WatchSetup, ZoneSetup
from alarmlib.control.signals import Outputs, Pattern, Timer, UnitEvent
from alarmlib.model.words import EventKind, FaultKind, Function

ENTRY_S, EXIT_S, SIREN_S = 4, 3, 6


class Edge(NamedTuple):
    """One second: from a state, by an event or none, to a state, with what is given out."""

    before: State
    event: i.Input | None
    after: State
    out: Outputs


def explore(start: Hashable, events: Iterable[Any], go: Callable[[Any, Any], Any]) -> tuple[set[Any], list[Any]]:
    """All states reachable and all edges, breadth first; `go` gives an edge whose third item is the next state."""
    events, seen, edges, frontier = list(events), {start}, [], [start]
    while frontier:
        state = frontier.pop()
        for event in events:
            edge = go(state, event)
            edges.append(edge)
            if edge[2] not in seen:
                seen.add(edge[2])
                frontier.append(edge[2])
    return seen, edges


def toy(state: tuple[str, int, int], event: str, motion_restarts: bool = False) -> tuple[str, int, int]:
    """A controller small enough to count by hand: mode, rest of its timer, door open."""
    mode, rest, door = state
    opened = event == "door" and not door
    door ^= event == "door"
    if event == "code" or (mode == "off" and event != "arm"):
        return ("off", 0, door)
    if mode == "off":
        return ("exit", 60, door)
    if mode == "set":
        return ("bell", 240, door) if event == "motion" else ("entry", 30, door) if opened else ("set", 0, door)
    if mode == "entry" and event == "motion" and motion_restarts:
        return ("entry", 30, door)
    after = {"exit": ("entry", 30) if door else ("set", 0), "entry": ("bell", 240), "bell": ("off", 0)}[mode]
    return (mode, rest - 1, door) if rest > 1 else (*after, door)


def test_the_search_finds_what_was_counted_by_hand() -> None:
    """2 x (1 + 60 + 1 + 30 + 240) states less (set, open) and (entry 30, closed); the seeded fault adds that."""
    events = ("none", "door", "motion", "arm", "code")
    states, edges = explore(("off", 0, 0), events, lambda s, e: (s, e, toy(s, e)))
    assert (len(states), len(edges)) == (662, 3310)
    faulty, _ = explore(("off", 0, 0), events, lambda s, e: (s, e, toy(s, e, True)))
    assert faulty - states == {("entry", 30, 0)}


def small(**facts: Any) -> Setup:
    """Front door, hall, window and smoke detector; a part set without the hall."""
    zones = (
        ZoneSetup("front", Function.ENTRY_EXIT, ("house",)),
        ZoneSetup("hall", Function.ENTRY_ROUTE, ("house",), (DeviceSetup("hall", lasting=False),)),
        ZoneSetup("window", Function.AT_ONCE, ("house",)),
        ZoneSetup("smoke", Function.FIRE, ("house",)),
    )
    area = AreaSetup("house", EXIT_S, ENTRY_S, SIREN_S, 2, (PartSetup("night", frozenset({"hall"})),))
    watches = (WatchSetup("mains", FaultKind.MAINS, hold_s=2, areas=("house",)),)
    usual = {"recent_closing_s": 0, "wrong_code_limit": 3, "wrong_code_lock_s": 3, "ignore_after_power_s": 3}
    return Setup((area,), zones, watches, Behaviour(**(usual | facts)))


MOVES = (None, i.Opens("front"), i.Closes("front"), i.Sees("hall"), i.SetArea("house"), i.UnsetArea("house"))
WINDOW = (i.Opens("window"), i.Closes("window"))
RUNS = {
    "window": (*MOVES, *WINDOW, i.SetArea("house", outside=True), i.Silence("house")),
    "part set": (*MOVES, i.SetArea("house", "night"), i.LetOut("house", "front"), i.Reset("house")),
    "inhibit": (*MOVES, *WINDOW, i.Inhibit("window"), i.SetArea("house", outside=True, override=True)),
    "fire": (*MOVES, i.Opens("smoke"), i.Closes("smoke"), i.Silence("house"), i.Reset("house")),
    "power": (*MOVES[:2], i.Closes("front"), i.SetArea("house"), i.UnsetArea("house"), i.PowerLost(), i.PowerBack()),
    "codes": (*MOVES, i.WrongCode(), i.UnsetArea("house", i.Way.FOB)),
    "fault": (None, i.SetArea("house"), i.UnsetArea("house"), i.FaultBegins("mains"), i.FaultEnds("mains")),
}
UNITS = {
    "plain": small(),
    "short": small(later_door_shortens=True, exit_ends_by_door=True, exit_after_door_s=1),
}


def edges_of(setup: Setup, events: tuple[i.Input | None, ...]) -> list[Edge]:
    """Every second that can happen."""

    def go(state: State, event: i.Input | None) -> Edge:
        after, out = step(setup, state, () if event is None else (event,))
        return Edge(state, event, after, out)

    return explore(start_state(setup), events, go)[1]


@pytest.fixture(scope="module", params=[f"{unit}, {run}" for unit in UNITS for run in RUNS])
def space(request: pytest.FixtureRequest) -> tuple[Setup, list[Edge]]:
    """The unit and every second of one run of it."""
    unit, run = request.param.split(", ")
    return UNITS[unit], edges_of(UNITS[unit], RUNS[run])


def area(state: State, place: A) -> int:
    """A number of the area."""
    return state[len(U) + place]


def zone(setup: Setup, state: State, name: str, place: Z) -> int:
    """A number of a zone."""
    return state[setup.layout.zone_of[name].base + place]


def burglar_siren(edge: Edge) -> bool:
    """The burglar siren sounds."""
    return any(siren.pattern is Pattern.BURGLARY for siren in edge.out.sirens)


Space = tuple[Setup, list[Edge]]


def test_01_unset_no_burglar_siren(space: Space) -> None:
    """An unset area never sounds for burglary or an exit error."""
    for edge in space[1]:
        if not area(edge.after, A.SET):
            assert all(siren.pattern is Pattern.FIRE for siren in edge.out.sirens)


def test_02_a_siren_has_a_trigger(space: Space) -> None:
    """When the burglar siren sounds, a zone's alarm is remembered."""
    setup, edges = space
    for edge in edges:
        if burglar_siren(edge):
            assert any(zone(setup, edge.after, name, Z.MEMORY) >= 2 for name in ("front", "hall", "window"))


def test_03_a_window_opened_while_set_sounds_in_that_second(space: Space) -> None:
    """At once, set and not left out: siren in the same second."""
    setup, edges = space
    for edge in edges:
        quiet = not area(edge.before, A.EXIT) and not edge.before[U.LOST] and not edge.before[U.IGNORE]
        closed = not zone(setup, edge.before, "window", Z.SEEN) and not zone(setup, edge.before, "window", Z.OUT)
        if edge.event == i.Opens("window") and area(edge.before, A.SET) and quiet and closed:
            assert burglar_siren(edge) or any(s.pattern is Pattern.FIRE for s in edge.out.sirens)


def test_04_nothing_lengthens_a_running_entry_delay(space: Space) -> None:
    """It falls by a second a second whatever happens, and at its end there is an alarm."""
    for edge in space[1]:
        rest = area(edge.before, A.ENTRY)
        if rest and not edge.before[U.LOST]:
            unset = not area(edge.after, A.SET)
            ended = rest == 1 and any(line.event is UnitEvent.ALARM for line in edge.out.log)
            assert area(edge.after, A.ENTRY) == rest - 1 or unset or ended
            assert rest > 1 or ended


def test_05_a_code_in_time_means_silence(space: Space) -> None:
    """Unset before the delay ends, with no siren before: no siren, now or from now on."""
    for edge in space[1]:
        told = isinstance(edge.event, i.UnsetArea) and not edge.before[U.LOCK] and not edge.before[U.LOST]
        if told and area(edge.before, A.ENTRY) > 1 and not area(edge.before, A.SIREN):
            assert not burglar_siren(edge)
            assert [area(edge.after, place) for place in (A.SET, A.ENTRY, A.SIREN, A.ABORT)] == [0, 0, 0, 0]


def test_06_the_exit_time_never_lingers(space: Space) -> None:
    """It falls by a second a second, but for one restart; then the area is set, in alarm or unset."""
    for edge in space[1]:
        before, after = area(edge.before, A.EXIT), area(edge.after, A.EXIT)
        if before and not edge.before[U.LOST]:
            doors = (area(edge.before, A.EXIT_DOOR), area(edge.after, A.EXIT_DOOR))
            set_again = before == 1 and isinstance(
                edge.event, i.SetArea
            )  # it ended, and somebody set it in that second
            assert after < before or doors == (2, 3) or set_again


def test_07_fire_is_told_set_and_unset(space: Space) -> None:
    """A smoke detector that trips gives siren and message in that second."""
    setup, edges = space
    for edge in edges:
        if edge.event == i.Opens("smoke") and not zone(setup, edge.before, "smoke", Z.SEEN):
            assert EventKind.FIRE in [message.kind for message in edge.out.messages]
            assert Pattern.FIRE in [siren.pattern for siren in edge.out.sirens]


def test_08_the_siren_has_an_end_and_silence_is_no_reset(space: Space) -> None:
    """Never more than its time is left; when it ends, the memory stays."""
    setup, edges = space
    for edge in edges:
        assert area(edge.after, A.SIREN) <= SIREN_S
        if area(edge.before, A.SIREN) and not area(edge.after, A.SIREN) and edge.event in (None, i.Silence("house")):
            for name in ("front", "hall", "window"):
                assert zone(setup, edge.after, name, Z.MEMORY) >= min(2, zone(setup, edge.before, name, Z.MEMORY))


def test_09_a_zone_left_out_is_still_and_comes_back_when_unset(space: Space) -> None:
    """Left out this time: no alarm of that zone. Unset: nothing is left out any longer."""
    setup, edges = space
    for edge in edges:
        if zone(setup, edge.before, "window", Z.OUT) and zone(setup, edge.after, "window", Z.OUT):
            assert (UnitEvent.ALARM, "window") not in [(line.event, line.about) for line in edge.out.log]
        if any(line.event is UnitEvent.UNSET for line in edge.out.log):
            assert zone(setup, edge.after, "window", Z.OUT) != 1


def test_10_power_loss_and_return_keep_what_was(space: Space) -> None:
    """Set or unset, zones left out and memory are the same after the power comes back."""
    setup, edges = space
    for edge in edges:
        if edge.before[U.LOST]:
            assert area(edge.before, A.SET) == area(edge.after, A.SET)
            for each in setup.layout.zones:
                for place in (Z.OUT, Z.MEMORY, Z.COUNT):
                    assert edge.before[each.base + place] == edge.after[each.base + place]


def test_11_a_fault_is_shown_in_time(space: Space) -> None:
    """The count of a fault falls to raised, and it is shown in that second."""
    setup, edges = space
    slot = setup.layout.watch_of["mains"].slot
    for edge in edges:
        assert edge.after[slot] <= 4
        if edge.before[slot] > 2:
            assert edge.after[slot] < edge.before[slot]
        if edge.after[slot] == 1 != edge.before[slot]:
            assert "mains" in [about for shown in edge.out.shown for about in shown.about]


def test_12_a_code_unsets_from_every_state(space: Space) -> None:
    """With power and a free keypad the right code always unsets."""
    for edge in space[1]:
        locked = edge.before[U.LOCK] > 1 and edge.event == i.UnsetArea("house")
        if isinstance(edge.event, i.UnsetArea) and not edge.before[U.LOST] and not locked:
            assert not area(edge.after, A.SET)


def test_13_one_second_has_one_outcome(space: Space) -> None:
    """The same state and event give the same second again, with a setup made a second time."""
    setup, edges = space
    again = replace(setup)
    for edge in edges[:: max(1, len(edges) // 500)]:
        assert step(again, edge.before, () if edge.event is None else (edge.event,)) == (edge.after, edge.out)


def test_14_every_log_line_has_a_cause(space: Space) -> None:
    """The cause is the event of that second or a timer."""
    for edge in space[1]:
        for line in edge.out.log:
            assert isinstance(line.cause, Timer) or line.cause == edge.event


def test_15_wrong_codes_are_limited(space: Space) -> None:
    """Never more than the limit in a row, and a locked keypad refuses a right code."""
    for edge in space[1]:
        assert edge.after[U.WRONG] < 3
        assert edge.after[U.LOCK] <= 3
        if edge.before[U.LOCK] > 1 and edge.event == i.UnsetArea("house"):
            assert area(edge.after, A.SET) == area(edge.before, A.SET) or area(edge.before, A.EXIT)
            assert edge.out.refusals


def test_a_timer_at_rest_has_one_value(space: Space) -> None:
    """Nothing is negative; what belongs to a timer is at rest with it."""
    for edge in space[1]:
        assert min(edge.after) >= 0
        assert area(edge.after, A.EXIT) or not area(edge.after, A.EXIT_DOOR)
        assert area(edge.after, A.EXIT) or not area(edge.after, A.OUTSIDE)
        assert area(edge.after, A.LET) or not area(edge.after, A.LET_DOOR)
        assert area(edge.after, A.SIREN) or not area(edge.after, A.SOUND)
        assert area(edge.after, A.ENTRY) or not area(edge.after, A.EXIT_ERROR)
        assert area(edge.after, A.ABORT) or not area(edge.after, A.MARK)
