"""The plans, storey by storey, each with the table that says the same."""

from collections.abc import Iterator

from alarmlib.model.site import Storey
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Picture, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.floor_plan import drawn_rooms, floor_plan, marks

ID = "plan"
TITLE = "Plans"
NEEDS = ("site.storeys", "site.rooms")
LEVEL = Share.OWNER

_KEY = (
    "Plain numbers are rooms, numbers in squares are ways in, and letters in circles are devices. A black diamond "
    "joins two rooms. A dashed stroke shows where a detector faces."
)


def build(context: Context) -> tuple[Block, ...]:
    """A picture for each storey with outlines; the others are named."""
    storeys = sorted(context.home.site.storeys, key=lambda storey: storey.level)
    blocks: list[Block] = [_picture(context, s) for s in storeys if drawn_rooms(context.home, s.id)]
    bare = [context.name("storey", s.id) for s in storeys if not drawn_rooms(context.home, s.id)]
    if bare:
        blocks.append(
            Text(
                (
                    (
                        f"No plan was drawn of: {', '.join(bare)}. Rooms, doors and seconds are used for the "
                        "calculations there."
                    ),
                )
            )
        )
    return tuple(blocks)


def _picture(context: Context, storey: Storey) -> Picture:
    name = context.name("storey", storey.id)
    table = Table(f"What is on the plan: {name}", ("Mark", "What", "Kind", "Room"), tuple(_rows(context, storey)))
    return Picture(f"Plan: {name}", _KEY, floor_plan(context.home, storey.id), table)


def _rows(context: Context, storey: Storey) -> Iterator[tuple[str, str, str, str]]:
    site, mark = context.home.site, marks(context.home)
    inside = {room.id for room in site.rooms if room.storey == storey.id}
    for room in site.rooms:
        if room.id in inside:
            yield mark["room", room.id], context.name("room", room.id), room.use.text, ""
    for opening in site.openings:
        if opening.room in inside:
            yield (
                f"square {mark['opening', opening.id]}",
                context.name("opening", opening.id),
                opening.kind.text,
                context.name("room", opening.room),
            )
    for device in context.home.whole_devices:
        if device.room in inside:
            yield (
                mark["device", device.id],
                context.name("device", device.id),
                device.kind.text,
                context.name("room", device.room),
            )
