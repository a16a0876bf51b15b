"""A home's folder: its own copies of the pages, its home file never overwritten; Jupyter's own kept elsewhere."""

import json
import os
import shutil
import socket
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import nbformat
import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.lab import left_off, listed_pages, run_place, surroundings, workbook
from alarmlib.lab.open import at_page, prepare, running


@pytest.fixture
def shipped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small workbook: two pages with outputs, one picture, the opening command beside them."""
    folder = tmp_path / "shipped"
    (folder / "pictures").mkdir(parents=True)
    (folder / "pictures" / "plan.svg").write_text("<svg/>")
    (folder / "start.py").write_text("")
    for name in ("00_start", "01_survey"):
        write_page(folder / f"{name}.ipynb", f"pages.check('{name}')")
    monkeypatch.setattr(workbook, "source", lambda: folder)
    return folder


def write_page(path: Path, line: str) -> None:
    """A page that has been run, with its output and what Jupyter leaves in a cell."""
    output = nbformat.v4.new_output("stream", text="old words")
    cell = nbformat.v4.new_code_cell(line, outputs=[output], execution_count=7, id="a")
    cell.metadata |= {"execution": {"iopub.execute_input": "2026-01-01T00:00:00Z"}, "trusted": True, "tags": ["check"]}
    page = nbformat.v4.new_notebook(cells=[nbformat.v4.new_markdown_cell("# Page", id="b"), cell])
    page.metadata |= {"widgets": {"state": {}}, "alarmlib": {"run_on_open": True}}
    nbformat.write(page, path)


def test_pages_come_without_anything_of_a_run(shipped: Path, tmp_path: Path) -> None:
    """Copies have no outputs, counts, time stamps or widget state and keep their tags; the shipped page stays."""
    before = (shipped / "00_start.ipynb").read_bytes()
    folder = prepare(tmp_path / "home")
    page = nbformat.read(folder / "00_start.ipynb", as_version=4)
    assert page.cells[1].outputs == []
    assert page.cells[1].execution_count is None
    assert page.cells[1].metadata == {"tags": ["check"]}
    assert page.metadata == {"alarmlib": {"run_on_open": True}}
    assert (shipped / "00_start.ipynb").read_bytes() == before


def test_only_pages_and_pictures_are_copied(shipped: Path, tmp_path: Path) -> None:
    """A home's folder holds what its reader needs and one hidden folder."""
    folder = prepare(tmp_path / "home")
    assert sorted(path.name for path in folder.iterdir()) == [
        ".workbook",
        "00_start.ipynb",
        "01_survey.ipynb",
        "pictures",
    ]
    assert (folder / "pictures" / "plan.svg").is_file()


def test_preparing_again_is_light(shipped: Path, tmp_path: Path) -> None:
    """When no page is new, no notebook library is loaded: the second start must be quick."""
    folder = prepare(tmp_path / "home")
    program = (
        "import sys; from pathlib import Path; from alarmlib.lab import open, workbook;"
        "workbook.source = lambda: Path(sys.argv[1]); open.prepare(Path(sys.argv[2])); print('nbformat' in sys.modules)"
    )
    command = [sys.executable, "-c", program, str(shipped), str(folder)]
    assert subprocess.run(command, capture_output=True, text=True, check=True).stdout == "False\n"


def test_preparing_again_changes_nothing(shipped: Path, tmp_path: Path) -> None:
    """A second call leaves every page byte for byte and does not even write it."""
    folder = prepare(tmp_path / "home")
    before = {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.glob("*.ipynb")}
    prepare(folder)
    assert {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.glob("*.ipynb")} == before


def test_a_page_that_was_only_run_is_made_fresh(shipped: Path, tmp_path: Path) -> None:
    """Outputs that Jupyter saved into a copy are dropped; nothing is put aside for them."""
    folder = prepare(tmp_path / "home")
    write_page(folder / "00_start.ipynb", "pages.check('00_start')")
    page = nbformat.read(folder / "00_start.ipynb", as_version=4)
    page.cells[1].metadata["scrolled"] = True
    nbformat.write(page, folder / "00_start.ipynb")
    prepare(folder)
    assert nbformat.read(folder / "00_start.ipynb", as_version=4).cells[1].outputs == []
    assert [path.name for path in folder.glob("*_changed_*")] == []


