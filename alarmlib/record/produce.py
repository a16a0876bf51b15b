"""A record from a home in one call: the copy for its readers, its assessment, the HTML; and the demo homes."""

from importlib.resources import files
from pathlib import Path

from alarmlib.checks.assess import assess
from alarmlib.model.home import Home
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import NEVER_RUN, KeptProof
from alarmlib.record.blocks import Record
from alarmlib.record.context import day_of
from alarmlib.record.record import build, file_name, render
from alarmlib.record.told import told
from alarmlib.store.document import parsed
from alarmlib.store.sharing import copy_for

DEMO = "demo_home.json"
FINISHED = "demo_home_finished.json"
"""The invented home as it was first planned, with what was wrong with that plan; and as it is today."""


def record_of(
    home: Home,
    copy: Share,
    date: str,
    short: bool = False,
    previous: Home | None = None,
    kept: KeptProof = NEVER_RUN,
    since: str = "",
) -> Record:
    """The record of a home for one circle of readers: the whole home is judged, then what they may not see left out.

    `date` is written 2026-11-25; `previous` is the home of the last record, made on the day `since` where that is
    known; `kept` is the home's proof, which only the owner's copy tells of. Raises FieldProblem for a bad date.
    """
    seen = copy_for(home, copy)
    before = copy_for(previous, copy) if previous is not None else None
    assessment = told(assess(home, "full", today=day_of(date), proof=kept), home, seen, copy)
    proof = kept if copy is Share.OWNER else NEVER_RUN
    return build(
        assessment, seen, copy=copy, date=date, previous=before, short=short, kept=proof, since=since, whole=home
    )


def made(
    home: Home,
    copy: Share,
    date: str,
    short: bool = False,
    previous: Home | None = None,
    kept: KeptProof = NEVER_RUN,
    since: str = "",
) -> tuple[str, bytes]:
    """The record's file name and its bytes as HTML."""
    record = record_of(home, copy, date=date, short=short, previous=previous, kept=kept, since=since)
    return file_name(record), render(record).encode()


def demo_home(name: str = DEMO) -> Home:
    """The invented home that travels with the library: as first planned, or `FINISHED`."""
    return parsed(workbook_folder().joinpath(name).read_bytes(), name)


def workbook_folder() -> Path:
    """The folder of pages and demo homes: inside the installed package, or beside it in a checkout."""
    package = Path(str(files("alarmlib")))
    shipped = package / "_workbook"
    return shipped if shipped.is_dir() else package.parent / "workbook"
