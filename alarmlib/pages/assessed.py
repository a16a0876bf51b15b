"""What every cell of a page is worked out from: one set of facts, which goes on with each state of the home."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from alarmlib.checks.assess import Assessed, assess
from alarmlib.facts import Facts
from alarmlib.model.home import Home
from alarmlib.pages.proved import kept_here
from alarmlib.widgets.follower import give_way

_FACTS = Facts(Home())
_FACTS.look = give_way
_ONE_AT_A_TIME = threading.RLock()  # cells run on one thread, and views follow the home on another


@contextmanager
def facts_of(home: Home) -> Iterator[Facts]:
    """The facts of this state of the home: what did not move since the last one is not worked out again."""
    with _ONE_AT_A_TIME:
        _FACTS.move(home)
        yield _FACTS


def assessed(home: Home) -> Assessed:
    """The quick assessment of a home; the same home asked again costs next to nothing, a changed one what moved."""
    proof = kept_here(home)
    with facts_of(home) as facts:
        return assess(facts, "quick", proof=proof)