def test_a_page_that_its_reader_changed_is_kept(shipped: Path, tmp_path: Path) -> None:
    """The reader's own text is put aside under a name that says so, a new one each time."""
    folder = prepare(tmp_path / "home")
    for number in (1, 2):
        write_page(folder / "00_start.ipynb", f"my_note({number})")
        prepare(folder)
        aside = nbformat.read(folder / f"00_start_changed_{number}.ipynb", as_version=4)
        assert aside.cells[1].source == f"my_note({number})"
    assert nbformat.read(folder / "00_start.ipynb", as_version=4).cells[1].source == "pages.check('00_start')"


def test_a_newer_page_replaces_an_unchanged_copy(shipped: Path, tmp_path: Path) -> None:
    """After an update the copy follows; nothing is put aside, for nobody had changed it."""
    folder = prepare(tmp_path / "home")
    write_page(shipped / "00_start.ipynb", "pages.check('newer')")
    prepare(folder)
    assert nbformat.read(folder / "00_start.ipynb", as_version=4).cells[1].source == "pages.check('newer')"
    assert list(folder.glob("*_changed_*")) == []


def test_a_broken_copy_is_put_aside(shipped: Path, tmp_path: Path) -> None:
    """A copy that is no notebook any more doesn't stop the workbook and isn't thrown away."""
    folder = prepare(tmp_path / "home")
    (folder / "00_start.ipynb").write_text("{")
    prepare(folder)
    assert (folder / "00_start_changed_1.ipynb").read_text() == "{"
    assert nbformat.read(folder / "00_start.ipynb", as_version=4).cells


def test_a_home_file_is_copied_once_and_never_overwritten(shipped: Path, tmp_path: Path) -> None:
    """The same home may be given again; another one is refused in a sentence and nothing changes."""
    given, other = tmp_path / "given.json", tmp_path / "other.json"
    given.write_text('{"a": 1}')
    other.write_text('{"b": 2}')
    folder = prepare(tmp_path / "home", given)
    prepare(folder, given)
    prepare(folder, folder / "home.json")
    with pytest.raises(AlarmProblem, match=r"home\.json is another home and is kept"):
        prepare(folder, other)
    assert (folder / "home.json").read_text() == '{"a": 1}'
    assert given.read_text() == '{"a": 1}'


def test_no_home_file_is_made(shipped: Path, tmp_path: Path) -> None:
    """Whether there is a home yet is the first page's matter."""
    assert not (prepare(tmp_path / "home") / "home.json").exists()


def test_a_folder_that_cannot_be_made_is_told(shipped: Path, tmp_path: Path) -> None:
    """One sentence with the place, no traceback of the operating system."""
    (tmp_path / "file").write_text("")
    with pytest.raises(AlarmProblem, match=r"cannot be read or written .* choose a folder"):
        prepare(tmp_path / "file" / "home")


def test_the_shipped_pages_are_never_a_home(shipped: Path) -> None:
    """Opening a home in the shipped pages' own folder would strip them: refused, and nothing is written."""
    before = sorted(path.name for path in shipped.iterdir())
    with pytest.raises(AlarmProblem, match="another folder"):
        prepare(shipped)
    assert sorted(path.name for path in shipped.iterdir()) == before


