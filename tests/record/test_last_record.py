"""With what a record is compared: the last record of another day or state, by page and command alike."""

import shutil
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from alarmlib.__main__ import main
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.start_forms import copies
from alarmlib.record.plain import plain_blocks
from alarmlib.record.produce import record_of
from alarmlib.store import Edit, Session
from alarmlib.store.kept_saves import KeptSaves

DAY = datetime(2026, 3, 2, 12, tzinfo=UTC)


class Clock:
    """A clock that tests set."""

    def __init__(self) -> None:
        self.at = DAY

    def __call__(self) -> datetime:
        return self.at


@pytest.fixture
def clock() -> Clock:
    """Noon of a day in March."""
    return Clock()


@pytest.fixture
def session(home: Home, clock: Clock, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """The small home in a file that the pages look at."""
    path = tmp_path / "home.json"
    monkeypatch.setenv("ALARM_HOME", str(path))
    return Session.new(path, home, clock)


def renamed(session: Session, name: str) -> None:
    """One change of the home."""
    session.apply([Edit(("name",), session.home.name, name)])


def compared(session: Session, day: date) -> tuple[str, str]:
    """The day and the home's name that a record made now would be compared with."""
    since, before = session.kept.since(session.home, day)
    return since, before.name if before else ""


def test_the_first_record_has_nothing_before_it(session: Session) -> None:
    """Nothing is kept yet, so there is nothing to compare with."""
    assert compared(session, DAY.date()) == ("", "")


def test_a_record_made_twice_is_compared_with_the_same_one(session: Session, clock: Clock) -> None:
    """The second of one state and day adds no save and does not take the place of the one before."""
    session.keep_for_record()
    clock.at += timedelta(days=1)
    renamed(session, "Painted")
    for _ in range(2):
        assert compared(session, clock.at.date()) == ("2026-03-02", "Brook Cottage")
        session.keep_for_record()
    assert sum(save.for_record for save in session.saves()) == 2


def test_another_day_or_another_state_counts(session: Session, clock: Clock) -> None:
    """The same state on another day, and another state on the same day, are records of their own."""
    session.keep_for_record()
    assert compared(session, date(2026, 3, 9)) == ("2026-03-02", "Brook Cottage")
    renamed(session, "Painted")
    session.keep_for_record()
    assert compared(session, DAY.date()) == ("2026-03-02", "Brook Cottage")
    renamed(session, "Painted again")
    assert compared(session, DAY.date()) == ("2026-03-02", "Painted")


def test_a_record_that_cannot_be_read_is_passed_over(session: Session, clock: Clock) -> None:
    """A broken save hides none before it."""
    session.keep_for_record()
    clock.at += timedelta(days=1)
    renamed(session, "Painted")
    broken = session.keep_for_record()
    (session.kept.folder / broken.id).write_bytes(b"{")
    assert compared(session, date(2026, 3, 9)) == ("2026-03-02", "Brook Cottage")


def test_two_downloads_tell_the_same_changes(session: Session, clock: Clock) -> None:
    """The owner's and the helper's copy, downloaded one after the other and again, all tell what changed."""
    session.keep_for_record()
    clock.at = datetime.now(UTC)
    session.apply([Edit(("control_unit", "times", "siren_s"), 290, 170)])
    owner, helper = (download.handler for download in copies(session).extras.downloads[:2])
    first = [owner()[1], helper()[1]]
    assert [owner()[1], helper()[1]] == first
    for content in first:
        assert b"Compared with the record of 2026-03-02." in content
        assert "2 min 50 s" in content.decode().split("Changed since the last record</h2>")[1].split("<h2")[0]


def test_the_command_compares_as_the_page_does(session: Session, tmp_path: Path) -> None:
    """Without --previous the last record kept beside the home file is found; --previous still wins."""
    session.keep_for_record()
    shutil.copyfile(session.path, tmp_path / "other.json")
    session.apply([Edit(("control_unit", "times", "siren_s"), 290, 170)])
    asked = ["record", str(session.path), "--copy", "owner", "--date", "2026-03-09", "--out"]
    assert main([*asked, str(tmp_path / "kept.html")]) == 0
    assert main([*asked, str(tmp_path / "named.html"), "--previous", str(tmp_path / "other.json")]) == 0
    kept, named = ((tmp_path / name).read_text(encoding="utf-8") for name in ("kept.html", "named.html"))
    assert "Compared with the record of 2026-03-02." in kept
    assert "Compared with the home file named." in named
    assert "4 min 50 s" in kept.split("Changed since the last record</h2>")[1].split("<h2")[0]


def test_the_command_keeps_what_it_made_a_record_of(session: Session, tmp_path: Path) -> None:
    """Once for one state and day, as the page does; nothing is written beside a home that nobody has edited here."""
    session.apply([Edit(("control_unit", "times", "siren_s"), 290, 170)])
    (tmp_path / "sent").mkdir()
    sent = Path(shutil.copyfile(session.path, tmp_path / "sent" / "home.json"))
    for home_file in (session.path, session.path, sent):
        assert main(["record", str(home_file), "--copy", "owner", "--out", str(tmp_path / "record.html")]) == 0
    assert [save.for_record for save in session.kept.all()].count(True) == 1
    assert [path.name for path in sent.parent.iterdir() if path.is_dir()] == []


def test_what_the_record_says_when_nothing_is_kept(home: Home) -> None:
    """It claims no first record: it says that none is kept."""
    record = record_of(home, Share.OWNER, "2026-03-09")
    told = plain_blocks(next(section for section in record.sections if section.id == "changes").blocks)
    assert told == "No earlier record of this home is kept beside it."


def test_saves_of_another_home_file_do_not_count(session: Session, tmp_path: Path, clock: Clock) -> None:
    """Each home file has records of its own, though they are in one folder."""
    session.keep_for_record()
    other = KeptSaves(tmp_path / "other.json", clock)
    assert other.since(session.home, date(2026, 3, 9)) == ("", None)
