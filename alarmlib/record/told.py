"""What was found out about the whole home, left out where a copy's readers may not see it."""

from alarmlib.calc.figure import Figure
from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.naming import names_of
from alarmlib.model.words import Share
from alarmlib.store.sharing import sees

FIGURES = {
    "chance_in_time": Share.HELPER,
    "delay_needed": Share.HELPER,
    "fitters_delay": Share.HELPER,
    "entry_and_abort": Share.HELPER,
}
"""The widest circle that may read a figure, by the first word of its key; any other is the owner's alone."""


def told(assessment: Assessment, home: Home, seen: Home, copy: Share) -> Assessment:
    """What a copy may tell of an assessment of the whole `home`; `seen` is the home as the copy's readers see it.

    Findings and skipped facts are the owner's alone: an open one names a weak place, and where those in order are
    listed, a missing one names it too. A figure about something whose very id looks like a secret is left out.
    Nothing is judged again here, so a blanked fact makes no sentence false.
    Reference: what readers of a copy expect; common practice, no source.
    """
    if copy is Share.OWNER:
        return assessment
    hidden = _ids(home) - _ids(seen)
    figures = tuple(f for f in assessment.figures if sees(copy, _level(f)) and hidden.isdisjoint(f.key.split(".")))
    return Assessment(figures)


def _level(figure: Figure) -> Share:
    return FIGURES.get(figure.key.partition(".")[0], Share.OWNER)


def _ids(home: Home) -> frozenset[str]:
    return frozenset(element for _, element in names_of(home))
