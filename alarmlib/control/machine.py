"""`step`, one second a tick: the only semantics of the control unit there is.

A second goes: timers run and what ends with them happens; zones that are still open and not acted upon are
looked at again; the inputs follow in their order; devices without a lasting state fall back; sirens and tones
of the second are given out. A delay of n seconds begun in one tick ends in the n-th tick after it, before the
inputs of that tick.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from alarmlib.control import area_part, exiting, fault_part, inputs, setting, unit_part, zone_part
from alarmlib.control.inputs import Input
from alarmlib.control.layout import A, AreaAt, State, U, Z, ZoneAt
from alarmlib.control.setup import Setup, start_state
from alarmlib.control.signals import Outputs, Timer
from alarmlib.control.system_faults import KEPT
from alarmlib.control.tick import Tick


class Second(NamedTuple):
    """One second of a trace: what came in, the state after it, what was given out."""

    at_s: int
    inputs: tuple[Input, ...]
    state: State
    outputs: Outputs


Trace = tuple[Second, ...]


def step(setup: Setup, state: State, happened: Sequence[Input] = ()) -> tuple[State, Outputs]:
    """The state after one more second, and what is given out in it.

    Raises `KeyError` when an input names an area, zone, device, part set or watch that the setup has not.
    Reference: ANSI/SIA CP-01, EN 50131-1, CLC/TS 50131-7 as cited in the function table; the rest is ours.
    """
    t = begin_second(setup, state)
    for event in happened:
        happens(t, event)
    return end_second(t)


def begin_second(setup: Setup, state: State) -> Tick:
    """The second up to the inputs: timers have run, what is still open was looked at again.

    As `step`, which is these three parts in a row.
    """
    t = Tick(setup, state)
    if not t.s[U.LOST]:
        _timers(t)
        _look_again(t)
    return t


def happens(t: Tick, event: Input) -> None:
    """One input reaches the unit in this second.

    As `step`.
    """
    if not t.s[U.LOST] or isinstance(event, _FELT_WITHOUT_POWER):
        t.cause = event
        _DO[type(event)](t, event)


def end_second(t: Tick) -> tuple[State, Outputs]:
    """What follows the inputs; the working second is used up by it.

    As `step`.
    """
    _fall_back(t)
    if t.s[U.LOST]:
        return tuple(t.s), t.outputs()
    outside = False
    for area in t.lay.areas:
        outside |= area_part.give_out(t, area)
    unit_part.count_siren(t, outside)
    return tuple(t.s), t.outputs()


def run(
    setup: Setup, inputs_by_second: Mapping[int, Sequence[Input]], seconds: int, state: State | None = None
) -> Trace:
    """The trace of so many seconds, numbered from 0, from a state (default: all unset and closed)."""
    state = start_state(setup) if state is None else state
    trace: list[Second] = []
    for at_s in range(seconds):
        happened = tuple(inputs_by_second.get(at_s, ()))
        state, outputs = step(setup, state, happened)
        trace.append(Second(at_s, happened, state, outputs))
    return tuple(trace)


def _timers(t: Tick) -> None:
    s = t.s
    if any(s[:_OF_UNIT]):
        _unit_timers(t)
    for slot in t.lay.quiet_slots:
        if s[slot]:
            s[slot] -= 1
    for zone in t.lay.timed_zones:
        _zone_timers(t, zone)
    for area, place in [found for each in t.lay.areas for found in _ran_out(t, each)]:
        t.cause, ended = _ENDED[place]
        ended(t, area)
    if max(s[t.lay.first_watch :], default=0) > KEPT:
        t.cause = Timer.FAULT
        for watch in t.lay.watches:
            fault_part.second_passes(t, watch)


def _unit_timers(t: Tick) -> None:
    for slot, timer, ended in unit_part.TIMERS:
        if t.s[slot]:
            t.s[slot] -= 1
            if not t.s[slot]:
                t.cause = timer
                ended(t)


def _zone_timers(t: Tick, zone: ZoneAt) -> None:
    verify, hold = zone.base + Z.VERIFY, zone.base + Z.HOLD
    if t.s[verify]:
        t.s[verify] -= 1
    if t.s[hold]:
        t.s[hold] -= 1
        if not t.s[hold]:
            t.cause = Timer.RESTORE
            zone_part.restored(t, zone)


def _ran_out(t: Tick, area: AreaAt) -> list[tuple[AreaAt, A]]:
    """One second less on every timer of the area; those that ran out, in the order in which they take effect."""
    s, base = t.s, area.base
    if not any(s[base : base + _OF_AREA]):
        return []
    if s[base + A.RECENT]:
        s[base + A.RECENT] -= 1
    found = []
    for place in _ENDED:
        if s[base + place]:
            s[base + place] -= 1
            if not s[base + place]:
                found.append((area, place))
    return found


def _look_again(t: Tick) -> None:
    t.cause = Timer.STILL_OPEN
    for slot, zone in t.lay.seen_slots:
        if t.s[slot] == 1:
            zone_part.hear(t, zone, False)


def _fall_back(t: Tick) -> None:
    t.cause = Timer.RESTORE
    for slot, zone in t.lay.passing:
        if t.s[slot]:
            zone_part.second_ends(t, zone)


_OF_UNIT, _OF_AREA = len(U), len(A)
_FELT_WITHOUT_POWER = (inputs.Opens, inputs.Closes, inputs.PowerBack)
_ENDED: dict[A, tuple[Timer, Callable[[Tick, AreaAt], None]]] = {
    A.SIREN: (Timer.SIREN, area_part.siren_ended),
    A.ABORT: (Timer.ABORT, area_part.abort_ended),
    A.EXIT: (Timer.EXIT, exiting.exit_ended),
    A.LET: (Timer.LET_OUT, exiting.let_out_ended),
    A.ENTRY: (Timer.ENTRY, area_part.entry_ended),
}
_DO: dict[type, Callable[[Tick, Any], None]] = {
    inputs.Opens: zone_part.opens,
    inputs.Closes: zone_part.closes,
    inputs.Sees: zone_part.sees,
    inputs.SetArea: setting.set_area,
    inputs.UnsetArea: setting.unset_area,
    inputs.WrongCode: lambda t, _: unit_part.wrong_code(t),
    inputs.FinishExit: lambda t, event: exiting.finish_exit(t, t.lay.area_of[event.area]),
    inputs.LetOut: exiting.let_out,
    inputs.Inhibit: unit_part.inhibit,
    inputs.OutOfUse: unit_part.inhibit,
    inputs.PutBack: unit_part.put_back,
    inputs.Silence: lambda t, event: area_part.silence(t, t.lay.area_of[event.area]),
    inputs.Reset: unit_part.reset,
    inputs.HoldUpPressed: unit_part.hold_up_pressed,
    inputs.HoldUp: lambda t, event: unit_part.hold_up(t, event.on),
    inputs.TestStart: lambda t, _: unit_part.test_start(t),
    inputs.TestEnd: lambda t, _: unit_part.test_end(t),
    inputs.FaultBegins: lambda t, event: fault_part.begins(t, t.lay.watch_of[event.watch]),
    inputs.FaultEnds: lambda t, event: fault_part.ends(t, t.lay.watch_of[event.watch]),
    inputs.PowerLost: lambda t, _: unit_part.power_lost(t),
    inputs.PowerBack: lambda t, _: unit_part.power_back(t),
}
