"""Lists out to a spreadsheet and in again: a look first, then all rows or none."""

from collections.abc import Callable
from functools import partial

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.record.device_schedule import schedule_csv
from alarmlib.record.walk_list import walk_csv
from alarmlib.record.wiring_lists import cables_csv, cells_csv, power_csv
from alarmlib.store import Session
from alarmlib.store.tables import CsvTable, Preview, apply, preview, to_csv
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import ActionSpec, DownloadSpec, FormSpec, UploadSpec

MOST_TOLD = 12  # problems shown at once
_TITLES = {
    CsvTable.OPENINGS: "Ways in",
    CsvTable.DEVICE_TYPES: "Types of devices",
    CsvTable.DEVICES: "Devices",
    CsvTable.ZONES: "Zones",
    CsvTable.TESTS: "Test log",
}


class _Waiting:
    """A table that was looked at and waits to be taken in."""

    def __init__(self, session: Session, table: CsvTable) -> None:
        self.session, self.table = session, table
        self.content: bytes | None = None
        self.seen: tuple[Home, Preview] | None = None

    def look(self, name: str, content: bytes) -> str:
        """Say what the file would do; keep it if it has no problem."""
        home = self.session.home
        found = preview(content, self.table, home)
        self.content = None if found.problems else content
        self.seen = home, found
        return f"{name}: {told(found)}"

    def take(self) -> str:
        """Take the file in as one change. Raises AlarmProblem where it would do something else than was told."""
        content, self.content = self.content, None
        if content is None or self.seen is None:
            return "No table is waiting to be taken in; choose a file first."
        try:
            found = self._looked_at(content, *self.seen)
            apply(self.session, found)
        except AlarmProblem:
            self.content = content
            raise
        return f"{len(found.added)} rows were added and {len(found.changed)} changed; undo takes them back."

    def _looked_at(self, content: bytes, then: Home, told_then: Preview) -> Preview:
        """What was told that the file does, if it still does that to the home as it is now."""
        home = self.session.refresh()
        found = told_then if home is then else preview(content, self.table, home)
        if found != told_then:
            self.seen = home, found
            raise AlarmProblem(f"Your home has changed since you chose this file. Nothing was taken in. {told(found)}")
        return found

    def give(self) -> tuple[str, bytes]:
        """The list as CSV, with the mark that spreadsheets look for."""
        return f"{self.table.value}.csv", to_csv(self.session.home, self.table).encode("utf-8-sig")


def told(found: Preview) -> str:
    """A preview in words."""
    if found.problems:
        more = len(found.problems) - MOST_TOLD
        tail = f" And {more} more." if more > 0 else ""
        return f"Nothing can be taken in. {' '.join(found.problems[:MOST_TOLD])}{tail}"
    return (
        f"{len(found.added)} rows would be added, {len(found.changed)} changed, {len(found.unchanged)} stay. "
        "Press “Take these rows in” to go on."
    )


def csv_form(table: CsvTable, session: Session) -> Form:
    """Download, look and take in, for one list."""
    waiting = _Waiting(session, table)
    spec = FormSpec(
        f"{_TITLES[table]} as a spreadsheet",
        (),
        "Download the list as CSV, change it in a spreadsheet, and choose the file here: you see first what it does.",
        summed=True,
        late=True,
        line="You can save the list as a CSV file, edit it in a spreadsheet, and read it back here.",
    )
    extras = Extras(
        actions=(ActionSpec("Take these rows in", waiting.take, slow=True),),
        downloads=(DownloadSpec("Download as CSV", waiting.give, "text/csv"), *_further(table, session)),
        upload=UploadSpec("Choose a CSV file", waiting.look, ".csv,.tsv,.txt", slow=True),
    )
    return Form(session, spec, extras)


def _further(table: CsvTable, session: Session) -> tuple[DownloadSpec, ...]:
    """What can be downloaded beside the list itself, and not taken in again."""

    def schedule() -> tuple[str, bytes]:
        return "device_schedule.csv", schedule_csv(session.home).encode("utf-8-sig")

    def walk() -> tuple[str, bytes]:
        return "test_walk.csv", walk_csv(session.home).encode("utf-8-sig")

    further = {
        CsvTable.DEVICES: DownloadSpec("Download the device schedule", schedule, "text/csv"),
        CsvTable.TESTS: DownloadSpec("Download the walk in its order", walk, "text/csv"),
    }
    return (further[table],) if table in further else ()


def wiring_downloads(session: Session) -> Form:
    """The cable schedule, the power sheet and the cells to change, to take along."""

    def give(name: str, write: Callable[[Home], str]) -> DownloadSpec:
        words = name.removesuffix(".csv").replace("_", " ")
        return DownloadSpec(
            f"Download the {words}", lambda: (name, write(session.home).encode("utf-8-sig")), "text/csv"
        )

    sheets = (("cable_schedule.csv", cables_csv), ("power_sheet.csv", power_csv), ("cells_to_change.csv", cells_csv))
    return Form(
        session,
        FormSpec(
            "Lists to take along",
            (),
            "These are spreadsheets for the ladder and the shop. They are not read back in.",
            summed=True,
            late=True,
            line="Cable schedule, power sheet and batteries to change, as spreadsheets. Label both ends of each cable.",
        ),
        Extras(downloads=tuple(give(name, write) for name, write in sheets)),
    )


CSV_FORMS: dict[str, Callable[[Session], Form]] = {f"{table.value}_csv": partial(csv_form, table) for table in CsvTable}
