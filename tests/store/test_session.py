"""Edits go in field by field, whoever else writes; every change is saved, heard of and can be undone."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from alarmlib.errors import AlarmProblem, FieldProblem
from alarmlib.model import Home
from alarmlib.store import Edit, FieldClash, Session, load, session_for, text_of
from alarmlib.store.edits import with_edits
from alarmlib.store.kept_saves import NEWEST, Save, kept, line
from alarmlib.store.upgrade import upgraded

HALL_NAME = ("site", "rooms", "hall", "name")
HALL_HEIGHT = ("site", "rooms", "hall", "ceiling_m")


def test_an_edit_is_on_disk_when_apply_returns(session: Session) -> None:
    home = session.apply([Edit(HALL_NAME, "Hall", "Lobby")])
    assert home.site.rooms[0].name == "Lobby"
    assert load(session.path) == home == session.home


def test_a_value_that_was_not_changed_is_never_rounded(session: Session) -> None:
    """2.5019 m (8 ft 2 1/2 in) is still that after every other field was edited."""
    session.apply([Edit(HALL_NAME, "Hall", "Lobby")])
    assert '"ceiling_m": 2.5019,' in session.path.read_text(encoding="utf-8")


def test_an_element_is_added_changed_and_removed(session: Session) -> None:
    attic = ("site", "rooms", "attic")
    session.apply([Edit(attic, None, {"name": "Attic", "storey": "ground"})])
    assert session.home.site.rooms[2].id == "attic"
    session.apply([Edit((*attic, "ceiling_m"), None, 2.0)])
    session.apply([Edit(attic, session.home.site.rooms[2], None)])
    assert [room.id for room in session.home.site.rooms] == ["hall", "kitchen"]


def test_parts_that_are_not_there_yet_are_made(session: Session) -> None:
    """A wireless fact of a device without wireless facts."""
    path = ("devices", "d_front", "wireless", "slot")
    assert session.apply([Edit(path, None, 7)]).devices[0].wireless.slot == 7  # type: ignore[union-attr]


def test_all_edits_of_one_call_go_in_or_none(session: Session) -> None:
    good, bad = Edit(HALL_NAME, "Hall", "Lobby"), Edit(HALL_HEIGHT, 2.5019, 99)
    before = session.path.read_bytes()
    with pytest.raises(FieldProblem, match=r"site\.rooms\.hall\.ceiling_m in home\.json: “99”.*1 m to 12 m"):
        session.apply([good, bad])
    assert session.path.read_bytes() == before
    assert session.home.site.rooms[0].name == "Hall"


def test_what_others_still_refer_to_cannot_be_removed(session: Session) -> None:
    """The sentence names who refers to it."""
    with pytest.raises(FieldProblem, match="opening front_door: there is no room “hall”"):
        session.apply([Edit(("site", "rooms", "hall"), session.home.site.rooms[0], None)])


@pytest.mark.parametrize("value", [float("nan"), float("inf"), "two", [], {"a": 1}])
def test_wrong_values_are_refused_and_nothing_changes(session: Session, value: Any) -> None:
    before = session.path.read_bytes()
    with pytest.raises(FieldProblem):
        session.apply([Edit(HALL_HEIGHT, 2.5019, value)])
    assert session.path.read_bytes() == before


@pytest.mark.parametrize("path", [(), ("nothing", "here"), ("name", "deeper"), ("site", "rooms", "hall", "name", "x")])
def test_a_path_that_leads_nowhere_is_refused(session: Session, path: tuple[str, ...]) -> None:
    with pytest.raises(AlarmProblem):
        session.apply([Edit(path, "a", "b")])


def test_nothing_is_saved_when_nothing_changes(session: Session) -> None:
    saves = session.saves()
    session.apply([Edit(HALL_NAME, "Hall", "Hall")])
    session.apply([])
    assert session.saves() == saves


# --- two kernels ---


def test_two_pages_in_two_kernels_never_ask(session: Session, again: Callable[[], Session]) -> None:
    """Edited in turn, each with what it last saw elsewhere: both changes stay, nobody is asked."""
    other = again()
    session.apply([Edit(HALL_NAME, "Hall", "Lobby")])
    other.apply([Edit(HALL_HEIGHT, 2.5019, 2.4)])
    session.apply([Edit(("household", "people", "first", "slow"), False, True)])
    other.apply([Edit(("control_unit", "zones", "z_hall", "label"), "HALL", "LOBBY")])
    home = session.refresh()
    assert (home.site.rooms[0].name, home.site.rooms[0].ceiling_m) == ("Lobby", 2.4)
    assert home.household.people[0].slow
    assert home == other.home == load(session.path)


def test_elements_added_and_removed_elsewhere_are_merged_by_id(session: Session, again: Callable[[], Session]) -> None:
    other = again()
    session.apply([Edit(("site", "rooms", "attic"), None, {"name": "Attic", "storey": "ground"})])
    other.apply([Edit(("site", "rooms", "cellar"), None, {"name": "Cellar", "storey": "ground"})])
    session.apply([Edit(("site", "openings", "kitchen_window"), session.home.site.openings[1], None)])
    home = other.refresh()
    assert [room.id for room in home.site.rooms] == ["hall", "kitchen", "attic", "cellar"]
    assert [opening.id for opening in home.site.openings] == ["front_door"]


def test_the_same_field_changed_in_both_is_asked_with_both_values(
    session: Session, again: Callable[[], Session]
) -> None:
    other = again()
    session.apply([Edit(HALL_NAME, "Hall", "Lobby")])
    before = session.path.read_bytes()
    with pytest.raises(FieldClash) as caught:
        other.apply([Edit(HALL_NAME, "Hall", "Entrance")])
    clash = caught.value
    assert (clash.path, clash.before, clash.theirs, clash.yours) == (HALL_NAME, "Hall", "Lobby", "Entrance")
    assert session.path.read_bytes() == before
    other.apply([Edit(HALL_NAME, "Lobby", "Entrance")])
    assert session.refresh().site.rooms[0].name == "Entrance"


def test_the_same_change_in_both_is_no_clash(session: Session, again: Callable[[], Session]) -> None:
    other = again()
    session.apply([Edit(HALL_NAME, "Hall", "Lobby")])
    assert other.apply([Edit(HALL_NAME, "Hall", "Lobby")]).site.rooms[0].name == "Lobby"


def test_an_element_changed_elsewhere_is_not_removed_unasked(session: Session, again: Callable[[], Session]) -> None:
    """Nor is one that was removed elsewhere changed; and one id cannot be added twice."""
    other = again()
    window = ("site", "openings", "kitchen_window")
    stale = other.home.site.openings[1]
    session.apply([Edit((*window, "escape_way"), False, True)])
    with pytest.raises(FieldClash):
        other.apply([Edit(window, stale, None)])
    session.apply([Edit(window, session.home.site.openings[1], None)])
    with pytest.raises(FieldClash):
        other.apply([Edit((*window, "note"), "", "sticks")])
    session.apply([Edit(("site", "rooms", "attic"), None, {"name": "Attic", "storey": "ground"})])
    with pytest.raises(FieldClash):
        other.apply([Edit(("site", "rooms", "attic"), None, {"name": "Loft", "storey": "ground"})])


def test_a_file_broken_elsewhere_is_left_alone(session: Session) -> None:
    session.path.write_bytes(b"{")
    with pytest.raises(AlarmProblem, match="not valid JSON"):
        session.apply([Edit(HALL_NAME, "Hall", "Lobby")])
    assert session.path.read_bytes() == b"{"
    assert session.home.site.rooms[0].name == "Hall"


def test_a_file_written_by_hand_is_read_and_kept(session: Session) -> None:
    """What somebody typed into the file itself is merged, and undo comes back to it."""
    document = json.loads(session.path.read_bytes()) | {"name": "By hand"}
    session.path.write_text(json.dumps(document), encoding="utf-8")
    session.apply([Edit(HALL_NAME, "Hall", "Lobby")])
    assert session.home.name == "By hand"
    assert session.undo().site.rooms[0].name == "Hall"
    assert session.home.name == "By hand"
    assert session.undo().name == "My home"


# --- who hears of it ---


def test_every_form_hears_of_every_change_until_it_asks_no_more(session: Session, again: Callable[[], Session]) -> None:
    heard: list[str] = []
    end = session.subscribe(lambda home: heard.append(home.name))
    session.apply([Edit(("name",), "My home", "One")])
    again().apply([Edit(("name",), "One", "Two")])
    session.refresh()
    session.refresh()
    end()
    end()
    session.apply([Edit(("name",), "Two", "Three")])
    assert heard == ["One", "Two"]


def test_one_forms_error_hides_a_saved_change_from_nobody(session: Session, caplog: pytest.LogCaptureFixture) -> None:
    heard: list[str] = []
    session.subscribe(lambda _: 1 / 0)
    session.subscribe(lambda home: heard.append(home.name))
    assert session.apply([Edit(("name",), "My home", "One")]).name == "One"
    assert heard == ["One"]
    assert "ZeroDivisionError" in caplog.text


def test_a_kernel_has_one_session_a_file(tmp_path: Path, home: Home) -> None:
    Session.new(tmp_path / "home.json", home)
    assert session_for(tmp_path / "home.json") is session_for(str(tmp_path / "." / "home.json"))


def test_a_new_home_never_takes_the_place_of_another(session: Session, home: Home) -> None:
    before = session.path.read_bytes()
    with pytest.raises(AlarmProblem, match="already"):
        Session.new(session.path, home)
    assert session.path.read_bytes() == before


# --- undo and the kept saves ---


def named(session: Session, *names: str) -> None:
    for name in names:
        session.apply([Edit(("name",), session.home.name, name)])


def test_undo_goes_back_and_redo_comes_forward(session: Session) -> None:
    named(session, "One", "Two", "Three")
    assert [session.undo().name for _ in range(3)] == ["Two", "One", "My home"]
    with pytest.raises(AlarmProblem, match="no earlier change"):
        session.undo()
    assert [session.redo().name for _ in range(3)] == ["One", "Two", "Three"]
    with pytest.raises(AlarmProblem, match="no undone change"):
        session.redo()
    assert load(session.path).name == "Three"


def test_a_change_after_an_undo_loses_nothing(session: Session) -> None:
    """Undo then goes back past it along what led to it; the undone state is still in the list of saves."""
    named(session, "One", "Two")
    session.undo()
    named(session, "Other")
    assert [session.undo().name, session.undo().name] == ["One", "My home"]
    assert [session.redo().name, session.redo().name] == ["One", "Other"]
    two = next(save for save in session.saves() if b'"name": "Two"' in session.kept.content(save))
    assert session.restore(two.id).name == "Two"
    assert session.undo().name == "Other"


def test_reset_and_upload_can_be_undone(session: Session, home: Home) -> None:
    named(session, "Cottage")
    session.replace(Home())
    assert session.home == Home()
    assert session.undo().name == "Cottage"


def test_saves_are_listed_with_time_and_size(session: Session, clock: Any) -> None:
    clock.turn(minutes=5)
    named(session, "One")
    saves = session.saves()
    assert [save.at.minute for save in saves] == [0, 5]
    assert saves[-1].size_bytes == len(text_of(session.home))
    with pytest.raises(AlarmProblem, match="no kept save"):
        session.restore("../home.json")


def test_the_save_of_a_record_is_kept_for_good(session: Session, clock: Any) -> None:
    named(session, "One")
    record = session.keep_for_record()
    assert session.undo().name == "My home"
    session.redo()
    for day in range(60):
        clock.turn(hours=40)
        named(session, f"Day {day}")
    assert record.id in {save.id for save in session.saves()}
    assert session.restore(record.id).name == "One"


START = datetime(2026, 3, 1, tzinfo=UTC)
TIMES = st.lists(st.integers(0, 60 * 24 * 40), min_size=1, max_size=150).map(sorted)


@given(minutes=TIMES, records=st.sets(st.integers(0, 149)))
def test_thinning_keeps_what_the_rule_names(minutes: list[int], records: set[int]) -> None:
    """The newest 20, the last of each hour for a day and of each day for a month, every record; nothing more."""
    saves = [Save(n, n, START + timedelta(minutes=m), n in records) for n, m in enumerate(minutes)]
    now = saves[-1].at
    keep = kept(saves)
    assert keep >= set(saves[-NEWEST:]) | {save for save in saves if save.for_record}
    for span, since in (("%Y%m%d%H", timedelta(days=1)), ("%Y%m%d", timedelta(days=31))):
        spans = {format(save.at, span) for save in saves if save.at >= now - since}
        assert {format(save.at, span) for save in keep} >= spans
    assert len(keep) <= NEWEST + 25 + 32 + len(records)
    assert kept(sorted(keep)) == keep


def test_a_year_of_edits_leaves_a_handful_of_saves(session: Session, clock: Any) -> None:
    for n in range(100):
        clock.turn(minutes=40 if n % 2 else 4000)
        named(session, f"{n}")
    assert len(session.saves()) <= NEWEST + 25 + 32


@given(steps=st.lists(st.sampled_from(["edit", "undo", "redo", "record"]), max_size=40))
def test_the_line_of_undo_is_that_of_every_editor(steps: list[str]) -> None:
    """Against the textbook pair of stacks: what undo and redo would show is the same after any steps."""
    saves, state_of = [Save(1, 1, START)], {1: 1}
    back: list[int] = []
    forth: list[int] = []
    present = 1
    for step in steps:
        states, place = line(saves)
        number = len(saves) + 1
        assert state_of[states[place].number] == present
        assert (place + 1 < len(states)) == bool(back)
        assert (place > 0) == bool(forth)
        if step == "edit":
            back, forth, present = [*back, present], [], number
            origin = number
        elif step == "record":
            origin = states[place].number
        elif step == "undo" and back:
            forth, present, back = [*forth, present], back[-1], back[:-1]
            origin = states[place + 1].number
        elif step == "redo" and forth:
            back, present, forth = [*back, present], forth[-1], forth[:-1]
            origin = states[place - 1].number
        else:
            continue
        saves.append(Save(number, origin, START, step == "record"))
        state_of[number] = present


# --- upgrade ---


def test_older_documents_are_brought_up_step_by_step() -> None:
    """The chain itself, with steps made up for the test: version 1 is the first real one, so there is none yet."""
    steps = {
        0: lambda d: {k: v for k, v in d.items() if k != "title"} | {"name": d["title"]},
        1: lambda d: d | {"names": [d["name"]]},
    }
    old = {"schema_version": 0, "title": "Cottage"}
    new = upgraded(old, "home.json", steps, current=2)
    assert new == {"schema_version": 2, "name": "Cottage", "names": ["Cottage"]}
    assert old == {"schema_version": 0, "title": "Cottage"}
    assert upgraded(new, "home.json", steps, current=2) is new


def test_a_version_that_no_step_leads_from_is_refused() -> None:
    with pytest.raises(AlarmProblem, match="cannot bring it up"):
        upgraded({"schema_version": 0}, "home.json")


def test_edits_leave_the_document_they_start_from_alone(document: dict[str, Any]) -> None:
    before = json.dumps(document)
    with_edits(document, [Edit(HALL_NAME, "Hall", "Lobby"), Edit(("devices", "d_hall", "wireless", "slot"), 3, 4)])
    assert json.dumps(document) == before


# --- any edits at all, against a plain dict ---

IDS = st.sampled_from(["a", "b", "c"])
NAMES = st.text(st.characters(exclude_categories=("C", "Z"), include_characters=" "), max_size=12)
HEIGHTS = st.none() | st.floats(1, 12)


class TwoKernels(RuleBasedStateMachine):
    """Two sessions of one file, in any order, agree with one dict from room id to (name, height)."""

    def __init__(self) -> None:
        super().__init__()
        import tempfile

        self.folder = tempfile.TemporaryDirectory()
        path = Path(self.folder.name) / "home.json"
        first = Session.new(
            path, Home.model_validate({"schema_version": 2, "site": {"storeys": [{"id": "g", "name": "G"}]}})
        )
        self.kernels = (first, Session.open(path))
        self.rooms: dict[str, tuple[str, float | None]] = {}
        self.history: list[dict[str, tuple[str, float | None]]] = [{}]

    def teardown(self) -> None:
        self.folder.cleanup()

    def noted(self) -> None:
        if self.rooms != self.history[-1]:
            self.history.append(dict(self.rooms))

    @rule(kernel=st.integers(0, 1), room=IDS, name=NAMES, height=HEIGHTS)
    def add(self, kernel: int, room: str, name: str, height: float | None) -> None:
        new = {"name": name, "storey": "g", "ceiling_m": height}
        edit = Edit(("site", "rooms", room), None, new)
        if room in self.rooms and self.rooms[room] != (name, height):
            with pytest.raises(FieldClash):
                self.kernels[kernel].apply([edit])
            return
        self.kernels[kernel].apply([edit])
        self.rooms[room] = (name, height)
        self.noted()

    @precondition(lambda self: self.rooms)
    @rule(kernel=st.integers(0, 1), data=st.data(), name=NAMES)
    def rename(self, kernel: int, data: st.DataObject, name: str) -> None:
        room = data.draw(st.sampled_from(sorted(self.rooms)))
        old, height = self.rooms[room]
        self.kernels[kernel].apply([Edit(("site", "rooms", room, "name"), old, name)])
        self.rooms[room] = (name, height)
        self.noted()

    @precondition(lambda self: self.rooms)
    @rule(kernel=st.integers(0, 1), data=st.data(), height=st.floats() | st.floats(1, 12))
    def measure(self, kernel: int, data: st.DataObject, height: float) -> None:
        room = data.draw(st.sampled_from(sorted(self.rooms)))
        name, old = self.rooms[room]
        edit = Edit(("site", "rooms", room, "ceiling_m"), old, height)
        if not 1 <= height <= 12:
            with pytest.raises(FieldProblem):
                self.kernels[kernel].apply([edit])
            return
        self.kernels[kernel].apply([edit])
        self.rooms[room] = (name, height)
        self.noted()

    @precondition(lambda self: self.rooms)
    @rule(kernel=st.integers(0, 1), data=st.data(), guess=NAMES, name=NAMES)
    def rename_from_stale(self, kernel: int, data: st.DataObject, guess: str, name: str) -> None:
        room = data.draw(st.sampled_from(sorted(self.rooms)))
        old, height = self.rooms[room]
        edit = Edit(("site", "rooms", room, "name"), guess, name)
        if old not in {guess, name}:
            with pytest.raises(FieldClash):
                self.kernels[kernel].apply([edit])
            return
        self.kernels[kernel].apply([edit])
        self.rooms[room] = (name, height)
        self.noted()

    @precondition(lambda self: self.rooms)
    @rule(kernel=st.integers(0, 1), data=st.data())
    def remove(self, kernel: int, data: st.DataObject) -> None:
        room = data.draw(st.sampled_from(sorted(self.rooms)))
        session = self.kernels[kernel]
        session.refresh()
        there = next(each for each in session.home.site.rooms if each.id == room)
        session.apply([Edit(("site", "rooms", room), there, None)])
        del self.rooms[room]
        self.noted()

    @rule(kernel=st.integers(0, 1))
    def undo(self, kernel: int) -> None:
        if len(self.history) == 1:
            with pytest.raises(AlarmProblem, match="no earlier change"):
                self.kernels[kernel].undo()
            return
        self.kernels[kernel].undo()
        self.history.pop()
        self.rooms = dict(self.history[-1])

    @invariant()
    def the_file_is_the_dict(self) -> None:
        home = load(self.kernels[0].path)
        assert {room.id: (room.name, room.ceiling_m) for room in home.site.rooms} == self.rooms
        for kernel in self.kernels:
            assert kernel.refresh() == home


TestTwoKernels = TwoKernels.TestCase
TestTwoKernels.settings = settings(max_examples=20, stateful_step_count=19, deadline=None)
