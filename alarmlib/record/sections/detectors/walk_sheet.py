"""The walk sheet: the survey on paper, to be carried round by day and in the dark."""

from alarmlib.model.survey import POINTS
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Checklist, Table, Text
from alarmlib.record.context import Context

ID = "walk_sheet"
TITLE = "Walk sheet (fill in by hand)"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.OWNER
PAPER = True


def build(context: Context) -> tuple[Block, ...]:
    """What is looked at on the round, with room to write."""
    return (
        Text(("Walk from the street to the house, round it, then inside; once by day, once in the dark.",)),
        *_tables(context),
        *_points(),
    )


def _tables(context: Context) -> tuple[Block, ...]:
    site = context.home.site
    openings = tuple(
        (context.name("opening", o.id), context.name("room", o.room), "", "", "", "") for o in site.openings
    )
    rooms = tuple((context.name("room", r.id), "", "", "", "") for r in site.rooms)
    tables = (
        Table("Each way in", ("Way in", "Room", "Lock", "By day", "In the dark", "To do"), openings),
        Table(
            "Each room", ("Room", "What could trip a detector", "Smoke alarm made in", "Two ways out", "To do"), rooms
        ),
    )
    return tuple(table for table in tables if table.rows)


def _points() -> tuple[Block, ...]:
    headings = dict.fromkeys(point.heading for point in POINTS)
    return tuple(Checklist(h.text, tuple(p.text for p in POINTS if p.heading is h)) for h in headings)
