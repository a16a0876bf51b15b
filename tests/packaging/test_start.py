"""The opening command: what it understands, what it does once only, and what it says when something is missing."""

import ast
import errno
import json
import os
import re
import subprocess
import sys
import venv
import zipfile
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project folder with nothing in it but its project file."""
    folder = tmp_path / "project"
    folder.mkdir()
    (folder / "pyproject.toml").write_text('[project]\nname = "nothing"\nversion = "1"\n')
    return folder


@pytest.fixture
def installed(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """Every environment can be made and every installation works at once; what was asked for is listed."""
    asked: list[list[str]] = []

    def make(folder: Path) -> None:
        asked.append(["venv"])
        python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
        python.parent.mkdir(parents=True)
        python.touch()

    monkeypatch.setattr(start, "make_venv", make)
    monkeypatch.setattr(start, "works", lambda python: python.exists())
    monkeypatch.setattr(start, "install", lambda _root, _python, extras, _wheels: asked.append(extras))
    return asked


def test_options_have_plain_defaults(start: ModuleType) -> None:
    """Without a word the home is kept in my-home beside the project file, which git leaves alone."""
    options = start.arguments([])
    assert options.folder == ROOT / "my-home"
    assert (options.port, options.no_browser, options.headless, options.offline) == (8888, False, False, None)
    assert "my-home/" in (ROOT / ".gitignore").read_text().splitlines()


def test_options_are_read(start: ModuleType, tmp_path: Path) -> None:
    """Each option of the README is understood."""
    words = ["--folder", str(tmp_path), "--port", "9000", "--no-browser", "--headless", "--offline", "wheels"]
    assert not start.arguments(words).notebook_tools
    options = start.arguments([*words, "--notebook-tools"])
    assert options.notebook_tools
    assert options.folder == tmp_path.resolve()
    assert (options.port, options.no_browser, options.headless, options.offline) == (9000, True, True, Path("wheels"))


@pytest.mark.parametrize("port", ["80", "65536", "abc", "-1", "8888.5"])
def test_a_wrong_port_is_refused_with_the_range(
    start: ModuleType, port: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A port that cannot be used ends with 2 and the range."""
    with pytest.raises(SystemExit) as ended:
        start.arguments([f"--port={port}"])
    assert ended.value.code == 2
    assert "1024 to 65535" in capsys.readouterr().err


@pytest.mark.parametrize("script", ["workbook/start.py", "tests/run.py"])
def test_an_old_python_can_read_both_commands(script: str) -> None:
    """Python 3.7 understands the file, so it reaches the sentence that says it is too old."""
    ast.parse((ROOT / script).read_text(encoding="utf-8"), feature_version=(3, 7))


def test_an_old_python_is_refused_in_words(start: ModuleType) -> None:
    """The sentence names what was found and what is needed; the oldest allowed passes."""
    with pytest.raises(start.StartProblem, match=r"This is Python 3\.9; the workbook needs 3\.11 or newer"):
        start.check_python((3, 9))
    start.check_python((3, 11))


@pytest.mark.parametrize("script", ["workbook/start.py", "tests/run.py"])
def test_both_commands_use_the_standard_library_only(script: str) -> None:
    """Nothing but the standard library (and the opening command itself) is imported."""
    tree = ast.parse((ROOT / script).read_text(encoding="utf-8"))
    names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    names |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert {name.split(".")[0] for name in names} - sys.stdlib_module_names <= {"start"}


def test_a_second_start_installs_nothing(start: ModuleType, project: Path, installed: list[list[str]]) -> None:
    """The environment is made once, and again only when the project file moves."""
    start.environment(project, (), None)
    assert installed == [["venv"], []]
    start.environment(project, (), None)
    assert installed == [["venv"], []]
    (project / "pyproject.toml").write_text('[project]\nname = "nothing"\nversion = "2"\n')
    start.environment(project, (), None)
    assert installed == [["venv"], [], []]


def test_a_moved_pin_installs_again(start: ModuleType, project: Path, installed: list[list[str]]) -> None:
    """What is installed follows the pins as it follows the project file."""
    start.environment(project, (), None)
    (project / start.PINS).write_text("numpy==2.4.6\n")
    start.environment(project, (), None)
    start.environment(project, (), None)
    assert installed == [["venv"], [], []]


@pytest.mark.parametrize("tool", [None, "/some/where/uv"])
def test_the_installer_is_held_to_the_pins(
    start: ModuleType, project: Path, monkeypatch: pytest.MonkeyPatch, tool: str | None
) -> None:
    """Both installers are handed the file, wheels collected for --offline too; without it the ranges alone count."""
    asked: list[list[str]] = []
    (project / start.ENVIRONMENT).mkdir()
    monkeypatch.setattr(start.shutil, "which", lambda _: tool)
    monkeypatch.setattr(start, "patiently", lambda command, _out: asked.append(command) or 0)
    start.install(project, Path(sys.executable), [], None)
    assert "--constraint" not in asked[0]
    assert "--constraint" not in start.collect(project)
    (project / start.PINS).write_text("numpy==2.4.6\n")
    start.install(project, Path(sys.executable), [], None)
    assert asked[1][asked[1].index("--constraint") + 1] == str(project / start.PINS)
    assert f'--constraint "{project / start.PINS}"' in start.collect(project)


