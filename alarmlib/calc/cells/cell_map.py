"""The home as cells: the only geometry that the proof sees.

A cell is a piece of a room about half a metre wide, an undrawn room, or a part of a way between rooms. In one
tick somebody gets from a cell to another if from some point of the one they could walk to some point of the
other: cells let an intruder do all that a person could, and a little more, never less.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil, hypot
from typing import TYPE_CHECKING

from alarmlib.calc.cells.cell_labels import CellLabel, labelled_moves, starts_of, watches_of
from alarmlib.calc.cells.cell_metres import Metres
from alarmlib.calc.cells.cell_moves import opened_pairs
from alarmlib.calc.cells.cell_spaces import Ground, ground_of
from alarmlib.calc.cells.sights import Sight, door_contacts, joined
from alarmlib.calc.cells.telling import Telling, nobody
from alarmlib.calc.coverage.areas import Outline
from alarmlib.calc.plan.floor_plan import Plan, Point, plan_from_home
from alarmlib.errors import FieldProblem
from alarmlib.model.site import PassageKind
from alarmlib.units import rounded

if TYPE_CHECKING:
    from alarmlib.model.home import Home

SIDE_M = 0.5
MOST_CELLS = 20_000
TICK_S = 1.0
_WIDER = 1 + 1e-5  # squares a hair wider than a whole part of a tick's walk: so nobody runs k + 1 squares for k
_ASSUMED = (
    "Furniture can be climbed over: it is left out.",
    "An intruder runs along the slope of stairs and hatches as fast as on a level floor.",
    (
        "Rooms that are not drawn are walked from middle to middle. Seconds entered for them are taken as an "
        "adult's pace, straight."
    ),
    "A contact on an inside door opens when somebody goes through, and may open whenever somebody is at the door.",
    "Whoever steps onto stairs and back within a second counts as not having left the room.",
    "A closed inside door hides whoever is behind it, also after it was opened.",
    "A detector taken as sure notices whoever goes from one square to the next after four steps in its area.",
)


@dataclass(frozen=True)
class Cell:
    """A piece of a room, metres on the plan of its storey; an undrawn room or a part of a way has no outline."""

    rooms: frozenset[str]
    storey: str = ""
    outlines: tuple[Outline, ...] = ()
    middle: Point | None = None


@dataclass(frozen=True)
class CellMap:
    """Cells, and what one tick may bring.

    `moves[i]` holds, for label i, from each cell the bits of all cells reached in a tick with exactly that label;
    staying is a move. `starts` says for each opening in which cells somebody is at the end of the tick of coming
    in, by label; `goals` the bits of the cell with a room's middle.
    """

    cells: tuple[Cell, ...]
    labels: tuple[CellLabel, ...]
    moves: tuple[Mapping[int, int], ...]
    starts: Mapping[str, tuple[tuple[int, int], ...]]
    goals: Mapping[str, int]
    speed_m_s: float
    side_m: float
    assumed: tuple[str, ...]
    ground: Ground = field(repr=False, compare=False)

    @property
    def effective_m_s(self) -> float:
        """The speed that squares of one room may add up to at worst, m/s, tick after tick in one direction.

        Reference: textbook plane geometry.
        """
        reach = self.speed_m_s * TICK_S / self.side_m
        steps = range(1, int(reach) + 2)
        return self.side_m / TICK_S * max(hypot(a, b) for a in steps for b in steps if hypot(a - 1, b - 1) <= reach)


def components(plan: Plan) -> tuple[frozenset[str], ...]:
    """Rooms that are joined inside the house: the way across the yard leads outside and joins nothing.

    Reference: reachability in a graph, textbook.
    """
    ways = [p.rooms for p in plan.passages if p.kind is not PassageKind.OUTSIDE]
    return tuple(dict.fromkeys(joined({room.id}, ways) for room in plan.rooms))


def cell_map(
    site: "Home | Plan",
    sights: Sequence[Sight],
    speed_m_s: float,
    side_m: float = SIDE_M,
    rooms: Collection[str] | None = None,
    contacts: Mapping[str, frozenset[str]] | None = None,
    telling: Telling = nobody,
) -> CellMap:
    """The cells of a home, of all rooms or of `rooms` alone, for somebody of that top speed.

    `side_m` is about how wide squares should be: they become a whole part of what is walked in a tick.
    `contacts` are devices by the inside door they guard; those of the home when a home is given. `telling` is called
    room by room, detector by detector.
    Raises FieldProblem for a speed or side that isn't above 0, and for a home of more squares than can be searched.
    """
    plan = site if isinstance(site, Plan) else plan_from_home(site)
    if contacts is None:
        contacts = {} if isinstance(site, Plan) else door_contacts(site)
    reach_m = _above_zero("top speed", speed_m_s) * TICK_S
    side_m = _WIDER * reach_m / max(1, round(reach_m / _above_zero("side of a square", side_m)))
    looked_at = [room.id for room in plan.rooms if rooms is None or room.id in rooms]
    _refuse_too_many(plan, looked_at, side_m)
    ground = ground_of(plan, looked_at, side_m, reach_m, contacts, telling)
    metres = Metres(ground)
    watches = watches_of(metres, sights, telling)
    labels: dict[CellLabel, int] = {}
    starts = starts_of(ground, watches, labels)
    moves = labelled_moves(ground, watches, opened_pairs(metres, telling), labels, telling)
    return CellMap(
        cells=tuple(_cells(ground)),
        labels=tuple(labels),
        moves=tuple(moves.get(number, {}) for number in range(len(labels))),
        starts=starts,
        goals={room: _goal(ground, number) for room, number in ground.of_room.items()},
        speed_m_s=speed_m_s,
        side_m=side_m,
        assumed=(*_ASSUMED, *ground.notes),
        ground=ground,
    )


def _above_zero(what: str, value: float) -> float:
    if not value > 0:
        raise FieldProblem("", what, f"{value:g}", "it must be above 0")
    return value


def _refuse_too_many(plan: Plan, rooms: Collection[str], side_m: float) -> None:
    """A home too large for squares of this side is refused, with an estimate."""
    drawn = [room.outline for room in map(plan.room, rooms) if room.outline]
    boxes_m2 = sum((max(xs) - min(xs)) * (max(ys) - min(ys)) for xs, ys in (zip(*o, strict=True) for o in drawn))
    squares = ceil(boxes_m2 / side_m**2)
    if squares > MOST_CELLS:
        least_m = (boxes_m2 / MOST_CELLS) ** 0.5
        allowed = (
            f"the drawn rooms make about {squares} such squares; {MOST_CELLS} can be searched: "
            f"{rounded(least_m, 2)} m or more"
        )
        raise FieldProblem("", "side of a square, m", rounded(side_m, 2), allowed)


def _cells(ground: Ground) -> Iterator[Cell]:
    shapes = [(space, shape) for space in ground.spaces for shape in space.shapes]
    for (space, shape), (x, y) in zip(shapes, ground.stands.tolist(), strict=True):
        if space.floor is None:
            yield Cell(space.rooms, space.storey)
        else:
            yield Cell(space.rooms, space.storey, (tuple(shape.exterior.coords)[:-1],), (x, y))


def _goal(ground: Ground, number: int) -> int:
    """The bit of the first piece on which the room's middle lies."""
    space = ground.spaces[number]
    piece = 0 if space.middle is None else space.nearest_piece(space.middle)
    return 1 << (ground.first_cell[number] + piece)
