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
        return (Text(("No earlier record of this home is kept beside it.",)),)
    told = f"Compared with the record of {context.since}." if context.since else "Compared with the home file named."
    rows = tuple(
        (named(change.where), named(change.before), named(change.after))
        for change in differences(context.previous, context.home, context.copy)
    )
    if not rows:
        return (Text((told, "Nothing changed since then.")),)
    return (Text((told,)), Table("Changes", ("What", "Before", "Now"), rows))
