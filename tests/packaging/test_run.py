"""The testing command: what counts as a failure."""

import os
import shutil
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]


def _report(folder: Path, counts: str) -> Path:
    path = folder / "report.xml"
    path.write_text(f'<testsuites><testsuite name="pytest" {counts}/></testsuites>')
    return path


def test_counts_are_read_from_the_report(runner: ModuleType, tmp_path: Path) -> None:
    """Failures and errors are failed, the rest passed."""
    report = _report(tmp_path, 'tests="10" failures="1" errors="2" skipped="3"')
    assert runner.read_report(report, 1, "") == (3, 4, 3)


@pytest.mark.parametrize("code", [1, 2, 4, 5])
def test_a_stage_that_ran_nothing_or_broke_has_failed(runner: ModuleType, tmp_path: Path, code: int) -> None:
    """No report, and a report without a test, are one failure each."""
    assert runner.read_report(tmp_path / "none.xml", code, "").failed == 1
    assert runner.read_report(_report(tmp_path, 'tests="0" failures="0" errors="0" skipped="0"'), code, "").failed == 1


def test_a_stage_without_a_matching_name_has_not_failed(runner: ModuleType, tmp_path: Path) -> None:
    """With -k a stage may have nothing to run; the whole run still fails if no stage had."""
    assert runner.read_report(tmp_path / "none.xml", 5, "name") == (0, 0, 0)


@pytest.mark.parametrize(("counts", "code"), [((0, 5, 0), 0), ((1, 5, 0), 1), ((0, 5, 1), 1), ((0, 0, 0), 1)], ids=str)
def test_exit_code(
    runner: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    counts: tuple[int, int, int],
    code: int,
) -> None:
    """Failed, skipped and nothing at all end with 1; the last line gives the totals as the runner words them."""
    monkeypatch.setattr(runner.start, "environment", lambda *_, **__: Path("python"))
    monkeypatch.setattr(runner, "run", lambda *_: runner.Count(*counts))
    assert runner.main(["--only", "ruff"]) == code
    last = capsys.readouterr().out.splitlines()[-1]
    assert last.startswith(str(runner.Count(*counts)))
    assert " in " in last


