"""Sounders: to each pillow with doors closed and open, next door, and beside them."""

from collections.abc import Iterator

from alarmlib.calc.sound.heard import (
    HeardLevel,
    behind_glass_db,
    heard_at_night,
    heard_in,
    left_open,
    outside_dba,
    own_reading,
    sounders,
    together,
)
from alarmlib.calc.sound.levels import at_distance, bearable_s
from alarmlib.checks.settings.sound import target_dba, target_source
from alarmlib.model.questions import sleeping_rooms
from alarmlib.model.words import DeviceKind, Link, Share
from alarmlib.record.blocks import Block, Picture, Table, Text
from alarmlib.record.charts import LevelRow, level_chart
from alarmlib.record.context import Context
from alarmlib.record.section import section
from alarmlib.record.sections.front.calculations import head, shown
from alarmlib.sources import cite
from alarmlib.units import Kind, rounded, show

KEYS = frozenset({"pillow"})
FAINT_DB = 20.0  # a household alarm so much fainter than the loudest adds nothing worth a row
_HOW = (
    "The sound is taken to go through rooms by the best way. It loses 6 dB for each doubling of the distance, and what "
    "each closed door takes. What goes through walls and floors is left out. Furnishing and doors make it uncertain by "
    "5 dB and more: a meter decides."
)


@section("sound", "Sounders", level=Share.OWNER, needs=("devices",))
def sound(context: Context) -> tuple[Block, ...]:
    """Pillows as a picture and tables, the neighbour, ears beside a sounder."""
    return tuple(_blocks(context)) if sounders(context.home) else ()


def _blocks(context: Context) -> Iterator[Block]:
    home = context.home
    asked = f"Asked at the pillow, doors closed: {target_dba(home):.0f} dB(A). {cite(target_source(home))}."
    yield Text((f"{asked} {_HOW}",))
    beds = [room for room in home.site.rooms if room.id in sleeping_rooms(home)]
    found = {room.id: heard_in(home, room.id, fire=True) for room in beds}
    of_the_unit = {device.id for device in sounders(home) if device.link is not Link.OWN}
    if any(found.values()):
        yield _pillows(context, {room: each for room, each in found.items() if each})
        rows = tuple(
            _row(context, each)
            for several in found.values()
            for each in several
            if each.level_dba >= several[0].level_dba - FAINT_DB
            or each.level_dba >= target_dba(home)
            or each.sounder in of_the_unit
        )
        yield _at_burglary(context, [room.id for room in beds])
        yield from _at_night(context, [room.id for room in beds])
        header = ("Room", "Sounder", "Doors closed", "Doors open", "Way", "Closed doors take away")
        yield Table("Each sounder at each pillow, far fainter alarms left out", header, rows, frozenset({2, 3, 4, 5}))
        yield from _sleepers(context, found)
    yield from _beside(context)
    yield from shown(context, [figure for figure in context.assessment.figures if head(figure) in KEYS])


def _pillows(context: Context, found: dict[str, tuple[HeardLevel, ...]]) -> Picture:
    target = target_dba(context.home)
    levels = {room: together(each) for room, each in found.items()}
    rows = [LevelRow(context.name("room", room), *level) for room, level in levels.items()]
    told = tuple(
        (context.name("room", room), f"{level:.0f} dB(A)", f"± {unsure:.0f} dB", _verdict(level, unsure, target))
        for room, (level, unsure) in levels.items()
    )
    header = ("Room", "Level", "Uncertain by", "Verdict")
    table = Table("In a fire, all that sounds together at the pillow, doors closed", header, told, frozenset({1, 2}))
    text = (
        "In a fire, household alarms that sound with the others included. Black: the level; slanted: what is "
        "uncertain; dashed: what is asked."
    )
    return Picture("At the pillows, doors closed", text, level_chart(rows, target), table)


