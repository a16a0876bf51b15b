"""The parts list: what is still to be got, by kind."""

from collections import Counter

from alarmlib.model.devices import DeviceState
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table
from alarmlib.record.context import Context

ID = "parts"
TITLE = "Parts list"
NEEDS = ("devices",)
LEVEL = Share.HELPER


def build(context: Context) -> tuple[Block, ...]:
    """How many of each kind are planned, and how many are there."""
    devices = [device for device in context.home.whole_devices if device.state is not DeviceState.REMOVED]
    planned = Counter((d.kind, d.link) for d in devices if d.state is DeviceState.PLANNED)
    there = Counter((d.kind, d.link) for d in devices if d.state is not DeviceState.PLANNED)
    rows = tuple(
        (kind.text, link.text, str(planned[kind, link]), str(there[kind, link]))
        for kind, link in dict.fromkeys((device.kind, device.link) for device in devices)
    )
    return (Table("Devices by kind", ("Kind", "Joined by", "To get", "There"), rows, frozenset({2, 3})),)
