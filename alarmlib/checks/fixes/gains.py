"""Do this next: the gravest causes, each with the field that puts it right and what a copy with that done gains."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.checks.accepted import with_reasons
from alarmlib.checks.assess import CHECKS, outcome
from alarmlib.checks.finding import Finding
from alarmlib.checks.fixes.alarms import ALARMS
from alarmlib.checks.fixes.devices import DEVICES
from alarmlib.checks.fixes.remedy import Remedy, place_of
from alarmlib.checks.fixes.settings import SETTINGS
from alarmlib.checks.fixes.times import TIMES
from alarmlib.checks.ranking import Gap
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.proof.repairs.changes import changed

MOST = 5
_MAKERS = {**ALARMS, **DEVICES, **SETTINGS, **TIMES}


@dataclass(frozen=True)
class Gain:
    """What the quick checks say of a copy: how many of the open findings go, how many were open, which are new."""

    taken: int
    before: int
    new: tuple[Finding, ...]


@dataclass(frozen=True)
class NextStep:
    """One cause to put right: where it is entered, what was entered on a copy, and what that gained.

    `gain` is None where nothing could be entered on a copy, or where it took nothing away.
    """

    gap: Gap
    at: tuple[str, ...]
    done: str = ""
    gain: Gain | None = None


def next_steps(facts: Facts, gaps: Sequence[Gap]) -> tuple[NextStep, ...]:
    """The first five of these causes, with what their remedies gain on a copy of the home.

    Our own rules: `checks.fixes.remedy`; no proof is run.
    """
    return tuple(_step(facts, gap) for gap in gaps[:MOST])


def _step(facts: Facts, gap: Gap) -> NextStep:
    home = facts.home
    remedies = [remedy for finding in (gap.first, *gap.others) if (remedy := remedy_of(home, finding)) is not None]
    known = [remedy for remedy in remedies if remedy.changes]
    at = next((remedy.at for remedy in remedies), place_of(home, gap.first.subject))
    gain = gain_of(facts, known)
    if gain is None or not gain.taken:
        return NextStep(gap, at)
    return NextStep(gap, at, _listed(list(dict.fromkeys(remedy.done for remedy in known))), gain)


def remedy_of(home: Home, finding: Finding) -> Remedy | None:
    """What would put the finding right, as far as it can be known."""
    maker = _MAKERS.get(finding.id)
    return maker(home, finding) if maker else None


def gain_of(facts: Facts, remedies: Sequence[Remedy]) -> Gain | None:
    """What the quick checks say of a copy with all these done; None where no such copy can be made."""
    changes = {repr(change.edits): change for remedy in remedies for change in remedy.changes}
    made = changed(facts.home, changes.values()) if changes else None
    if made is None:
        return None
    copied = facts.fork()
    copied.move(made, facts.today_now)
    before, after = open_findings(facts), open_findings(copied)
    gone, come = Counter(map(_key, before)) - Counter(map(_key, after)), Counter(map(_key, after))
    come -= Counter(map(_key, before))
    return Gain(gone.total(), len(before), tuple(each for each in after if come[_key(each)]))


def open_findings(facts: Facts) -> tuple[Finding, ...]:
    """What the quick checks find that must or should be fixed, and that nobody accepted."""
    said = [each for check in CHECKS for each in facts.ask(outcome, check) if isinstance(each, Finding)]
    return tuple(each for each in with_reasons(facts.home, said) if each.is_open)


def _key(finding: Finding) -> tuple[str, str, str]:
    """By what two findings count as the same one: a number in its words may change."""
    return finding.id, finding.subject, finding.verdict.value


def _listed(done: list[str]) -> str:
    if len(done) > 2:
        return f"{', '.join(done[:2])} and {len(done) - 2} more"
    return " and ".join(done)
