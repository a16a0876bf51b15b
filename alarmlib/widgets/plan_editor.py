"""The Python end of the plan editor: what is drawn, moved or turned comes in as questions and becomes edits.

The browser draws and points; where a point snaps to, which wall and which room it means, and what is allowed is
decided here. The typed dimensions of the chosen object are plain fields of the form, as everywhere else.
"""

import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, cast

import traitlets

from alarmlib.errors import AlarmProblem
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.model.base import Point
from alarmlib.model.devices import DeviceEntry
from alarmlib.model.furnishing import Fixture, Furniture
from alarmlib.model.site import Opening, Passage, Room
from alarmlib.rules import say_of
from alarmlib.store import Edit, Session
from alarmlib.widgets.engine import HERE, Engine, Extras
from alarmlib.widgets.form import field_layout
from alarmlib.widgets.modules import joined, styled
from alarmlib.widgets.plan_measures import measured
from alarmlib.widgets.plan_moves import (
    LISTS,
    PlanChange,
    list_path,
    moved_edits,
    removed_edits,
    reshaped,
    reshaped_edits,
)
from alarmlib.widgets.plan_scene import areas_in_mm, said_scene, scene
from alarmlib.widgets.plan_tools import TOOLS, DrawnThing, Tool, drawn_edits, measure
from alarmlib.widgets.spec import FieldPath, FieldSpec, fields_of
from alarmlib.widgets.values import read_text, value_at

_FIELDS: dict[str, tuple[type[Any], str]] = {
    "room": (Room, "name outline ceiling_m"),
    "opening": (Opening, "name at width_m"),
    "passage": (Passage, "at at_second width_m"),
    "furniture": (Furniture, "name outline height_m"),
    "fixture": (Fixture, "name at radius_m"),
    "device": (DeviceEntry, "name at height_m facing_deg range_m angle_deg straight_range_m looks_down_deg"),
}
INTRO = (
    "Choose a tool, then point on the plan, or type the numbers below it. Choose what you want to move, "
    "turn or measure. "
    "All of it is in the tables too."
)
SCRIPT_WORDS = {
    "one_storey": "Storey",
    "whole_storey": "Whole storey",
}  # what the script says and countries say otherwise


