"""The wheel, installed in a bare environment outside the checkout, holds the whole workbook and works from there.

The wheel itself is installed by pip; its dependencies are lent by the test environment (a path file, and a copy of
their shared Jupyter files), so that nothing is fetched twice. What pip would resolve is tested by the opening command,
which every fresh machine runs.
"""

import json
import os
import shutil
import subprocess
import sys
import sysconfig
import time
import venv
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import expect, sync_playwright

ROOT = Path(__file__).parents[2]
CHROMIUM = os.environ.get("ALARM_CHROMIUM") or "/usr/bin/chromium"


@dataclass(frozen=True)
class Bare:
    """An environment that holds the wheel, and a folder to work in that is not the checkout."""

    python: Path
    folder: Path

    def run(self, *words: str) -> "subprocess.CompletedProcess[str]":
        """A Python command there, with nothing of the checkout on its path."""
        surround = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
        command = [str(self.python), *words]
        return subprocess.run(
            command, cwd=self.folder, env=surround, capture_output=True, text=True, check=False, timeout=300
        )


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel as `python -m build` makes it from this checkout."""
    target = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(target), str(ROOT)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    (built,) = target.glob("*.whl")
    return built


@pytest.fixture(scope="session")
def bare(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Bare:
    """A new environment with only the wheel in it; the dependencies are lent, the checkout is not."""
    place = tmp_path_factory.mktemp("bare")
    venv.create(place / "env", with_pip=False)
    python = place / "env" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    install = [sys.executable, "-m", "pip", "--python", str(python), "install", "--quiet", "--no-deps", "--no-index"]
    done = subprocess.run([*install, str(wheel)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    told = subprocess.run(
        [str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"],
        capture_output=True,
        text=True,
        check=True,
    )
    # Not `site.addsitedir`: the checkout's own path files must not be read.
    (Path(told.stdout.strip()) / "lent.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    _lend(Path(sys.prefix) / "share" / "jupyter", place / "env" / "share" / "jupyter")
    folder = place / "elsewhere"
    folder.mkdir()
    return Bare(python, folder)


def _lend(source: Path, target: Path) -> None:
    """Copy the shared Jupyter files of the dependencies: JupyterLab's page, kernels, templates; never ours."""
    shutil.copytree(source, target, dirs_exist_ok=True, ignore=shutil.ignore_patterns("alarmlib*"))


def test_all_that_the_workbook_is_made_of_travels(wheel: Path) -> None:
    """Every page, the demo home, every picture, template, form script, style sheet and setting is in the wheel."""
    inside = set(zipfile.ZipFile(wheel).namelist())
    data = [path for path in (ROOT / "alarmlib").rglob("*") if path.is_file() and path.suffix not in (".py", ".pyc")]
    wanted = {path.relative_to(ROOT).as_posix() for path in data}
    wanted |= {f"alarmlib/_workbook/{path.relative_to(ROOT / 'workbook').as_posix()}" for path in _tracked("workbook")}
    wanted |= {path.relative_to(ROOT).as_posix() for path in (ROOT / "alarmlib").rglob("*.py")}
    assert wanted - inside == set()
    assert {"alarmlib/_workbook/00_start.ipynb", "alarmlib/_workbook/demo_home.json", "alarmlib/py.typed"} <= inside
    assert {f"alarmlib/_workbook/demo_home_finished{end}" for end in (".json", ".proof.json")} <= inside


def test_nothing_else_travels(wheel: Path) -> None:
    """No test, no cache, no home of anybody, no environment."""
    wrong = ("tests/", "__pycache__", ".venv", "my-home", ".ipynb_checkpoints", ".workbook/")
    assert [name for name in zipfile.ZipFile(wheel).namelist() if any(part in name for part in wrong)] == []


def _tracked(folder: str) -> list[Path]:
    told = subprocess.run(["git", "ls-files", folder], cwd=ROOT, capture_output=True, text=True, check=True)
    return [ROOT / line for line in told.stdout.splitlines() if (ROOT / line).is_file()]


