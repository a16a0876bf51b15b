"""Every other sum: formula, numbers put in, result, source."""

from collections.abc import Iterable

from alarmlib.calc.figure import Figure
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, FigureBlock, Heading, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.markup import cited, shown_value

ID = "sums"
TITLE = "Sums"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.HELPER

TIME_KEYS = frozenset(
    {"chance_in_time", "delay_needed", "fitters_delay", "free_time", "entry_and_abort", "entry_walk", "exit_walk"}
)

WIRING_KEYS = frozenset({"battery_asked", "recharge", "drop", "pillow"})  # sections of their own show them

_TITLES = {
    "battery_asked": "Battery asked for",
    "recharge": "Time to charge it",
    "drop": "Drop along a run",
    "pillow": "Level at a pillow",
    "fitters_delay": "The fitter's rule",
    "chance_in_time": "Chance of being in time",
    "delay_needed": "Delay needed",
    "free_time": "An intruder's free time",
    "entry_and_abort": "Entry delay and abort window together",
    "proven_chance": "What the test walk proves",
    "zones": "Zones needed",
}


def build(context: Context) -> tuple[Block, ...]:
    """The figures that no other section shows."""
    others = [figure for figure in context.assessment.figures if head(figure) not in TIME_KEYS | WIRING_KEYS]
    return shown(context, others) or (Text(("Nothing else was computed.",)),)


def head(figure: Figure) -> str:
    """The first word of a figure's key: what was computed."""
    return figure.key.partition(".")[0]


def shown(context: Context, figures: Iterable[Figure]) -> tuple[Block, ...]:
    """Figures for a reader to follow; several by one formula share its statement and stand in one table."""
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
    header = ("For", *(name for name, _ in first.inputs), "Result")
    rows = tuple(
        (_about(context, figure), *(value for _, value in figure.inputs), shown_value(figure)) for figure in group
    )
    return Heading(_words(first)), Text((" ".join(filter(None, told)),)), Table(f"{_words(first)}: sums", header, rows)


def _words(figure: Figure) -> str:
    return _TITLES.get(head(figure), head(figure).replace("_", " ").capitalize())


def _about(context: Context, figure: Figure) -> str:
    return ", ".join(context.any_name(part) for part in figure.key.split(".")[1:])