def test_a_real_installer_takes_the_pinned_version(start: ModuleType, project: Path, tmp_path: Path) -> None:
    """A real pip with wheels of two versions takes the pinned one, though the range allows the newer."""
    made = tmp_path / "made"
    venv.create(made, with_pip=True)
    python = made / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    wheels = tmp_path / "wheels"
    wheels.mkdir()
    for version in ("1.0", "1.1"):
        _wheel(wheels, "part", version)
    (project / start.PINS).write_text("part==1.0\n")
    words = ["-m", "pip", "install", "--quiet", *start.pinned(project), "--no-index", "--find-links", str(wheels)]
    subprocess.run([str(python), *words, "part>=1"], check=True, capture_output=True)
    told = subprocess.run([str(python), "-m", "pip", "list"], check=True, capture_output=True, text=True).stdout
    assert re.search(r"^part +1\.0$", told, re.MULTILINE), told


def _wheel(folder: Path, name: str, version: str) -> None:
    """An empty wheel, by the binary distribution format (the file names from memory; pip itself reads it)."""
    inside = f"{name}-{version}.dist-info"
    with zipfile.ZipFile(folder / f"{name}-{version}-py3-none-any.whl", "w") as wheel:
        wheel.writestr(f"{inside}/METADATA", f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n")
        wheel.writestr(f"{inside}/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        wheel.writestr(f"{inside}/RECORD", "")


def test_the_tests_parts_are_kept(start: ModuleType, project: Path, installed: list[list[str]]) -> None:
    """Opening the workbook after the tests ran neither installs again nor forgets the tests' parts."""
    start.environment(project, ("test",), None)
    start.environment(project, (), None)
    assert installed == [["venv"], ["test"]]
    (project / "pyproject.toml").write_text("")
    start.environment(project, (), None)
    assert installed[-1] == ["test"]


def test_a_broken_mark_only_costs_an_installation(start: ModuleType, project: Path, installed: list[list[str]]) -> None:
    """A note of what was installed that cannot be read is as good as none."""
    start.environment(project, (), None)
    (project / start.ENVIRONMENT / start.MARK).write_text("{")
    start.environment(project, (), None)
    assert installed == [["venv"], [], []]


def test_a_failed_installation_is_not_remembered(
    start: ModuleType, project: Path, installed: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a failure the next start tries again."""

    def fail(*_: object) -> None:
        raise start.StartProblem("no")

    monkeypatch.setattr(start, "install", fail)
    with pytest.raises(start.StartProblem):
        start.environment(project, (), None)
    assert not (project / start.ENVIRONMENT / start.MARK).exists()


def test_outside_the_project_it_names_the_other_way(start: ModuleType, tmp_path: Path) -> None:
    """Beside no project file it says how an installed workbook is opened."""
    with pytest.raises(start.StartProblem, match="python -m alarmlib open"):
        start.environment(tmp_path, (), None)


@pytest.mark.parametrize("made", [True, False])
def test_wheels_that_are_not_there(start: ModuleType, project: Path, tmp_path: Path, made: bool) -> None:
    """A missing or empty folder of wheels is named, with the command that fills one; nothing is made."""
    wheels = tmp_path / "wheels"
    if made:
        wheels.mkdir()
    with pytest.raises(start.StartProblem, match=r"no wheels in .*wheels\. .* pip wheel --wheel-dir WHEELS"):
        start.environment(project, (), wheels)
    assert not (project / start.ENVIRONMENT).exists()


def test_a_python_without_venv(start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Debian keeps venv in a package of its own: the sentence names it."""
    words = "The virtual environment was not created successfully because ensurepip is not available."
    answer = subprocess.CompletedProcess([], 1, stdout=words, stderr="")
    monkeypatch.setattr(start.subprocess, "run", lambda *_, **__: answer)
    with pytest.raises(start.StartProblem, match="sudo apt install python3-venv"):
        start.make_venv(tmp_path / ".venv")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("ERROR: Could not install packages: [Errno 28] No space left on device", "The disk is full"),
        ("PermissionError: [Errno 13] Permission denied: '/srv/x'", "cannot be written"),
        ("NewConnectionError: Failed to establish a new connection: [Errno -2]", "Is this computer online"),
        ("ERROR: No matching distribution found for pandas", "Is this computer online"),
    ],
)
def test_an_installers_words_become_a_sentence(start: ModuleType, words: str, told: str) -> None:
    """What pip says when the disk is full, the folder is locked or the net is gone."""
    assert told in start.meaning(words, Path("project"), None)


def test_offline_a_missing_part_is_a_missing_wheel(start: ModuleType) -> None:
    """With --offline nobody is asked whether the computer is online."""
    told = start.meaning("ERROR: No matching distribution found for pandas", Path("project"), Path("wheels"))
    assert told.startswith("A part is missing in the folder of wheels wheels.")


def test_an_unknown_failure_keeps_the_installers_last_word(
    start: ModuleType, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A real pip, asked for a project that cannot be built, ends in one sentence which names its log."""
    (project / "pyproject.toml").write_text('[build-system]\nrequires = []\nbuild-backend = "no_such_backend"\n')
    (project / start.ENVIRONMENT).mkdir()
    monkeypatch.setattr(start.shutil, "which", lambda _: None)
    with pytest.raises(start.StartProblem, match=r"could not be installed: .*alarm-workbook\.log") as told:
        start.install(project, Path(sys.executable), [], None)
    assert "\n" not in str(told.value)


def test_a_real_offline_start_without_the_parts(start: ModuleType, project: Path, tmp_path: Path) -> None:
    """A real pip with a folder that holds one unrelated wheel: the missing part is told, not a traceback."""
    (project / start.ENVIRONMENT).mkdir()
    wheels = tmp_path / "wheels"
    wheels.mkdir()
    (wheels / "unrelated-1-py3-none-any.whl").touch()
    with pytest.raises(start.StartProblem, match="A part is missing in the folder of wheels"):
        start.install(project, Path(sys.executable), [], wheels)


@pytest.mark.parametrize(
    ("number", "told"), [(errno.ENOSPC, "disk is full"), (errno.EROFS, "cannot be read or written")]
)
def test_a_disk_that_refuses(start: ModuleType, number: int, told: str) -> None:
    """A full disk and a read-only folder are told in words, with the place."""
    sentence = start.disk_sentence(OSError(number, os.strerror(number), "some/place"))
    assert told in sentence
    assert "some/place" in sentence


def test_the_record_is_written_once(
    start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The demo record is written when it is missing, left alone while nothing moved, and written again when lost."""
    root, calls = tmp_path / "project", []
    (root / "workbook").mkdir(parents=True)
    (root / "alarmlib").mkdir()
    (root / "workbook" / "demo_home_finished.json").write_text("{}")

    def write(command: list[str], **_: object) -> "subprocess.CompletedProcess[str]":
        calls.append(command)
        Path(command[command.index("--out") + 1]).write_text("record")
        return subprocess.CompletedProcess(command, 1, "", "")

    monkeypatch.setattr(start, "ROOT", root)
    monkeypatch.setattr(start.subprocess, "run", write)
    folder = tmp_path / "my-home"
    record = start.demo_record(Path("python"), folder)
    assert start.demo_record(Path("python"), folder) == record == folder / "demo-record.html"
    assert len(calls) == 1
    assert str(root / "workbook" / "demo_home_finished.json") in calls[0]
    (root / "workbook" / "demo_home_finished.json").write_text("{ }")
    start.demo_record(Path("python"), folder)
    (root / "alarmlib" / "sums.py").write_text("moved = True")
    start.demo_record(Path("python"), folder)
    record.unlink()
    start.demo_record(Path("python"), folder)
    assert len(calls) == 4


def test_a_record_that_fails_is_told_in_one_sentence(
    start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the library said last is the sentence."""
    answer = subprocess.CompletedProcess([], 2, "", "first\nrooms in demo_home_finished.json: wrong\n")
    monkeypatch.setattr(start.subprocess, "run", lambda *_, **__: answer)
    with pytest.raises(start.StartProblem, match=r"could not be written: rooms in demo_home_finished\.json: wrong"):
        start.demo_record(Path("python"), tmp_path)


def test_a_problem_ends_with_two(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One sentence on stderr, exit code 2."""
    monkeypatch.setattr(
        start, "environment", lambda *_, **__: (_ for _ in ()).throw(start.StartProblem("Plain words."))
    )
    assert start.main(["--headless"]) == 2
    assert capsys.readouterr().err == "Plain words.\n"


def test_a_folder_that_is_a_file(
    start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A home folder that cannot be made is named in a sentence, exit code 2."""
    place = tmp_path / "file"
    place.touch()
    monkeypatch.setattr(start, "environment", lambda *_, **__: Path(sys.executable))
    assert start.main(["--headless", "--folder", str(place)]) == 2
    told = capsys.readouterr().err
    assert "cannot be read or written" in told
    assert "Traceback" not in told


def test_the_mark_is_readable(start: ModuleType, project: Path, installed: list[list[str]]) -> None:
    """What was installed is noted in plain JSON inside the environment."""
    start.environment(project, ("test",), None)
    mark = json.loads((project / start.ENVIRONMENT / start.MARK).read_text(encoding="utf-8"))
    assert mark["extras"] == ["test"]
