"""A section of the record with the cautions of its subject, which come before its first table."""

from types import ModuleType

from alarmlib.checks.cautions import begins
from alarmlib.record.blocks import Block, Caution
from alarmlib.record.context import Context


def cautioned(module: ModuleType, context: Context) -> tuple[Block, ...]:
    """What a section says, begun with its cautions; () where it says nothing."""
    blocks: tuple[Block, ...] = module.build(context)
    return (*(Caution(each.text, each.source) for each in begins(module.ID)), *blocks) if blocks else ()
