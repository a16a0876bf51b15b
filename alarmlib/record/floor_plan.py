"""A storey drawn from its rooms' outlines: walls, ways in, devices, a scale; y of the plan runs upwards."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, radians, sin

from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.questions import present
from alarmlib.model.shapes import middle
from alarmlib.model.site import Opening, Room
from alarmlib.model.words import DeviceKind
from alarmlib.record.picture import Badge, Drawing, Fill, Ink, Label, Line, Point, Polygon, Shape

WIDTH, HEIGHT, MARGIN, FOOT = 700.0, 560.0, 34.0, 30.0
LEAST = 120.0  # the scale and a short name need this much
FACING_M = 1.2  # how long the stroke is that shows where a detector faces
LETTERS = {
    DeviceKind.CONTACT: "C", DeviceKind.MOTION: "M", DeviceKind.GLASS_BREAK: "G", DeviceKind.SHOCK: "V",
    DeviceKind.SMOKE: "S", DeviceKind.HEAT: "H", DeviceKind.CARBON_MONOXIDE: "O", DeviceKind.WATER: "W",
    DeviceKind.LOW_TEMPERATURE: "F", DeviceKind.HOLD_UP: "P", DeviceKind.KEY_SWITCH: "X", DeviceKind.KEYPAD: "K",
    DeviceKind.FOB: "B", DeviceKind.INSIDE_SOUNDER: "I", DeviceKind.OUTSIDE_SIREN: "A", DeviceKind.REPEATER: "R",
    DeviceKind.CONTROL_UNIT: "U", DeviceKind.POWER_SUPPLY: "E", DeviceKind.COMMUNICATOR: "T",
    DeviceKind.CAMERA: "Y",
}  # fmt: skip

IN_COUNTEREXAMPLES = frozenset(
    {DeviceKind.CONTACT, DeviceKind.MOTION, DeviceKind.GLASS_BREAK, DeviceKind.SHOCK, DeviceKind.KEYPAD,
     DeviceKind.KEY_SWITCH}
)  # fmt: skip
Kinds = frozenset[DeviceKind]
NEAR_M = 7.0  # how far around its steps a counterexample shows the plan


@dataclass(frozen=True)
class PlacedStep:
    """Steps of a counterexample in one place: the first and the last number, and where on the plan, in metres."""

    first: int
    last: int
    at: Point


@dataclass(frozen=True)
class HatchedArea:
    """A part of the floor with its hatching, m on the plan."""

    outline: tuple[Point, ...]
    ink: Ink
    fill: Fill


@dataclass(frozen=True)
class PlanSheet:
    """How metres of the plan become drawing units."""

    left_m: float
    top_m: float
    scale: float

    def point(self, at: Point) -> Point:
        """A place on the plan as a place on the sheet."""
        return MARGIN + (at[0] - self.left_m) * self.scale, MARGIN + (self.top_m - at[1]) * self.scale


def drawn_rooms(home: Home, storey: str) -> tuple[Room, ...]:
    """The rooms of a storey that have an outline."""
    return tuple(room for room in home.site.rooms if room.storey == storey and room.outline)


def marks(home: Home) -> dict[tuple[str, str], str]:
    """The mark of each room, opening and device on the plans: numbers, numbers in squares, letter and number."""
    found = {("room", room.id): str(n) for n, room in enumerate(home.site.rooms, 1)}
    found |= {("opening", opening.id): str(n) for n, opening in enumerate(home.site.openings, 1)}
    counts: dict[str, int] = {}
    for device in home.whole_devices:
        letter = LETTERS[device.kind]
        counts[letter] = counts.get(letter, 0) + 1
        found["device", device.id] = f"{letter}{counts[letter]}"
    return found


def floor_plan(
    home: Home,
    storey: str,
    steps: Sequence[PlacedStep] = (),
    areas: Sequence[HatchedArea] = (),
    kinds: Kinds = frozenset(LETTERS),
) -> Drawing:
    """The storey as a drawing, with the numbered steps of a counterexample; without any outline an empty sheet.

    `areas` lie under the walls; only devices of these `kinds` are drawn.

    Steps of one number after the other are joined by a dashed stroke; with steps, only the rooms near them are
    drawn, and only the devices that see somebody come or are used to unset.
    """
    rooms = _near(drawn_rooms(home, storey), steps)
    points = [point for room in rooms for point in room.outline]
    if not points:
        return Drawing(WIDTH, FOOT, ())
    xs, ys = [x for x, _ in points], [y for _, y in points]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((WIDTH - 2 * MARGIN) / wide, (HEIGHT - 2 * MARGIN) / high)
    sheet = PlanSheet(min(xs), max(ys), scale)
    foot = MARGIN * 2 + high * scale
    walked = _walked(steps, sheet)
    spots = _spots(home, rooms, sheet, [spot for _, _, spot in walked], IN_COUNTEREXAMPLES if steps else kinds)
    badges = [spot for _, _, spot in (*walked, *spots)]
    shapes = (
        *(Polygon(tuple(map(sheet.point, area.outline)), area.ink, area.fill) for area in areas),
        *_walls(home, rooms, sheet),
        *_trail(walked),
        *(line for marked, at, spot in spots for line in _strokes(marked, at, spot, scale)),
        *(label for room in rooms for label in _names(home, room, sheet, badges)),
        *(_badge(home, marked, spot) for marked, _, spot in spots),
        *(Badge(spot, str(step.first), radius=11, dark=True) for step, _, spot in walked),
        *_scale(sheet, foot),
    )
    return Drawing(MARGIN * 2 + max(wide * scale, LEAST), foot + FOOT, shapes)


def _near(rooms: tuple[Room, ...], steps: Sequence[PlacedStep]) -> tuple[Room, ...]:
    """The rooms with some wall near a step; all of them without steps."""
    places = [step.at for step in steps]

    def near(room: Room) -> bool:
        low, high = (tuple(f(corner[n] for corner in room.outline) for n in (0, 1)) for f in (min, max))
        return any(all(low[n] - NEAR_M <= at[n] <= high[n] + NEAR_M for n in (0, 1)) for at in places)

    return tuple(room for room in rooms if near(room)) if steps else rooms


def _walls(home: Home, rooms: tuple[Room, ...], sheet: PlanSheet) -> Iterator[Shape]:
    inside = {room.id for room in rooms}
    for piece in home.site.furniture:
        if piece.room in inside and piece.outline:
            yield Polygon(tuple(map(sheet.point, piece.outline)), Ink.FINE, Fill.DOTTED)
    for room in rooms:
        yield Polygon(tuple(map(sheet.point, room.outline)), Ink.WALL)
    for passage in home.site.passages:
        if passage.at and passage.first in inside:
            x, y = sheet.point(passage.at)
            yield Polygon(((x - 5, y), (x, y - 5), (x + 5, y), (x, y + 5)), Ink.PLAIN, Fill.SOLID)


def _walked(steps: Sequence[PlacedStep], sheet: PlanSheet) -> list[tuple[PlacedStep, Point, Point]]:
    """Each step with its place, and where its badge is."""
    walked: list[tuple[PlacedStep, Point, Point]] = []
    for step in steps:
        at = sheet.point(step.at)
        walked.append((step, at, _free(at, [spot for _, _, spot in walked])))
    return walked


def _trail(walked: list[tuple[PlacedStep, Point, Point]]) -> Iterator[Shape]:
    """Dashed from step to step, as long as no step in between is on another storey; fine to a badge that was moved."""
    for (step, start, _), (following, end, _) in pairwise(walked):
        if following.first == step.last + 1 and start != end:
            yield Line(start, end, Ink.DASHED)
    yield from (Line(at, spot, Ink.FINE) for _, at, spot in walked if at != spot)


def _spots(
    home: Home, rooms: tuple[Room, ...], sheet: PlanSheet, taken: list[Point], kinds: frozenset[DeviceKind]
) -> list[tuple[Opening | Device, Point, Point]]:
    """Each way in or device with a place: where it is, and where its badge is put so that no two cover each other."""
    inside = {room.id for room in rooms}
    placed: list[Opening | Device] = [o for o in home.site.openings if o.room in inside and o.at]
    placed += [d for d in present(home) if d.room in inside and d.at and d.kind in kinds]
    spots: list[tuple[Opening | Device, Point, Point]] = []
    for marked in placed:
        at = sheet.point(marked.at or (0.0, 0.0))
        spots.append((marked, at, _free(at, [*taken, *(spot for _, _, spot in spots)])))
    return spots


def _strokes(marked: Opening | Device, at: Point, spot: Point, scale: float) -> Iterator[Shape]:
    """From a way in or device to its moved badge, and from a detector to where it faces."""
    if spot != at:
        yield Line(at, spot, Ink.FINE)
    if isinstance(marked, Device) and marked.facing_deg is not None:
        turn, reach = radians(marked.facing_deg), FACING_M * scale
        yield Line(at, (at[0] + reach * cos(turn), at[1] - reach * sin(turn)), Ink.DASHED)


def _badge(home: Home, marked: Opening | Device, spot: Point) -> Badge:
    kind = "device" if isinstance(marked, Device) else "opening"
    return Badge(spot, marks(home)[kind, marked.id], square=kind == "opening")


def _names(home: Home, room: Room, sheet: PlanSheet, badges: list[Point]) -> Iterator[Label]:
    """The room's number and name, as near its middle as the badges leave room, within its own height."""
    x, y = sheet.point(middle(room.outline))
    heights = [sheet.point(corner)[1] for corner in room.outline]
    wide = 4 + 3 * min(len(room.name), 18)
    tried = [y + step * turn for step in range(0, 120, 6) for turn in (1, -1)]
    fits = (t for t in tried if min(heights) + 16 < t < max(heights) - 18)
    free = (t for t in fits if all(abs(bx - x) > wide + 10 or abs(by - (t + 3)) > 24 for bx, by in badges))
    top = next(free, y)
    yield Label((x, top), marks(home)["room", room.id], 15, bold=True)
    yield Label((x, top + 14), room.name, 11, most=18)


def _free(at: Point, taken: list[Point]) -> Point:
    """The nearest spot to a place on which there is no badge yet."""
    spots = [at] + [
        (at[0] + ring * 12 * cos(radians(45 * n)), at[1] + ring * 12 * sin(radians(45 * n)))
        for ring in (2, 3, 4)
        for n in range(8)
    ]
    return next((s for s in spots if all(hypot(s[0] - x, s[1] - y) >= 21 for x, y in taken)), at)


def _scale(sheet: PlanSheet, foot: float) -> Iterator[Shape]:
    length_m = 5 if sheet.scale * 5 < WIDTH / 2 else 1
    end = MARGIN + length_m * sheet.scale
    yield Line((MARGIN, foot), (end, foot), Ink.PLAIN)
    for n in range(length_m + 1):
        x = MARGIN + n * sheet.scale
        yield Line((x, foot - 4), (x, foot + 4), Ink.FINE)
    yield Label(((MARGIN + end) / 2, foot + 18), f"{length_m} m", 11)
