"""The command line: exit codes, the JSON document, and one sentence for whatever is wrong with a file."""

import copy
import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from alarmlib.__main__ import main

DEMO = Path(__file__).parents[1] / "workbook" / "demo_home.json"
Document = dict[str, Any]


@pytest.fixture(scope="session")
def demo() -> Document:
    """The demo home as a document."""
    found: Document = json.loads(DEMO.read_text(encoding="utf-8"))
    return found


def said(capsys: pytest.CaptureFixture[str]) -> str:
    """The one sentence on stderr, nothing on stdout."""
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.strip().splitlines()) == 1
    assert "Traceback" not in err
    return err.strip()


def put(document: Document, value: Any, *path: str | int) -> Document:
    """A copy of the document with another value at the path."""
    changed = copy.deepcopy(document)
    inside: Any = changed
    for step in path[:-1]:
        inside = inside[step]
    inside[path[-1]] = value
    return changed


BROKEN: dict[str, tuple[Callable[[Document], Document], tuple[str, ...]]] = {
    "wrong type": (lambda d: put(d, "tall", "site", "rooms", 0, "ceiling_m"), ("ceiling_m", "tall")),
    "negative length": (lambda d: put(d, -2.0, "site", "rooms", 0, "ceiling_m"), ("ceiling_m", "-2")),
    "unknown field": (lambda d: put(d, 1, "site", "colour"), ("colour",)),
    "crossing walls": (
        lambda d: put(d, [[0, 0], [4, 3], [4, 0], [0, 3]], "site", "rooms", 0, "outline"),
        ("outline", "cross"),
    ),
    "opening on no wall": (lambda d: put(d, [500.0, 500.0], "site", "openings", 0, "at"), ("off the walls",)),
    "unknown room": (lambda d: put(d, "nowhere", "site", "openings", 0, "room"), ("nowhere",)),
    "a zone's place twice": (
        lambda d: put(d, d["control_unit"]["zones"][0]["place"], "control_unit", "zones", 1, "place"),
        ("is there twice",),
    ),
    "a zone's id twice": (
        lambda d: put(d, d["control_unit"]["zones"][0]["id"], "control_unit", "zones", 1, "id"),
        ("twice",),
    ),
    "long name": (lambda d: put(d, "x" * 10_000, "site", "rooms", 0, "name"), ("name", "80")),
    "newer": (lambda d: put(d, 99, "schema_version"), ("99",)),
}


