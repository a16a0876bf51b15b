"""Every other calculation with its formula, numbers and result; where each rule and figure comes from."""

from collections.abc import Iterable, Iterator

from alarmlib.calc.figure import Figure
from alarmlib.checks.cautions import CAUTIONS
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, FigureBlock, Subheading, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.markup import cited, shown_value
from alarmlib.record.section import section
from alarmlib.record.sections.settings.messages import fault_sources
from alarmlib.record.sections.upkeep.upkeep import DUTIES
from alarmlib.sources import cite

TIME_KEYS = frozenset(
    {"chance_in_time", "delay_needed", "fitters_delay", "free_time", "entry_and_abort", "entry_walk", "exit_walk"}
)

WIRING_KEYS = frozenset({"battery_asked", "recharge", "drop", "pillow"})  # sections of their own show them

_TITLES = {
    "battery_asked": "Battery asked for",
    "recharge": "Time to charge it",
    "drop": "Voltage drop along a cable",
    "drop_at_end": "Voltage drop with all devices at the end",
    "run_longest": "Longest cable with all devices at its end",
    "battery_course": "How the battery empties",
    "battery_quiet": "How long the battery lasts, quiet",
    "load_shed": "What a device switched off adds",
    "box_lasts": "How long a box goes on without mains",
    "cell_life": "How long a battery lasts",
    "loop_shares": "Part of a detector circuit's voltage by state, worst case",
    "meter_range": "What a meter reads at a detector circuit",
    "loop_cable": "Cable and joints that a detector circuit tolerates",
    "loop_run": "Longest run of a detector circuit",
    "loop_leak": "Leakage that a detector circuit tolerates",
    "loop_pull_up": "Best resistor inside the control unit for a detector circuit",
    "pillow": "Level at a pillow",
    "pillow_unsure": "How uncertain a level at a pillow is, in a fire",
    "burglary": "Level at a pillow at a burglary",
    "burglary_unsure": "How uncertain a level at a pillow is, at a burglary",
    "ears": "How long ears tolerate a sounder at 1 m",
    "next_door": "Level at the neighbour's",
    "indoors": "Level at the neighbour's, indoors, window closed",
    "fitters_delay": "The fitter's rule",
    "chance_in_time": "Chance of being in time",
    "delay_needed": "Delay needed",
    "free_time": "An intruder's free time",
    "entry_and_abort": "Entry delay and abort window together",
    "zones": "Zones of the best arrangement for these detectors",
    "room_share": "Part of a room computed to be seen",
}


@section("sums", "Calculations", level=Share.OWNER)
def calculations(context: Context) -> tuple[Block, ...]:
    """The figures that no other section shows."""
    others = [figure for figure in context.assessment.figures if head(figure) not in TIME_KEYS | WIRING_KEYS]
    return shown(context, others) or (Text(("Nothing else was computed.",)),)


def head(figure: Figure) -> str:
    """The first word of a figure's key: what was computed."""
    return figure.key.partition(".")[0]


def shown(context: Context, figures: Iterable[Figure]) -> tuple[Block, ...]:
    """Figures for a reader to follow; several by one formula share its statement and are in one table."""
    groups: dict[tuple[object, ...], list[Figure]] = {}
    for figure in figures:
        names = tuple(name for name, _ in figure.inputs)
        groups.setdefault((head(figure), figure.formula, figure.sources, figure.valid_range, names), []).append(figure)
    return tuple(block for group in groups.values() for block in _group(context, group))


def _group(context: Context, group: list[Figure]) -> tuple[Block, ...]:
    first = group[0]
    if len(group) == 1:
        return (FigureBlock(": ".join(filter(None, (_words(first), _about(context, first)))), first),)
    told = [f"Formula: {first.formula}.", f"Holds for: {first.valid_range}." if first.valid_range else ""]
    told.append(f"Source: {'; '.join(map(cited, first.sources))}.")
    same = {name for name, value in first.inputs if all((name, value) in figure.inputs for figure in group)}
    if same:
        told.append(f"In every row: {'; '.join(f'{name} = {value}' for name, value in first.inputs if name in same)}.")
    header = ("For", *(name for name, _ in first.inputs if name not in same), "Result")
    alike: dict[tuple[str, ...], list[str]] = {}
    for figure in group:
        put_in = (*(value for name, value in figure.inputs if name not in same), shown_value(figure))
        alike.setdefault(put_in, []).append(_about(context, figure))
    rows = tuple((", ".join(names), *put_in) for put_in, names in alike.items())
    caption = f"{_words(first)}: {_about(context, first)} and {len(group) - 1} more"
    return Subheading(_words(first)), Text((" ".join(filter(None, told)),)), Table(caption, header, rows)


def _words(figure: Figure) -> str:
    return _TITLES.get(head(figure), head(figure).replace("_", " ").capitalize())


def _about(context: Context, figure: Figure) -> str:
    return ", ".join(context.any_name(part) for part in figure.key.split(".")[1:])


@section("sources", "Sources", level=Share.PUBLIC)
def sources_used(context: Context) -> tuple[Block, ...]:
    """The sources this record leans on, by title."""
    used = sorted({cite(key) for key in _keys(context)}, key=lambda source: (source.title, source.key))
    rows = tuple((source.title, source.edition, source.clause, source.standing) for source in used)
    told = (
        (
            "“Seen” means that the passage was read, not the whole document. What comes from memory is "
            "advice only: check it before you rely on "
            "it. Your local code and each device's manual decide."
        ),
        f"Rules checked: {context.home.rules.rule_set.text}.",
    )
    return (Text(told), Table("Sources of this record", ("Source", "Edition", "Clause", "How it is known"), rows))


def _keys(context: Context) -> Iterator[str]:
    yield from (caution.source for caution in CAUTIONS)
    yield from (source for _, _, source in DUTIES)
    if context.sees(Share.HELPER):
        yield from fault_sources(context.home)
        yield from (finding.source for finding in context.assessment.findings)
        yield from (key for figure in context.assessment.figures for key in figure.sources)
