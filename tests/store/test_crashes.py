"""A process killed at any moment of a save leaves a whole file; writers that race lose no edit."""

import multiprocessing
import os
import random
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store import Edit, Session, load

WHOLE = os.environ.get("ALARM_WHOLE") == "1"
KILLS = 1000 if WHOLE else 60
ACT_KILLS = 200 if WHOLE else 12  # among edits, undoes, redoes and records
EDITS = 3000 if WHOLE else 80  # of two writers and of four, half of them each

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


def acts_for_ever(path: Path, journal: Path, seed: int) -> None:
    """In a process of its own: edits, undoes, redoes and keeps records, and writes down each act before and after."""
    session, chance, count = Session.open(path), random.Random(seed), 0
    with journal.open("a", buffering=1) as told:
        while True:
            count += 1
            act, name = chance.choice(("edit", "edit", "edit", "undo", "redo", "record")), session.home.name
            wanted = f"Home {seed} {count}" if act == "edit" else name
            told.write(f"tried|{act}|{wanted}\n")
            try:
                match act:
                    case "edit":
                        session.apply([Edit(("name",), name, wanted)])
                    case "undo":
                        session.undo()
                    case "redo":
                        session.redo()
                    case _:
                        session.keep_for_record()
            except AlarmProblem:  # there is nothing to undo or to redo
                act = "nothing"
            told.write(f"done|{act}|{session.home.name}\n")


def killed(path: Path, journal: Path, seed: int, chance: random.Random) -> list[list[str]]:
    """What was written down by a process that was killed after a few acts."""
    journal.write_text("")
    process = multiprocessing.get_context("fork").Process(target=acts_for_ever, args=(path, journal, seed))
    process.start()
    acts = chance.randint(1, 8)
    while journal.read_text().count("done") < acts and process.is_alive():
        time.sleep(0.001)
    time.sleep(chance.uniform(0, 0.02))
    process.kill()
    process.join()
    assert process.exitcode == -9, "it ended by itself"
    return [line.split("|") for line in journal.read_text().splitlines()]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork; test_crashes.py kills there too")
def test_a_kill_among_edits_undo_redo_and_records_loses_nothing(tmp_path: Path, tell: Callable[[str], None]) -> None:
    """12 kills (200 in the whole run): the state is the last or the one in the making; saves and records are there."""
    path, journal, chance = tmp_path / "home.json", tmp_path / "journal.txt", random.Random(20261130)
    name = Session.new(path, Home(name="Home 0 0")).home.name
    known, records, within = {name}, set[str](), 0
    for seed in range(1, ACT_KILLS + 1):
        lines = killed(path, journal, seed, chance)
        known |= {wanted for word, act, wanted in lines if act == "edit"}
        done = [(act, now) for word, act, now in lines if word == "done"]
        before = done[-1][1] if done else name
        word, act, wanted = lines[-1]
        may = {before} if word == "done" else {before, wanted} if act in {"edit", "record"} else known
        session = Session.open(path)
        assert session.home.name in may, (lines[-1], session.home.name)
        records |= {now for act, now in done if act == "record"}
        saves = {save: session.kept.home(save).name for save in session.saves()}
        assert {now for act, now in done[-6:] if act == "edit"} <= set(saves.values())
        assert records <= {now for save, now in saves.items() if save.for_record}
        name = session.apply([Edit(("name",), session.home.name, f"Home {seed} last")]).name
        known.add(name)
        assert session.undo().name in known
        assert session.redo().name == name
        within += word == "tried"
    assert within > ACT_KILLS / 4, "too few kills fell within an act"
    tell(f"{ACT_KILLS} kills, {within} of them within an act, {len(records)} states kept for a record: nothing lost")


def complained(writer: subprocess.Popen[bytes]) -> list[bytes]:
    """What a writer said when it had ended; on a busy machine it may say that it waited for its turn."""
    lines = writer.communicate(timeout=1200 if WHOLE else 120)[1].splitlines()
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


@pytest.mark.parametrize("writers", [2, 4])
def test_writers_that_race_lose_no_edit(
    writers: int, tmp_path: Path, document: dict[str, Any], tell: Callable[[str], None]
) -> None:
    """Each edits a room of its own: every edit arrives. 40 edits of two and of four; 1,500 each in the whole run."""
    document["site"]["rooms"] += [{"id": name, "name": name, "storey": "ground"} for name in ("den", "loft")]
    path, each = tmp_path / "home.json", EDITS // 2 // writers
    Session.new(path, Home.model_validate(document))
    rooms = ["hall", "kitchen", "den", "loft"][:writers]
    processes = [started(EDITS_ITS_OWN, path, room, each) for room in rooms]
    assert [complained(process) for process in processes] == [[]] * writers
    found = load(path)
    assert [room.note for room in found.site.rooms if room.id in rooms] == [str(each)] * writers
    session = Session.open(path)
    assert session.undo() != found
    assert session.redo() == found
    tell(f"{writers} writers, {each * writers} edits: none lost")


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
