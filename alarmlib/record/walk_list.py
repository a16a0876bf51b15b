"""The walk test to take along: one row a device in the order of the walk, as CSV (RFC 4180), read only."""

import csv
import io

from alarmlib.draft.test_route import walk_order
from alarmlib.model import Home
from alarmlib.record.sections.upkeep.walk_test import do_this, wait_first
from alarmlib.rules import say_of
from alarmlib.store.columns import harmless

_HEADER = ("No.", "Device", "Room", "Do this", "Should show", "Wait first", "Seen", "Date", "Time of day")


def walk_csv(home: Home) -> str:
    """The walk in the order of page and record; what no way leads to comes last. The last three columns are empty."""
    order = walk_order(home)
    rooms = {room.id: room.name for room in home.site.rooms}
    zones = {zone.id: zone.label for zone in home.control_unit.zones}
    out = io.StringIO()
    writer = csv.writer(out)
    say = say_of(home)
    writer.writerow(map(say, _HEADER))
    for number, (device, wait_s) in enumerate((*order.rows, *((device, 0.0) for device in order.apart)), 1):
        told = (device.name, rooms.get(device.room, ""), say(do_this(device)), zones.get(device.zone, ""))
        writer.writerow((str(number), *map(harmless, told), say(wait_first(device, wait_s)), "", "", ""))
    return out.getvalue()
