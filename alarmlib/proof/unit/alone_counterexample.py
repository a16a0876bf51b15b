"""The way to a breach found with held timers, played second by second on the home's own unit with its own times."""

from collections.abc import Mapping

from alarmlib.control import inputs as i
from alarmlib.control import machine
from alarmlib.control.describe import describe
from alarmlib.control.habit_words import output_of
from alarmlib.control.inputs import Input
from alarmlib.control.layout import A, Layout, U, Z
from alarmlib.control.machine import Second
from alarmlib.control.setup import Setup, start_state
from alarmlib.control.system_faults import KEPT
from alarmlib.proof.report.verdicts import Beat
from alarmlib.proof.unit.timer_abstraction import AT_END, Broken, Came, Edge, StepFunction, timers_of

_DEEDS: dict[type, str] = {
    i.Opens: "{device} opens",
    i.Closes: "{device} closes",
    i.Sees: "{device} is tripped",
    i.UnsetArea: "unsets {area} ({way})",
    i.WrongCode: "gives a wrong code",
    i.FinishExit: "presses the button that ends the exit delay of {area}",
    i.LetOut: "is let out of {area} by {door}",
    i.Inhibit: "leaves out {zone} this time",
    i.OutOfUse: "takes {zone} out of use",
    i.PutBack: "puts {zone} back",
    i.Silence: "silences {area}",
    i.Reset: "clears the memory of {area}",
    i.HoldUpPressed: "presses a hold-up button in {area}",
    i.HoldUp: "switches hold-up on or off",
    i.TestStart: "begins the test mode",
    i.TestEnd: "ends the test mode",
    i.FaultBegins: "{watch} goes wrong",
    i.FaultEnds: "{watch} is right again",
    i.PowerLost: "mains and standby are gone",
    i.PowerBack: "the power is back",
}
_FELT = (i.Opens, i.Closes, i.Sees)
_OF_ITSELF = (*_FELT, i.FaultBegins, i.FaultEnds, i.PowerLost, i.PowerBack)


def replayed(
    setup: Setup,
    cone: Setup,
    way: tuple[Came, ...],
    breaks: Broken,
    names: Mapping[str, str],
    step: StepFunction = machine.step,
) -> tuple[Beat, ...]:
    """The counterexample of a breach on the whole unit; empty when it doesn't happen there.

    Before each event the unit waits until the timers that are to end with it are at their end.
    Our own construction; `alarmlib.control.machine.step` plays it.
    """
    slots = same_places(cone.layout, setup.layout)
    plan = [(0, tuple(slots[slot] for slot in came.ended), came.happened) for came in way]
    waited, counterexample = _played(setup, plan, breaks, step)
    last = max((at for at, seconds in enumerate(waited) if seconds), default=0)
    for earlier in range(last - 1, -1, -1):  # the wait for a timer may come before any event since it began
        if counterexample:
            break
        moved = [(waited[last] if at == earlier else 0, *each[1:]) for at, each in enumerate(plan)]
        _, counterexample = _played(setup, moved, breaks, step)
    return _told(setup, counterexample, names)


_Planned = tuple[
    int, tuple[int, ...], tuple[Input, ...]
]  # seconds to wait, places of timers to be at their end, events


def _played(setup: Setup, plan: list[_Planned], breaks: Broken, step: StepFunction) -> tuple[list[int], list[Second]]:
    """How long was waited before each event, and the seconds up to the breach (none when there is none)."""
    at_end = {watch.slot: KEPT + AT_END for watch in setup.layout.watches}
    longest_s = max([*timers_of(setup).values(), *(watch.hold_s for watch in setup.watches)])
    state = start_state(setup)
    seconds: list[Second] = []
    waited: list[int] = []
    for wait_s, ended, happened in plan:
        waited.append(0)
        waits = True
        while waits:
            left = [state[slot] - at_end.get(slot, AT_END) for slot in ended]
            if min(left, default=0) < 0 or waited[-1] > longest_s:
                return waited, []
            waits = any(left) or waited[-1] < wait_s
            waited[-1] += waits
            events = () if waits else happened
            after, out = step(setup, state, events)
            seconds.append(Second(len(seconds), events, after, out))
            if breaks(Edge(setup, state, events, after, out)):
                return waited, seconds
            state = after
    return waited, []


def same_places(cone: Layout, whole: Layout) -> dict[int, int]:
    """The place of each number of a cone in the whole unit."""
    found = {int(place): int(place) for place in U}
    for area in cone.areas:
        base = whole.area_of[area.id].base
        found |= {area.base + place: base + place for place in A}
    for zone in cone.zones:
        base = whole.zone_of[zone.id].base
        found |= {zone.base + place: base + place for place in Z}
    found |= {watch.slot: whole.watch_of[watch.setup.id].slot for watch in cone.watches}
    return found | {d.slot: whole.device_of[name].slot for name, d in cone.device_of.items() if d.slot >= 0}


def _told(setup: Setup, seconds: list[Second], names: Mapping[str, str]) -> tuple[Beat, ...]:
    beats, sounding = [], False
    for second in seconds:
        output = output_of(second, names, sounding)
        sounding = bool(second.outputs.sirens)
        if second.inputs or output or second is seconds[-1]:
            beats.append(_beat(setup, second, names, output))
    return tuple(beats)


def _beat(setup: Setup, second: Second, names: Mapping[str, str], output: str) -> Beat:
    felt = [event.device for event in second.inputs if isinstance(event, _FELT)]
    zones = dict.fromkeys(setup.layout.device_of[device].zone.id for device in felt)
    deeds = "; ".join(deed(event, names) for event in second.inputs) or "time passes"
    people = any(not isinstance(event, _OF_ITSELF) for event in second.inputs)
    return Beat(
        second.at_s,
        "somebody" if people else "",
        deeds,
        devices=tuple(felt),
        zones=tuple(zones),
        state=describe(setup, second.state),
        output=output,
    )


def deed(event: Input, names: Mapping[str, str]) -> str:
    """What happens, in words.

    Our own sentences.
    """
    if isinstance(event, i.SetArea):
        where = " from outside" if event.outside else ""
        insists = ", accepting what is in the way" if event.override else ""
        what = names.get(event.part, event.part) if event.part else "with nobody in"
        return f"sets {names.get(event.area, event.area)} {what}{where}{insists}"
    given = {field: getattr(event, field) for field in event.__slots__}
    shown = {field: names.get(value, value) if isinstance(value, str) else value for field, value in given.items()}
    return _DEEDS[type(event)].format(**shown)
