"""A home's folder: its own copies of the pages, trusted; its own Jupyter; its home file never overwritten."""

import json
import os
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest
from nbformat.sign import NotebookNotary

from alarmlib.errors import AlarmProblem
from alarmlib.lab import surroundings, workbook
from alarmlib.lab.open import prepare


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


def test_copies_are_trusted_in_the_homes_own_list(shipped: Path, tmp_path: Path) -> None:
    """Every copy is signed where this home's server looks; a foreign page beside them is not."""
    folder = prepare(tmp_path / "home")
    write_page(folder / "foreign.ipynb", "harm()")
    with NotebookNotary(data_dir=str(surroundings.place(folder, "JUPYTER_DATA_DIR"))) as notary:
        for path, trusted in (("00_start", True), ("01_survey", True), ("foreign", False)):
            assert notary.check_signature(nbformat.read(folder / f"{path}.ipynb", as_version=4)) is trusted


def test_trust_is_given_again_when_its_list_is_lost(shipped: Path, tmp_path: Path) -> None:
    """Without the list of signatures, and after an update of a page, every page is signed again."""
    folder = prepare(tmp_path / "home")
    data = surroundings.place(folder, "JUPYTER_DATA_DIR")
    (data / "nbsignatures.db").unlink()
    prepare(folder)
    write_page(shipped / "01_survey.ipynb", "pages.check('newer')")
    prepare(folder)
    with NotebookNotary(data_dir=str(data)) as notary:
        for path in folder.glob("*.ipynb"):
            assert notary.check_signature(nbformat.read(path, as_version=4))


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


def test_all_of_jupyters_folders_are_the_homes_own(shipped: Path, tmp_path: Path) -> None:
    """Config, data, runtime, settings, layout and IPython's profile are in the home's hidden folder."""
    folder = prepare(tmp_path / "home")
    told = surroundings.environment(folder)
    names = ["CONFIG_DIR", "DATA_DIR", "RUNTIME_DIR"]
    for name in [
        *(f"JUPYTER_{each}" for each in names),
        "JUPYTERLAB_SETTINGS_DIR",
        "JUPYTERLAB_WORKSPACES_DIR",
        "IPYTHONDIR",
    ]:
        assert Path(told[name]).parent == folder / ".workbook"
        assert Path(told[name]).is_dir()
    assert told["ALARM_HOME"] == str(folder / "home.json")
    assert told["PATH"] == os.environ["PATH"]


def test_the_server_asks_nobody_and_lands_on_the_first_page(shipped: Path, tmp_path: Path) -> None:
    """Its settings name no news and no update check; it opens the first page from this folder."""
    config = surroundings.place(prepare(tmp_path / "home"), "JUPYTER_CONFIG_DIR")
    lab = json.loads((config / "jupyter_lab_config.json").read_text(encoding="utf-8"))["LabApp"]
    assert lab["news_url"] is None
    assert lab["check_for_updates_class"].endswith("NeverCheckForUpdate")
    assert lab["default_url"] == "/doc/tree/00_start.ipynb"
    assert (Path(lab["app_settings_dir"]) / "overrides.json").is_file()
    server = json.loads((config / "jupyter_server_config.json").read_text(encoding="utf-8"))
    assert server["ServerApp"]["root_dir"] == str((tmp_path / "home").resolve())