def _at_burglary(context: Context, beds: list[str]) -> Table:
    target, rows = target_dba(context.home), []
    for room in beds:
        found = heard_in(context.home, room)
        level, unsure = together(found) if found else (0.0, 0.0)
        told = (f"{level:.0f} dB(A)", f"± {unsure:.0f} dB", _verdict(level, unsure, target))
        rows.append((context.name("room", room), *(told if found else ("none known", "", ""))))
    header = ("Room", "Level", "Uncertain by", "Beside the same level")
    return Table(
        "At a burglary, the control unit's own sounders together, doors closed", header, tuple(rows), frozenset({1, 2})
    )


def _at_night(context: Context, beds: list[str]) -> Iterator[Table]:
    """The same with the doors that the owner leaves open; the rule is about closed doors, so no verdict."""
    if not left_open(context.home):
        return
    levels = {room: together(found) for room in beds if (found := heard_at_night(context.home, room))}
    rows = tuple(
        (context.name("room", room), f"{level:.0f} dB(A)", f"± {unsure:.0f} dB")
        for room, (level, unsure) in levels.items()
    )
    if rows:
        caption = "In a fire, with inside doors as you leave them at night"
        yield Table(caption, ("Room", "Level", "Uncertain by"), rows, frozenset({1, 2}))


def _verdict(level: float, unsure: float, target: float) -> str:
    if level + unsure < target:
        return "too quiet"
    return "measure it" if level - unsure < target else "enough, as computed"


def _row(context: Context, each: HeardLevel) -> tuple[str, ...]:
    opened = next(
        (o for o in heard_in(context.home, each.room, shut=False, fire=True) if o.sounder == each.sounder), None
    )
    level = f"{each.level_dba:.0f} dB(A)" + (" read" if each.read else "")
    way = show(round(each.way.metres, 1), Kind.LENGTH, context.home.units)
    loss = f"{each.way.loss_db:g} dB"
    open_level = f"{opened.level_dba:.0f} dB(A)" if opened else ""
    return context.name("room", each.room), context.name("device", each.sounder), level, open_level, way, loss


def _sleepers(context: Context, found: dict[str, tuple[HeardLevel, ...]]) -> Iterator[Block]:
    target, rows = target_dba(context.home), []
    for person in context.home.household.people:
        several = found.get(person.sleeps_in, ())
        level, unsure = together(several) if several else (0.0, 0.0)
        why = [_verdict(level, unsure, target)] if several and level - unsure < target else []
        why += ["sleeps deeply"] * person.deep_sleeper + ["hard of hearing"] * person.hard_of_hearing
        if why:
            rows.append((context.name("person", person.id), context.name("room", person.sleeps_in), ", ".join(why)))
    if rows:
        yield Table("Who may not wake", ("Person", "Sleeps in", "Why"), tuple(rows))


def _beside(context: Context) -> Iterator[Block]:
    home, rows = context.home, []
    for device in (d for d in sounders(home) if d.link is not Link.OWN):
        level = at_distance(device.level_dba or 0.0, device.level_at_m, 1.0)
        safe = bearable_s(level)
        near = _next_door(context, device.id) if device.kind is DeviceKind.OUTSIDE_SIREN else ""
        told = f"{rounded(safe / 60)} min" if safe >= 60 else f"{safe:.0f} s"
        rows.append((context.name("device", device.id), f"{level:.0f} dB(A)", told, near))
    header = ("Sounder", "At 1 m", "Ears tolerate it each day for", "At the neighbour's")
    yield Table("Beside the sounders, and next door", header, tuple(rows), frozenset({1, 2}))


def _next_door(context: Context, device_id: str) -> str:
    home = context.home
    read = own_reading(home, device_id, "")
    device = next(d for d in home.whole_devices if d.id == device_id)
    if read is None and home.sound.neighbour_m is None:
        return "distance not entered"
    level = outside_dba(device, home.sound.neighbour_m or 1.0) if read is None else read
    said = f"{level:.0f} ± 5 dB(A)" if read is None else f"{level:.0f} dB(A) read"
    return f"{said}; indoors, window closed, about {level - behind_glass_db(device.tone_hz):.0f}"
