"""What the motion detectors see, storey by storey, with the tables that say the same."""

from collections.abc import Iterable, Iterator

from alarmlib.calc.coverage.areas import ASSUMED, Coverage, coverages, lacking, motion_detectors, plainer
from alarmlib.calc.coverage.watched import EntrySeen, RoomSeen, place_seen_by, rooms_seen, seen_on_the_way
from alarmlib.model.shapes import middle
from alarmlib.model.site import Reach, Storey
from alarmlib.model.words import DeviceKind, Share
from alarmlib.record.blocks import Block, Bullets, Picture, Subheading, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.floor_plan import HatchedArea, floor_plan, marks
from alarmlib.record.picture import Fill, Ink
from alarmlib.record.section import section
from alarmlib.units import Kind, show

_NUMBERS = frozenset({1, 2, 3, 4, 5})

_KEY = (
    "Crossed hatching: computed to be seen by four steps any way. Slanted: only by four steps across the view. "
    "Dashed outline: may be seen, inside doors open. Bare floor may be crossed unseen. Letters and numbers as on "
    "the plans."
)
_SAYS = {"surely": "computed to be seen", "across": "across its view only", "may": "may", "not": "no"}


@section("coverage", "What the motion detectors see", level=Share.OWNER, needs=("site.rooms", "devices"))
def coverage(context: Context) -> tuple[Block, ...]:
    """Pictures, shares, blind spots, who is seen on the way in, and what was assumed."""
    seen = coverages(context.asked)
    if not motion_detectors(context.asked):
        return ()
    if not seen:
        return (Text(("No motion detector has its place, direction, range and angle on a drawn plan yet.",)),)
    return tuple(_blocks(context, seen))


def _blocks(context: Context, seen: tuple[Coverage, ...]) -> Iterator[Block]:
    rooms = {each.room: each for each in rooms_seen(context.asked)}
    for storey in sorted(context.home.site.storeys, key=lambda each: each.level):
        here = [each for each in seen if each.storey == storey.id]
        if here:
            inside = [
                rooms[room.id] for room in context.home.site.rooms if room.storey == storey.id and room.id in rooms
            ]
            yield _picture(context, storey, here, inside)
    spots = tuple(_blind_rows(context, rooms.values()))
    if spots:
        yield Table("Blind spots in rooms that a motion detector looks into", ("Room", "Size", "Around"), spots)
    rows = tuple(_way_rows(context))
    if rows:
        yield Table(
            "Which motion detector sees somebody who comes in and walks to the middle of the room",
            ("Way in", "Detector", "Seen", "After"),
            rows,
        )
    bare = [
        f"{context.name('device', device)}: {', '.join(labels)}" for device, labels in lacking(context.asked).items()
    ]
    if bare:
        yield Subheading("Not computed")
        yield Bullets(tuple(bare))
    yield Subheading("Taken as given")
    yield Bullets(ASSUMED)


def _picture(context: Context, storey: Storey, seen: list[Coverage], rooms: list[RoomSeen]) -> Picture:
    areas = [HatchedArea(plainer(o), Ink.DASHED, Fill.NONE) for each in seen for o in each.possible]
    areas += [HatchedArea(plainer(o), Ink.FINE, Fill.SLANTED) for each in seen for o in each.sure]
    areas += [HatchedArea(plainer(o), Ink.FINE, Fill.CROSSED) for each in seen for o in each.straight]
    name = context.name("storey", storey.id)
    header = (
        "Room",
        "Floor",
        "Computed to be seen, any way",
        "The same without narrow strips",
        "Computed to be seen, across",
        "May be seen",
        "Detector computed to see its middle",
    )
    table = Table(f"Seen of each room: {name}", header, tuple(_room_row(context, room) for room in rooms), _NUMBERS)
    drawing = floor_plan(context.home, storey.id, (), areas, frozenset({DeviceKind.MOTION}))
    return Picture(f"What the motion detectors see: {name}", _KEY, drawing, table)


def _room_row(context: Context, seen: RoomSeen) -> tuple[str, ...]:
    parts = (seen.straight_m2, seen.straight_m2 - seen.strips_m2, seen.sure_m2, seen.possible_m2)
    shares = (f"{part / seen.area_m2:.0%}" if seen.area_m2 else "" for part in parts)
    name = f"{marks(context.home)['room', seen.room]} {context.name('room', seen.room)}"
    room = next(room for room in context.home.site.rooms if room.id == seen.room)
    by = place_seen_by(context.asked, room.storey, middle(room.outline))
    watched = ", ".join(context.name("device", device) for device in by)
    return name, show(seen.area_m2, Kind.AREA, context.home.units), *shares, watched


def _blind_rows(context: Context, rooms: Iterable[RoomSeen]) -> Iterator[tuple[str, str, str]]:
    system = context.home.units
    for room in rooms:
        for spot in room.blind if room.sure_m2 else ():
            x, y = (show(value, Kind.LENGTH, system) for value in spot.middle)
            yield context.name("room", room.room), show(spot.area_m2, Kind.AREA, system), f"{x}, {y}"


def _way_rows(context: Context) -> Iterator[tuple[str, str, str, str]]:
    for opening in context.home.site.openings:
        if opening.reach is Reach.NOT:
            continue
        for each in seen_on_the_way(context.asked, [opening.room], [opening.id]):
            if each.verdict != "not":
                yield _way_row(context, each)


def _way_row(context: Context, each: EntrySeen) -> tuple[str, str, str, str]:
    after = (
        "" if each.after_m is None else f"{show(each.after_m, Kind.LENGTH, context.home.units)}, {each.after_s:.0f} s"
    )
    return context.name("opening", each.way), context.name("device", each.device), _SAYS[each.verdict], after
