"""The test log, what has to be tested again, and the diary of upkeep."""

from collections.abc import Iterator, Sequence

from alarmlib.checks.detectors.asleep import may_have_slept
from alarmlib.checks.upkeep.test_walk import never_tested
from alarmlib.model.log import Seen, Test
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Subheading, Text, named
from alarmlib.record.context import Context
from alarmlib.record.rows import part_table

ID = "test_log"
TITLE = "Test log"
NEEDS = ("log.tests",)
LEVEL = Share.OWNER

_COLUMNS = ("device", "on", "at", "by", "kind", "expected", "seen", "seen_zone", "cause", "action", "retest_of")


def build(context: Context) -> tuple[Block, ...]:
    """What was tested, and what is still to be tested again."""
    return tuple(_blocks(context))


def _blocks(context: Context) -> Iterator[Block]:
    log = context.home.log
    again = to_retest(log.tests)
    yield Subheading("To be tested again")
    yield (
        Bullets(tuple(_line(context, test, may_have_slept(context.home, test)) for test in again))
        if again
        else Text(("Nothing is open.",))
    )
    yield part_table(context, "Tests", log.tests, _COLUMNS, keep=2)
    untested = never_tested(context.home)
    if untested:
        yield Subheading("Fitted and never tested")
        yield Bullets(tuple(context.name("device", device.id) for device in untested))
    if log.upkeep:
        yield part_table(context, "Upkeep so far", log.upkeep, ("on", "done", "device"), keep=2)


def to_retest(tests: Sequence[Test]) -> tuple[Test, ...]:
    """Tests that did not go as expected and that no later test of them put right."""
    repaired = {test.retest_of for test in tests if test.retest_of and test.seen is Seen.AS_EXPECTED}
    wrong = (Seen.OTHER_ZONE, Seen.NOTHING, Seen.LATE, Seen.OTHER)
    return tuple(test for test in tests if test.seen in wrong and not _repaired(test, tests, repaired))


def _repaired(test: Test, tests: Sequence[Test], repaired: set[str]) -> bool:
    """Whether the test, or any retest that followed on it, was put right."""
    line, reached = [test.id], {test.id}
    while line:
        here = line.pop()
        if here in repaired:
            return True
        line += [later.id for later in tests if later.retest_of == here and later.id not in reached]
        reached.update(line)
    return False


def _line(context: Context, test: Test, asleep: bool) -> str:
    if asleep:
        return f"{context.name('device', test.device)}: not yet judged, since it may have slept after the pass before"
    cause = f"; cause found: {named(test.cause)}" if test.cause else ""
    return f"{context.name('device', test.device) or 'Test'}: showed {test.seen.text}{cause}"
