"""What every cell of a page is worked out from: one set of facts, which goes on with each state of the home."""

from alarmlib.checks.assess import Assessed, assess
from alarmlib.facts import Facts
from alarmlib.model.home import Home
from alarmlib.pages.proved import kept_here

_FACTS = Facts(Home())


def facts_of(home: Home) -> Facts:
    """The facts of this state of the home: what did not move since the last one is not worked out again."""
    _FACTS.move(home)
    return _FACTS


def assessed(home: Home) -> Assessed:
    """The quick assessment of a home; the same home asked again costs next to nothing, a changed one what moved."""
    return assess(facts_of(home), "quick", proof=kept_here(home))
