"""Saves that are kept beside a home, thinned with age, and the line of changes that undo walks along."""

import contextlib
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store.document import is_older, parsed, text_of
from alarmlib.store.home_file import read_bytes, replace, sweep
from alarmlib.store.modes import HIDDEN, make_folder

NEWEST, HOURS, DAYS = 20, 25, 32  # a day's time touches 25 hours of the clock, a month's touches 32 days
_STAMP = "%Y%m%dT%H%M%SZ"
_NAME = re.compile(r"(?P<number>\d{6,})-(?P<origin>\d{6,})-(?P<at>\d{8}T\d{6}Z)(?P<record>-record)?\.json", re.ASCII)
_YEARS = range(1980, 9000)  # what every system's clock can show in every zone


@dataclass(frozen=True, order=True)
class Save:
    """One kept state: `number` counts up; `origin` is the save whose state an undo or redo put back, else itself."""

    number: int
    origin: int
    at: datetime
    for_record: bool = False
    size_bytes: int = 0

    @property
    def id(self) -> str:
        """The save's file name."""
        mark = "-record" if self.for_record else ""
        return f"{self.number:06}-{self.origin:06}-{self.at:{_STAMP}}{mark}.json"

    @property
    def day(self) -> date:
        """The day of the save where the person is, as the record's own date is."""
        return self.at.astimezone().date()

    @property
    def when(self) -> str:
        """When it was made, where the person is, such as 2026-11-27, 14:05:09."""
        return f"{self.at.astimezone():%Y-%m-%d, %H:%M:%S}"

    @property
    def called(self) -> str:
        """What a sentence calls it."""
        return f"the save of {self.when}"


def kept(saves: Sequence[Save]) -> frozenset[Save]:
    """The saves to keep: the newest 20, the last of each of the newest 25 hours and 32 days with any, records.

    No clock is asked: one that is far ahead for a day thins nothing, and saves dated ahead go as all others do.
    Reference: common practice, no source.
    """
    ordered = sorted(saves)
    keep = set(ordered[-NEWEST:]) | {save for save in ordered if save.for_record}
    return frozenset(keep | _last_of_each(ordered, "%Y%m%d%H", HOURS) | _last_of_each(ordered, "%Y%m%d", DAYS))


def _last_of_each(ordered: Sequence[Save], span: str, most: int) -> set[Save]:
    """The last save of each span of time, of the spans that were saved in last."""
    last = {format(save.at, span): save for save in ordered}
    return set(sorted(last.values())[-most:])


def line(saves: Sequence[Save]) -> tuple[list[Save], int]:
    """The states that led to the present one, newest first, and the place of the present one among them.

    Undo goes one place on along the line, redo one place back. A change made after an undo starts from the
    state that was put back: the states undone before it are in the list of saves, but no longer on the line.
    """
    ordered = sorted(saves)
    by_number = {save.number: save for save in ordered}
    if not ordered:
        return [], 0
    newest = max(range(len(ordered)), key=lambda n: (ordered[n].origin == ordered[n].number, n))
    states, place = [ordered[newest]], newest
    while place > 0:
        before = ordered[place - 1]
        state = by_number.get(before.origin, before)
        states.append(state)
        place = ordered.index(state)
    present = by_number.get(ordered[-1].origin, ordered[-1])
    return (states, states.index(present)) if present in states else ([present, *states], 0)


