"""A file that another window writes is noticed."""

import threading
from pathlib import Path

import pytest

from alarmlib.store.watched import stamp, watch


def test_each_write_is_told_and_the_end_ends_it(tmp_path: Path) -> None:
    """Made, written over by another file, removed: told each time; after the end, no more."""
    file, told = tmp_path / "home.json", threading.Semaphore(0)
    end = watch({file: told.release}, period_s=0.01)
    assert stamp(file) is None
    file.write_text("one", encoding="utf-8")
    assert told.acquire(timeout=5)
    (tmp_path / "new").write_text("another", encoding="utf-8")
    (tmp_path / "new").replace(file)
    assert told.acquire(timeout=5)
    file.unlink()
    assert told.acquire(timeout=5)
    end.set()
    file.write_text("after", encoding="utf-8")
    assert not told.acquire(timeout=0.2)


def test_a_file_that_is_left_alone_is_not_told(tmp_path: Path) -> None:
    """Only the one that was written is told."""
    left, written = tmp_path / "a", tmp_path / "b"
    left.write_text("a", encoding="utf-8")
    told = threading.Event()
    end = watch({left: lambda: pytest.fail("told of nothing"), written: told.set}, period_s=0.01)
    written.write_text("b", encoding="utf-8")
    assert told.wait(5)
    end.set()
