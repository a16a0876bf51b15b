"""A process killed at any moment of a save leaves a whole file; writers that race lose no edit."""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store import Edit, Session, load

KILLS = 1000 if os.environ.get("ALARM_WHOLE") == "1" else 60

SAVES_FOR_EVER = """
import sys
from pathlib import Path
from alarmlib.store import Edit, Session
session = Session.open(sys.argv[1])
written = Path(sys.argv[2]).open("a", buffering=1)
while True:
    count = len(session.home.name.split()[-1])
    name = f"Home {'x' * (count % 40 + 1)}"
    written.write(f"tried {name}\\n")
    session.apply([Edit(("name",), session.home.name, name)])
    written.write(f"saved {name}\\n")
"""
COUNTS_UP = """
import sys
from alarmlib.store import Edit, FieldClash, Session
session, many, step = Session.open(sys.argv[1]), int(sys.argv[2]), float(sys.argv[3])
done = 0
while done < many:
    before = session.home.household.people[0].entries_a_week
    path = ("household", "people", "first", "entries_a_week")
    try:
        session.apply([Edit(path, before, before + step)])
        done += 1
    except FieldClash:
        session.refresh()
"""
EDITS_ITS_OWN = """
import sys
from alarmlib.store import Edit, Session
session, room, many = Session.open(sys.argv[1]), sys.argv[2], int(sys.argv[3])
for n in range(1, many + 1):
    path = ("site", "rooms", room, "note")
    session.apply([Edit(path, "" if n == 1 else str(n - 1), str(n))])
"""


def started(code: str, *arguments: object) -> subprocess.Popen[bytes]:
    root = str(Path(__file__).parents[2])
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, arguments)],
        env=os.environ | {"PYTHONPATH": root},
        stderr=subprocess.PIPE,
    )


def killed_while_saving(path: Path, notes: Path, part: float) -> None:
    """Have a process save again and again; kill it that part of one save's time after its second one began."""
    process, start = started(SAVES_FOR_EVER, path, notes), 0.0
    while notes.read_text().count("tried") < 2 and process.poll() is None:
        start = start or (time.monotonic() if "tried" in notes.read_text() else 0.0)
        time.sleep(0.001)
    now = time.monotonic()  # on a busy machine both saves may be there at the first look
    time.sleep(part * max(now - (start or now), 0.004))
    process.kill()
    assert process.communicate()[1] == b""


def test_a_kill_at_any_moment_leaves_a_state_that_was_written(tmp_path: Path) -> None:
    """60 kills at seeded random moments (1,000 in the whole run): the file loads, and nothing saved is lost."""
    path, notes = tmp_path / "home.json", tmp_path / "written.txt"
    name = Session.new(path, Home(name="Home x")).home.name
    moments, within = random.Random(20261125), 0
    for _ in range(KILLS):
        notes.write_text(f"saved {name}\n")
        killed_while_saving(path, notes, moments.uniform(0, 1.2))
        name = load(path).name
        written = [line.split(" ", 1) for line in notes.read_text().splitlines()]
        saved = [name for word, name in written if word == "saved"][-1]
        assert name in {saved, written[-1][1]}, "neither the last saved state nor the one in the making"
        within += written[-1][0] == "tried"
    assert within > KILLS / 2, "too few kills fell within a save"
    assert Session.open(path).apply([Edit(("name",), name, "Cottage")]).name == "Cottage"
    assert not list(tmp_path.glob(".home.json.*.tmp"))


def complained(writer: subprocess.Popen[bytes]) -> list[bytes]:
    """What a writer said when it had ended; on a busy machine it may say that it waited for its turn."""
    lines = writer.communicate(timeout=120)[1].splitlines()
    return [line for line in lines if not line.startswith(b"Waiting: ")]


def test_two_processes_that_change_one_field_lose_no_step(tmp_path: Path, home: Home) -> None:
    """Each counts up 60 times, taking what the other wrote when it is told of a clash: 120 steps arrive.

    The steps differ, since two people who enter the same value agree: then nobody is asked, and rightly so.
    No number of steps of one writer makes one step of the other.
    """
    path = tmp_path / "home.json"
    Session.new(path, home)
    writers = [started(COUNTS_UP, path, 60, step) for step in (0.5, 0.75)]
    assert [complained(writer) for writer in writers] == [[], []]
    assert load(path).household.people[0].entries_a_week == 7 + 60 * 0.5 + 60 * 0.75


def test_two_processes_that_change_different_fields_are_never_asked(tmp_path: Path, home: Home) -> None:
    path = tmp_path / "home.json"
    Session.new(path, home)
    writers = [started(EDITS_ITS_OWN, path, room, 60) for room in ("hall", "kitchen")]
    assert [complained(writer) for writer in writers] == [[], []]
    assert [room.note for room in load(path).site.rooms] == ["60", "60"]


@pytest.mark.parametrize("left", [".home.json.0123abcd.tmp"])
def test_drafts_of_a_killed_process_are_swept_away(session: Session, left: str) -> None:
    (session.path.parent / left).write_bytes(b"half a ho")
    session.apply([Edit(("name",), "My home", "Cottage")])
    assert not (session.path.parent / left).exists()


def test_a_save_that_is_half_gone_is_passed_over(session: Session) -> None:
    """Undo says so in a sentence when the save before cannot be read, and nothing changes."""
    session.apply([Edit(("name",), "My home", "Cottage")])
    first = session.saves()[0]
    (session.kept.folder / first.id).write_bytes(b"{")
    with pytest.raises(AlarmProblem, match="not valid JSON"):
        session.undo()
    assert load(session.path).name == "Cottage"
