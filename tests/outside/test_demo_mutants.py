"""Mutants of the demo home: whatever a person calls harmful is found, whatever is called harmless still holds.

A mutant is killed when something that held of the plain home doesn't hold of it: a way in by which a room is now
reached unnoticed or before siren or message, a habit that now breaks. One that survives must be harmless by what was
written beforehand, or look the same to the searches (equal tables), or be held by a search in plain words and by
every habit played in `simulate`. The proof of a habit speaks of siren and message alone: where setting is now refused,
which is shown, the played habit alone tells; such mutants are counted apart. The table is printed.
"""

import os
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

import pytest
from demo_mutants import HARMFUL, HARMLESS, KINDS, Mutant, mutants
from mutant_runs import Runs, Said, ordinary

from alarmlib.control.simulate import simulate_all
from alarmlib.model import Home
from alarmlib.record.produce import demo_home

pytestmark = pytest.mark.outside
SAMPLE = 240 if os.environ.get("ALARM_WHOLE") else 40
PLAYED_AGAIN = 40 if os.environ.get("ALARM_WHOLE") else 4  # this many counterexamples of ways in are played again
SETS = ("", "night")  # in which the plain search looks as well


@dataclass(frozen=True)
class Row:
    """What became of a mutant: killed by the proof or not, by what, else why it may live, or that a play tells."""

    mutant: Mutant
    killed: bool
    why: str
    explained: bool = True
    by_play: bool = False


def sample(home: Home, count: int) -> list[Mutant]:
    """So many of all mutants, at random, but of each kind one at least."""
    every = list(mutants(home))
    Random(2026).shuffle(every)
    firsts = [next(mutant for mutant in every if mutant.kind == kind) for kind in KINDS]
    return firsts + [mutant for mutant in every if mutant not in firsts][: count - len(firsts)]


def looked_at(runs: Runs, mutant: Mutant) -> tuple[Row, Said]:
    """The mutant proved, and if it lives the reason for it."""
    said = runs.of(mutant)
    worse = list(said.worse_than(runs.plain))
    if worse:
        return Row(mutant, True, f"{worse[0]}{f' and {len(worse) - 1} more' if worse[1:] else ''}"), said
    if said.tables == runs.plain.tables:
        return Row(mutant, False, "equal tables"), said
    changes = said.less_than(runs.plain) or "no margin changes"
    if mutant.says == HARMLESS:
        return Row(mutant, False, f"harmless by hand; {changes}"), said
    if not plays_as_expected(runs, mutant):
        return Row(mutant, False, "a played habit ends otherwise than expected", by_play=True), said
    if mutant.says == HARMFUL:
        return Row(mutant, False, "called harmful, and nothing was found", explained=False), said
    agreed = all(runs.agrees(said, set_) for set_ in SETS)
    return Row(mutant, False, f"{'plain search and plays agree' if agreed else 'NOT agreed'}; {changes}", agreed), said


def plays_as_expected(runs: Runs, mutant: Mutant) -> bool:
    """Whether every habit, played as it usually goes, ends as its household expects."""
    with runs.as_built(mutant):
        return all(run.as_expected for run in simulate_all(runs.changed(mutant)))


def test_mutants(put: Callable[..., Home], capsys: pytest.CaptureFixture[str]) -> None:
    """No mutant that is called harmful survives, none that is called harmless is killed, every survivor is explained.

    Counterexamples of what kills are played again in metres on the whole unit, and come about.
    """
    runs = Runs(ordinary(demo_home(), put), put)
    rows, counterexamples = [], []
    for mutant in sample(runs.home, SAMPLE):
        row, said = looked_at(runs, mutant)
        rows.append(row)
        if said.holes - runs.plain.holes and len(counterexamples) < PLAYED_AGAIN:
            with runs.as_built(mutant):
                counterexamples.append((mutant.name, runs.told(said)))
    table = "\n".join(lines(rows))
    told = ", ".join(
        f"{count} {verdict}" for verdict, count in Counter(verdict for _, verdict in counterexamples).items()
    )
    told += "".join(f"; {verdict}: {name}" for name, verdict in counterexamples if verdict != "breached")
    with capsys.disabled():
        sys.stdout.write(f"\n{table}\ncounterexamples played again: {told}\n")
    assert {row.mutant.kind for row in rows} == set(KINDS)
    assert [row.mutant.name for row in rows if row.mutant.says == HARMFUL and not (row.killed or row.by_play)] == []
    assert [(row.mutant.name, row.why) for row in rows if row.mutant.says == HARMLESS and row.killed] == []
    assert [row.mutant.name for row in rows if not row.explained] == []
    assert sum(row.by_play for row in rows) <= len(rows) / 50
    assert [counterexample for counterexample in counterexamples if counterexample[1] == "holds"] == []
    assert sum(verdict == "breached" for _, verdict in counterexamples) >= 0.9 * len(counterexamples)


def test_the_plain_home_is_its_own_survivor(put: Callable[..., Home]) -> None:
    """Nothing kills a home in which nothing was changed, and its tables are equal."""
    runs = Runs(ordinary(demo_home(), put), put)
    row, said = looked_at(runs, Mutant("delay", "the same", HARMLESS, {"control_unit.times.entry_s": 40}))
    assert not row.killed
    assert said.tables == runs.plain.tables


def lines(rows: list[Row]) -> list[str]:
    """The table, kind by kind, then the survivors and the rate."""
    found = [f"{'kind':<10} mutants killed harmful harmless unsure"]
    for kind in KINDS:
        here = [row for row in rows if row.mutant.kind == kind]
        says = Counter(row.mutant.says for row in here)
        killed = sum(row.killed for row in here)
        found.append(f"{kind:<10} {len(here):7} {killed:6} {says[HARMFUL]:7} {says[HARMLESS]:8} {says['']:6}")
    found += [f"survives: {row.mutant.kind}, {row.mutant.name}: {row.why}" for row in rows if not row.killed]
    found += [f"killed, of unsure: {r.mutant.name}: {r.why}" for r in rows if r.killed and not r.mutant.says]
    harmful = [row for row in rows if row.mutant.says == HARMFUL or row.by_play or not row.explained]
    killed, played = sum(row.killed for row in harmful), sum(row.by_play for row in harmful)
    found.append(f"the proof killed {killed} of {len(harmful)} that are called harmful, a played habit alone {played}")
    return found
