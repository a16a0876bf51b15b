"""The event diary: what was entered, and empty lines for what comes."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Lines
from alarmlib.record.context import Context
from alarmlib.record.rows import part_table

ID = "diary"
TITLE = "Event diary"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.HELPER
PAPER = True


def build(context: Context) -> tuple[Block, ...]:
    """Every trip, wanted or not: the rate of false alarms can be counted only from this."""
    lines = Lines("To be filled in by hand", ("Date", "Zone", "Who was there", "Cause found", "What was changed"), 14)
    events = context.home.log.events
    if not (events and context.sees(Share.OWNER)):
        return (lines,)
    return (part_table(context, "Events so far", events, ("on", "zone", "cause", "changed"), keep=4), lines)
