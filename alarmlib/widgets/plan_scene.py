"""The scene a plan editor draws: one storey of the home as plain lists of numbers and texts, metres, y upwards."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from alarmlib.calc.coverage.areas import Coverage, Outline, coverages
from alarmlib.calc.plan.drawing import bounds, wall_line
from alarmlib.calc.plan.floor_plan import Segment, plan_from_home, shared_walls
from alarmlib.calc.plan.plan_problems import home_plan_problems
from alarmlib.model import Home
from alarmlib.model.asked import asked
from alarmlib.model.base import Point
from alarmlib.model.site import Passage
from alarmlib.model.words import UnitSystem
from alarmlib.record.floor_plan import marks
from alarmlib.units.kinds import FOOT_M
from alarmlib.widgets.plan_measures import size_text

Scene = dict[str, Any]
MARGIN_M = 1.0
UNNAMED = "one without a name yet"
EMPTY = (-1.0, -1.0, 11.0, 8.0)  # what is shown of a home of which nothing is drawn yet, m
EMPTY_FT = (-3.0, -3.0, 37.0, 27.0)  # the same in feet


def scene(home: Home, storey: str, covered: bool) -> Scene:
    """What is drawn of a storey; with `covered` also what each motion detector sees.

    `unplaced` names what was entered in the tables and is not drawn yet.
    """
    rooms = {room.id: room for room in home.site.rooms if room.storey == storey}
    drawn = {name: room.outline for name, room in rooms.items() if room.outline}
    wrong = {(each.kind, each.subject): each.message for each in home_plan_problems(home)}
    made = _Made(home, storey, drawn, wrong)
    parts: Scene = {
        "rooms": list(made.rooms()),
        "openings": list(made.openings()),
        "passages": list(made.passages()),
        "furniture": list(made.furniture()),
        "fixtures": list(made.fixtures()),
        "devices": list(made.devices(covered)),
    }
    walls = (wall for room, wall in _shared(home) if room in drawn)
    return {
        "storey": storey,
        "storeys": [[each.id, each.name] for each in sorted(home.site.storeys, key=lambda each: each.level)],
        "unit": "ft" if home.units == "us" else "m",
        "box": _box(home, parts),
        **parts,
        "walls": [[_at(end) for end in wall] for wall in walls],
        "unplaced": unplaced(home, storey),
        "problems": [
            {"what": kind, "id": name, "message": message}
            for (kind, name), message in wrong.items()
            if _on_storey(home, kind, name) in ("", storey)
        ],
    }


def said_scene(drawn: Scene, say: Callable[[str], str]) -> Scene:
    """The scene with its own texts in the words of a country: kinds, what is wrong, what has no name yet."""

    def said(part: dict[str, Any]) -> dict[str, Any]:
        return part | {key: say(part[key]) for key in ("kind", "problem", "message", "name") if key in part}

    lists = ("rooms", "openings", "passages", "furniture", "fixtures", "devices", "problems")
    unplaced_ = {what: [[name, say(called)] for name, called in each] for what, each in drawn["unplaced"].items()}
    return drawn | {key: [said(part) for part in drawn[key]] for key in lists} | {"unplaced": unplaced_}


@asked
def _shared(home: Home) -> tuple[tuple[str, Segment], ...]:
    return tuple((room, wall) for room, _, wall, _ in shared_walls(plan_from_home(home)))


def unplaced(home: Home, storey: str) -> dict[str, list[list[str]]]:
    """What the tables hold for rooms of this storey, and the plan does not show: [id, name] by kind."""
    here = {room.id for room in home.site.rooms if room.storey == storey}
    drawn = {room.id for room in home.site.rooms if room.id in here and room.outline}
    site = home.site
    return {
        "room": [[r.id, r.name or UNNAMED] for r in site.rooms if r.id in here - drawn],
        "opening": [[o.id, o.name or UNNAMED] for o in site.openings if o.room in drawn and o.at is None],
        "passage": [
            [p.id, passage_name(home, p)]
            for p in site.passages
            if (p.first in drawn and p.at is None) or (p.second in drawn and p.at_second is None and _climbs(p))
        ],
        "furniture": [[f.id, f.name or UNNAMED] for f in site.furniture if f.room in drawn and not f.outline],
        "fixture": [[f.id, f.name or UNNAMED] for f in site.fixtures if f.room in drawn and f.at is None],
        "device": [[d.id, d.name or UNNAMED] for d in home.whole_devices if d.room in drawn and d.at is None],
    }


def passage_name(home: Home, passage: Passage) -> str:
    """A passage as people call it: its kind and the rooms it joins."""
    names = {room.id: room.name for room in home.site.rooms}
    return f"{passage.kind.text}: {names[passage.first]} – {names[passage.second]}"


def _climbs(passage: Passage) -> bool:
    return passage.kind in ("stairs", "hatch")


def _on_storey(home: Home, kind: str, name: str) -> str:
    """The storey of an object that is wrong; "" when it isn't known."""
    lists: Mapping[str, Sequence[Any]] = {
        "room": home.site.rooms, "opening": home.site.openings, "passage": home.site.passages,
        "furniture": home.site.furniture, "fixture": home.site.fixtures, "device": home.whole_devices,
    }  # fmt: skip
    found = next((each for each in lists[kind] if each.id == name), None)
    room = name if kind == "room" else getattr(found, "first" if kind == "passage" else "room", "")
    return next((each.storey for each in home.site.rooms if each.id == room), "")


