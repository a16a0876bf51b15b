"""Power: what everything draws, the battery by the chosen rule, its course, what to shed, volts along the cable."""

from collections.abc import Iterator

from alarmlib.calc.electrical.feeds import FeedRun, all_runs, longest_run_m, short_by, smallest_that_serves
from alarmlib.calc.electrical.power import (
    asked_hours,
    box_lasts_h,
    course,
    draws,
    due_day,
    lasts_h,
    load,
    shed,
    wanted_h,
)
from alarmlib.model.questions import by_id
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Picture, Subheading, Table, Text
from alarmlib.record.charts import course_chart
from alarmlib.record.context import Context
from alarmlib.record.section import section
from alarmlib.record.sections.front.calculations import head, shown
from alarmlib.units import Kind, rounded, show

KEYS = frozenset({"battery_asked", "recharge", "drop"})


@section("power", "Power", level=Share.OWNER, needs=("devices",))
def power(context: Context) -> tuple[Block, ...]:
    """Loads, battery, course, boxes on the message path, runs."""
    return tuple(_blocks(context)) if load(context.home).quiet_a else ()


def _blocks(context: Context) -> Iterator[Block]:
    yield from _dates(context)
    yield from _loads(context)
    figures = [figure for figure in context.assessment.figures if head(figure) in KEYS]
    yield from shown(context, [figure for figure in figures if head(figure) != "drop"])
    yield from _battery(context)
    yield from _boxes(context)
    runs = list(all_runs(context.home))
    if runs:
        yield Subheading("Volts along the cable")
        yield Text(
            ("These are the volts in alarm, with the battery nearly empty. Both cores of the warm cable are counted.",)
        )
        yield _run_table(context, runs)
        yield _stop_table(context, runs)
    yield from shown(context, [figure for figure in figures if head(figure) == "drop"])


def _dates(context: Context) -> Iterator[Block]:
    """When the standby battery was fitted, how long it lasts, and by when it is to be changed."""
    supply, due = context.home.wiring.supply, due_day(context.home.wiring.supply)
    if supply.standby_battery_ah is None and not supply.fitted_on:
        return
    lasts = "not entered" if supply.lasts_years is None else f"{supply.lasts_years:g} years"
    change = f"{due}, which is past" if due and due < context.date else due or "not known"
    size = (
        "not entered"
        if supply.standby_battery_ah is None
        else show(supply.standby_battery_ah, Kind.CHARGE, context.home.units)
    )
    row = (size, supply.fitted_on or "not entered", lasts, change)
    yield Table("The standby battery", ("Rated", "Fitted on", "Lasts", "Change by"), (row,))


def _loads(context: Context) -> Iterator[Block]:
    each, whole = draws(context.home), load(context.home)
    rows = [(draw.name, _ma(draw.quiet_a), _ma(draw.alarm_a)) for draw in each if draw.alarm_a]
    yield Table("What is drawn from the battery", ("Device", "Quiet", "In alarm"),
                (*rows, ("Together", _ma(whole.quiet_a), _ma(whole.alarm_a))), frozenset({1, 2}))  # fmt: skip


def _ma(current_a: float) -> str:
    return show(current_a, Kind.CURRENT, "metric")


def _battery(context: Context) -> Iterator[Block]:
    home = context.home
    points, hours, quiet_h = course(home), asked_hours(home), lasts_h(home)
    if hours is not None and points:
        rows = tuple((f"{rounded(point.hours)} h", f"{point.left:.0%}") for point in points)
        table = Table("How the battery empties", ("Since the mains went", "Left"), rows, frozenset({0, 1}))
        drawing = course_chart([(point.hours, point.left) for point in points], wanted_h(hours))
        text = (
            "Quiet for the rule's hours, then in alarm, then quiet until it is empty. Age leaves it 80 % of the time "
            "that a new battery of its rating would last, and cold shortens that further."
        )
        yield Picture("How the battery empties without mains", text, drawing, table)
    if quiet_h is not None:
        rows = tuple((draw.name, f"{gain:.1f} h") for draw, gain in shed(home)[:6])
        yield Text((f"Quiet alone, aged and cold, it lasts {rounded(quiet_h)} h.",))
        yield Table(
            "What one device, switched off, would add to the quiet hours", ("Device", "Adds"), rows, frozenset({1})
        )


def _boxes(context: Context) -> Iterator[Block]:
    rows = []
    for box in context.home.wiring.boxes:
        hours = box_lasts_h(context.home, box)
        through = ", ".join(context.name("message path", path) for path in box.paths)
        lasts = "not known" if hours is None else "stops at once" if not hours else f"{rounded(hours)} h"
        rows.append((box.name, box.fed_by.text, through, lasts))
    if rows:
        yield Table(
            "Boxes on a message's way, without mains",
            ("Box", "What feeds it", "Paths through it", "Lasts"),
            tuple(rows),
        )


def _run_table(context: Context, runs: list[FeedRun]) -> Table:
    system = context.home.units
    known = by_id(context.home.wiring.runs)
    rows = tuple(
        (
            known[run.id].name,
            f"{known[run.id].size}, {rounded(run.ohm_per_km)} Ω/km a core",
            show(run.stops[-1].metres, Kind.LENGTH, system) + (" planned" if run.planned else ""),
            _ma(run.current_a),
            f"{run.drop_v:.2f} V",
            f"{run.lumped_v:.2f} V",
            _longest(context, run),
            smallest_that_serves(context.home, known[run.id]) or "none",
        )
        for run in runs
    )
    header = (
        "Run",
        "Conductor",
        "Length",
        "In alarm",
        "Voltage drop at its end",
        "Drop if all were at the end",
        "Longest with that load",
        "Thinnest that is enough",
    )
    return Table("Runs", header, rows, frozenset({2, 3, 4, 5, 6}))


def _longest(context: Context, run: FeedRun) -> str:
    """How long the run may be with everything at its end, by what its devices need."""
    entered = next(each for each in context.home.wiring.runs if each.id == run.id)
    longest = longest_run_m(context.home, entered, run)
    return "" if longest is None else show(round(longest), Kind.LENGTH, context.home.units)


def _stop_table(context: Context, runs: list[FeedRun]) -> Table:
    names = {run.id: run.name for run in context.home.wiring.runs}
    rows = tuple(
        (
            names[run.id],
            context.name("device", stop.device),
            show(stop.metres, Kind.LENGTH, context.home.units),
            f"{stop.volts:.2f} V",
            "" if stop.least_v is None else f"{stop.least_v:g} V",
            "too few" if short_by(stop) > 0 else "enough" if stop.least_v is not None else "not known",
        )
        for run in runs
        for stop in run.stops
    )
    header = ("Run", "Device", "Along the cable", "Has", "Needs", "Verdict")
    return Table("Volts at each device", header, rows, frozenset({2, 3, 4}))