class KeptSaves:
    """The folder of saves of one home file; call its writing methods under the home file's lock."""

    def __init__(self, home_file: Path, clock: Callable[[], datetime]) -> None:
        hidden, name = home_file.parent / HIDDEN, _as_listed(home_file)
        shared = hidden / "saves" / Path(name).stem
        self.clock = clock
        self._own = shared if name.endswith(".json") else hidden / "saves_by_name" / name
        self._earlier = shared if not home_file.with_name(f"{shared.name}.json").exists() else self._own

    @property
    def folder(self) -> Path:
        """Where the saves are: a folder for each home; versions 0.1 to 0.4 had one for each stem of a name."""
        return self._own if self._own.is_dir() or not self._earlier.is_dir() else self._earlier

    def all(self) -> list[Save]:
        """Every kept save, oldest first."""
        found = []
        with contextlib.suppress(OSError):
            for path in self.folder.iterdir():
                if save := _save_in(path):
                    found.append(save)
        return sorted(found)

    def content(self, save: Save) -> bytes:
        """What a save holds. Raises AlarmProblem."""
        return read_bytes(self.folder / save.id)

    def home(self, save: Save) -> Home:
        """The home that a save holds, brought up from an older version. Raises AlarmProblem, which names its day."""
        try:
            return parsed(self.content(save), save.called)
        except AlarmProblem as problem:
            sentence = str(problem)
            raise AlarmProblem(f"{sentence[:1].upper()}{sentence[1:]} Nothing was changed.") from None

    def is_older(self, save: Save) -> bool:
        """Whether an older workbook wrote a save that can be read. Raises AlarmProblem."""
        return is_older(self.content(save))

    def holds(self, save: Save, home: Home) -> bool:
        """Whether a save is of this state of the home; one that cannot be read is of none."""
        try:
            return self.content(save) == text_of(home) or self.home(save) == home
        except AlarmProblem:
            return False

    def add(self, content: bytes, origin: int = 0, for_record: bool = False) -> Save:
        """Keep one more state; `origin` is the number of the save it puts back, or 0. Raises AlarmProblem."""
        number = max((save.number for save in self.all()), default=0) + 1
        now = self.clock().astimezone(UTC).replace(microsecond=0)
        save = Save(number, origin or number, now, for_record, len(content))
        try:
            make_folder(self._own.parent)
            if self.folder != self._own:
                self.folder.rename(self._own)
            make_folder(self._own)
        except OSError as error:
            raise AlarmProblem(f"No save can be kept in {self.folder}: {error.strerror}.") from None
        sweep(self.folder)
        replace(self.folder / save.id, content)
        return save

    def record_of(self, home: Home, day: date) -> Save | None:
        """The save kept for a record of this very state made on that day; None when there is none."""
        return next((s for s, then in self._records() if s.day == day and then == home), None)

    def since(self, home: Home, day: date) -> tuple[str, Home | None]:
        """The day and the home of the last record of another day or another state; "" and None when none is kept.

        A record made twice of one state on one day is thus compared with the same record both times.
        """
        before = ((s.day.isoformat(), then) for s, then in self._records() if s.day != day or then != home)
        return next(before, ("", None))

    def _records(self) -> Iterator[tuple[Save, Home]]:
        """The saves kept for records that can be read, newest first."""
        for save in reversed(self.all()):
            if save.for_record:
                with contextlib.suppress(AlarmProblem):
                    yield save, self.home(save)

    def drop(self, save: Save) -> None:
        """Take a save out of the list."""
        with contextlib.suppress(OSError):
            (self.folder / save.id).unlink()

    def thin(self) -> None:
        """Take out what need not be kept any longer."""
        saves = self.all()
        for save in set(saves) - kept(saves):
            self.drop(save)


def _save_in(path: Path) -> Save | None:
    """The save that a file is; None for another file, and for a name that the workbook would never write."""
    match = _NAME.fullmatch(path.name)
    if match is None or not path.is_file():
        return None
    try:
        at = datetime.strptime(match["at"], _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None
    save = Save(int(match["number"]), int(match["origin"]), at, bool(match["record"]), path.stat().st_size)
    return save if save.id == path.name and at.year in _YEARS else None


def _as_listed(file: Path) -> str:
    """A file's name as its folder lists it, which on some disks is not as it was typed: my.JSON may be my.json."""
    with contextlib.suppress(OSError):
        names = [entry.name for entry in file.parent.iterdir()]
        alike = (name for name in names if name.casefold() == file.name.casefold())
        if file.name not in names:
            return next((name for name in alike if file.with_name(name).samefile(file)), file.name)
    return file.name
