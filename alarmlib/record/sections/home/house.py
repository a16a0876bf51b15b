"""The house: its facts, rooms, ways in, and how rooms are joined."""

from collections.abc import Iterator

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_table, note_table, part_table

ID = "house"
TITLE = "The house"
NEEDS = ("site.rooms",)
LEVEL = Share.CLASS

_ROOMS = ("name", "storey", "use", "area", "guarded", "ceiling_m", "door_shut_at_night", "disturbances", "two_ways_out")
_OPENINGS = ("name", "room", "kind", "entry_exit", "reach", "sill_m", "seen_by_others", "glass", "frame", "kept_open")
_FOUND = ("name", "lock", "latches_in_wind", "escape_way", "opens_without_key", "by_day", "by_night")
_PASSAGES = ("kind", "width_m", "slope_m", "seconds", "shut_at_night")


def build(context: Context) -> tuple[Block, ...]:
    """Tables of the house; columns nobody filled in are left out."""
    return tuple(_tables(context))


def _tables(context: Context) -> Iterator[Block]:
    site = context.home.site
    yield fact_table(context, "The house card", (site,))
    yield from note_table(context, "Note on the home", (context.home,), ("note",))
    if context.copy is Share.HELPER:  # beside devices by name, all rooms and ways in by name tell which have none
        return
    yield part_table(context, "Rooms", site.rooms, _ROOMS, keep=3)
    if site.openings:
        yield part_table(context, "Ways in", site.openings, _OPENINGS, keep=3)
    if site.openings and context.sees(Share.OWNER):
        yield part_table(context, "Ways in: what the round found", site.openings, _FOUND)
    if site.passages:
        ways = ("Way", lambda passage: context.name("passage", passage.id))
        yield part_table(context, "How rooms are joined", site.passages, (ways, *_PASSAGES), keep=2)
    parts = (*site.rooms, *site.openings)
    yield from note_table(context, "Reasons and notes on rooms and ways in", parts, ("left_bare_because", "note"))
