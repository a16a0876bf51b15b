"""The cautions, again: what can hurt, and who says so."""

from alarmlib.checks.cautions import CAUTIONS
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Caution, Text
from alarmlib.record.context import Context

ID = "cautions"
TITLE = "Cautions"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.PUBLIC

_INTRO = (
    "Read these before each step that can hurt you or others. Each comes again in the section of its step.",
    "Each device's manual says more.",
)


def build(_context: Context) -> tuple[Block, ...]:
    """The cautions in the order of the work."""
    return (Text(_INTRO), *(Caution(advice.text, advice.source) for advice in CAUTIONS))
