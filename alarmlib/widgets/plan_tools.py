"""The tools of the plan editor: what each draws, and the edits that a finished drawing becomes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from alarmlib.calc.plan.drawing import (
    Outlines,
    device_place,
    facing_middle_deg,
    inside_wall,
    on_grid,
    outside_wall,
    rectangle,
    room_at,
    snapped,
    tidy,
)
from alarmlib.draft.blank import first_storey
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.base import Point
from alarmlib.model.furnishing import FixtureKind
from alarmlib.model.plain_types import own_type, plain_type
from alarmlib.model.site import OpeningKind, PassageKind
from alarmlib.model.words import DeviceKind, Word
from alarmlib.store import Edit
from alarmlib.widgets.plan_measures import measured, size_text
from alarmlib.widgets.plan_moves import LISTS, PlanChange, grid_m, list_path, place_edit, thing_in
from alarmlib.widgets.spec import numbered


@dataclass(frozen=True)
class Tool:
    """A tool as its button says it: what it makes, and by what it is drawn ("box", "corners" or "point").

    `kinds` are the kinds a person may choose; `devices` marks the tool that only the page of devices has.
    """

    key: str
    label: str
    what: str
    by: str
    kinds: tuple[Word, ...] = ()
    help: str = ""
    devices: bool = False

    def told(self) -> dict[str, Any]:
        """The tool as the browser is told of it."""
        kinds = [[kind.value, kind.text] for kind in self.kinds]
        return {
            "key": self.key,
            "label": self.label,
            "what": self.what,
            "by": self.by,
            "kinds": kinds,
            "help": self.help,
        }


_MOTION_FIRST = (DeviceKind.MOTION, *(kind for kind in DeviceKind if kind is not DeviceKind.MOTION))
TOOLS = (
    Tool("room", "Room", "room", "box", help="Point at two opposite corners."),
    Tool(
        "room_corners",
        "Room by corners",
        "room",
        "corners",
        help="Point at each corner, and again at the first one to end.",
    ),
    Tool("opening", "Way in", "opening", "point", tuple(OpeningKind), "Point at an outside wall."),
    Tool(
        "door",
        "Inside doorway",
        "passage",
        "point",
        (PassageKind.DOOR, PassageKind.DOORWAY),
        "Point at a wall that two rooms share.",
    ),
    Tool(
        "stairs",
        "Stairs",
        "passage",
        "point",
        (PassageKind.STAIRS, PassageKind.HATCH),
        "Point at where they begin, then show the other storey and point at where they end.",
    ),
    Tool("furniture", "Furniture", "furniture", "box", help="Point at two opposite corners."),
    Tool("fixture", "Fixture", "fixture", "point", tuple(FixtureKind), "Point at its place."),
    Tool("device", "Device", "device", "point", _MOTION_FIRST, "Point at its place in a room.", devices=True),
)


@dataclass(frozen=True)
class DrawnThing:
    """A finished drawing: the tool, its points in m, the kind chosen, the id of an object that waits for its place.

    `foot` is where stairs begin: the room and the place, once that was pointed at.
    """

    tool: Tool
    points: tuple[Point, ...]
    of: str
    id: str
    storey: str
    exact: bool
    foot: tuple[str, Point] | None


def drawn_edits(home: Home, asked: DrawnThing) -> PlanChange:
    """The edits that a drawing becomes. Raises AlarmProblem with a sentence where it cannot be."""
    if not asked.storey:
        return _on_first_storey(home, asked)
    makers: Mapping[str, Callable[[Home, DrawnThing], PlanChange]] = {
        "room": _room,
        "opening": _opening,
        "passage": _passage,
        "furniture": _furniture,
        "fixture": _fixture,
        "device": _device,
    }
    if asked.tool.key == "stairs":
        return _stairs(home, asked)
    return makers[asked.tool.what](home, asked)


def _on_first_storey(home: Home, asked: DrawnThing) -> PlanChange:
    """The first room of a home without a storey is drawn on one that is made for it."""
    if asked.tool.what != "room":
        raise AlarmProblem("Draw a room first. Everything else needs a room. Nothing was changed.")
    storey = first_storey(home)
    room = _room(home, replace(asked, storey=storey.id))
    made = Edit(("site", "storeys", storey.id), None, storey.model_dump())
    return replace(room, edits=[made, *room.edits], say=f"{room.say} Its storey is “{storey.name}”.")


def measure(home: Home, asked: DrawnThing) -> Mapping[str, Any]:
    """What a drawing that is under way would measure. Empty for what has no size."""
    if asked.tool.by == "point":
        return {}
    corners = _snapped(home, asked)
    box = asked.tool.by == "box" and len(corners) == 2
    return measured(home, rectangle(*corners) if box else corners, closed=box)


def outlines_of(home: Home, storey: str) -> Outlines:
    """The outlines of the rooms drawn on a storey."""
    return {room.id: room.outline for room in home.site.rooms if room.storey == storey and room.outline}


def _snapped(home: Home, asked: DrawnThing) -> tuple[Point, ...]:
    """The points where they will be stored: a room's on corners, walls or the grid, furniture's on half the grid."""
    points, grid = asked.points, grid_m(home)
    if not asked.exact and asked.tool.what == "furniture":
        points = tuple(on_grid(point, grid / 2) for point in points)
    elif not asked.exact:
        outlines = outlines_of(home, asked.storey).values()
        points = tuple(snapped(point, outlines, grid) for point in points)
    return tuple(tidy(point) for point in points)


def _corners(home: Home, asked: DrawnThing) -> tuple[Point, ...]:
    points = _snapped(home, asked)
    if asked.tool.by == "box" and len(points) == 2:
        points = rectangle(*points)
    if len(set(points)) < 3:
        raise AlarmProblem("An outline needs at least three corners apart; point again. Nothing was changed.")
    return points


def _new(home: Home, what: str, word: str, facts: Mapping[str, Any], say: str) -> PlanChange:
    taken = frozenset(each.id for each in _all(home, what))
    name = numbered(word)(taken)
    return PlanChange([Edit((*list_path(what), name), None, {"id": name, **facts})], say, f"{what}:{name}")


def _all(home: Home, what: str) -> tuple[Any, ...]:
    return LISTS[what](home)


def _numbered_name(home: Home, what: str, word: str) -> str:
    return f"{word.capitalize()} {len(_all(home, what)) + 1}"


def _name_of(home: Home, asked: DrawnThing) -> str:
    """The name of an object of the tables that takes its place now."""
    return str(thing_in(home, asked.tool.what, asked.id).name) or f"The {asked.tool.what}"


def _room(home: Home, asked: DrawnThing) -> PlanChange:
    outline = _corners(home, asked)
    size = size_text(home, outline)
    if asked.id:
        say = f"{_name_of(home, asked)} is on the plan, {size}."
        return PlanChange([place_edit(home, "room", asked.id, outline)], say, f"room:{asked.id}")
    facts = {"name": _numbered_name(home, "room", "room"), "storey": asked.storey, "outline": outline}
    return _new(home, "room", "room", facts, f"A room is drawn, {size}. Give it its name.")


def _furniture(home: Home, asked: DrawnThing) -> PlanChange:
    outline = _corners(home, asked)
    size = size_text(home, outline)
    if asked.id:
        say = f"{_name_of(home, asked)} is on the plan, {size}."
        return PlanChange([place_edit(home, "furniture", asked.id, outline)], say, f"furniture:{asked.id}")
    middle = sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline)
    room = _room_under(home, asked, middle)
    facts = {"name": _numbered_name(home, "furniture", "piece"), "room": room, "outline": outline}
    say = f"A piece of furniture is drawn, {size}. Give it its name and height."
    return _new(home, "furniture", "piece", facts, say)


def _room_under(home: Home, asked: DrawnThing, point: Point) -> str:
    room = room_at(point, outlines_of(home, asked.storey))
    if not room:
        raise AlarmProblem("No room is drawn there; draw its room first. Nothing was changed.")
    return room


def _along(home: Home, asked: DrawnThing) -> Point:
    """Where a wall was pointed at: a hand means a round place along it."""
    return asked.points[0] if asked.exact else on_grid(asked.points[0], grid_m(home) / 2)


def _opening(home: Home, asked: DrawnThing) -> PlanChange:
    outlines = outlines_of(home, asked.storey)
    if asked.id:
        opening = next(each for each in home.site.openings if each.id == asked.id)
        outlines = {opening.room: outlines[opening.room]}
    wall = outside_wall(_along(home, asked), outlines)
    if wall is None and asked.id:
        room = thing_in(home, "room", opening.room).name
        raise AlarmProblem(
            f"{opening.name} belongs to {room}. Point at an outside wall of {room}. Nothing was changed."
        )
    if wall is None:
        raise AlarmProblem(
            "A way in must be in an outside wall, and there is none within 0.4 m. An inside doorway has its own tool. "
            "Nothing was changed."
        )
    if asked.id:
        say = f"{_name_of(home, asked)} is on the plan."
        return PlanChange([place_edit(home, "opening", asked.id, wall.at)], say, f"opening:{asked.id}")
    kind = OpeningKind(asked.of or OpeningKind.WINDOW)
    facts = {"name": _numbered_name(home, "opening", kind.text), "room": wall.room, "kind": kind.value, "at": wall.at}
    return _new(home, "opening", "way_in", {**facts, "width_m": 0.9}, "A way in is placed; give it its name and width.")


def _passage(home: Home, asked: DrawnThing) -> PlanChange:
    outlines = outlines_of(home, asked.storey)
    if asked.id:
        passage = next(each for each in home.site.passages if each.id == asked.id)
        outlines = {room: outlines[room] for room in (passage.first, passage.second) if room in outlines}
    found = inside_wall(_along(home, asked), outlines)
    if found is None:
        raise AlarmProblem(
            "An inside doorway must be in a wall that two drawn rooms share, and there is none within 0.4 m. "
            "Nothing was changed."
        )
    one, other = found
    at = tidy(((one.at[0] + other.at[0]) / 2, (one.at[1] + other.at[1]) / 2))
    if asked.id:
        return PlanChange([place_edit(home, "passage", asked.id, at)], "It is on the plan.", f"passage:{asked.id}")
    kind = PassageKind(asked.of or PassageKind.DOOR)
    facts = {"first": one.room, "second": other.room, "kind": kind.value, "at": at}
    return _new(home, "passage", "passage", facts, f"{kind.text.capitalize()} placed.")


def _stairs(home: Home, asked: DrawnThing) -> PlanChange:
    at = asked.points[0] if asked.exact else on_grid(asked.points[0], grid_m(home))
    room = _room_under(home, asked, at)
    storeys = {each.id: each.storey for each in home.site.rooms}
    if asked.foot is None or asked.foot[0] not in storeys or storeys[asked.foot[0]] == asked.storey:
        return PlanChange(
            [], "The stairs begin here; now show the other storey and point at where they end.", foot=(room, at)
        )
    kind = PassageKind(asked.of or PassageKind.STAIRS)
    facts = {"first": asked.foot[0], "second": room, "kind": kind.value, "at": asked.foot[1], "at_second": at}
    return _new(home, "passage", "passage", facts, "The stairs are placed; give them their length along the slope.")


def _fixture(home: Home, asked: DrawnThing) -> PlanChange:
    at = asked.points[0] if asked.exact else on_grid(asked.points[0], grid_m(home))
    if asked.id:
        say = f"{_name_of(home, asked)} is on the plan."
        return PlanChange([place_edit(home, "fixture", asked.id, at)], say, f"fixture:{asked.id}")
    kind = FixtureKind(asked.of or FixtureKind.COOKER)
    room = _room_under(home, asked, at)
    facts = {"name": _numbered_name(home, "fixture", kind.text), "room": room, "kind": kind.value, "at": at}
    return _new(home, "fixture", "fixture", facts, "A fixture is placed.")


def _device(home: Home, asked: DrawnThing) -> PlanChange:
    outlines = outlines_of(home, asked.storey)
    point = asked.points[0]
    room = room_at(point, outlines)
    at = device_place(point, outlines[room], grid_m(home)) if room and not asked.exact else tidy(point)
    if asked.id:
        say = f"{_name_of(home, asked)} is on the plan."
        return PlanChange([place_edit(home, "device", asked.id, at)], say, f"device:{asked.id}")
    kind = DeviceKind(asked.of or DeviceKind.MOTION)
    room = room or _room_under(home, asked, point)
    facts: dict[str, Any] = {"name": _numbered_name(home, "device", kind.text), "room": room, "at": at}
    if kind is DeviceKind.MOTION:
        facts["facing_deg"] = facing_middle_deg(at, outlines[room])
    return _of_a_type(home, kind, facts)


def _of_a_type(home: Home, kind: DeviceKind, facts: Mapping[str, Any]) -> PlanChange:
    """A new device of the home's own type of its kind, else of a plain one that is added, else of none."""
    own = own_type(home, kind)
    its_type = own or plain_type(kind)
    if its_type is None:
        said = "The device is placed. Give it a name, and enter what its manual says."
        return _new(home, "device", "device", {**facts, "kind": kind.value}, said)
    said = f"The device is placed, of the type “{its_type.name}”."
    said += "" if own else " That type's values are assumed until you enter what its manual says."
    made = _new(home, "device", "device", {**facts, "type": its_type.id}, said)
    added = [] if own else [Edit(("device_types", its_type.id), None, its_type.model_dump(mode="json"))]
    return replace(made, edits=[*added, *made.edits])
