"""The small homes and the demo home in one table: `python tests/outside/table.py`.

A row a home: states of the proof's search, of SPIN and of the plain search, verdicts of each, and of the rules by hand.
"""

import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import plain_search
import rules
from as_cells import as_searched, canonical_of, demo_search, proof_runs
from games import Game
from promela import BESIDE, promela
from small_homes import BREACHED, HOMES
from spin import verify

from alarmlib.proof.search.compiled import Compiled

HEAD = "| home, until | proof | SPIN | plain search | verdict | rules by hand | longest entry delay, s |"


def rows(folder: Path) -> Iterator[str]:
    """Each home until it sounds; households have no search of cells."""
    for name, made in HOMES.items():
        game = made("sounds")
        game = replace(game, faults=tuple(each for each in game.faults if not (each.no_siren or each.no_message)))
        yield _household(name, game, folder) if game.quiet_wanted else _intruder(name, game, folder)
    for part in ("", "night"):
        search, runs, game = demo_search(part)
        verified = verify(promela(game, search.compiled), folder, hash_bits=24)
        counted = f"{sum(run.states for run in runs):,} | {verified.states - BESIDE:,}"
        yield f"| demo home, {part or 'away'} | {counted} | | {_word(verified.errors > 0)} | | |"


def _intruder(name: str, game: Game, folder: Path) -> str:
    search, runs = proof_runs(game)
    same = as_searched(game, search)
    found = plain_search.search(same, canonical=canonical_of(search))
    verified = verify(promela(same, search.compiled), folder)
    counted = f"{sum(run.states for run in runs):,} | {verified.states - BESIDE:,} | {found.states:,}"
    reached = any(each.rule == "sounds_first" for run in runs for each in run.reached)
    verdicts = {reached, verified.errors > 0, found.breached}
    return f"| {name} | {counted} | {' / '.join(map(_word, verdicts))} | {_by_hand(name, game, folder)} |"


def _household(name: str, game: Game, folder: Path) -> str:
    found = plain_search.search(game)
    verified = verify(promela(game, Compiled(game.setup)), folder)
    verdicts = {verified.errors > 0, found.breached}
    counted = f"| {verified.states - BESIDE:,} | {found.states:,}"
    return f"| {name} | {counted} | {' / '.join(map(_word, verdicts))} | {_by_hand(name, game, folder)} |"


def _by_hand(name: str, game: Game, folder: Path) -> str:
    longest_s = plain_search.search(game, measure=True).longest_wait_s
    if name == "resting":
        return f"no rests there | {longest_s}"
    return f"{_word(verify(rules.promela_by_hand(game), folder).errors > 0)} | {longest_s}"


def _word(breached: bool) -> str:
    return "breached" if breached else "holds"


if __name__ == "__main__":
    assert set(BREACHED) == set(HOMES)
    with tempfile.TemporaryDirectory() as place:
        sys.stdout.write(f"{HEAD}\n|{'---|' * 7}\n")
        for row in rows(Path(place)):
            sys.stdout.write(f"{row}\n")
            sys.stdout.flush()
