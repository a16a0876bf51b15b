"""The pieces kept beside a home file: for this folder alone, and nothing that is in the file is an error."""

import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.proof.pieces.pieces import MOST_BYTES, Pieces
from alarmlib.store import kept_pieces
from alarmlib.store.kept_pieces import keep_pieces, kept_document, pieces_file

EMPTY = {"fields": {"habit": [{"Room": ["outline"]}]}, "values": {}}
KEPT = {"fields": {"habit": [{"Room": ["outline"]}]}, "values": {"a": ["check", [1, 2]]}}


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """Where a home file would be."""
    return tmp_path / "home.json"


def test_keep__and_read(home: Path) -> None:
    """What was kept is read back; before that there is nothing."""
    assert kept_document(home) is None
    keep_pieces(home, KEPT)
    assert kept_document(home) == KEPT
    assert kept_pieces.kept_pieces(home).document() == EMPTY  # nobody wrote that check
    assert [each.name for each in home.parent.iterdir()] == [".workbook"]


def test_a_copied_folder__is_not_relied_on(home: Path, tmp_path: Path) -> None:
    """Pieces that came along with a folder were not found on this computer."""
    keep_pieces(home, KEPT)
    other = tmp_path / "other"
    shutil.copytree(home.parent / ".workbook", other / ".workbook")
    assert pieces_file(other / "home.json").exists()
    assert kept_document(other / "home.json") is None


@pytest.mark.parametrize(
    "content",
    [b"", b"{", b"[]", b"\xff\xfe", b"{}", b"null", b"[" * 100_000, b'{"folder": [1, 2], "pieces": {}}',
     b" " * (2 * MOST_BYTES + 1)],
    ids=["empty", "cut", "list", "no text", "nothing", "null", "deep", "elsewhere", "large"],
)  # fmt: skip
def test_a_broken_file__is_as_good_as_none(content: bytes, home: Path) -> None:
    """Neither an error nor a word: the pieces are worked out again, and kept again."""
    keep_pieces(home, KEPT)
    pieces_file(home).write_bytes(content)
    assert kept_document(home) is None
    assert Pieces(kept_document(home)).document() == {"fields": {}, "values": {}}
    keep_pieces(home, KEPT)
    assert kept_document(home) == KEPT


def test_cut_anywhere__never_an_error(home: Path) -> None:
    """A file that ends in the middle, wherever."""
    keep_pieces(home, KEPT)
    whole = pieces_file(home).read_bytes()
    for length in range(len(whole)):
        pieces_file(home).write_bytes(whole[:length])
        assert kept_document(home) is None


def test_no_room_left__they_are_not_kept(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The proof itself goes on, and what was kept stays."""
    keep_pieces(home, KEPT)

    def full(*_: Any) -> None:
        raise AlarmProblem("There is no room left.")

    monkeypatch.setattr(kept_pieces, "replace", full)
    keep_pieces(home, {"fields": {}, "values": {}})
    assert kept_document(home) == KEPT


WRITE = """
import sys
from alarmlib.store.kept_pieces import keep_pieces, kept_document
for turn in range(20):
    keep_pieces(sys.argv[1], {"fields": {}, "values": {sys.argv[2]: [turn] * 3000}})
    found = kept_document(sys.argv[1])
    assert found is not None and all(len(set(each)) == 1 for each in found["values"].values())
"""


def test_two_processes_write__each_read_is_whole(home: Path) -> None:
    """Whoever writes last stays; nobody ever reads a half of either."""
    both = [subprocess.Popen([sys.executable, "-c", WRITE, str(home), name]) for name in ("one", "two")]
    assert [each.wait(60) for each in both] == [0, 0]
    (name,) = kept_document(home)["values"]
    assert name in ("one", "two")
    assert [each.name for each in pieces_file(home).parent.iterdir() if each.name.endswith(".tmp")] == []
    json.loads(pieces_file(home).read_bytes())
