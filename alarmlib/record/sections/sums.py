"""Every other sum: formula, numbers put in, result, source."""

from collections.abc import Iterable

from alarmlib.calc.figure import Figure
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, FigureBlock, Text
from alarmlib.record.context import Context

ID = "sums"
TITLE = "Sums"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.HELPER

TIME_KEYS = frozenset(
    {"chance_in_time", "delay_needed", "fitters_delay", "free_time", "entry_and_abort", "entry_walk", "exit_walk"}
)

_TITLES = {
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
    others = [figure for figure in context.assessment.figures if head(figure) not in TIME_KEYS]
    return shown(context, others) or (Text(("Nothing else was computed.",)),)


def head(figure: Figure) -> str:
    """The first word of a figure's key: what was computed."""
    return figure.key.partition(".")[0]


def shown(context: Context, figures: Iterable[Figure]) -> tuple[FigureBlock, ...]:
    """Figures with titles a person reads: what was computed, and for whom or what."""
    return tuple(FigureBlock(_title(context, figure), figure) for figure in figures)


def _title(context: Context, figure: Figure) -> str:
    what, _, rest = figure.key.partition(".")
    words = _TITLES.get(what, what.replace("_", " ").capitalize())
    about = [context.any_name(part) for part in rest.split(".") if part]
    return f"{words}: {', '.join(about)}" if about else words
