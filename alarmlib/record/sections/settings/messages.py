"""Who is told of what, in which order, by which path; roles only."""

from collections.abc import Iterator

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_table, part_table

ID = "messages"
TITLE = "Messages"
NEEDS = ("messages.messages",)
LEVEL = Share.HELPER

_RESPONDERS = ("role", "lives_here", "minutes_away", "holds_key", "can_unset", "agreed", "does")
_PATHS = ("name", "kind", "boxes", "works_without_mains", "failure_reported")


def build(context: Context) -> tuple[Block, ...]:
    """For each kind of event the plan; then the paths, then the people by role."""
    return tuple(_tables(context))


def _tables(context: Context) -> Iterator[Block]:
    messages = context.home.messages
    yield part_table(context, "Who is told of what", messages.messages, ("event", "to", "paths", "wait_s"), keep=3)
    if messages.paths:
        yield part_table(context, "Paths", messages.paths, _PATHS, keep=2)
    if messages.responders:
        yield part_table(context, "Who is told", messages.responders, _RESPONDERS)
    yield fact_table(context, "Calls by itself", (messages,))
