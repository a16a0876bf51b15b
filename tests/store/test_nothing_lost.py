"""What crashes, wrong clocks, odd names and impatient writers leave: every state of a home can still be reached."""

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock, Timeout

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store import Edit, Session, bring_back, load, text_of
from alarmlib.store import home_file as home_file_module
from alarmlib.store import session as session_module
from alarmlib.store.home_file import locked, replace
from alarmlib.store.kept_saves import Save, kept

START = datetime(2026, 3, 1, tzinfo=UTC)


def named(session: Session, *names: str) -> None:
    for name in names:
        session.apply([Edit(("name",), session.home.name, name)])


# --- a crash between keeping the new state and replacing the file ---


class Crashed(BaseException):
    """Ends a save as a power cut does: nothing after it runs."""


@pytest.fixture
def crash(session: Session, monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[], object]], Session]:
    """Does something whose save is kept, but never reaches the file; returns the session of the next start."""

    def crashing(act: Callable[[], object]) -> Session:
        def power_cut(_path: Path, _content: bytes) -> None:
            raise Crashed

        with monkeypatch.context() as patch:
            patch.setattr(session_module, "replace", power_cut)
            with pytest.raises(Crashed):
                act()
        return Session.open(session.path, session.kept.clock)

    return crashing


def test_undo_after_a_crash_goes_back_from_what_the_file_holds(session: Session, crash: Any) -> None:
    """It had found its own state as the one before, and done nothing, without a word. Redo finds the lost change."""
    named(session, "One", "Two")
    after = crash(lambda: named(session, "Never arrived"))
    assert after.home.name == "Two"
    assert after.undo().name == "One"
    assert after.undo().name == "My home"
    assert [after.redo().name for _ in range(3)] == ["One", "Two", "Never arrived"]


def test_redo_right_after_a_crash_brings_the_lost_change(session: Session, crash: Any) -> None:
    named(session, "One")
    assert crash(lambda: named(session, "Never arrived")).redo().name == "Never arrived"


def test_an_undo_that_crashed_can_be_done_again(session: Session, crash: Any) -> None:
    named(session, "One", "Two")
    after = crash(session.undo)
    assert after.home.name == "Two"
    assert [after.undo().name, after.undo().name] == ["One", "My home"]
    assert [after.redo().name, after.redo().name] == ["One", "Two"]


def test_a_change_after_a_crash_is_undone_to_what_the_file_held(session: Session, crash: Any) -> None:
    named(session, "One")
    after = crash(lambda: named(session, "Never arrived"))
    named(after, "Two")
    assert [after.undo().name, after.undo().name] == ["One", "My home"]


def test_undo_goes_back_from_a_file_that_was_written_by_hand(session: Session) -> None:
    """At once, without a change in between: it had skipped the last state that the workbook saved."""
    named(session, "One")
    replace(session.path, text_of(session.home.model_copy(update={"name": "By hand"})))
    assert session.undo().name == "One"
    assert session.redo().name == "By hand"


def test_a_record_after_a_crash_is_kept_as_what_the_file_holds(session: Session, crash: Any) -> None:
    """Undo and redo around it still distinguish the two states."""
    named(session, "One")
    after = crash(lambda: named(session, "Never arrived"))
    record = after.keep_for_record()
    assert b'"name": "One"' in after.kept.content(record)
    assert after.undo().name == "My home"
    assert after.redo().name == "One"


# --- broken files ---


def test_every_broken_file_is_kept(session: Session) -> None:
    """A second one had taken the place of the first."""
    named(session, "One")
    folder = session.path.parent
    for number in range(3):
        session.path.write_bytes(b"{%d" % number)
        bring_back(session.path)
    assert {path.name: path.read_bytes() for path in folder.glob("home.json.broken*")} == {
        "home.json.broken": b"{0",
        "home.json.broken-2": b"{1",
        "home.json.broken-3": b"{2",
    }


