"""What changed since the last record, field by field."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table, Text, named
from alarmlib.record.compare import differences
from alarmlib.record.context import Context

ID = "changes"
TITLE = "Changed since the last record"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.HELPER


def build(context: Context) -> tuple[Block, ...]:
    """Each changed field with what stood there before and what stands there now."""
    if context.previous is None:
        return (Text(("This is the first record of this home.",)),)
    rows = tuple(
        (named(change.where), named(change.before), named(change.after))
        for change in differences(context.previous, context.home, context.copy)
    )
    if not rows:
        return (Text(("Nothing changed since the last record.",)),)
    return (Table("Changes", ("What", "Before", "Now"), rows),)
