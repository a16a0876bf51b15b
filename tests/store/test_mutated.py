"""Home files and tables with random changes: a home or one sentence. A few in each run, all with `--whole`."""

import csv
import gzip
import io
import json
import os
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from alarmlib.checks.assess import assess
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store import load, text_of
from alarmlib.store.document import parsed, validated
from alarmlib.store.edits import with_edits
from alarmlib.store.tables import CsvTable, preview, to_csv

WHOLE = os.environ.get("ALARM_WHOLE") == "1"
FILES = 3000 if WHOLE else 150
TABLES = 2000 if WHOLE else 100
EARLIER = Path(__file__).parent / "earlier"
DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"
Tell = Callable[[str], None]


# --- files ---

ODD: list[Any] = [
    None, True, False, -1, 0, 1, 1e308, -1e308, 10**30, 0.1, "", " ", "x" * 5000, "a\x00b", "\u202e",
    "\ud800", "2026-02-30", [], {}, [[]], [None], {"id": "x"}, "hall", "z_front", "<script>", "NaN", "no",
    [1, 2], "0", 1e-300, "ground", "é" * 90,
]  # fmt: skip
Change = Callable[[Any, random.Random], None]


def places(inside: Any) -> Iterator[tuple[Any, Any]]:
    """Every place in a document, as what it is in and its key or number there."""
    for key in inside if isinstance(inside, dict) else range(len(inside)):
        yield inside, key
        if isinstance(inside[key], dict | list):
            yield from places(inside[key])


def changed(document: dict[str, Any], chance: random.Random) -> None:
    """One random change, anywhere."""
    inside, key = chance.choice(list(places(document)))
    match chance.randrange(6):
        case 0:
            del inside[key]
        case 1 if isinstance(inside, list):
            inside.append(inside[key])
        case 2 if isinstance(inside, dict):
            inside[chance.choice(["colour", "id", "Name", "", key + "s"])] = inside.pop(key)
        case 3:
            other, there = chance.choice(list(places(document)))
            inside[key] = json.loads(json.dumps(other[there]))
        case _:
            inside[key] = chance.choice(ODD)


def mutated(base: bytes, chance: random.Random) -> bytes:
    """A home file with a few random changes in its document or in its bytes."""
    kind = chance.randrange(8)
    if kind < 5:
        document = json.loads(base)
        for _ in range(chance.choice((1, 1, 1, 2, 5))):
            changed(document, chance)
        return json.dumps(document).encode("utf-8", "surrogatepass")
    at = chance.randrange(len(base))
    if kind == 5:
        return base[:at]
    if kind == 6:
        return base[:at] + bytes([chance.randrange(256)]) + base[at + 1 :]
    word = chance.choice(
        [b"NaN", b"Infinity", b"1e999", b"{", b"]", b'"', b"9" * 5000, b"\\u0000", b"[" * 2000, b"\xef\xbb\xbf"]
    )
    return base[:at] + word + base[at:]


def one_sentence(problem: AlarmProblem) -> None:
    text = str(problem)
    assert text.endswith("."), text
    assert "\n" not in text
    assert "Traceback" not in text
    assert 10 < len(text) < 600, text


def test_a_mutated_file_is_a_home_or_one_sentence(document: dict[str, Any], tmp_path: Path, tell: Tell) -> None:
    """150 files (3,000 in the whole run) of this version and of all before: never a traceback, never changed."""
    chance, taken = random.Random(7), 0
    old = [gzip.decompress((EARLIER / f"home_of_0_{n}.json.gz").read_bytes()) for n in (1, 2, 3, 4)]
    small, large = json.dumps(document).encode(), [DEMO.read_bytes(), *old]
    path = tmp_path / "home.json"
    for number in range(FILES):
        content = mutated(chance.choice(large) if number % 15 == 0 else small, chance)
        path.write_bytes(content)
        try:
            home = load(path)
        except AlarmProblem as problem:
            one_sentence(problem)
            assert "not of the sort" not in str(problem), "the field is not named"
        else:
            taken += 1
            assert parsed(text_of(home), "home.json") == home
            if number % 5 == 1:
                assess(home, "quick")
        assert path.read_bytes() == content
    assert FILES / 20 < taken < FILES * 0.9
    tell(f"{FILES} mutated files: {taken} are homes, {FILES - taken} refused in one sentence each")


# --- tables ---

CELLS = [
    "", " ", "x", "-1", "1e999", "NaN", "true", "=1+1", "@x", "'", '"', "\x00", "\u202e", "a\nb", "2026-02-30",
    "hall", "Hall", "1,5", "1.234,5", "wide", "front_door; hall", "x" * 5000, "z_hall", "9" * 400,
    "٣", "½", "3 ft", "3 kg", "t1", "d_hall",
]  # fmt: skip


def mutated_table(text: str, chance: random.Random) -> str:
    """A list as it went out, with a few cells, rows, headers or marks changed."""
    rows = list(csv.reader(io.StringIO(text, newline="")))
    for _ in range(chance.choice((1, 1, 2, 4))):
        row = chance.choice(rows)
        match chance.randrange(7):
            case 0:
                rows.append(list(row))
            case 1:
                rows.append(["new", *row[1:]])
            case 2:
                row.append(chance.choice(CELLS))
            case 3:
                del row[chance.randrange(len(row)) :]
                rows = [each for each in rows if each] or [["Id"]]
            case _ if row:
                row[chance.randrange(len(row))] = chance.choice(CELLS)
    out = io.StringIO()
    csv.writer(out, delimiter=chance.choice([",", ",", ";", "\t"])).writerows(rows)
    made = out.getvalue()
    return made if chance.randrange(8) else made[: chance.randrange(len(made) + 1)]


def test_a_mutated_table_is_taken_whole_or_refused_by_row(home: Home, tell: Tell) -> None:
    """100 tables (2,000 in the whole run): what is taken gives a home that can be saved, what is not says why."""
    chance, taken, before = random.Random(11), 0, home.model_dump(mode="json")
    for _ in range(TABLES):
        table = chance.choice(list(CsvTable))
        found = preview(mutated_table(to_csv(home, table), chance), table, home)
        if found.problems:
            assert found.edits == ()
            for problem in found.problems:
                one_sentence(AlarmProblem(problem))
                assert problem.startswith(("Row ", "Line ", "The table ")), problem
        else:
            taken += 1
            after = validated(with_edits(before, found.edits), "home.json")
            assert parsed(text_of(after), "home.json") == after
    assert home.model_dump(mode="json") == before
    assert TABLES / 20 < taken < TABLES * 0.95
    tell(f"{TABLES} mutated tables: {taken} taken, {TABLES - taken} refused, each by row")
