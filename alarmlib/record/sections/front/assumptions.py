"""What was not answered, and is therefore taken as assumed."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Text, apart
from alarmlib.record.context import Context

ID = "assumptions"
TITLE = "Assumptions"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.OWNER


def build(context: Context) -> tuple[Block, ...]:
    """The facts that were skipped; each would make this record say more, or say it more firmly."""
    if not context.assessment.missing:
        return (Text(("No fact that the checks asked for was skipped.",)),)
    told = (
        "You skipped these facts. Where a calculation needed one, its usual value was used, and the "
        "calculation says so."
    )
    return (Text((told,)), Bullets(tuple(map(apart, context.assessment.missing))))
