"""A played habit in words: the seconds in which a step begins or the control unit does something."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from alarmlib.control.describe import describe
from alarmlib.control.habit_events import Done, Timeline
from alarmlib.control.inputs import Closes, Opens, Sees
from alarmlib.control.machine import Second, Trace
from alarmlib.control.setup import Setup
from alarmlib.control.signals import LogLine, Reason, SentMessage, UnitEvent
from alarmlib.model.home import Home

_REASONS = {reason.value: reason.text for reason in Reason}
_NOT_TOLD = frozenset({UnitEvent.RESTORE, UnitEvent.TRIP, UnitEvent.MESSAGE})


@dataclass(frozen=True)
class HabitMoment:
    """A second in which something begins: who, where, which devices and zones, the state after it, what came out."""

    second: int
    who: str
    place: str
    devices: tuple[str, ...]
    zones: tuple[str, ...]
    state: str
    output: str

    @property
    def sentence(self) -> str:
        """The moment as one line of text."""
        seen = f" {', '.join(self.devices)} (zone {', '.join(self.zones)})." if self.devices else ""
        out = f" {self.output}" if self.output else ""
        return f"{self.second} s: {self.who}, {self.place}.{seen}{out} {self.state}"


def moments_of(names: Mapping[str, str], setup: Setup, told: Timeline, trace: Trace) -> Iterator[HabitMoment]:
    """The seconds in which a step begins or the unit does something, in words.

    Our own sentences over the trace.
    """
    begun: dict[int, list[Done]] = {}
    for done in told.done:
        begun.setdefault(done.at_s, []).append(done)
    latest, sounding = told.done[:1], False
    for second in trace:
        latest = tuple(begun.get(second.at_s, ())) or latest
        output = output_of(second, names, sounding)
        sounding = bool(second.outputs.sirens)
        if second.at_s in begun or output:
            yield _moment(setup, second, latest, names_with_pets(names, told.pets), output)


def _moment(
    setup: Setup, second: Second, latest: tuple[Done, ...], names: Mapping[str, str], output: str
) -> HabitMoment:
    felt = [each for each in second.inputs if isinstance(each, (Opens, Closes, Sees))]
    zones = dict.fromkeys(setup.layout.device_of[each.device].zone.id for each in felt)
    place = "; ".join(f"{done.deed.text} {names.get(done.place, done.place)}".strip() for done in latest)
    return HabitMoment(
        second.at_s,
        latest[0].who if latest else "nobody",
        place=place,
        devices=tuple(_felt(each, names) for each in felt),
        zones=tuple(names.get(zone, zone) for zone in zones),
        state=describe(setup, second.state),
        output=output,
    )


def names_with_pets(names: Mapping[str, str], pets: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """The names, where a detector that pets may be seen by says so.

    Our own sentences; which pets, by `alarmlib.control.habit_events`.
    """
    about = {device: f"may see the pet: {', '.join(kinds)}" for device, kinds in pets.items()}
    return {**names, **{device: f"{names.get(device, device)} ({text})" for device, text in about.items()}}


def _felt(felt: Opens | Closes | Sees, names: Mapping[str, str]) -> str:
    """The device, and that it is normal again when it is."""
    name = names.get(felt.device, felt.device)
    return f"{name} back to normal" if isinstance(felt, Closes) else name


def output_of(second: Second, names: Mapping[str, str], sounding: bool) -> str:
    """What the unit gave out in that second, in words; a siren that was `sounding` already is not told again.

    Our own sentences.
    """
    out = second.outputs
    if not (out.sirens or out.messages or out.refusals or out.log):
        return ""
    parts = [] if sounding else [f"Siren: {siren.pattern.text}." for siren in out.sirens]
    parts += [f"Message: {_message(message, names)}." for message in out.messages]
    parts += [f"Refused: {names.get(r.about, r.about)} {r.reason.text}.".replace(":  ", ": ") for r in out.refusals]
    parts += [f"{_line(line, names)}." for line in out.log if line.event not in _NOT_TOLD]
    return " ".join(dict.fromkeys(parts))


def _line(line: LogLine, names: Mapping[str, str]) -> str:
    text = line.event.text.capitalize()
    about = _REASONS.get(line.about, line.about) if line.event is UnitEvent.REFUSED else line.about
    return f"{text}: {names.get(about, about)}" if about else text


def _message(message: SentMessage, names: Mapping[str, str]) -> str:
    about = ", ".join(names.get(each, each) for each in message.about)
    marks = ", ".join(mark.text for mark in message.marks)
    return "; ".join(part for part in (message.kind.text, about, marks) if part)


def names_of(home: Home) -> dict[str, str]:
    """What each id is called; a zone that shares its id with another part keeps its label.

    Reference: the owner's own words.
    """
    site, unit = home.site, home.control_unit
    named = {room.id: room.name for room in site.rooms} | {opening.id: opening.name for opening in site.openings}
    named |= {area.id: area.name for area in unit.areas} | {part.id: part.name for part in unit.part_sets}
    named |= {device.id: device.name for device in home.whole_devices}
    return named | {zone.id: zone.label for zone in unit.zones}
