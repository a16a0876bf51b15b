"""The device schedule: what is fitted where, on which zone, with its facts; the parts still to get."""

from collections import Counter
from collections.abc import Iterator
from typing import Any

from alarmlib.model.questions import planned, present
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table
from alarmlib.record.context import Context
from alarmlib.record.rows import any_entered, note_table, part_table, share_of
from alarmlib.record.section import section

_PLACED = ("name", "kind", "link", "state", "room", "openings", "passages", "zone", "circuit", "height_m", "mount",
           "facing_deg")  # fmt: skip
_SEES = (
    "range_m",
    "angle_deg",
    "straight_range_m",
    "looks_down_deg",
    "slowest_m_s",
    "ignores_pets_kg",
    "contact_gap_mm",
    "sleep_s",
    "movement_restarts_sleep",
    "warm_up_s",
)
_FACTS = (
    (
        "What detectors see, and when they sleep",
        _SEES,
    ),
    ("Sound, tamper and dates", ("level_dba", "level_at_m", "standby", "tamper", "made_on", "fitted_on")),
)
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
    for caption, fields in _FACTS[context.copy is Share.HELPER :]:  # what a named detector sees tells its blind spots
        told = [device for device in home.whole_devices if any_entered(device, fields)]
        if told:
            yield part_table(context, caption, told, ("name", *fields))
    if any(device.wireless for device in home.whole_devices):
        yield _wireless(context)
    if home.circuits:
        yield part_table(context, "Wired circuits", home.circuits, _CIRCUITS)


def _wireless(context: Context) -> Table:
    joined = [(device, device.wireless) for device in context.home.whole_devices if device.wireless]
    facts: list[Any] = [facts for _, facts in joined]
    fields = [name for name in type(facts[0]).model_fields if context.sees(share_of(type(facts[0]), name))]
    table = part_table(context, "Wireless devices", facts, ("battery", *(f for f in fields if f != "battery")))
    names = (context.name("device", device.id) for device, _ in joined)
    return Table(
        table.caption,
        ("Device", *table.header),
        tuple((name, *row) for name, row in zip(names, table.rows, strict=True)),
        frozenset(n + 1 for n in table.numeric),
    )


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
