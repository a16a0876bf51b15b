"""Wireless devices: signal to spare, cells in the order of their change, holes that a flat one opens."""

from collections.abc import Iterator

from alarmlib.calc.electrical.radio import FlatBatteryHole, holes, replacements, spare
from alarmlib.model.questions import present
from alarmlib.model.site import Yes
from alarmlib.model.words import Link, Share
from alarmlib.record.blocks import Block, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.section import section
from alarmlib.units import rounded

_MOST = 12


@section("radio", "Wireless devices and their batteries", level=Share.HELPER, needs=("devices",))
def radio(context: Context) -> tuple[Block, ...]:
    """Signals with the least to spare, cells by date, holes."""
    return tuple(_blocks(context)) if any(d.link is Link.WIRELESS for d in present(context.home)) else ()


def _blocks(context: Context) -> Iterator[Block]:
    read = [
        (left, device.id, device.wireless)
        for device in (present(context.home) if context.sees(Share.OWNER) else ())
        if device.wireless and (left := spare(device.wireless)) is not None
    ]
    if read:
        rows = tuple(
            (
                context.name("device", device),
                f"{facts.signal:g}",
                f"{facts.signal_asked:g}",
                f"{left:g}",
                context.name("device", facts.repeater),
            )
            for left, device, facts in sorted(read, key=lambda each: each[0])[:_MOST]
        )
        header = ("Device", "Read", "Needed", "To spare", "Repeater")
        yield Table("Signal where mounted, doors closed: the least to spare first", header, rows, frozenset({1, 2, 3}))
    due = [each for each in replacements(context.judged) if context.knows("device", each.device)]
    if due:
        alike: dict[tuple[str, str, str], list[str]] = {}
        for each in due:
            key = (each.on or "fitted when?", f"{rounded(each.years, 2)} years", each.known_by)
            alike.setdefault(key, []).append(context.name("device", each.device))
        cells = tuple((on, ", ".join(names), years, by) for (on, years, by), names in alike.items())
        yield Table(
            "Batteries, the first to change first", ("Change on", "Device", "Lasts", "Known by"), cells, frozenset({2})
        )
    found = holes(context.home) if context.sees(Share.OWNER) else ()
    if found:
        yield Text(
            ("What is unguarded when that battery is flat, and for how long before the control unit announces it.",)
        )
        names = ("Device", "What it leaves unguarded", "Announced", "Low battery reported before")
        yield Table("What a flat battery leaves unguarded", names, tuple(_hole(context, hole) for hole in found))


def _hole(context: Context, hole: FlatBatteryHole) -> tuple[str, ...]:
    names = [context.name("opening", opening) for opening in hole.openings]
    kind = next(device.kind.text for device in context.home.whole_devices if device.id == hole.device)
    names += [f"{context.name('room', room)}, which no other {kind} on the unit watches" for room in hole.rooms]
    after = "not known" if hole.announced_s is None else f"within {rounded(hole.announced_s / 3600)} h"
    warned = {Yes.YES: "yes", Yes.NO: "no", Yes.UNKNOWN: "not known"}[hole.warned]
    return context.name("device", hole.device), ", ".join(names), after, warned
