"""Cable schedule: every cable's label, what it joins, its length and cores, as entered, else as planned."""

from collections.abc import Iterator

from alarmlib.calc.electrical.cable_routes import ENDS_M, SLACK
from alarmlib.calc.electrical.cable_schedule import CORE_COUNT, LABEL, LENGTH, Cable, Schedule, schedule
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Table, Text
from alarmlib.record.context import Context
from alarmlib.units import Kind, show

ID = "cables"
TITLE = "Cable schedule"
NEEDS = ("devices",)
LEVEL = Share.OWNER


def build(context: Context) -> tuple[Block, ...]:
    """A row a cable, and what no wall leads to."""
    return tuple(_blocks(context))


def _blocks(context: Context) -> Iterator[Block]:
    found = schedule(context.home)
    if not found.cables and not found.without:
        return
    yield Text((_told(context, found),))
    if found.cables:
        header = ("Label", "For", "Storeys, planned", "Length", "Cores")
        yield Table(_caption(context, found), header, tuple(_row(context, cable) for cable in found.cables),
                    frozenset({3, 4}))  # fmt: skip
    if found.without:
        yield Text(("No wall on the plan leads from these to the control unit; measure their way:",))
        yield Bullets(tuple(context.name("device", device) for device in found.without))


def _told(context: Context, found: Schedule) -> str:
    text = (
        "This shows what you entered of each cable. The rest is called planned. Where a circuit and a supply share one "
        "cable, both are listed."
    )
    if not any(cable.planned for cable in found.cables):
        return text
    ends = show(ENDS_M, Kind.LENGTH, context.home.units)
    return (
        f"{text} A planned cable goes up the wall from its device, or across the ceiling of its room to a wall. From "
        "there it runs along walls at the ceiling to the control unit. It changes storey where corners are one above "
        f"another. Each planned route is the shortest such route. {SLACK:.0%} is added for corners and {ends} at each "
        "end. Planned cores are common practice; your devices' manuals decide."
    )


def _caption(context: Context, found: Schedule) -> str:
    entered, planned = (show(found.metres(which), Kind.LENGTH, context.home.units) for which in (False, True))
    return f"Cables: {entered} entered, {planned} planned"


def _row(context: Context, cable: Cable) -> tuple[str, ...]:
    storeys = ", ".join(context.name("storey", storey) for storey in cable.storeys)
    length = show(cable.length_m, Kind.LENGTH, context.home.units)
    return (
        f"{cable.label}{_mark(cable, LABEL)}",
        _for(context, cable),
        storeys,
        f"{length}{_mark(cable, LENGTH)}",
        f"{cable.cores}{_mark(cable, CORE_COUNT)}",
    )


def _mark(cable: Cable, what: str) -> str:
    return " planned" if what in cable.planned else ""


def _for(context: Context, cable: Cable) -> str:
    """The circuit or run, and the devices on it."""
    devices = ", ".join(context.name("device", device) for device in cable.devices)
    return ": ".join(filter(None, (context.any_name(cable.of) if cable.of else "", devices)))