@pytest.mark.parametrize("case", BROKEN)
def test_bad_home__one_sentence(case: str, demo: Document, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 2, one sentence that names file and fault, and the file as it was."""
    spoil, words = BROKEN[case]
    home = tmp_path / "bad.json"
    home.write_text(json.dumps(spoil(demo)), encoding="utf-8")
    before = home.read_bytes()
    assert main(["check", str(home)]) == 2
    sentence = said(capsys)
    assert all(word in sentence for word in ("bad.json", *words)), sentence
    assert home.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["bad.json"]


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b'{"name": ', "bad.json"),
        (b'{"schema_version": 2, "name": NaN}', "NaN"),
        (b"[]", "bad.json"),
        (b"", "bad.json"),
        (b"\xff\xfe\x00", "bad.json"),
        (b'{"name": "x"}' + b" " * 50_000_000, "bad.json"),
    ],
    ids=["broken", "nan", "list", "empty", "no text", "50 MB"],
)
def test_bad_file__one_sentence(content: bytes, word: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file that is no home at all is refused in one sentence."""
    home = tmp_path / "bad.json"
    home.write_bytes(content)
    assert main(["record", str(home), "--out", str(tmp_path / "r.html"), "--copy", "owner"]) == 2
    assert word in said(capsys)
    assert not (tmp_path / "r.html").exists()


def test_missing_file__one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A home file that is not there."""
    assert main(["check", str(tmp_path / "none.json")]) == 2
    assert "none.json" in said(capsys)


def test_bad_date__one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A day that is none."""
    asked = ["record", str(DEMO), "--out", str(tmp_path / "r.html"), "--copy", "owner", "--date", "2026-02-30"]
    assert main(asked) == 2
    assert "2026-02-30" in said(capsys)


def test_full_disk__one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """No room for the record: the record that was there stays."""
    import errno
    import os

    out = tmp_path / "r.html"
    asked = ["record", str(DEMO), "--out", str(out), "--copy", "public"]
    assert main([*asked, "--date", "2026-03-01"]) == 0
    capsys.readouterr()
    last = out.read_bytes()

    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    assert main(asked) == 2
    assert "r.html" in said(capsys)
    assert out.read_bytes() == last


CHECK_SCHEMA = {
    "type": "object",
    "additionalProperties": False,
    "required": ["schema_version", "home", "findings", "open"],
    "properties": {
        "schema_version": {"const": 1},
        "home": {"type": "string"},
        "open": {"type": "integer", "minimum": 0},
        "findings": {
            "type": "array",
            "minItems": 10,
            "items": {
                "type": "object",
                "additionalProperties": False,
                "required": ["id", "subject", "verdict", "message", "remedy", "source", "figure", "accepted"],
                "properties": {
                    "verdict": {"enum": ["must", "should", "note", "ok"]},
                    **{
                        key: {"type": "string"}
                        for key in ("id", "subject", "message", "remedy", "source", "figure", "accepted")
                    },
                },
            },
        },
    },
}


def test_check_json__one_document(capsys: pytest.CaptureFixture[str]) -> None:
    """One document of the published shape and nothing else; the exit code follows `open`."""
    code = main(["check", str(DEMO), "--json"])
    out, err = capsys.readouterr()
    document = json.loads(out)
    jsonschema.validate(document, CHECK_SCHEMA)
    assert document["open"] == sum(finding["verdict"] == "must" for finding in document["findings"])
    assert code == (1 if document["open"] else 0)
    assert err == ""


def test_blank_home__check_runs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file with nothing but a name is a home."""
    home = tmp_path / "blank.json"
    home.write_text('{"schema_version": 2, "name": "Blank"}', encoding="utf-8")
    assert main(["check", str(home)]) in (0, 1)
    assert "must be fixed" in capsys.readouterr().out


def test_schema__accepts_the_demo_home(demo: Document, capsys: pytest.CaptureFixture[str]) -> None:
    """The printed JSON Schema holds the demo home, by an independent validator."""
    assert main(["schema"]) == 0
    jsonschema.validate(demo, json.loads(capsys.readouterr().out))


def test_sources__each_with_its_status(capsys: pytest.CaptureFixture[str]) -> None:
    """Every source says how far it was seen."""
    assert main(["sources"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) > 50
    assert all(line.endswith(")") and "(" in line for line in lines)


MARKUP = "<img src=x onerror=alert(1)> & אבג.exe"


def test_record__names_are_plain_text(demo: Document, tmp_path: Path) -> None:
    """Markup in a name stays text, and letters from right to left disturb no neighbour."""
    home, out = tmp_path / "home.json", tmp_path / "r.html"
    home.write_text(json.dumps(put(demo, MARKUP, "site", "rooms", 0, "name")), encoding="utf-8")
    assert main(["record", str(home), "--out", str(out), "--copy", "owner", "--date", "2026-11-25"]) == 0
    html = out.read_text(encoding="utf-8")
    assert "<img" not in html
    assert "&lt;img src=x onerror=alert(1)&gt; &amp; " in html
    assert "<bdi>" in html
    assert len(html.encode()) < 500_000


def test_module__runs_as_a_program() -> None:
    """`python -m alarmlib` without a command says how to use it and exits with 2."""
    run = subprocess.run([sys.executable, "-m", "alarmlib"], capture_output=True, text=True, check=False)
    assert run.returncode == 2
    assert "usage" in run.stderr
    assert "Traceback" not in run.stderr