def test_a_broken_file_that_is_too_large_to_be_read_is_kept_too(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It could not be put aside, so that nothing was brought back."""
    named(session, "One")
    monkeypatch.setattr(home_file_module, "LARGEST_BYTES", 50_000)
    session.path.write_bytes(b"x" * 60_000)
    assert bring_back(session.path).home.name == "One"
    assert session.path.with_name("home.json.broken").stat().st_size == 60_000


# --- clocks ---


def test_a_clock_far_ahead_thins_no_history(session: Session, clock: Any) -> None:
    """33 states of a fortnight; one save by a clock in 2071 had left 20. It takes one away at most, as any save may."""
    for hour in range(32):
        clock.turn(hours=10)
        named(session, f"{hour}")
    before = set(session.saves())
    clock.turn(days=45 * 365)
    named(session, "By a clock far ahead")
    assert len(before) >= 25
    assert len(before - set(session.saves())) <= 1


def test_saves_dated_ahead_are_thinned_as_all_others_are() -> None:
    """2,000 hours of the year 2071, then as many of 2026: those of 2071 had all been kept for ever."""
    ahead, hours = START.replace(year=2071), range(2000)
    saves = [Save(n, n, ahead + timedelta(hours=n)) for n in hours]
    saves += [Save(2000 + n, 2000 + n, START + timedelta(hours=n)) for n in hours]
    assert not {save for save in kept(saves) if save.at.year == 2071}


# --- drafts ---

HALF_A_SAVE = """
import os, sys
from alarmlib.store import Edit, Session, home_file
session = Session.open(sys.argv[1])
home_file._rename = lambda draft, path: os._exit(9)
session.apply([Edit(("name",), session.home.name, "Never arrived")])
"""


def test_drafts_of_killed_saves_are_swept(session: Session) -> None:
    """Five processes killed while they wrote a save; each one that saves takes away the drafts before it."""
    surround = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2])}
    for _ in range(5):
        ended = subprocess.run([sys.executable, "-c", HALF_A_SAVE, str(session.path)], env=surround, check=False)
        assert ended.returncode == 9
    assert list(session.path.parent.rglob("*.tmp"))
    named(session, "One")
    assert not list(session.path.parent.rglob("*.tmp"))


def test_only_drafts_are_swept(session: Session) -> None:
    """A file of the owner's that looks nearly like one stays."""
    others = [session.kept.folder / name for name in ("notes.tmp", ".home.json.tmp", ".x.0123abcg.tmp")]
    for other in others:
        other.write_bytes(b"mine")
    named(session, "One")
    assert all(other.exists() for other in others)


# --- names ---


def test_a_name_with_brackets_sweeps_its_own_drafts_alone(tmp_path: Path) -> None:
    """home[1].json had swept the drafts of home1.json, and none of its own."""
    session = Session.new(tmp_path / "home[1].json", Home())
    own, other = tmp_path / ".home[1].json.0123abcd.tmp", tmp_path / ".home1.json.0123abcd.tmp"
    own.write_bytes(b"half")
    other.write_bytes(b"half")
    named(session, "One")
    assert (own.exists(), other.exists()) == (False, True)


def test_homes_of_one_stem_have_a_folder_each(tmp_path: Path) -> None:
    """Four homes whose names differ after the dot alone, or by small and large letters where the disk tells them."""
    sessions = [Session.new(tmp_path / name, Home(name=name)) for name in ("my.json", "my.txt", "my", "my.jsonl")]
    if not (tmp_path / "MY.JSON").exists():
        sessions.append(Session.new(tmp_path / "my.JSON", Home(name="my.JSON")))
    for session in sessions:
        named(session, "Changed")
    assert [len(session.saves()) for session in sessions] == [2] * len(sessions)
    assert [session.undo().name for session in sessions] == [session.path.name for session in sessions]


def test_saves_of_an_earlier_version_stay_with_a_home_of_another_ending(tmp_path: Path) -> None:
    """my.txt had its saves where my.json has them; they go with it at its next save."""
    session = Session.new(tmp_path / "my.txt", Home(name="First"))
    named(session, "Second")
    earlier = tmp_path / ".workbook" / "saves" / "my"
    earlier.parent.mkdir()
    session.kept.folder.rename(earlier)
    again = Session.open(session.path)
    assert len(again.saves()) == 2
    assert again.undo().name == "First"
    assert not earlier.exists()
    Session.new(tmp_path / "my.json", Home(name="Other"))
    assert [save.number for save in Session.open(session.path).saves()] == [1, 2, 3]


@pytest.mark.parametrize(
    "name",
    [
        "000009-000009-20260230T000000Z.json",
        "000009-000009-20261332T256199Z.json",
        "000009-000009-00010101T000000Z.json",
        "000009-000009-99991231T235959Z.json",
        "0000000009-000009-20260301T120000Z.json",
        "٠٠٠٠٠٩-000009-20260301T120000Z.json",
    ],
)
def test_a_save_with_an_impossible_name_stops_no_edit(session: Session, name: str) -> None:
    """It is left where it is; undo and the list of saves pass over it."""
    odd = session.kept.folder / name
    odd.write_bytes(text_of(session.home))
    named(session, "One")
    assert [save.day.year for save in session.saves()] == [2026, 2026]
    assert session.undo().name == "My home"
    assert odd.exists()


def test_a_folder_or_a_link_to_nowhere_named_as_a_save_stops_no_edit(session: Session) -> None:
    (session.kept.folder / "000008-000008-20260301T120000Z.json").mkdir()
    (session.kept.folder / "000009-000009-20260301T120000Z.json").symlink_to("nowhere")
    named(session, "One")
    assert session.undo().name == "My home"


# --- those who wait ---


@pytest.fixture
def held(session: Session) -> Iterator[Callable[[float], None]]:
    """Holds the home file's lock elsewhere for so many seconds."""
    threads: list[threading.Thread] = []

    def holds(seconds: float) -> None:
        begun = threading.Event()

        def hold() -> None:
            with locked(session.path):
                begun.set()
                time.sleep(seconds)

        threads.append(threading.Thread(target=hold))
        threads[0].start()
        begun.wait()

    yield holds
    for thread in threads:
        thread.join()


def test_a_writer_queues_for_more_than_two_seconds(
    session: Session, held: Any, caplog: pytest.LogCaptureFixture
) -> None:
    """It says meanwhile who waits and for whom, and its change arrives."""
    held(2.5)
    named(session, "One")
    assert load(session.path).name == "One"
    me = f"a program (process {os.getpid()})"
    assert f"{me} wants to save home.json. It is held by {me}." in caplog.text


def test_a_writer_that_waited_in_vain_says_who_holds_the_file(
    session: Session, held: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(home_file_module, "PATIENCE_S", 0.05)
    monkeypatch.setattr(home_file_module, "QUEUE_S", 0.2)
    held(1.0)
    with pytest.raises(AlarmProblem, match=rf"nothing was changed.*held by .*process {os.getpid()}"):
        named(session, "One")
    assert session.home.name == "My home"


def queued(path: Path) -> None:
    """Returns when somebody waits for the turn after whoever holds the file."""
    turn = FileLock(path.parent / ".workbook" / f"{path.name}.next.lock")
    for _ in range(1000):
        try:
            turn.acquire(timeout=0)
        except Timeout:
            return
        turn.release()
        time.sleep(0.01)
    raise AssertionError("nobody queues")


def test_who_comes_back_in_a_hurry_waits_behind_who_waits_already(session: Session) -> None:
    """One that saves without a pause had the file again before the other had looked."""
    order = []

    def other() -> None:
        with locked(session.path):
            order.append("other")

    for _ in range(5):
        waits = threading.Thread(target=other)
        with locked(session.path):
            waits.start()
            queued(session.path)
        with locked(session.path):
            order.append("again")
        waits.join()
    assert order == ["other", "again"] * 5
