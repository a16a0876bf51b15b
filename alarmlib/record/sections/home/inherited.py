"""What came with the home, and what becomes of it."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_table, part_table

ID = "inherited"
TITLE = "Kit that came with the home"
NEEDS = ("inherited.items",)
LEVEL = Share.OWNER

_ITEMS = ("what", "room", "pair", "shut_ohm", "open_ohm", "answers", "unknown", "fate", "device")


def build(context: Context) -> tuple[Block, ...]:
    """Each thing found, and the three ticks about old access."""
    inherited = context.home.inherited
    found = part_table(context, "Found in the walls", inherited.items, _ITEMS, keep=2)
    return (found, fact_table(context, "Old contract, users and access", (inherited,)))