def test_the_installed_library_is_the_wheels(bare: Bare) -> None:
    """Not the checkout's by accident: the tests below would prove nothing."""
    done = bare.run("-c", "import alarmlib; print(alarmlib.__file__)")
    assert Path(done.stdout.strip()).is_relative_to(bare.python.parents[1])


def test_pages_are_found_in_the_package(bare: Bare) -> None:
    """The pages' source is the package's own folder."""
    done = bare.run("-c", "from alarmlib.lab.workbook import source, page_files; print(source(), len(page_files()))")
    folder, number = done.stdout.split()
    assert Path(folder).name == "_workbook"
    assert int(number) == len(list((ROOT / "workbook").glob("*.ipynb")))


def test_jupyterlab_lists_the_extension(bare: Bare) -> None:
    """Any server of that environment has it, enabled, without a build."""
    done = bare.run("-c", "from jupyterlab.labextensions import main; main()", "list")
    lines = [line for line in (done.stdout + done.stderr).splitlines() if "alarmlib-run-on-open" in line]
    assert len(lines) == 1, done.stderr
    assert "enabled" in lines[0]
    assert "OK" in lines[0]


def test_nbconvert_finds_the_exporter(bare: Bare) -> None:
    """`jupyter nbconvert --to alarm_record` is known by its entry point."""
    done = bare.run("-c", "from nbconvert.exporters import get_exporter; print(get_exporter('alarm_record'))")
    assert "RecordExporter" in done.stdout, done.stderr


def test_the_schema_is_printed(bare: Bare) -> None:
    """The home file's schema travels as the models do."""
    done = bare.run("-m", "alarmlib", "schema")
    assert done.returncode == 0, done.stderr
    assert "schema_version" in json.loads(done.stdout)["properties"]


def test_the_record_is_made(bare: Bare) -> None:
    """The demo home's record, from the wheel alone; the exit code may say that something is to fix."""
    found = bare.run("-c", "from alarmlib.lab.workbook import source; print(source() / 'demo_home.json')")
    words = ["record", found.stdout.strip(), "--out", "record.html", "--copy", "owner"]
    done = bare.run("-m", "alarmlib", *words)
    assert done.returncode in (0, 1), done.stderr
    told = (bare.folder / "record.html").read_text(encoding="utf-8")
    assert "<main" in told
    assert "<script" not in told


@pytest.fixture
def opened(bare: Bare) -> Iterator[str]:
    """The workbook opened by its command; the address that it prints."""
    words = ["-m", "alarmlib", "open", "home", "--no-browser"]
    surround = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    with subprocess.Popen(
        [str(bare.python), *words], cwd=bare.folder, env=surround, stdout=subprocess.PIPE, text=True
    ) as server:
        assert server.stdout is not None
        first = server.stdout.readline()
        try:
            assert first.startswith("The workbook is open: "), first
            yield first.split()[-1]
        finally:
            server.terminate()
            assert server.wait(30) == 0


@pytest.mark.browser
def test_a_page_opens_and_draws_itself(bare: Bare, opened: str) -> None:
    """`open` prints an address; in Chromium the first page draws its forms; nothing outside this machine is asked."""
    asked: list[str] = []
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        page = browser.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.goto(opened)
        expect(page.locator(".alarm-form").first).to_be_visible(timeout=90_000)
        assert page.url.endswith("/doc/tree/00_start.ipynb")
        expect(page.locator(".jp-Dialog")).to_have_count(0)
        browser.close()
    here = ("http://localhost:", "http://127.0.0.1:", "data:", "blob:")
    assert [url for url in asked if not url.startswith(here)] == []
    assert (bare.folder / "home" / ".workbook").is_dir()


@pytest.mark.browser
def test_opening_twice_shows_the_same_server(bare: Bare, opened: str) -> None:
    """A second `open` of the same folder starts nothing and names the first one's address."""
    begun = time.monotonic()
    done = bare.run("-m", "alarmlib", "open", "home", "--no-browser")
    assert done.stdout == f"This workbook is open already: {opened}\n", done.stderr
    assert time.monotonic() - begun < 30