def test_what_jupyter_keeps_is_never_in_the_homes_folder(
    shipped: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Config, data, runtime, settings, layout and IPython's profile are in a folder of the user's own, for one run."""
    (tmp_path / "user").mkdir()
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path / "user"))
    folder = prepare(tmp_path / "home")
    run = run_place.new_run(folder)
    surroundings.write_settings(run, folder, "key")
    told = surroundings.environment(run, folder)
    for name in (
        *(f"JUPYTER_{each}" for each in ("CONFIG_DIR", "DATA_DIR", "RUNTIME_DIR")),
        "JUPYTERLAB_SETTINGS_DIR",
        "JUPYTERLAB_WORKSPACES_DIR",
        "IPYTHONDIR",
    ):
        assert Path(told[name]).parent == run
        assert Path(told[name]).is_dir()
    assert run.is_relative_to((tmp_path / "user").resolve())
    assert told["ALARM_HOME"] == str(folder / "home.json")
    assert told["PATH"] == os.environ["PATH"]
    assert [path.name for path in (folder / ".workbook").iterdir()] == ["pages.json"]
    run_place.end_run(run)
    assert not run.exists()


def test_no_variable_brings_settings_or_code(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a shell or a folder's tool has set for Jupyter, IPython or Python does not reach the server."""
    for name in ("PYTHONPATH", "PYTHONSTARTUP", "PYTHONHOME", "JUPYTER_PATH", "JUPYTER_CONFIG_PATH", "JUPYTER_TOKEN"):
        monkeypatch.setenv(name, str(tmp_path))
    own = surroundings.own_variables(tmp_path, tmp_path)
    told = surroundings.environment(tmp_path, tmp_path)
    foreign = {name for name in told if name.startswith(("PYTHON", "JUPYTER", "IPYTHON"))} - set(own)
    assert foreign == set()


def test_another_users_folder_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that was made beforehand, and that others may enter, is not used: one sentence says so."""
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    made = tmp_path / f"alarm-{os.getuid()}"
    made.mkdir()
    made.chmod(0o777)
    with pytest.raises(AlarmProblem, match="must be a folder that you alone may enter"):
        run_place.new_run(tmp_path)
    made.rmdir()
    made.symlink_to(tmp_path / "elsewhere")
    (tmp_path / "elsewhere").mkdir(mode=0o700)
    with pytest.raises(AlarmProblem, match="must be a folder that you alone may enter"):
        run_place.new_run(tmp_path)


def test_kernels_use_sockets_only_where_the_path_is_short(
    shipped: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By sockets in the run's folder, else by TCP as before: a deep folder is too long for a socket's address."""
    kinds = {}
    for name in ("a", "deep" * 20):
        above = Path(tempfile.mkdtemp(prefix="t"))
        (base := above / name).mkdir()
        monkeypatch.setenv("XDG_RUNTIME_DIR", str(base))
        run = run_place.new_run(tmp_path)
        surroundings.write_settings(run, tmp_path)
        config = surroundings.place(run, "JUPYTER_CONFIG_DIR") / "jupyter_server_config.json"
        kinds[name[:4]] = json.loads(config.read_text(encoding="utf-8"))["KernelManager"]["transport"]
        shutil.rmtree(above)
    assert kinds == {"a": "tcp" if os.name == "nt" else "ipc", "deep": "tcp"}


def test_a_socket_of_the_longest_path_that_fits_can_be_bound(tmp_path: Path) -> None:
    """The system itself takes the length that the library takes for short enough."""
    base = Path(tempfile.mkdtemp(prefix="alarm-test-"))
    run = base / ("r" * (run_place.SOCKET_PATH_MOST - len(f"{base}/") - len(run_place._SOCKET)))
    assert run_place.sockets_fit(run)
    assert not run_place.sockets_fit(run.with_name(run.name + "r"))
    (run / "runtime").mkdir(parents=True)
    with socket.socket(socket.AF_UNIX) as bound:
        bound.bind(f"{run}{run_place._SOCKET}")
    shutil.rmtree(base)


@pytest.mark.parametrize("alive", [True, False])
def test_only_a_dead_servers_folder_is_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, alive: bool) -> None:
    """A server that listens but answers nothing useful keeps its folder, with the sockets of its kernels."""
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    run = run_place.new_run(tmp_path)
    (run / "runtime").mkdir()
    with socket.socket() as server:
        server.bind(("127.0.0.1", 0))
        port = server.getsockname()[1]
        if alive:
            server.listen()
        told = {"url": f"http://127.0.0.1:{port}/", "port": port, "token": "key"}
        (run / "runtime" / "jpserver-1.json").write_text(json.dumps(told))
        assert running(tmp_path) is None
    assert run.exists() is alive