def test_no_chromium_is_told_and_not_skipped(
    runner: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without Chromium, and without the right to install it, the run ends with 2 and a sentence."""
    monkeypatch.delenv("ALARM_CHROMIUM", raising=False)
    monkeypatch.setattr(runner.start, "environment", lambda *_, **__: Path("python"))
    monkeypatch.setattr(runner.shutil, "which", lambda _: None)
    assert runner.main(["--only", "browser"]) == 2
    assert "sudo apt install chromium" in capsys.readouterr().err


@pytest.mark.parametrize("stage", ["outside", "benchmarks"])
def test_no_verifier_is_told_and_not_skipped(
    runner: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], stage: str
) -> None:
    """Without SPIN, and without the right to install it, the run ends with 2 and a sentence."""
    monkeypatch.setattr(runner.start, "environment", lambda *_, **__: Path("python"))
    monkeypatch.setattr(runner.shutil, "which", lambda _: None)
    assert runner.main(["--only", stage]) == 2
    assert "sudo apt install spin gcc" in capsys.readouterr().err


def test_no_ngspice_is_told_and_not_skipped(
    runner: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """With SPIN but without ngspice, and without the right to install it, the run ends with 2 and a sentence."""
    which = shutil.which
    monkeypatch.setattr(runner.start, "environment", lambda *_, **__: Path("python"))
    monkeypatch.setattr(runner, "install", lambda *_: None)
    monkeypatch.setattr(runner.shutil, "which", lambda name: None if name == "ngspice" else which(name))
    assert runner.main(["--only", "outside"]) == 2
    assert "sudo apt install ngspice" in capsys.readouterr().err


def test_a_compiler_without_headers_is_no_compiler(runner: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """SPIN and gcc by name are not enough: a program of C must compile."""
    assert runner.verifies()
    monkeypatch.setattr(runner.subprocess, "run", lambda words, **_: subprocess.CompletedProcess(words, 1))
    assert not runner.verifies()


def test_every_test_folder_is_in_one_stage(runner: ModuleType) -> None:
    """The unit stage takes every folder but those that are stages of their own; each of these exists."""
    (unit,) = runner.words_for("unit")
    for name in runner.APART:
        assert f"--ignore=tests/{name}" in unit
        assert f"tests/{name}" in runner.words_for(name)[0]
        assert (ROOT / "tests" / name).is_dir()


def test_every_page_is_in_the_page_stage(runner: ModuleType) -> None:
    """Each notebook of the workbook, class pages included, is run."""
    (words,) = runner.words_for("notebooks")
    pages = sorted((ROOT / "workbook").rglob("*.ipynb"))
    assert pages
    assert all(str(page) in words for page in pages)


def test_an_unformatted_file_fails_the_ruff_stage(
    runner: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """`ruff check` and `ruff format --check` are two checks: one that is passed does not hide the other."""
    (tmp_path / "pyproject.toml").write_text("[tool.ruff]\n", encoding="utf-8")
    (tmp_path / "loose.py").write_text("x  =  1\n", encoding="utf-8")
    monkeypatch.setattr(runner, "ROOT", tmp_path)
    count = runner.run("ruff", Path(sys.executable), runner.arguments([]), tmp_path, dict(os.environ))
    assert count == runner.Count(failed=1, passed=1)


def test_coverage_is_asked_of_the_unit_stage_alone(
    runner: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other stages run as ever; without the flag none is slowed."""
    asked: list[list[str]] = []
    monkeypatch.setattr(runner, "call", lambda command, _surround: asked.append(command) or 0)
    for words in ([], ["--coverage"]):
        for stage in ("unit", "js"):
            runner.run(stage, Path(sys.executable), runner.arguments(words), tmp_path, {})
    assert ["--cov=alarmlib" in command for command in asked] == [False, False, True, False]


def test_whole_sets_the_full_counts(runner: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """--whole tells every test by one variable; nobody's own Jupyter folders are used."""
    monkeypatch.delenv("ALARM_WHOLE", raising=False)  # this run itself may be a whole one
    assert runner.surroundings(tmp_path, "", True)["ALARM_WHOLE"] == "1"
    assert "ALARM_WHOLE" not in runner.surroundings(tmp_path, "", False)
    assert runner.surroundings(tmp_path, "", False)["JUPYTER_DATA_DIR"].startswith(str(tmp_path))


def test_an_audit_that_nobody_answered_is_said_and_not_counted(
    runner: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Work without internet does not fail for it, the closing lines tell it; asked for alone it fails."""
    monkeypatch.setattr(runner.start, "environment", lambda *_, **__: Path("python"))
    monkeypatch.setattr(runner, "STAGES", ("mypy", "audit"))
    codes = {"mypy": 0, "tests/audit.py": 3}
    monkeypatch.setattr(runner, "call", lambda command, _surround: codes[command[-1]])
    assert runner.main([]) == 0
    note, last = capsys.readouterr().out.splitlines()[-2:]
    assert note == runner.AUDIT_NOTE
    assert last.startswith("1 passed in ")
    assert runner.main(["--only", "audit"]) == 1
    codes["tests/audit.py"] = 0
    capsys.readouterr()
    assert runner.main([]) == 0
    assert runner.AUDIT_NOTE not in capsys.readouterr().out
    codes["tests/audit.py"] = 1
    assert runner.main([]) == 1
    assert capsys.readouterr().out.splitlines()[-1].startswith("1 failed, 1 passed in ")


def test_each_python_is_run_or_named(
    runner: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The unit stage runs on each that is found, with the pins; one that is not here is read by mypy, and said."""
    made: list[tuple[str, list[str]]] = []
    called: list[list[str]] = []

    def make(_python: Path, _base: str, name: str, choosing: list[str]) -> Path:
        made.append((name, choosing))
        return Path(name)

    monkeypatch.setattr(runner.start, "environment", lambda *_, **__: Path("python"))
    monkeypatch.setattr(runner, "interpreter", {"3.11": "one", "3.12": "two"}.get)
    monkeypatch.setattr(runner, "other_environment", make)
    monkeypatch.setattr(
        runner, "run", lambda stage, python, *_: called.append([stage, str(python)]) or runner.Count(0, 5)
    )
    monkeypatch.setattr(runner, "call", lambda command, _surround: called.append(command) or 0)
    assert runner.main(["--each-python", "--lowest"]) == 0
    pins = ["--constraint", str(ROOT / "constraints.txt")]
    assert made == [("lowest", ["--resolution", "lowest-direct"]), ("3.11", pins), ("3.12", pins)]
    assert called[:3] == [["unit", "lowest"], ["unit", "3.11"], ["unit", "3.12"]]
    assert called[3][1:] == ["-m", "mypy", "--python-version", "3.13"]
    note, last = capsys.readouterr().out.splitlines()[-2:]
    assert note.startswith("Python 3.13 is not on this computer")
    assert last.startswith("16 passed in ")
    with pytest.raises(SystemExit):
        runner.main(["--lowest", "--only", "browser"])


def test_a_python_that_does_not_run_is_none(
    runner: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """This one is found; a name that answers but does not run, and a Python of another version, are not taken."""
    here = "{}.{}".format(*sys.version_info)
    assert runner.interpreter(here) == sys.executable
    other = "3.12" if here != "3.12" else "3.13"
    monkeypatch.setenv("PYENV_ROOT", str(tmp_path))
    monkeypatch.setattr(runner.shutil, "which", lambda _: str(tmp_path / "not there"))
    assert runner.interpreter(other) is None
    kept = tmp_path / "versions" / f"{other}.1" / "bin"
    kept.mkdir(parents=True)
    (kept / "python").symlink_to(sys.executable)
    assert runner.interpreter(other) is None
    (kept / "python").unlink()
    (kept / "python").write_text("#!/bin/sh\nexit 0\n")
    (kept / "python").chmod(0o755)
    assert runner.interpreter(other) == str(kept / "python")


def test_what_is_compiled_is_kept_for_the_run(
    runner: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where Python is told to keep nothing compiled, the run keeps it among its own files, not in the project's."""
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    (tmp_path / "one.py").write_text("", encoding="utf-8")
    surround = {**runner.surroundings(tmp_path, "", False), "PYTHONPATH": str(tmp_path)}
    subprocess.run([sys.executable, "-c", "import one"], env=surround, check=True)
    assert list((tmp_path / "compiled").rglob("one.*.pyc"))
    assert not (tmp_path / "__pycache__").exists()
