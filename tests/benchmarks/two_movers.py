"""Two movers and the control unit: the proof's rows of bits, against SPIN's verifier on the same model.

One mover roams a floor, cell by cell; the other comes home along a route, at any pace and begun at any time, and
unsets at its end. Rows are control state and place on the route; the cells of the first are the bits of a row.

What is timed is `proof/rows.saturate`, a search that the product does not use yet: pages and commands run `explore`
of the same module, also for an intruder beside a person. The line's label says so for as long as that is true, and
`product_uses_it` looks.
"""

import re
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise, product
from pathlib import Path
from statistics import median

from measure import ROOT, Effort, Line, seconds_of

from alarmlib.control.inputs import Input, SetArea, UnsetArea
from alarmlib.control.layout import State
from alarmlib.control.machine import run
from alarmlib.control.setup import Behaviour, Setup
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, ZoneSetup
from alarmlib.model.words import Function
from alarmlib.proof.search.compiled import SOUNDED, Compiled
from alarmlib.proof.search.rows import Rows, Steps, saturate

sys.path.insert(0, str(ROOT / "tests" / "outside"))

from promela import tables
from spin import Model, verify

SEEN = ("", "hall", "landing")  # by which detector a cell may be seen
ENTRY_S = 30
Row = tuple[int, int]  # control state, place on the route


@dataclass(frozen=True)
class Leg:
    """A place on the route: what is surely tripped there, and what is done."""

    must: frozenset[str] = frozenset()
    person: tuple[Input, ...] = ()


