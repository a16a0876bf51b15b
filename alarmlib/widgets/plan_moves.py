"""Moving, reshaping and removing what is on the plan, as edits of the home; all of one gesture or nothing."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from alarmlib.calc.plan.drawing import device_place, moved, on_walls, room_at, shift_that_snaps, snapped, tidy
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.base import Point
from alarmlib.model.words import UnitSystem
from alarmlib.store import Edit
from alarmlib.units.kinds import INCH_M
from alarmlib.widgets.plan_measures import size_text
from alarmlib.widgets.values import NotThereError, value_at

LISTS: Mapping[str, Callable[[Home], tuple[Any, ...]]] = {
    "room": lambda home: home.site.rooms,
    "opening": lambda home: home.site.openings,
    "passage": lambda home: home.site.passages,
    "furniture": lambda home: home.site.furniture,
    "fixture": lambda home: home.site.fixtures,
    "device": lambda home: home.devices,
}
_PATHS = {
    "room": ("site", "rooms"),
    "opening": ("site", "openings"),
    "passage": ("site", "passages"),
    "furniture": ("site", "furniture"),
    "fixture": ("site", "fixtures"),
    "device": ("devices",),
}
OUTLINED = frozenset({"room", "furniture"})


@dataclass(frozen=True)
class PlanChange:
    """The edits of one gesture, the sentence about it, the object chosen afterwards, and where stairs have begun."""

    edits: list[Edit]
    say: str
    select: str | None = None
    foot: tuple[str, Point] | None = None


def grid_m(home: Home) -> float:
    """The grid to which free points snap, m: a tenth of a metre, or two inches."""
    return 0.1 if home.units is UnitSystem.METRIC else 2 * INCH_M


def list_path(what: str) -> tuple[str, ...]:
    """The list of the home that holds objects of a kind."""
    return _PATHS[what]


def thing_in(home: Home, what: str, name: str) -> Any:
    """The object of that kind and id. Raises AlarmProblem when it is gone."""
    try:
        return value_at(home, (*list_path(what), name))
    except NotThereError:
        raise AlarmProblem("That was removed on another page.") from None


def place_edit(home: Home, what: str, name: str, place: Any, field: str = "") -> Edit:
    """The edit that gives an object its outline or its place."""
    field = field or ("outline" if what in OUTLINED else "at")
    return Edit((*list_path(what), name, field), getattr(thing_in(home, what, name), field), place)


def moved_edits(home: Home, what: str, name: str, by: Point, storey: str, exact: bool) -> PlanChange:
    """An object shifted by so many metres, snapped unless `exact`; a room takes along what is in it."""
    thing = thing_in(home, what, name)
    grid = grid_m(home)
    if what == "room":
        return PlanChange(list(_room_moved(home, thing, by, storey, None if exact else grid)), "Moved.")
    if what == "furniture":
        outline = moved(thing.outline, by)
        return PlanChange([place_edit(home, what, name, outline)], "Moved.")
    field = "at_second" if what == "passage" and _second_here(home, thing, storey) else "at"
    at = getattr(thing, field)
    if at is None:
        raise AlarmProblem("It has no place on the plan yet.")
    to = tidy((at[0] + by[0], at[1] + by[1]))
    return PlanChange(_placed(home, what, thing, (field, to), storey, None if exact else grid), "Moved.")


def _room_moved(home: Home, room: Any, by: Point, storey: str, grid: float | None) -> Iterator[Edit]:
    outline = moved(room.outline, by)
    if grid is not None:
        others = (o.outline for o in home.site.rooms if o.storey == storey and o.id != room.id and o.outline)
        more = shift_that_snaps(outline, list(others), grid)
        by = by[0] + more[0], by[1] + more[1]
        outline = moved(room.outline, by)
    yield place_edit(home, "room", room.id, outline)
    for what in ("opening", "fixture", "device"):
        for thing in LISTS[what](home):
            if thing.room == room.id and thing.at is not None:
                yield place_edit(home, what, thing.id, moved([thing.at], by)[0])
    for piece in home.site.furniture:
        if piece.room == room.id and piece.outline:
            yield place_edit(home, "furniture", piece.id, moved(piece.outline, by))


def _second_here(home: Home, passage: Any, storey: str) -> bool:
    """Whether what is shown of stairs on this storey is their second end."""
    storeys = {room.id: room.storey for room in home.site.rooms}
    return storeys[passage.first] != storey and passage.at_second is not None


def _placed(home: Home, what: str, thing: Any, place: tuple[str, Point], storey: str, grid: float | None) -> list[Edit]:
    """An object of one point at its new place: a way in or door stays on its wall, a device takes its room."""
    field, to = place
    outlines = {room.id: room.outline for room in home.site.rooms if room.storey == storey and room.outline}
    edits: list[Edit] = []
    if what == "opening" and thing.room in outlines:
        to = on_walls(to, {thing.room: outlines[thing.room]})[0].at
    elif what == "passage" and thing.kind in ("door", "doorway"):
        rooms = {room: outlines[room] for room in (thing.first, thing.second) if room in outlines}
        ends = [found.at for found in on_walls(to, rooms)]
        to = tidy((sum(x for x, _ in ends) / len(ends), sum(y for _, y in ends) / len(ends)))
    elif what in ("device", "fixture"):
        room = room_at(to, outlines)
        if room and room != thing.room:
            edits.append(Edit((*list_path(what), thing.id, "room"), thing.room, room))
        if room and grid is not None and what == "device":
            to = device_place(to, outlines[room], grid)
    return [*edits, place_edit(home, what, thing.id, to, field)]


def reshaped(home: Home, what: str, name: str, n: int, to: Point | None, exact: bool) -> tuple[Point, ...]:
    """An outline with a corner moved, added after the last (`n` = how many there are) or, without `to`, taken away."""
    if what not in OUTLINED:
        raise AlarmProblem("Only rooms and furniture have corners.")
    thing = thing_in(home, what, name)
    corners = list(thing.outline)
    if to is not None and not exact and what == "room":
        others = [r.outline for r in home.site.rooms if r.storey == thing.storey and r.id != name and r.outline]
        to = snapped(to, others, grid_m(home))
    corners[n : n + 1] = [] if to is None else [tidy(to)]
    if len(corners) < 3:
        raise AlarmProblem("An outline needs at least three corners. Nothing was changed.")
    return tuple(corners)


def reshaped_edits(home: Home, what: str, name: str, n: int, to: Point | None, exact: bool) -> PlanChange:
    """The edit that reshapes an outline, see `reshaped`."""
    outline = reshaped(home, what, name, n, to, exact)
    return PlanChange([place_edit(home, what, name, outline)], f"Its shape is changed, {size_text(home, outline)}.")


def removed_edits(home: Home, what: str, name: str) -> PlanChange:
    """An object taken out of the home; a room only when nothing belongs to it."""
    thing = thing_in(home, what, name)
    if what == "room":
        held: tuple[Any, ...] = (*home.site.openings, *home.site.furniture, *home.site.fixtures, *home.devices)
        inside = [str(each.name) for each in held if each.room == name]
        inside += ["an inside doorway" for each in home.site.passages if name in (each.first, each.second)]
        if inside:
            more = f" and {len(inside) - 3} more" if len(inside) > 3 else ""
            raise AlarmProblem(f"{thing.name} still holds {', '.join(inside[:3])}{more}; remove these first.")
    return PlanChange([Edit((*list_path(what), name), thing, None)], "Removed.", "")
