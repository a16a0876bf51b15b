"""The day of fitting: the schedule of cables, then every step in its order."""

from collections.abc import Iterator

from alarmlib.calc.electrical.cable_routes import ENDS_M, SLACK
from alarmlib.calc.electrical.cable_schedule import CORE_COUNT, LABEL, LENGTH, Cable, Schedule, schedule
from alarmlib.calc.electrical.fitting_day import FittingStep, halted_at, steps
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.section import section
from alarmlib.units import Kind, show


@section("cables", "Cable schedule", level=Share.OWNER, needs=("devices",))
def cables(context: Context) -> Iterator[Block]:
    """A row a cable, and what no wall leads to."""
    found = schedule(context.home)
    if not found.cables and not found.without:
        return
    yield Text((_told(context, found),))
    if found.cables:
        header = ("Label", "For", "Storeys, planned", "Length", "Cores")
        yield Table(_caption(context, found), header, tuple(_cable_row(context, cable) for cable in found.cables),
                    frozenset({3, 4}))  # fmt: skip
    if found.without:
        yield Text(("No wall on the plan leads from these to the control unit; measure their way:",))
        yield Bullets(tuple(context.name("device", device) for device in found.without))


def _told(context: Context, found: Schedule) -> str:
    text = (
        "This shows what you entered of each cable. The rest is called planned. Where a detector circuit "
        "and a supply share one cable, both are listed."
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


def _cable_row(context: Context, cable: Cable) -> tuple[str, ...]:
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


@section("fitting", "The day of fitting", level=Share.OWNER, needs=("devices",))
def fitting(context: Context) -> tuple[Block, ...]:
    """The steps with ticks; the step at which the work stops."""
    return tuple(_blocks(context)) if context.home.whole_devices else ()


def _blocks(context: Context) -> Iterator[Block]:
    todo = steps(context.home)
    halt, done = halted_at(context.home), set(context.home.wiring.done)
    if halt.step is None:
        yield Text(("Every step is ticked.",))
    else:
        yield Text((f"Next: {halt.step.text}{f' STOPPED: {halt.why}' if halt.why else ''}",))
    free = [step.id for step in todo if step.id.startswith("free_") and step.id in done]
    shown = [step for step in todo if step.id not in free[1:]]
    rows = tuple(_row(number, step, len(free), step.id in done) for number, step in enumerate(shown, 1))
    yield Table("The steps in their order", ("No.", "Step", "Done"), rows, frozenset({0}))


def _row(number: int, step: FittingStep, free: int, done: bool) -> tuple[str, str, str]:
    """A row a step; wireless devices that are done share one."""
    many = done and step.id.startswith("free_") and free > 1
    text = (
        (f"{free} wireless devices: add each to the control unit at the table, name it, mount it and read its signal.")
        if many
        else step.text
    )
    return str(number), text, "✓ done" if done else "☐"
