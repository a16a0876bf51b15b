"""SPIN searches the same games: the same verdict and exactly as many states as the searches in Python."""

from dataclasses import replace
from pathlib import Path

import plain_search
import pytest
import rules
from games import NONE, Tick
from promela import BESIDE, promela
from small_homes import BREACHED, HOMES, TWO_ROOMS, two_rooms
from spin import verify

from alarmlib.proof.search.compiled import Compiled
from alarmlib.proof.search.setups import canonical_waiting

pytestmark = pytest.mark.outside
CASES = [(home, told) for home, verdicts in BREACHED.items() for told in verdicts]
BY_HAND = [(home, told) for home, told in CASES if home != "resting"]  # no rests there


@pytest.mark.parametrize(("home", "told"), CASES)
def test_verdict_is_the_expected_one_and_states_are_as_many(home: str, told: str, tmp_path: Path) -> None:
    """A person's expectation, the plain search on `step`, and SPIN on the proof's table, nothing forgotten."""
    game = HOMES[home](told)
    found = plain_search.search(game)
    verified = verify(promela(game, Compiled(game.setup)), tmp_path)
    assert found.breached == BREACHED[home][told]
    assert (verified.errors > 0) == found.breached
    assert verified.states - BESIDE == found.states


def test_expected_verdicts_cover_every_home() -> None:
    """No home is left out, and each verdict occurs for each property."""
    assert set(BREACHED) == set(HOMES)
    for told in ("noticed", "sounds"):
        assert {verdicts[told] for verdicts in BREACHED.values() if told in verdicts} == {True, False}


@pytest.mark.parametrize("told", TWO_ROOMS)
def test_two_rooms_worked_by_hand(told: str, tmp_path: Path) -> None:
    """The states counted by hand, with and without what waits forgotten; the breach in the second worked out."""
    game = two_rooms(told)
    whole, reduced = TWO_ROOMS[told]
    found = plain_search.search(game)
    assert (found.states, found.seconds_to_breach) == (whole, 1)
    table = Compiled(game.setup, canonical_waiting(game.setup))
    assert verify(promela(game, table), tmp_path).states - BESIDE == reduced


@pytest.mark.parametrize(("home", "told"), BY_HAND)
def test_rules_written_by_hand_agree(home: str, told: str, tmp_path: Path) -> None:
    """A control unit in SPIN's language, made from the rules and not from `step`: verdict and longest wait."""
    game = HOMES[home](told)
    game = replace(game, faults=tuple(each for each in game.faults if each.id != "neither"))  # it knows but one end
    found = plain_search.search(game, measure=True)
    assert (verify(rules.promela_by_hand(game), tmp_path).errors > 0) == found.breached
    longest_s = found.longest_wait_s
    if told == "noticed":
        assert longest_s == 0
        return
    assert not verify(rules.promela_by_hand(game, longest_s), tmp_path).errors
    assert verify(rules.promela_by_hand(game, longest_s - 1), tmp_path).errors


def test_a_move_or_a_sure_trip_that_is_lost_is_told(tmp_path: Path) -> None:
    """The comparison can fail: with one move or one sure trip less SPIN counts other states than the search."""
    game = HOMES["away_window_missed"]("sounds")
    found = plain_search.search(game)
    shorter = (game.moves[0][:-1], *game.moves[1:])
    unsure = tuple(Tick(NONE, tick.may | tick.must) if "hall_sight" in tick.must else tick for tick in game.ticks)
    for mutant in (replace(game, moves=shorter), replace(game, ticks=unsure)):
        verified = verify(promela(mutant, Compiled(game.setup)), tmp_path)
        assert verified.states - BESIDE != found.states
        assert verified.states - BESIDE == plain_search.search(mutant).states
