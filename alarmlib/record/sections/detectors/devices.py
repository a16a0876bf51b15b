"""The device schedule: what is fitted where, of which type, on which zone; what types say; parts still to get."""

from collections import Counter
from collections.abc import Iterator

from alarmlib.model.devices import WirelessPlace
from alarmlib.model.questions import planned, present
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table
from alarmlib.record.context import Context
from alarmlib.record.rows import any_entered, note_table, part_table, share_of
from alarmlib.record.section import section
from alarmlib.record.sections.detectors.device_types import type_tables

_PLACED = ("name", "kind", "type", "state", "room", "openings", "passages", "zone", "circuit", "height_m", "mount",
           "facing_deg")  # fmt: skip
_DAYS = ("made_on", "fitted_on")
_CIRCUITS = (
    "name",
    "terminals",
    "ending",
    "end_resistor_ohm",
    "contact_resistor_ohm",
    "cable",
    "length_m",
    "measured_ohm",
    "tamper_loop",
    "label",
)


@section("devices", "Devices", level=Share.CLASS, needs=("devices",))
def devices(context: Context) -> Iterator[Block]:
    """Where each device is and what its manual says."""
    home = context.home
    caption = "Where each device is" if context.sees(Share.OWNER) else "The devices"
    yield part_table(context, caption, home.whole_devices, _PLACED, keep=3)
    yield from note_table(context, "Notes on devices", home.whole_devices, ("note",))
    yield from type_tables(context)
    told = [device for device in home.whole_devices if any_entered(device, _DAYS)]
    if told:
        yield part_table(context, "Days of devices", told, ("name", *_DAYS))
    yield from _wireless(context)
    if home.circuits:
        yield part_table(context, "Detector circuits", home.circuits, _CIRCUITS)


def _wireless(context: Context) -> Iterator[Table]:
    """What is a wireless device's own; its type says the rest."""
    fields = [name for name in WirelessPlace.model_fields if context.sees(share_of(WirelessPlace, name))]
    told = [
        (device, device.wireless)
        for device in context.home.whole_devices
        if device.wireless and any_entered(device.wireless, fields)
    ]
    if told:
        table = part_table(context, "Wireless devices", [facts for _, facts in told], fields)
        rows = tuple((context.name("device", each.id), *row) for (each, _), row in zip(told, table.rows, strict=True))
        yield Table(table.caption, ("Device", *table.header), rows, frozenset(n + 1 for n in table.numeric))


def devices_of_zone(context: Context, zone_id: str) -> str:
    """The names of a zone's devices, those out of use as well."""
    return ", ".join(context.name("device", d.id) for d in present(context.home) if d.zone == zone_id)


@section("parts", "Parts list", level=Share.HELPER, needs=("devices",))
def parts(context: Context) -> tuple[Block, ...]:
    """How many of each kind are planned, and how many are there."""
    devices = present(context.home)
    to_get = Counter((device.kind, device.link) for device in planned(context.home))
    there = Counter((device.kind, device.link) for device in devices) - to_get
    rows = tuple(
        (kind.text, link.text, str(to_get[kind, link]), str(there[kind, link]))
        for kind, link in dict.fromkeys((device.kind, device.link) for device in devices)
    )
    return (Table("Devices by kind", ("Kind", "Connection", "To buy", "Already there"), rows, frozenset({2, 3})),)
