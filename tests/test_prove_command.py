"""The command `prove`: exit codes, what is told in which order, the JSON document, what is kept."""

import json
import sys
from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any, cast

import pytest

from alarmlib.__main__ import main
from alarmlib.model import Home
from alarmlib.proof.prove import Asked
from alarmlib.proof.report.verdicts import Proof
from alarmlib.store import load
from alarmlib.store.kept_proofs import kept

DEMO = Path(__file__).parents[1] / "workbook" / "demo_home.json"


@pytest.fixture
def limits() -> list[Asked]:
    """What the search was asked, call by call."""
    return []


@pytest.fixture
def proves(monkeypatch: pytest.MonkeyPatch, hand_proof: Proof, limits: list[Asked]) -> Callable[..., list[str]]:
    """`proves()` puts a proof written by hand in the place of the search, for what the command does with it."""

    def put_in(properties: int | None = None, faults: bool = True) -> list[str]:
        asked: list[str] = []

        def prove(home: Home, faults: str, told: Any, within: Asked, pieces: Any) -> Proof:
            asked.append(faults)
            limits.append(within)
            told("walks", 1, 2)
            return replace(hand_proof, properties=hand_proof.properties[:properties])

        import_module("alarmlib.proof.repairs.cheapest")  # which keeps the real search
        monkeypatch.setitem(
            sys.modules, "alarmlib.proof.prove", cast("ModuleType", SimpleNamespace(prove=prove, Asked=Asked))
        )
        return asked

    return put_in


def test_prove__not_all_hold(
    proves: Callable[..., list[str]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit 1; assumptions first, then a line a property, how it fails, the faults; kept beside the home file."""
    asked = proves()
    home = tmp_path / "home.json"
    home.write_bytes(DEMO.read_bytes())
    assert main(["prove", str(home)]) == 1
    out = capsys.readouterr().out
    order = ["What is assumed", "✖ breached", "✔ holds", "Case 1", "The contact of the back door is dead"]
    assert [out.index(words) for words in order] == sorted(out.index(words) for words in order)
    assert asked == ["single"]
    assert kept(home, load(home)).fresh
    assert home.read_bytes() == DEMO.read_bytes()


def test_prove__limits(
    proves: Callable[..., list[str]], limits: list[Asked], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Memory and time as the home says, or as asked; what is out of range is one sentence and exit 2."""
    proves()
    home = tmp_path / "home.json"
    home.write_bytes(DEMO.read_bytes())
    main(["prove", str(home), "--faults", "none"])
    main(["prove", str(home), "--faults", "none", "--gigabytes", "0.5", "--minutes", "0.1"])
    assert [asked.budget and asked.budget.bytes for asked in limits] == [2_000_000_000, 500_000_000]
    assert [asked.late and asked.late() for asked in limits] == [False, False]
    for wrong in (["--gigabytes", "65"], ["--minutes", "0"], ["--minutes", "nan"], ["--gigabytes", "much"]):
        with pytest.raises(SystemExit, match="2"):
            main(["prove", str(home), *wrong])
        assert "is no number from 0.1 to" in capsys.readouterr().err


def test_prove__all_hold(proves: Callable[..., list[str]], tmp_path: Path) -> None:
    """Exit 0 when every property holds; a look without faults is not kept."""
    asked = proves(properties=1)
    home = tmp_path / "home.json"
    home.write_bytes(DEMO.read_bytes())
    assert main(["prove", str(home), "--faults", "none"]) == 0
    assert asked == ["none"]
    assert [path.name for path in tmp_path.iterdir()] == ["home.json"]


def test_prove_json__one_document(
    proves: Callable[..., list[str]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One document on stdout and nothing else, with the seconds that it took here."""
    proves()
    home = tmp_path / "home.json"
    home.write_bytes(DEMO.read_bytes())
    assert main(["prove", str(home), "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert document["schema_version"] == 2
    assert 0 <= document["seconds"] < 1.25
    assert len(document["properties"]) == 3


def test_prove__a_folder_that_cannot_be_written(
    proves: Callable[..., list[str]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The result is told all the same; that it was not kept is one sentence on stderr."""
    proves(properties=1)
    home = tmp_path / "home.json"
    home.write_bytes(DEMO.read_bytes())
    (tmp_path / "home.proof.json").mkdir()
    assert main(["prove", str(home)]) == 0
    assert "The proof was not kept." in capsys.readouterr().err


def test_prove__not_ready(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 2 and the list of what is missing, a line each, from the search itself; nothing is written."""
    home = tmp_path / "home.json"
    home.write_text('{"schema_version": 1, "name": "Blank"}', encoding="utf-8")
    assert main(["prove", str(home)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.splitlines()[0] == "No room is entered."
    assert len(err.splitlines()) == 5
    assert [path.name for path in tmp_path.iterdir()] == ["home.json"]


def test_prove_fixes__says_how_far_it_looked(
    one_door: Callable[..., dict[str, Any]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One set at most is proved for each breach: what was found, how far it looked, and how to look further; exit 1."""
    home = tmp_path / "home.json"
    home.write_text(json.dumps(one_door(pane="hall", slit="hall")), encoding="utf-8")
    assert main(["prove", str(home), "--faults", "none", "--fixes", "1"]) == 1
    out = capsys.readouterr().out
    assert "Looked at 1 set of changes up to a cost of" in out
    assert "Continue the search to look further." in out
    assert "To look further, run this again with --fixes 2." in out
    assert main(["prove", str(home), "--faults", "none", "--fixes", "--json"]) == 1
    fixes = json.loads(capsys.readouterr().out)["fixes"]
    assert fixes["looked_everywhere"] is True
    assert any("Fit a contact on Pane" in each["sentence"] for each in fixes["found"])


def test_prove__without_fixes_no_search(
    proves: Callable[..., list[str]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No search for fixes unless it is asked for."""
    proves()
    home = tmp_path / "home.json"
    home.write_bytes(DEMO.read_bytes())
    assert main(["prove", str(home), "--json"]) == 1
    assert "fixes" not in json.loads(capsys.readouterr().out)
