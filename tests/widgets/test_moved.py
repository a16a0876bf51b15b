"""The page is sent what differs and no more: counted in fields and bytes over the line, never in time."""

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import traitlets

from alarmlib import pages
from alarmlib.pages.opened import open_home
from alarmlib.store import Edit, Session
from alarmlib.widgets.engine import Engine
from alarmlib.widgets.moved import LONG, Moving, differing

WORKBOOK = Path(__file__).parents[2] / "workbook"
PAGE = json.loads((WORKBOOK / "02_detectors.ipynb").read_text(encoding="utf-8"))
FORMS = [
    line.split('"')[1]
    for cell in PAGE["cells"]
    for line in cell["source"]
    if cell["cell_type"] == "code" and line.startswith("pages.form(")
]


class Line:
    """The line between one widget and its page: it notes what is sent along it."""

    kernel = object()
    comm_id = "line"

    def __init__(self, widget: Moving) -> None:
        self.sent: list[dict[str, Any]] = []
        widget.comm = self

    def send(self, data: dict[str, Any], **_more: Any) -> None:
        """Note it as the page would get it."""
        self.sent.append(json.loads(json.dumps(data)))

    def on_msg(self, *_call: Any) -> None:
        """Nothing comes from this page."""

    def close(self, *_more: Any, **_words: Any) -> None:
        """Nothing is left open."""

    @property
    def moved(self) -> list[dict[str, Any]]:
        """What each message says has moved, part by part."""
        states = [message["state"] for message in self.sent if message["method"] == "update"]
        return [state["moved"]["keys"] for state in states if "moved" in state]


@pytest.fixture
def session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """This page's session of a copy of the demo home."""
    shutil.copyfile(WORKBOOK / "demo_home.json", tmp_path / "home.json")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ALARM_HOME", raising=False)
    return open_home()


@pytest.fixture
def lines(session: Session) -> Iterator[dict[str, Line]]:
    """All forms of page 02, open as their page opens them; each with its line."""
    made = {name: pages.form(name) for name in FORMS}
    forms = {name: getattr(each, "form", each) for name, each in made.items()}
    assert all(isinstance(form, Engine) for form in forms.values())
    yield {name: Line(form) for name, form in forms.items()}
    for form in forms.values():
        form.unsubscribe()
        form.comm = None


def test_an_edit_sends_the_changed_field_of_each_form_that_shows_it(session: Session, lines: dict[str, Line]) -> None:
    """A device's height; a name that several show, before 104 thousand bytes in one edit."""
    device = session.home.devices[20]
    session.apply([Edit(("devices", device.id, "height_m"), device.height_m, 1.77)])
    assert {name: line.moved for name, line in lines.items() if line.sent} == {
        "devices": [{"values": {"keys": {f"{device.id}/height_m": {"all": "1.77"}}, "gone": []}}]
    }
    session.apply([Edit(("devices", device.id, "name"), device.name, "Renamed")])
    moved = {name: line.moved[-1] for name, line in lines.items() if name in {"devices", "detection"}}
    field = {"values": {"keys": {f"{device.id}/name": {"all": "Renamed"}}, "gone": []}}
    named = {"folding": {"keys": {"names": {"keys": {device.id: {"all": "Renamed"}}, "gone": []}}, "gone": []}}
    assert moved == {"devices": field, "detection": named}
    scene = lines["device_plan"].moved[-1]["scene"]["keys"]
    assert {name: list(part["things"]) for name, part in scene.items() if "things" in part} == {"devices": [device.id]}
    assert sum(len(json.dumps(message)) for line in lines.values() for message in line.sent) < 10_000


def test_an_edit_that_no_form_shows_sends_nothing(session: Session, lines: dict[str, Line]) -> None:
    """A note on the home is on another page."""
    session.apply([Edit(("note",), session.home.note, "Looked at in autumn.")])
    assert [line.sent for line in lines.values() if line.sent] == []


class Two(Moving):
    """Two parts, and one that is sent as every widget sends."""

    parts = ("one", "two")
    one = traitlets.Dict().tag(sync=True)
    two = traitlets.Unicode().tag(sync=True)
    other = traitlets.Unicode().tag(sync=True)


def test_what_is_held_twice_within_one_message_is_told_once_and_whole() -> None:
    """A plan chooses and shows within one message: what was held first is in it too, before all else that it says."""
    widget = Two()
    line = Line(widget)
    with widget.hold_sync():
        widget.other = "chosen"
        widget.hold(one={"a": "1"})
        widget.hold(two="text")
    (message,) = line.sent
    assert next(iter(message["state"])) == "moved"
    assert message["state"]["moved"] == {
        "turn": 1,
        "keys": {"one": {"all": {"a": "1"}}, "two": {"all": "text"}},
        "gone": [],
    }


def test_a_page_that_missed_a_message_gets_the_whole_with_its_number() -> None:
    """So does a page that is opened again: it is told all that holds, and not what moved last once more."""
    widget = Two()
    line = Line(widget)
    widget.hold(one={"a": "1"}, two="x")
    widget.hold(one={"a": "2"}, two="x")
    widget.send_whole()
    assert line.sent[-1]["state"] == {"one": {"a": "2"}, "two": "x", "turn": 2}
    assert widget.get_state()["moved"] == {"turn": 2}
    assert widget.get_state()["turn"] == 2


@pytest.mark.parametrize(
    ("before", "after", "found"),
    [
        ({"a": 1, "b": 2}, {"a": 1, "c": 3}, {"keys": {"c": {"all": 3}}, "gone": ["b"]}),
        ("x" * LONG + "old" + "y", "x" * LONG + "new" + "y", {"at": LONG, "to": LONG + 3, "text": "new"}),
        ("ab" * LONG, "ab" * (LONG + 1), {"at": 2 * LONG, "to": 2 * LONG, "text": "ab"}),
        ("😀" * LONG, "😀" * (LONG + 1), {"all": "😀" * (LONG + 1)}),  # two units each in a browser's text
        (
            [{"id": "a", "n": 1}, {"id": "b", "n": 1}],
            [{"id": "b", "n": 2}, {"id": "a", "n": 1}],
            {"things": {"b": {"keys": {"n": {"all": 2}}, "gone": []}}, "order": ["b", "a"]},
        ),
        ([{"id": "a"}, {"id": "a"}], [{"id": "a"}], {"all": [{"id": "a"}]}),
    ],
)
def test_what_differs(before: Any, after: Any, found: dict[str, Any]) -> None:
    """By keys, by things with ids, by the stretch of a text; all of it where that says too little."""
    assert differing(before, after) == found
