"""Contacts: on paper only."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Lines, Text
from alarmlib.record.context import Context

ID = "contacts"
TITLE = "Contacts (fill in by hand)"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.HELPER
PAPER = True


def build(_context: Context) -> tuple[Block, ...]:
    """Empty lines: names and numbers are never entered in the workbook."""
    told = "Write on the printed page only. Name at least two people with a key who are not you. No codes here."
    return (
        Text((told,)),
        Lines("Key-holders and neighbours", ("Name", "Telephone", "Has a key", "Can unset the alarm", "Agreed on"), 6),
        Lines("Services: fire, ambulance, police, gas, water, electricity, doctor", ("Service", "Number"), 8),
        Lines("Permit and insurance", ("What", "Number", "Valid until"), 3),
    )