@dataclass(frozen=True)
class TwoMovers:
    """A floor of `wide` by `deep` cells in three parts with walls between, and a route of so many places."""

    wide: int
    deep: int
    legs: int

    @cached_property
    def moves(self) -> tuple[dict[int, list[int]], ...]:
        """For each of `SEEN`, from each cell the cells reached: itself and its true neighbours, not through walls."""
        found: tuple[dict[int, list[int]], ...] = tuple({} for _ in SEEN)
        for x, y in product(range(self.wide), range(self.deep)):
            for dx, dy in product((-1, 0, 1), repeat=2):
                to = x + dx, y + dy
                if 0 <= to[0] < self.wide and 0 <= to[1] < self.deep and not self._wall((x, y), to):
                    seen = max(self._part(x), self._part(to[0]))
                    found[seen].setdefault(self._cell(x, y), []).append(self._cell(*to))
        return found

    def _part(self, x: int) -> int:
        return 3 * x // self.wide

    def _cell(self, x: int, y: int) -> int:
        return y * self.wide + x

    def _wall(self, one: tuple[int, int], other: tuple[int, int]) -> bool:
        """Between parts there is a door of two cells."""
        through = self._part(one[0]) != self._part(other[0])
        return through and not (self.deep // 2 - 1 <= min(one[1], other[1]) and max(one[1], other[1]) <= self.deep // 2)

    def ways_on(self, place: int) -> int:
        """1 where the second mover can only stay, 2 where it may also go on."""
        return 2 if place + 1 < len(self.route) else 1

    @property
    def start(self) -> int:
        """The cell in which the first mover begins: the far end of the part nobody watches."""
        return self._cell(0, 0)

    @cached_property
    def route(self) -> tuple[Leg, ...]:
        """Outside, the front door, the hall, the keypad, and gone to sit down."""
        hall = [Leg()] * (self.legs - 4)
        return (Leg(), Leg(frozenset({"front"})), *hall, Leg(person=(UnsetArea("house"),)), Leg())

    @cached_property
    def setup(self) -> Setup:
        """A front door with an entry delay, a detector that waits for it, one that does not."""
        zones = (
            ZoneSetup("front", Function.ENTRY_EXIT, ("house",)),
            ZoneSetup("hall", Function.ENTRY_ROUTE, ("house",), (DeviceSetup("hall", lasting=False),)),
            ZoneSetup("landing", Function.AT_ONCE, ("house",), (DeviceSetup("landing", lasting=False),)),
        )
        return Setup((AreaSetup("house", 20, ENTRY_S, 60),), zones, behaviour=Behaviour(recent_closing_s=0))

    def begin(self) -> State:
        """Set, with every delay over."""
        return run(self.setup, {0: [SetArea("house", outside=True)]}, 2)[-1].state


class ByRows:
    """The proof's way."""

    def __init__(self, model: TwoMovers) -> None:
        self.model, self.unit = model, Compiled(model.setup)
        self.begin = self.unit.number(model.begin())
        self.steps = [Steps(_bits(each)) for each in model.moves]
        self._goes: dict[tuple[Row, int], tuple[tuple[Row, int], ...]] = {}

    def search(self) -> int:
        """How many (control state, place, cell) are met before it sounds."""
        rows = Rows[Row]()
        saturate([((self.begin, 0), 1, 1 << self.model.start)], self.steps, self._go, rows)
        return len(rows)

    def _go(self, row: Row, mask: int, label: int) -> tuple[tuple[Row, int], ...]:
        asked = row, label
        if asked not in self._goes:
            self._goes[asked] = tuple((to, mask) for to in self._following(row, label))
        return self._goes[asked]

    def _following(self, row: Row, label: int) -> Iterator[Row]:
        """The second mover waits, or goes on to the next place; whatever may be seen is or is not."""
        k, place = row
        for goes_on in (0, 1)[: self.model.ways_on(place)]:
            changes = self.changes(k, label, place, goes_on)
            yield from ((to, place + goes_on) for to, sounds in changes if not sounds)

    def changes(self, k: int, label: int, place: int, goes_on: int) -> set[tuple[int, bool]]:
        """Control states after a second in which the second mover waits or goes on; whether it sounds."""
        leg = self.model.route[place + 1] if goes_on else Leg()
        may = frozenset(filter(None, (SEEN[label], "hall" if place + goes_on else "")))
        choices = self.unit.choices(k, leg.must, may, leg.person)
        return {(choice.to, bool(choice.signs & SOUNDED)) for choice in choices}


def _bits(moves: dict[int, list[int]]) -> dict[int, int]:
    return {cell: sum(1 << to for to in reached) for cell, reached in moves.items()}


def promela(model: TwoMovers) -> Model:
    """The same for SPIN: a second is one atomic step tried for true neighbours alone.

    Beside the model's own states SPIN stores one: that in which it has sounded.
    """
    moves = sorted((cell, label, to) for label, each in enumerate(model.moves) for cell in each for to in each[cell])
    changes = list(_all_changes(ByRows(model)))
    cells = model.wide * model.deep
    at = list(accumulate(Counter(cell for cell, _, _ in moves)[cell] for cell in range(cells)))
    text = tables(
        {"LABELS": len(SEEN), "PLACES": len(model.route)},
        {
            "move_at": [0, *at],
            "move_label": [label for _, label, _ in moves],
            "move_to": [to for _, _, to in moves],
            "ways_on": [model.ways_on(place) for place in range(len(model.route))],
            "change_at": [0, *accumulate(map(len, changes))],
            "change_to": [to for row in changes for to in row],
        },
    )
    most = max(after - before for before, after in pairwise([0, *at])), max(map(len, changes))
    return Model(text, "\n".join([f"short control = 0; byte place = 0; short cell = {model.start};", *_body(*most)]))


def _all_changes(rows: ByRows) -> Iterator[list[int]]:
    """For each control state, label, place and whether it is left: the states after, numbered; -1: it sounds."""
    met = {rows.begin: 0}
    waiting = list(met)
    for k in waiting:  # it grows
        for label, place, goes_on in product(range(len(SEEN)), range(len(rows.model.route)), (0, 1)):
            found = set()
            for to, sounds in rows.changes(k, label, place, goes_on) if goes_on < rows.model.ways_on(place) else ():
                if not sounds and to not in met:
                    met[to] = len(met)
                    waiting.append(to)
                found.add(-1 if sounds else met[to])
            yield sorted(found)


def _body(most_moves: int, most_changes: int) -> Iterator[str]:
    """One step for each way a second may go: the quickest of the ways of writing it that were tried."""
    yield "active proctype game() {"
    yield "  do"
    for move, goes_on, change in product(range(most_moves), (0, 1), range(most_changes)):
        row = f"((now.control*LABELS + move_label[move_at[now.cell] + {move}])*PLACES + now.place)*2 + {goes_on}"
        guards = (
            "now.control >= 0",
            f"{move} < move_at[now.cell + 1] - move_at[now.cell]",
            f"{goes_on} < ways_on[now.place]",
            f"{change} < change_at[{row} + 1] - change_at[{row}]",
        )
        yield f"  :: d_step {{ c_expr {{ {' && '.join(guards)} }} -> c_code {{"
        yield f"       int to = move_to[move_at[now.cell] + {move}];"
        yield f"       now.control = change_to[change_at[{row}] + {change}];"
        yield f"       if (now.control < 0) now.place = now.cell = 0; else {{ now.place += {goes_on}; now.cell = to; }}"
        yield "     } }"
    yield "  od"
    yield "}"


def measured(effort: Effort) -> Iterator[Line]:
    """Seconds of both searches, tables made before; equal counts or it is an error."""
    model = TwoMovers(24, 20, 40) if effort.runs > 1 else TwoMovers(12, 8, 12)
    rows, counted = ByRows(model), 0

    def first_search() -> None:
        nonlocal counted
        counted = rows.search()

    first_s = seconds_of(first_search)  # it works out the control unit's tables, which SPIN is given
    written, ours, theirs = promela(model), [], []
    with tempfile.TemporaryDirectory() as folder:
        for _ in range(effort.runs):  # in turn, so that a busy machine slows both alike
            ours.append(median(seconds_of(rows.search) for _ in range(effort.samplings)))
            theirs.append(verify(written, Path(folder), hash_bits=24, optimise="-O2"))
    if {each.states - 1 for each in theirs} != {counted}:
        raise RuntimeError(f"SPIN counts {theirs[0].states - 1} states, the rows {counted}")
    ours_s, spin_s = median(ours), median(each.seconds for each in theirs)
    figures = (
        f"{spin_s / ours_s:.0f} times faster ({ours_s:.3f} s against {spin_s:.2f} s) on {counted:,} states; "
        f"the first search {first_s:.2f} s"
    )
    yield Line(label(), figures, "30 times faster")


def label() -> str:
    """What the line measures, and that no page runs that search while none does."""
    unused = "" if product_uses_it() else " (a search that the product does not use yet)"
    return f"two movers{unused}, against SPIN's verifier on the same model"


def product_uses_it() -> bool:
    """Whether any module of the library but its own names `saturate`."""
    modules = (ROOT / "alarmlib").rglob("*.py")
    return any(re.search(r"\bsaturate\b", path.read_text("utf-8")) for path in modules if path.name != "rows.py")
