"""A game as the proof's cells, and the proof's cells as a game: so that both may search the same."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import islice
from typing import Any

from games import Broken, Game, Tick

from alarmlib.calc.cells.cell_labels import CellLabel
from alarmlib.calc.cells.cell_map import Cell, CellMap, cell_map
from alarmlib.calc.cells.sights import sights_from_home
from alarmlib.control.layout import A, State, U, Z
from alarmlib.control.setup import Setup
from alarmlib.proof.faults.fault import NONE, Fault, FaultMasks
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.intruder.search import IntruderRun, Intrusion
from alarmlib.proof.intruder.ways import WayIn, guarded_rooms, set_state, ways_in
from alarmlib.proof.search.setups import Canonical, canonical_waiting, proof_setup
from alarmlib.record.produce import demo_home

GOAL = "goal"
NOWHERE = {"nowhere": 0}


def cells_of(game: Game) -> CellMap:
    """The game's places as cells, one room each; what coming in trips is in the labels of `starts`."""
    moves: list[dict[int, int]] = [defaultdict(int) for _ in game.ticks]
    for place, row in enumerate(game.moves):
        for number, after in row:
            moves[number][place] |= 1 << after
    nowhere: Any = None  # drawn ground, of which the search knows nothing
    return CellMap(
        cells=tuple(Cell(frozenset({f"room_{place}"})) for place in range(len(game.moves))),
        labels=tuple(CellLabel(tick.must, tick.may) for tick in game.ticks),
        moves=tuple(dict(each) for each in moves),
        starts={way: tuple((number, 1 << place) for number, place in row) for way, row in game.ways.items()},
        goals={GOAL: sum(1 << place for place in game.goals)},
        speed_m_s=1.0,
        side_m=1.0,
        assumed=(),
        ground=nowhere,
    )


def proof_runs(game: Game, whole: bool = True) -> tuple[Intrusion, list[IntruderRun]]:
    """The proof's own search, by every way in.

    It gives up what is noticed once every room that is to be heard first was reached; `whole` names one more room,
    which nobody reaches, and so has it go on to the end.
    """
    faults = [
        Fault(broken.id, "", dead=broken.dead, no_siren=broken.no_siren, no_message=broken.no_message)
        for broken in game.faults
    ]
    masks = FaultMasks.of(faults)
    cells = cells_of(game)
    ways = [WayIn(way, "") for way in game.ways]
    search = Intrusion(game.setup, cells, ways, masks)
    kept = _kept(game.setup, search.setup, game.begin)
    first = dict(cells.goals) | (NOWHERE if whole else {})
    return search, [search.run(way, {kept: masks.all}, cells.goals, first) for way in ways]


def as_searched(game: Game, search: Intrusion) -> Game:
    """The game on the zones that the proof keeps, begun in the state in which its search began."""
    return replace(game, setup=search.setup, begin=search.compiled.states[0])


def canonical_of(search: Intrusion) -> Canonical:
    """What the proof's search takes as alike."""
    inside = {device for label in search.cells.labels for device in label.must | label.may}
    return canonical_waiting(search.setup, inside)


def _kept(whole: Setup, part: Setup, state: State) -> State:
    """The same state where some zones are left out of the setup."""
    old, new = whole.layout, part.layout
    kept = list(state[: len(U) + len(A) * len(old.areas)]) + [0] * (new.size - len(U) - len(A) * len(old.areas))
    for zone in new.zones:
        base = old.zone_of[zone.id].base
        kept[zone.base : zone.base + len(Z)] = state[base : base + len(Z)]
    for name, device in new.device_of.items():
        if device.slot >= 0:
            kept[device.slot] = state[old.device_of[name].slot]
    return tuple(kept)


def game_of(
    setup: Setup,
    begin: State,
    cells: CellMap,
    ways: Iterable[WayIn],
    goals: Iterable[str],
    faults: Sequence[Fault] = (),
    **more: Any,
) -> Game:
    """The intruder's game on a home's cells: from every one of these ways in to the middle of any of these rooms."""
    ticks: dict[Tick, int] = {Tick(label.must, label.may): number for number, label in enumerate(cells.labels)}
    assert len(ticks) == len(cells.labels)
    enters = {
        way.opening: tuple(
            (_number(ticks, cells.labels[label], way), cell)
            for label, reached in cells.starts.get(way.opening, ())
            for cell in _places(reached)
        )
        for way in ways
    }
    wanted = frozenset(cell for room in goals for cell in _places(cells.goals[room]))
    broken = tuple(Broken(fault.id, fault.dead) for fault in faults) or (Broken(),)
    moves = _moves(len(cells.cells), cells.moves)
    return Game(setup, begin, tuple(ticks), moves, enters, wanted, faults=broken, **more)


def _number(ticks: dict[Tick, int], label: CellLabel, way: WayIn) -> int:
    must = label.must | way.must
    return ticks.setdefault(Tick(must, (label.may | way.may) - must), len(ticks))


def _moves(places: int, by_label: Sequence[Mapping[int, int]]) -> tuple[tuple[tuple[int, int], ...], ...]:
    rows: list[list[tuple[int, int]]] = [[] for _ in range(places)]
    for number, moves in enumerate(by_label):
        for place, reached in moves.items():
            rows[place] += [(number, after) for after in _places(reached)]
    return tuple(map(tuple, rows))


def _places(bits: int) -> list[int]:
    return [place for place in range(bits.bit_length()) if bits >> place & 1]


def demo_search(part: str, dead: int = 0) -> tuple[Intrusion, list[IntruderRun], Game]:
    """The demo home's house set so: the proof's search by every way in, and the same as a game.

    Guarded rooms are to be reached only after siren or message. `dead`: under how many faults besides none, those
    of single devices that tell nothing.
    """
    home = demo_home()
    area = home.control_unit.areas[0].id
    cells = cell_map(home, sights_from_home(home), home.proof.intruder_m_s)
    faults = (NONE, *islice((fault for fault in faults_of(home) if _only_dead(fault)), dead))
    masks, ways = FaultMasks.of(faults), ways_in(home)
    search = Intrusion(proof_setup(home), cells, ways, masks)
    begin = set_state(search.setup, {area: part})
    goals = {room: cells.goals[room] for room in guarded_rooms(home, area)}
    runs = [search.run(way, {begin: masks.all}, goals, goals | NOWHERE) for way in ways]
    return search, runs, game_of(search.setup, begin, cells, ways, goals, faults, told="sounds", part=part)


def _only_dead(fault: Fault) -> bool:
    return bool(fault.dead) and fault == Fault(fault.id, fault.sentence, fault.dead, watches=fault.watches)