def _at(point: Point) -> list[float]:
    return [round(point[0], 3), round(point[1], 3)]


def _box(home: Home, parts: Scene) -> list[float]:
    """What is to be in sight, m: all that is drawn on the storey; on an empty one all that is drawn on the others."""
    points = [tuple(corner) for part in ("rooms", "furniture") for each in parts[part] for corner in each["outline"]]
    points += [tuple(each["at"]) for part in ("openings", "passages", "fixtures", "devices") for each in parts[part]]
    found = bounds(points) or bounds([corner for room in home.site.rooms for corner in room.outline])
    if found is None:
        return list(EMPTY) if home.units is UnitSystem.METRIC else [feet * FOOT_M for feet in EMPTY_FT]
    left, low, right, high = found
    return [left - MARGIN_M, low - MARGIN_M, right + MARGIN_M, high + MARGIN_M]


class _Made:
    """The parts of one storey's scene."""

    def __init__(
        self, home: Home, storey: str, drawn: Mapping[str, tuple[Point, ...]], wrong: Mapping[tuple[str, str], str]
    ) -> None:
        self.home, self.storey, self.drawn, self.wrong = home, storey, drawn, wrong
        self.marks = marks(home)

    def _thing(self, what: str, name: str, called: str, **more: Any) -> dict[str, Any]:
        mark = self.marks.get((what, name), "")
        return {"id": name, "mark": mark, "name": called, "problem": self.wrong.get((what, name), ""), **more}

    def rooms(self) -> Iterator[dict[str, Any]]:
        """Each drawn room, with its size in words."""
        for room in self.home.site.rooms:
            if room.id in self.drawn:
                size = size_text(self.home, room.outline)
                yield self._thing("room", room.id, room.name, outline=[_at(c) for c in room.outline], size=size)

    def openings(self) -> Iterator[dict[str, Any]]:
        """Each way in that has its place, as a stretch of its room's wall."""
        for opening in self.home.site.openings:
            if opening.room in self.drawn and opening.at is not None:
                line = wall_line(opening.at, opening.width_m or 0.9, self.drawn[opening.room])
                yield self._thing(
                    "opening", opening.id, opening.name, at=_at(opening.at), line=[_at(end) for end in line]
                )

    def passages(self) -> Iterator[dict[str, Any]]:
        """Each inside door as a stretch of wall, stairs where they begin or end here."""
        for passage in self.home.site.passages:
            room, at = self._end(passage)
            if at is None or room not in self.drawn:
                continue
            line = None if _climbs(passage) else wall_line(at, passage.width_m, self.drawn[room])
            yield self._thing(
                "passage",
                passage.id,
                passage_name(self.home, passage),
                kind=passage.kind.value,
                at=_at(at),
                line=line and [_at(end) for end in line],
            )

    def _end(self, passage: Passage) -> tuple[str, Point | None]:
        if passage.first in self.drawn and passage.at is not None:
            return passage.first, passage.at
        return passage.second, passage.at_second if _climbs(passage) else passage.at

    def furniture(self) -> Iterator[dict[str, Any]]:
        """Each piece with an outline."""
        for piece in self.home.site.furniture:
            if piece.room in self.drawn and piece.outline:
                outline, size = [_at(corner) for corner in piece.outline], size_text(self.home, piece.outline)
                yield self._thing("furniture", piece.id, piece.name, outline=outline, size=size)

    def fixtures(self) -> Iterator[dict[str, Any]]:
        """Each fixture that has its place."""
        for fixture in self.home.site.fixtures:
            if fixture.room in self.drawn and fixture.at is not None:
                yield self._thing("fixture", fixture.id, fixture.name, at=_at(fixture.at), radius=fixture.radius_m)

    def devices(self, covered: bool) -> Iterator[dict[str, Any]]:
        """Each device that has its place, a motion detector with what it sees when that is asked for."""
        seen = {each.device: each for each in coverages(self.home)} if covered else {}
        for device in self.home.whole_devices:
            if device.room in self.drawn and device.at is not None:
                areas = seen.get(device.id)
                yield self._thing(
                    "device",
                    device.id,
                    device.name,
                    at=_at(device.at),
                    facing=device.facing_deg,
                    kind=device.kind.text,
                    **areas_in_mm(areas),
                )


def areas_in_mm(areas: Coverage | None) -> dict[str, list[list[list[float]]]]:
    """What a detector sees as outlines to the millimetre; empty where that isn't known."""
    names = ("possible", "sure", "straight")
    return {name: [] if areas is None else _in_mm(getattr(areas, name)) for name in names}


def _in_mm(outlines: tuple[Outline, ...]) -> list[list[list[float]]]:
    return [[_at(corner) for corner in outline] for outline in outlines]
