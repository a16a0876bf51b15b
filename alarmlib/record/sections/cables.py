"""Cable schedule: each wired device's route along walls and ceiling, what to cut, its cores and its label."""

from collections.abc import Iterator

from alarmlib.calc.cable_routes import ENDS_M, SLACK, Route, routes
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Caution, Table, Text
from alarmlib.record.context import Context
from alarmlib.units import Kind, show

ID = "cables"
TITLE = "Cable schedule"
NEEDS = ("devices", "site.rooms")
LEVEL = Share.OWNER


def build(context: Context) -> tuple[Block, ...]:
    """A row a cable, and what no wall leads to."""
    return tuple(_blocks(context))


def _blocks(context: Context) -> Iterator[Block]:
    found, without = routes(context.home)
    if not found and not without:
        return
    yield Caution(
        "Before you drill: pipes, cables and joists. Alarm cable keeps away from mains cable, in holes of its own.",
        "caution_memory",
    )
    system = context.home.units
    text = (
        f"A device on a wall has its cable up that wall. Any other has it across its own room's ceiling to a wall. "
        f"From there the cable runs along walls at the ceiling to the control unit. It changes storey where corners "
        f"are one above another. Each route is the shortest such route. {SLACK:.0%} is added for corners and "
        f"{show(ENDS_M, Kind.LENGTH, system)} at each end. Cores are common practice; your devices' papers decide."
    )
    yield Text((text,))
    if found:
        whole = sum(route.cut_m for route in found)
        header = ("Label", "From", "Storeys", "Route", "Cut", "Cores")
        yield Table(f"Cables, {show(whole, Kind.LENGTH, system)} in all", header,
                    tuple(_row(context, route) for route in found), frozenset({3, 4, 5}))  # fmt: skip
    if without:
        yield Text(("No wall on the plan leads from these to the control unit; measure their way:",))
        yield Bullets(tuple(context.name("device", device) for device in without))


def _row(context: Context, route: Route) -> tuple[str, ...]:
    system = context.home.units
    storeys = ", ".join(context.name("storey", storey) for storey in route.storeys)
    metres = (show(round(route.along_m, 1), Kind.LENGTH, system), show(route.cut_m, Kind.LENGTH, system))
    return route.label, context.name("device", route.device), storeys, *metres, str(route.cores)