class PlanEditor(Engine):
    """The plan of the home on the page; with `coverage` it shows what each motion detector sees."""

    _esm = joined(HERE / "plan.js")
    _css = styled("form.css", "plan.css")
    parts = (*Engine.parts, "scene")
    scene = traitlets.Dict().tag(sync=True)
    chosen = traitlets.Unicode().tag(sync=True)

    def __init__(
        self,
        session: Session,
        title: str = "Plan of the home",
        coverage: bool = False,
        extras: Extras | None = None,
        raising: bool | None = None,
    ) -> None:
        self.coverage = coverage
        self.storey = _ground(session.home)
        self.foot: tuple[str, Point] | None = None
        self._facts, self._one_at_a_time = Facts(session.home), threading.Lock()
        super().__init__(session, title, extras, raising)

    def _layout(self) -> dict[str, Any]:
        panels = {what: [field_layout(name, field) for name, field in self._panel(what)] for what in _FIELDS}
        tools = [tool.told() for tool in TOOLS if self.coverage or not tool.devices]
        return {"intro": INTRO, "tools": tools, "panels": panels, "coverage": self.coverage, "words": SCRIPT_WORDS}

    def _panel(self, what: str, name: str = "") -> list[tuple[str, FieldSpec]]:
        model, names = _FIELDS[what]
        fields = fields_of(model, names.split(), (*list_path(what), name), self.session.home.units.value)
        return [(field.path[-1], field) for field in fields]

    # The fields of the chosen object are those of the form.

    def _entries(self) -> Iterator[tuple[str, FieldSpec, FieldPath]]:
        what, _, name = self.chosen.partition(":")
        if name:
            for key, field in self._panel(what, name):
                yield f"{self.chosen}/{key}", field, field.path

    def _entry(self, key: str) -> tuple[FieldSpec, FieldPath]:
        thing, _, field_name = key.rpartition("/")
        what, _, name = thing.partition(":")
        found = dict(self._panel(what, name))[field_name]
        return found, found.path

    def _columns(self) -> Iterator[tuple[str, FieldSpec]]:
        return iter(())

    def _show(self) -> None:
        home = self.session.home
        if self.storey not in {storey.id for storey in home.site.storeys}:
            self.storey = _ground(home)
        if self.chosen and not self._there(home):
            self.chosen = ""
        super()._show()

    def _drawn(self, home: Home) -> dict[str, Any]:
        with self._one_at_a_time:
            self._facts.move(home)
            drawn = scene(cast("Home", self._facts), self.storey, self.coverage)
        return {"scene": said_scene(drawn, say_of(home))}

    def _there(self, home: Home) -> bool:
        what, _, name = self.chosen.partition(":")
        return any(each.id == name for each in LISTS[what](home))

    # What comes from the browser.

    def _asked(self, question: Mapping[str, Any]) -> dict[str, Any]:
        answers: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
            "view": self._view,
            "choose": self._choose,
            "draw": self._draw,
            "typed": self._typed,
            "move": self._move,
            "corner": self._corner,
            "turn": self._turn,
            "look": self._look,
            "measure": self._measure,
            "remove": self._remove,
            "unplace": self._unplace,
            "redo": self._redo,
        }
        kind = question.get("kind")
        return answers[kind](question) if kind in answers else super()._asked(question)

    def _view(self, question: Mapping[str, Any]) -> dict[str, Any]:
        names = {storey.id: storey.name for storey in self.session.home.site.storeys}
        if question["storey"] not in names:
            raise AlarmProblem("There is no such storey any more.")
        self.storey, self.chosen = question["storey"], ""
        self._show()
        return {"say": f"{names[self.storey]} is shown."}

    def _choose(self, question: Mapping[str, Any]) -> dict[str, Any]:
        with self.hold_sync():
            self.chosen = question["thing"]
            self._show()
        return {}

    def _draw(self, question: Mapping[str, Any]) -> dict[str, Any]:
        return self._make(question, _points(question), bool(question.get("exact")))

    def _typed(self, question: Mapping[str, Any]) -> dict[str, Any]:
        """Corners or a place as text: what is typed is meant exactly."""
        tool = _tool(question["tool"])
        label = "Place" if tool.by == "point" else "Corners"
        model, name = (DeviceEntry, "at") if tool.by == "point" else (Room, "outline")
        (field,) = fields_of(model, [name], (), self.session.home.units.value)
        read = read_text(field, question["text"], ())
        if not read:
            raise AlarmProblem(f"{label}: this needs an answer, such as {_EXAMPLES[tool.by]}.")
        return self._make(question, (read,) if tool.by == "point" else tuple(read), exact=True)

    def _make(self, question: Mapping[str, Any], points: tuple[Point, ...], exact: bool) -> dict[str, Any]:
        asked = self._drawing(question, points, exact)
        change = drawn_edits(self.session.home, asked)
        if asked.tool.key == "stairs":
            self.foot = change.foot
        return self._apply(change)

    def _drawing(self, question: Mapping[str, Any], points: tuple[Point, ...], exact: bool) -> DrawnThing:
        tool = _tool(question["tool"])
        return DrawnThing(
            tool,
            points,
            of=question.get("of", ""),
            id=question.get("id", ""),
            storey=self.storey,
            exact=exact,
            foot=self.foot,
        )

    def _measure(self, question: Mapping[str, Any]) -> dict[str, Any]:
        """What is being drawn, or an outline being reshaped, as it would measure if the hand let go now: not saved."""
        home = self.session.home
        if "tool" in question:
            return dict(measure(home, self._drawing(question, _points(question), exact=False)))
        what, _, name = question["thing"].partition(":")
        (to,) = _points({"points": [question["to"]]})
        return dict(measured(home, reshaped(home, what, name, int(question["n"]), to, exact=False), closed=True))

    def _move(self, question: Mapping[str, Any]) -> dict[str, Any]:
        by = float(question["by"][0]), float(question["by"][1])
        what, _, name = question["thing"].partition(":")
        home, exact = self.session.home, bool(question.get("exact"))
        return self._apply(moved_edits(home, what, name, by, self.storey, exact))

    def _corner(self, question: Mapping[str, Any]) -> dict[str, Any]:
        what, _, name = question["thing"].partition(":")
        to = question.get("to")
        place = None if to is None else (float(to[0]), float(to[1]))
        return self._apply(
            reshaped_edits(self.session.home, what, name, int(question["n"]), place, bool(question.get("exact")))
        )

    def _turn(self, question: Mapping[str, Any]) -> dict[str, Any]:
        what, _, name = question["thing"].partition(":")
        if what != "device":
            raise AlarmProblem("Only a device has a direction.")
        path = ("devices", name, "facing_deg")
        degrees = round(float(question["deg"]) % 360, 1)
        return self._apply(PlanChange([Edit(path, value_at(self.session.home, path), degrees)], f"Faces {degrees:g}°."))

    def _look(self, question: Mapping[str, Any]) -> dict[str, Any]:
        """What a device would see from another place: computed, not saved."""
        from alarmlib.calc.coverage.areas import coverage_tried

        what, _, name = question["thing"].partition(":")
        home = self.session.home
        device = next((each for each in home.whole_devices if what == "device" and each.id == name), None)
        if device is None:
            return {"areas": areas_in_mm(None)}
        moved = device.model_copy(
            update={"at": tuple(question["at"]), "facing_deg": question.get("facing", device.facing_deg)}
        )
        return {"areas": areas_in_mm(coverage_tried(home, moved))}

    def _remove(self, question: Mapping[str, Any]) -> dict[str, Any]:
        what, _, name = question["thing"].partition(":")
        return self._apply(removed_edits(self.session.home, what, name))

    def _unplace(self, question: Mapping[str, Any]) -> dict[str, Any]:
        what, _, name = question["thing"].partition(":")
        field, blank = ("outline", ()) if what in ("room", "furniture") else ("at", None)
        path = (*list_path(what), name, field)
        edit = Edit(path, value_at(self.session.home, path), blank)
        return self._apply(PlanChange([edit], "It is off the plan, and still in the tables."))

    def _redo(self, _question: Mapping[str, Any]) -> dict[str, Any]:
        self.session.redo()
        self._follow()
        return {"say": "What you undid is back."}

    def _apply(self, change: PlanChange) -> dict[str, Any]:
        """Save the change and choose what it is about; the session tells this form too, which shows it."""
        chosen = self.chosen
        try:
            with self.hold_sync():  # the page hears of an object and that it is chosen at once
                if change.select is not None:
                    self.chosen = change.select
                if change.edits:
                    self.session.apply(change.edits)
                else:
                    self._show()
        except AlarmProblem:
            self.chosen = chosen
            raise
        return {"say": change.say, "select": self.chosen}


_EXAMPLES = {"box": "4.2 x 3.1 at 0, 0", "corners": "0, 0; 4, 0; 4, 3; 0, 3", "point": "1.5, 3"}


def _points(question: Mapping[str, Any]) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in question["points"])


def _tool(key: str) -> Tool:
    found = next((tool for tool in TOOLS if tool.key == key), None)
    if found is None:
        raise AlarmProblem("There is no such tool.")
    return found


def _ground(home: Home) -> str:
    """The storey shown first: the one nearest to the ground."""
    storeys: Sequence[Any] = sorted(home.site.storeys, key=lambda storey: (abs(storey.level), -storey.level))
    return storeys[0].id if storeys else ""
