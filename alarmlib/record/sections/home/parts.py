"""The parts list: what is still to be got, by kind."""

from collections import Counter

from alarmlib.model.questions import planned, present
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table
from alarmlib.record.context import Context

ID = "parts"
TITLE = "Parts list"
NEEDS = ("devices",)
LEVEL = Share.HELPER


def build(context: Context) -> tuple[Block, ...]:
    """How many of each kind are planned, and how many are there."""
    devices = present(context.home)
    to_get = Counter((device.kind, device.link) for device in planned(context.home))
    there = Counter((device.kind, device.link) for device in devices) - to_get
    rows = tuple(
        (kind.text, link.text, str(to_get[kind, link]), str(there[kind, link]))
        for kind, link in dict.fromkeys((device.kind, device.link) for device in devices)
    )
    return (Table("Devices by kind", ("Kind", "Joined by", "To get", "There"), rows, frozenset({2, 3})),)
