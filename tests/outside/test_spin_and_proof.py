"""The proof's own search of an intruder, against SPIN and against the plain search: verdicts and states."""

import os
from dataclasses import replace
from pathlib import Path

import plain_search
import pytest
from as_cells import as_searched, canonical_of, demo_search, proof_runs
from games import Game
from promela import BESIDE, promela
from small_homes import BREACHED, HOMES
from spin import verify

from alarmlib.proof.intruder.search import IntruderRun
from alarmlib.proof.intruder.ways import WayIn
from alarmlib.proof.search import loose

pytestmark = pytest.mark.outside
DEAD = 12 if os.environ.get("ALARM_WHOLE") else 2
INTRUDERS = [home for home, verdicts in BREACHED.items() if "noticed" in verdicts]


def of_devices_alone(game: Game) -> Game:
    """The game without the faults of outputs: the proof forgets more once a siren sounds that nobody hears."""
    return replace(game, faults=tuple(each for each in game.faults if not (each.no_siren or each.no_message)))


@pytest.mark.parametrize("home", INTRUDERS)
def test_small_homes(home: str, tmp_path: Path) -> None:
    """Three searches to the siren: states; and for both properties their verdicts, in the second worked out.

    What the proof takes as alike is held against a search that forgets nothing.
    """
    game = of_devices_alone(HOMES[home]("sounds"))
    search, runs = proof_runs(game)
    same = as_searched(game, search)
    found = plain_search.search(same, canonical=canonical_of(search))
    verified = verify(promela(same, search.compiled), tmp_path)
    assert sum(run.states for run in runs) == found.states == verified.states - BESIDE
    whole = plain_search.search(game)
    assert first_tick(runs, "sounds_first") == found.seconds_to_breach == whole.seconds_to_breach
    assert found.breached == (verified.errors > 0) == BREACHED[home]["sounds"]
    noticed = plain_search.search(replace(game, told="noticed"))
    assert first_tick(runs, "noticed_first") == noticed.seconds_to_breach
    assert noticed.breached == BREACHED[home]["noticed"]


@pytest.mark.parametrize("home", INTRUDERS)
def test_what_is_given_up_changes_no_verdict(home: str) -> None:
    """The proof stops following what has been breached already: the same breaches in the same seconds, fewer states."""
    game = of_devices_alone(HOMES[home]("sounds"))
    (_, whole), (_, given_up) = proof_runs(game), proof_runs(game, whole=False)
    for rule in ("noticed_first", "sounds_first"):
        assert first_tick(given_up, rule) == first_tick(whole, rule)
    assert sum(run.states for run in given_up) <= sum(run.states for run in whole)


@pytest.mark.parametrize("abort_s", [0, 3, 9])
def test_every_fault_has_its_own_verdict(abort_s: int) -> None:
    """A siren that is dead is not heard, and a message may be held for longer than the way takes: fault by fault.

    Being noticed is a matter of the unit alone, which these faults leave as it is.
    """
    game = HOMES["faults"]("sounds")
    areas = tuple(replace(area, abort_s=abort_s, siren_s=4) for area in game.setup.areas)
    game = replace(game, setup=replace(game.setup, areas=areas))
    _, runs = proof_runs(game, whole=False)
    broken = 0
    for found in (found for run in runs for found in run.reached if found.rule == "sounds_first"):
        broken |= found.mask
    for bit, fault in enumerate(game.faults):
        assert plain_search.search(replace(game, faults=(fault,))).breached == bool(broken >> bit & 1), fault.id


def first_tick(runs: list[IntruderRun], rule: str) -> int | None:
    """The second of the first breach."""
    return min((found.tick for run in runs for found in run.reached if found.rule == rule), default=None)


@pytest.mark.parametrize(("part", "dead"), [("", 0), ("night", DEAD)])
def test_demo_home(part: str, dead: int, tmp_path: Path) -> None:
    """Every way in of the demo home, its real cells, faults together: as many states in SPIN, the same verdict.

    Guarded rooms are to be reached only after siren or message, which is more than is asked of them.
    """
    search, runs, game = demo_search(part, dead)
    assert len(game.faults) == dead + 1
    verified = verify(promela(game, search.compiled), tmp_path, hash_bits=24)
    assert verified.states - BESIDE == sum(run.states for run in runs)
    assert (verified.errors > 0) == (first_tick(runs, "sounds_first") is not None)


@pytest.mark.parametrize("most_s", [0, 3, 6])
def test_detectors_that_setting_left_asleep(most_s: int) -> None:
    """One search, in which the rest may be anything up to so many seconds: the earliest breach of all plain searches.

    Those begin with each rest by itself, known to the second, and share nothing with the proof but `step`.
    """
    game = HOMES["resting"]("sounds")
    search, _ = proof_runs(game)
    begin = as_searched(game, search).begin
    asleep = loose.put(search.setup, begin, {"passage": loose.loose(most_s, counted=True)})
    goals = search.cells.goals
    runs = [search.run(WayIn(way, ""), {asleep: 1}, goals, goals) for way in game.ways]
    for told, rule in (("noticed", "noticed_first"), ("sounds", "sounds_first")):
        each = [
            plain_search.search(
                replace(game, told=told, begin=loose.put(game.setup, game.begin, {"passage": left_s}))
            ).seconds_to_breach
            for left_s in range(most_s + 1)
        ]
        earliest = min((second for second in each if second is not None), default=None)
        assert first_tick(runs, rule) == earliest, rule
    assert (first_tick(runs, "noticed_first") is None) == (most_s < 6)
