"""The proof's own search of an intruder, against SPIN and against the plain search: verdicts and states."""

from dataclasses import replace
from pathlib import Path

import plain_search
import pytest
from as_cells import game_of, proof_runs
from games import Game
from promela import BESIDE, promela
from small_homes import BREACHED, HOMES
from spin import verify

from alarmlib.calc.cells import cell_map
from alarmlib.calc.sights import sights_from_home
from alarmlib.proof.compiled import Compiled
from alarmlib.proof.fault import FaultMasks
from alarmlib.proof.faults import faults_of
from alarmlib.proof.intruder import Intrusion, Run
from alarmlib.proof.setups import proof_setup, settle_waiting
from alarmlib.proof.ways import guarded_rooms, set_state, ways_in
from alarmlib.record.produce import demo_home

pytestmark = pytest.mark.outside
INTRUDERS = [(home, told) for home, told_of in BREACHED.items() for told in told_of if "noticed" in told_of]


def of_devices_alone(game: Game) -> Game:
    """The game without the faults of outputs: the proof's search ends when it sounds, heard or not."""
    return replace(game, faults=tuple(each for each in game.faults if not (each.no_siren or each.no_message)))


@pytest.mark.parametrize(("home", "told"), INTRUDERS)
def test_small_homes(home: str, told: str, tmp_path: Path) -> None:
    """Three searches and one expectation; where only being noticed counts the proof also counts who is so at once."""
    game = of_devices_alone(HOMES[home](told))
    settle = settle_waiting(game.setup)
    runs = proof_runs(game)
    rule = "noticed_first" if told == "noticed" else "sounds_first"
    reached = [found for run in runs for found in run.reached if found.rule == rule]
    found = plain_search.search(game, settle=settle)
    verified = verify(promela(game, Compiled(game.setup, settle)), tmp_path)
    assert bool(reached) == found.breached == (verified.errors > 0) == BREACHED[home][told]
    assert min((each.tick for each in reached), default=None) == found.seconds_to_breach
    assert verified.states - BESIDE == found.states
    assert sum(run.states for run in runs) == found.states + (noticed_at_once(game) if told == "noticed" else 0)


def noticed_at_once(game: Game) -> int:
    """Control states and cells in which somebody is noticed in the very second of coming in, before it sounds."""
    settle = settle_waiting(game.setup)
    met = {
        (way, broken.id, settle(state), place)
        for way, edges in game.ways.items()
        for broken in game.faults
        for number, place in edges
        for state, over in replace(game, told="sounds").after(game.begin, game.tick_under(number, broken), broken)
        if not over
    }
    return len(met) - len({each for each in met if not _delay_runs(game, each[2])})


def _delay_runs(game: Game, state: tuple[int, ...]) -> bool:
    from alarmlib.control.layout import A

    return any(state[area.base + A.ENTRY] for area in game.setup.layout.areas)


@pytest.mark.parametrize("part", ["", "night"])
def test_demo_home(part: str, tmp_path: Path) -> None:
    """Every way in of the demo home, its real cells: as many states in SPIN, and the same verdict."""
    game, runs = demo_game(part)
    verified = verify(promela(game, Compiled(game.setup, settle_waiting(game.setup))), tmp_path, hash_bits=24)
    assert verified.states - BESIDE == sum(run.states for run in runs)
    assert (verified.errors > 0) == any(found.rule == "sounds_first" for run in runs for found in run.reached)


def demo_game(part: str) -> tuple[Game, list[Run]]:
    """The demo home's house armed so, as a game and as the proof's runs: guarded rooms only after siren or message."""
    home = demo_home()
    area = home.unit.areas[0].id
    cells = cell_map(home, sights_from_home(home), home.proof.intruder_m_s)
    faults = faults_of(home, "none")
    masks, ways = FaultMasks.of(faults), ways_in(home)
    search = Intrusion(proof_setup(home), cells, ways, masks)
    begin = set_state(search.setup, {area: part})
    goals = {room: cells.goals[room] for room in guarded_rooms(home, area)}
    runs = [search.run(way, {begin: masks.all}, goals, goals) for way in ways]
    return game_of(search.setup, begin, cells, ways, goals, told="sounds", part=part), runs
