"""What manuals say: once for each type of device, and what single devices have otherwise."""

from collections.abc import Iterator

from alarmlib.model.base import Part
from alarmlib.model.devices import DeviceEntry, DeviceType, WirelessFacts
from alarmlib.model.differences import Differing
from alarmlib.model.questions import present
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table
from alarmlib.record.context import Context
from alarmlib.record.rows import any_entered, fact_text, label, part_table, share_of

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
_DOES = ("level_dba", "level_at_m", "standby", "tamper", "has_hold_up")


def type_tables(context: Context) -> Iterator[Block]:
    """What the manual of each type in use says, and where devices differ from it or are of no type."""
    home = context.home
    facts = (() if context.copy is Share.HELPER else _SEES, _DOES)  # what a named detector sees tells its blind spots
    types = [device.type for device in present(home)]
    used = [each for each in home.device_types if each.id in types]
    if used:
        number = ("Devices", lambda each: str(types.count(each.id)))
        yield part_table(context, "Types of devices", used, ("name", number, "kind", "link", "assumed"), keep=4)
        for caption, names in zip(("What detectors of a type see, and when they sleep", "Sound, tamper and mains"),
                                  facts, strict=True):  # fmt: skip
            told = [each for each in used if names and any_entered(each, names)]
            if told:
                yield part_table(context, caption, told, ("name", *names))
        yield from _wireless(context, used)
    rows = tuple(_differences(context, ("link", *facts[0], *facts[1])))
    if rows:
        yield Table("Devices that differ from their type, or are of none", ("Device", "Its own facts"), rows)


def _wireless(context: Context, used: list[DeviceType]) -> Iterator[Table]:
    joined = [(each, each.wireless) for each in used if each.wireless and any_entered(each.wireless, _RADIO)]
    if joined:
        table = part_table(context, "Wireless types", [facts for _, facts in joined], ("battery", *_RADIO_BESIDE))
        names = (context.called(each) for each, _ in joined)
        rows = tuple((name, *row) for name, row in zip(names, table.rows, strict=True))
        yield Table(table.caption, ("Type", *table.header), rows, frozenset(n + 1 for n in table.numeric))


_RADIO = tuple(WirelessFacts.model_fields)
_RADIO_BESIDE = tuple(name for name in _RADIO if name != "battery")


def _differences(context: Context, names: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """A row for each device that says something itself."""
    for entry, device in zip(context.home.devices, context.home.whole_devices, strict=True):
        own = [*_own(context, entry, device, names)]
        if entry.wireless is not None and device.wireless is not None:
            own += _own(context, entry.wireless, device.wireless, _RADIO)
        if own:
            yield context.name("device", entry.id), "; ".join(own)


def _own(context: Context, entry: Part, whole: Part, names: tuple[str, ...]) -> Iterator[str]:
    """The facts that an entry says itself, and that are not as they are declared where it has no type."""
    model = type(whole)
    for name in names:
        said = isinstance(entry, Differing) and getattr(entry, name) is not None
        if said and context.sees(share_of(model, name)) and (_typed(entry) or any_entered(whole, (name,))):
            yield f"{label(model, name)}: {fact_text(context, whole, name)}"


def _typed(entry: Part) -> bool:
    return isinstance(entry, DeviceEntry) and bool(entry.type)
