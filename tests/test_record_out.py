"""Where `record --out` may write: never over a home, a kept proof or save, or a file that holds no record."""

import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from alarmlib.__main__ import main
from alarmlib.store import Edit, Session

DEMO = Path(__file__).parents[1] / "workbook" / "demo_home.json"
Said = Callable[..., str]


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A small home of the owner's."""
    home = tmp_path / "own.json"
    home.write_text('{"schema_version": 2, "name": "Own"}', encoding="utf-8")
    return home


@pytest.fixture
def refused(own: Path, capsys: pytest.CaptureFixture[str]) -> Said:
    """Asks for a record there, sees exit code 2 and every file as it was, and returns the one sentence."""

    def asks(out: Path, *more: str) -> str:
        before = {path: path.read_bytes() for path in own.parent.rglob("*") if path.is_file()}
        assert main(["record", str(own), "--copy", "owner", "--out", str(out), *more]) == 2
        printed, sentence = capsys.readouterr()
        assert printed == ""
        assert len(sentence.strip().splitlines()) == 1
        assert {path: path.read_bytes() for path in own.parent.rglob("*") if path.is_file()} == before
        return sentence

    return asks


@pytest.mark.parametrize("more", [(), ("--replace",)])
def test_a_record_never_takes_the_place_of_its_home(own: Path, refused: Said, more: tuple[str, ...]) -> None:
    """By its name, by a longer way to it, and by a link."""
    (own.parent / "folder").mkdir()
    (own.parent / "link.html").symlink_to(own)
    os.link(own, own.parent / "same.html")
    for out in (own, own.parent / "folder" / ".." / "own.json", own.parent / "link.html", own.parent / "same.html"):
        assert "is the home itself" in refused(out, *more)


@pytest.mark.parametrize("more", [(), ("--replace",)])
def test_a_record_never_takes_the_place_of_another_home(own: Path, refused: Said, more: tuple[str, ...]) -> None:
    """One that can be read, and one that cannot any more."""
    shutil.copy(DEMO, own.parent / "other.json")
    assert "other.json holds a home" in refused(own.parent / "other.json", *more)
    (own.parent / "older.json").write_text('{"schema_version": 1, "nonsense": 3}')
    assert "older.json holds a home" in refused(own.parent / "older.json", *more)


@pytest.mark.parametrize("more", [(), ("--replace",)])
def test_a_record_never_takes_the_place_of_the_home_it_is_compared_with(
    own: Path, refused: Said, more: tuple[str, ...]
) -> None:
    shutil.copy(own, own.parent / "last.json")
    out = own.parent / "last.json"
    assert "last.json is the home that you compare with" in refused(out, "--previous", str(out), *more)


@pytest.mark.parametrize("more", [(), ("--replace",)])
def test_a_record_never_takes_the_place_of_a_kept_proof_or_save(
    own: Path, refused: Said, more: tuple[str, ...]
) -> None:
    shutil.copy(DEMO.with_suffix(".proof.json"), own.with_name("own.proof.json"))
    shutil.copy(DEMO.with_suffix(".proof.json"), own.with_name("other.proof.json"))
    assert "own.proof.json is the name of a kept proof" in refused(own.with_name("own.proof.json"), *more)
    assert "other.proof.json is the name of a kept proof" in refused(own.with_name("other.proof.json"), *more)
    session = Session.open(own)
    session.apply([Edit(("name",), "Own", "Cottage")])
    save = session.kept.folder / session.saves()[0].id
    assert "belongs to the workbook" in refused(save, *more)
    assert "belongs to the workbook" in refused(save.with_name("r.html"), *more)


def test_a_file_that_holds_no_record_is_replaced_only_when_asked(own: Path, refused: Said) -> None:
    """A letter stays; with `--replace` the record takes its place; a record is replaced unasked."""
    letter = own.with_name("letter.html")
    letter.write_text("<!DOCTYPE html><html><p>Dear neighbour</p></html>")
    assert "letter.html is no record" in refused(letter)
    assert "--replace" in refused(letter)
    asked = ["record", str(own), "--copy", "owner", "--out", str(letter)]
    assert main([*asked, "--replace"]) == 0
    assert "Dear neighbour" not in letter.read_text(encoding="utf-8")
    letter.write_bytes(letter.read_bytes() + b"<!-- old -->")
    assert main(asked) == 0
    assert not letter.read_bytes().endswith(b"<!-- old -->")


def test_an_empty_file_is_replaced_unasked(own: Path) -> None:
    """As a program leaves it that makes a name first."""
    out = own.with_name("r.html")
    out.touch()
    assert main(["record", str(own), "--copy", "owner", "--out", str(out)]) == 0
    assert out.stat().st_size > 1000


def test_a_place_where_no_file_can_be_is_said_before_the_work(own: Path, refused: Said) -> None:
    """A missing folder, a folder, a file as a folder, a link that leads to itself."""
    assert "There is no folder" in refused(own.parent / "none" / "r.html")
    assert "is a folder" in refused(own.parent)
    assert "There is no folder" in refused(own / "r.html")
    (own.parent / "loop.html").symlink_to(own.parent / "loop.html")
    assert "loop.html" in refused(own.parent / "loop.html")


@pytest.mark.skipif(not Path("/dev/null").exists(), reason="this system has no devices in a folder")
@pytest.mark.parametrize("more", [(), ("--replace",)])
def test_a_device_is_no_place_for_a_record(own: Path, refused: Said, more: tuple[str, ...], tmp_path: Path) -> None:
    """Replacing would put a file where the device was: a pipe takes its place, so that nothing is at risk."""
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system makes no pipes")
    os.mkfifo(tmp_path / "pipe")
    assert "pipe is no ordinary file" in refused(tmp_path / "pipe", *more)


def test_a_link_to_a_record_stays_a_link(own: Path) -> None:
    """The record is written where the link leads."""
    real, link = own.with_name("real.html"), own.with_name("link.html")
    asked = ["record", str(own), "--copy", "public", "--out"]
    assert main([*asked, str(real)]) == 0
    real.write_bytes(real.read_bytes() + b"<!-- old -->")
    link.symlink_to(real)
    assert main([*asked, str(link)]) == 0
    assert link.is_symlink()
    assert not real.read_bytes().endswith(b"<!-- old -->")
    assert json.loads(own.read_bytes())["name"] == "Own"