def test_the_server_asks_nobody_and_lands_on_the_first_page(
    shipped: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its settings name no news and no update check; it opens the first page; only their owner can read them."""
    (tmp_path / "user").mkdir()
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path / "user"))
    run = run_place.new_run(folder := prepare(tmp_path / "home"))
    surroundings.write_settings(run, folder, "key")
    config = surroundings.place(run, "JUPYTER_CONFIG_DIR")
    lab = json.loads((config / "jupyter_lab_config.json").read_text(encoding="utf-8"))["LabApp"]
    assert lab["news_url"] is None
    assert lab["check_for_updates_class"].endswith("NeverCheckForUpdate")
    assert lab["default_url"] == "/doc/tree/00_start.ipynb"
    assert (Path(lab["app_settings_dir"]) / "overrides.json").is_file()
    server = json.loads((config / "jupyter_server_config.json").read_text(encoding="utf-8"))
    assert server["ServerApp"]["root_dir"] == str((tmp_path / "home").resolve())
    assert server["IdentityProvider"] == {"token": "key"}
    assert stat.S_IMODE((config / "jupyter_server_config.json").stat().st_mode) == 0o600


def test_the_workbook_opens_at_the_page_that_was_left(
    shipped: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first page at first; then the one noted last; a name that is no page's, or leads elsewhere, is not noted."""
    (tmp_path / "user").mkdir()
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path / "user"))
    folder = prepare(tmp_path / "home")
    assert left_off.page_left(folder) == "00_start.ipynb"
    assert not left_off.keep(folder, "../00_start.ipynb")
    assert not left_off.keep(folder, "mine.ipynb")
    assert left_off.page_left(folder) == "00_start.ipynb"
    page = workbook.page_files()[-1].name
    assert left_off.keep(folder, page)
    surroundings.write_settings(run := run_place.new_run(folder), folder)
    config = surroundings.place(run, "JUPYTER_CONFIG_DIR") / "jupyter_lab_config.json"
    assert json.loads(config.read_text(encoding="utf-8"))["LabApp"]["default_url"] == f"/doc/tree/{page}"
    assert at_page("http://localhost:1/?token=key", page) == f"http://localhost:1/doc/tree/{page}?token=key"
    (folder / ".workbook" / "left_off.txt").write_text("../../etc/passwd")
    assert left_off.page_left(folder) == "00_start.ipynb"


def test_a_hidden_folder_that_leads_elsewhere_is_refused(shipped: Path, tmp_path: Path) -> None:
    """A folder somebody sent may hold links: none makes the library close, write or replace what it leads to."""
    outside, folder = tmp_path / "outside", tmp_path / "home"
    outside.mkdir(mode=0o755)
    folder.mkdir()
    (folder / ".workbook").symlink_to(outside)
    with pytest.raises(AlarmProblem, match="is a link that leads out of the folder"):
        prepare(folder)
    (folder / ".workbook").unlink()
    (folder / "00_start.ipynb").symlink_to(outside / "page")
    (folder / "pictures").symlink_to(outside)
    prepare(folder)
    assert (folder / "00_start_changed_1.ipynb").is_symlink()
    assert not (folder / "00_start.ipynb").is_symlink()
    assert list(outside.iterdir()) == []


def test_a_page_that_is_put_back_keeps_the_changed_one(shipped: Path, tmp_path: Path) -> None:
    """What the button of a changed page does: the workbook's own in its place, the reader's aside, letter by letter."""
    folder = prepare(tmp_path / "home")
    fresh = (folder / "00_start.ipynb").read_bytes()
    write_page(folder / "00_start.ipynb", "my_note()")
    mine = (folder / "00_start.ipynb").read_bytes()
    aside = workbook.put_back(shipped / "00_start.ipynb", folder / "00_start.ipynb")
    assert aside.read_bytes() == mine
    assert (folder / "00_start.ipynb").read_bytes() == fresh


def test_the_list_of_own_pages_is_that_of_the_pages() -> None:
    """If this fails after a change of a page: `python -m alarmlib.lab.listed_pages` writes the list again."""
    assert listed_pages.PLACE.read_text(encoding="utf-8") == workbook.listed()
    assert len(json.loads(workbook.listed())) == len(workbook.page_files()) > 9
