"""The record as a whole process, against nbconvert which executes and exports an empty page."""

import tempfile
from collections.abc import Iterator
from pathlib import Path

from measure import DEMO, Effort, Line, Process, side_by_side, whole_process


def measured(effort: Effort) -> Iterator[Line]:
    """Medians of both in turn; the record's size and the most memory that its process held."""
    with tempfile.TemporaryDirectory() as place:
        folder, made = Path(place), []
        page = empty_page(folder)

        def record() -> float:
            words = ["-m", "alarmlib", "record", str(DEMO), "--copy", "owner", "--date", "2026-11-25"]
            made.append(whole_process([*words, "--out", str(folder / "record.html")]))
            return made[-1].seconds

        def empty() -> float:
            return whole_process(["-m", "nbconvert", "--execute", "--to", "html", str(page)], folder=folder).seconds

        record_s, empty_s = side_by_side(record, empty, effort.runs)
        size_kb = (folder / "record.html").stat().st_size / 1000
    ratio = f"{record_s / empty_s:.2f} times ({record_s:.2f} s against {empty_s:.2f} s)"
    what = "record of the demo home, whole process, against nbconvert executing and exporting an empty page"
    yield Line(what, ratio, "2 times at most")
    yield Line("the record's file; most memory of its process", f"{size_kb:.0f} kB; {_peak(made)}", "under 500 kB")


def empty_page(folder: Path) -> Path:
    """A notebook with one empty cell."""
    import nbformat

    page = folder / "empty.ipynb"
    nbformat.write(nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("")]), page)
    return page


def _peak(made: list[Process]) -> str:
    peaks = [process.peak_mb for process in made if process.peak_mb is not None]
    return f"{max(peaks):.0f} MB" if peaks else "not told by this system"
