"""One open home in a kernel: edits go in one by one, are saved at once, and every form hears of it."""

import contextlib
import logging
import threading
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store.document import Document, digest, parsed, text_of, validated
from alarmlib.store.edits import Edit, with_edits
from alarmlib.store.home_file import keep_aside, locked, read_bytes, replace
from alarmlib.store.kept_saves import KeptSaves, Save, line

Clock = Callable[[], datetime]
Callback = Callable[[Home], object]
_OPEN: dict[Path, "Session"] = {}
_log = logging.getLogger(__name__)


def now() -> datetime:
    """The time, in UTC."""
    return datetime.now(UTC)


def session_for(path: Path | str) -> "Session":
    """The kernel's one session of a home file, opened at the first call. Raises AlarmProblem."""
    place = Path(path).resolve()
    if place not in _OPEN:
        _OPEN[place] = Session.open(place)
    return _OPEN[place]


def last_good(path: Path | str) -> tuple[Save, Home] | None:
    """The newest kept save that can be read, for a home file that cannot; None when there is none."""
    home_file = Path(path)
    saves = KeptSaves(home_file, now)
    for save in reversed(saves.all()):
        with contextlib.suppress(AlarmProblem):
            return save, saves.home(save)
    return None


def bring_back(path: Path | str, clock: Clock = now) -> "Session":
    """Put the last good save in the place of a broken home file, which is kept aside. Raises AlarmProblem.

    The broken file becomes NAME.broken, a second one NAME.broken-2, and so on.
    """
    home_file = Path(path).resolve()
    good = last_good(home_file)
    if good is None:
        raise AlarmProblem(f"There is no kept save of {home_file.name} to bring back.")
    with locked(home_file):
        if home_file.exists():
            keep_aside(home_file)
        replace(home_file, text_of(good[1]))
    return Session.open(home_file, clock)


class Session:
    """A home file that is being worked on; `home` is what was last read or saved here.

    Make one with `open`, `new` or `session_for`. After an error nothing has changed, here or on disk.
    """

    def __init__(self, path: Path, content: bytes, clock: Clock) -> None:
        self.path = path
        self.kept = KeptSaves(path, clock)
        self._subscribers: list[Callback] = []
        self._mine = threading.RLock()
        self._take(parsed(content, path.name), content)

    @classmethod
    def open(cls, path: Path | str, clock: Clock = now) -> "Session":
        """The session of a home file that is there. Raises AlarmProblem."""
        place = Path(path).resolve()
        return cls(place, read_bytes(place), clock)

    @classmethod
    def new(cls, path: Path | str, home: Home, clock: Clock = now) -> "Session":
        """The session of a new home file. Raises AlarmProblem when there is one already."""
        place = Path(path).resolve()
        with locked(place):
            if place.exists():
                raise AlarmProblem(f"There is a file {place.name} already; it was left as it is.")
            content = text_of(home)
            KeptSaves(place, clock).add(content)
            replace(place, content)
        return cls(place, content, clock)

    @property
    def home(self) -> Home:
        """The home as last read or saved here; `refresh` looks for what was saved elsewhere."""
        return self._home

    def apply(self, edits: Sequence[Edit]) -> Home:
        """Put all the edits in and save, or none: what moved elsewhere is merged field by field.

        Raises FieldClash when the same field moved elsewhere, FieldProblem for a wrong value, AlarmProblem when
        the file cannot be saved.
        """
        with self._mine, locked(self.path):
            before = self._home
            self._read_again()
            self._save(validated(with_edits(self._document, edits), self.path.name))
        self._tell(before)
        return self._home

    def replace(self, home: Home) -> Home:
        """Put another home in place of this one, as one change that can be undone. Raises AlarmProblem."""
        return self._put_in(lambda: (home, 0))

    def refresh(self) -> Home:
        """Read the file again if it was saved elsewhere, and tell the forms. Raises AlarmProblem."""
        with self._mine:
            before = self._home
            self._read_again()
        self._tell(before)
        return self._home

    def saves(self) -> list[Save]:
        """The kept saves with time and size, oldest first."""
        return self.kept.all()

    def undo(self) -> Home:
        """Put back the state before the last change, whoever made it. Raises AlarmProblem when there is none."""
        return self._put_in(lambda: self._along_the_line(1, "There is no earlier change to undo."))

    def redo(self) -> Home:
        """Put back what the last undo took away. Raises AlarmProblem when there is nothing."""
        return self._put_in(lambda: self._along_the_line(-1, "There is no undone change to bring back."))

    def restore(self, save_id: str) -> Home:
        """Put a kept save in place, as a change that can be undone. Raises AlarmProblem."""

        def wanted() -> tuple[Home, int]:
            save = next((save for save in self.saves() if save.id == save_id), None)
            if save is None:
                raise AlarmProblem("There is no kept save like that any longer. Nothing was changed.")
            return self.kept.home(save), 0

        return self._put_in(wanted)

    def keep_for_record(self) -> Save:
        """Keep the present state for good, because a record was made of it. Raises AlarmProblem.

        A second record of the same state on the same day is the same record: it adds no save.
        """
        with self._mine, locked(self.path):
            self._read_again()
            self._keep_present()
            if there := self.kept.record_of(self._home, self.kept.clock().astimezone().date()):
                return there
            present = self.saves()[-1].origin if self.saves() else 0
            return self.kept.add(text_of(self._home), present, for_record=True)

    def subscribe(self, callback: Callback) -> Callable[[], None]:
        """Have `callback(home)` called after each change; call what is returned to end that."""
        self._subscribers.append(callback)

        def unsubscribe() -> None:
            with contextlib.suppress(ValueError):
                self._subscribers.remove(callback)

        return unsubscribe

    # Inside, under the lock.

    def _put_in(self, choose: Callable[[], tuple[Home, int]]) -> Home:
        with self._mine, locked(self.path):
            before = self._home
            self._read_again()
            home, origin = choose()
            self._save(home, origin)
        self._tell(before)
        return self._home

    def _along_the_line(self, step: int, nothing: str) -> tuple[Home, int]:
        self._keep_present()
        states, place = line(self.saves())
        if not 0 <= place + step < len(states):
            raise AlarmProblem(nothing)
        save = states[place + step]
        return self.kept.home(save), save.number

    def _take(self, home: Home, content: bytes) -> None:
        self._home, self._digest = home, digest(content)
        self._document: Document = home.model_dump(mode="json")

    def _read_again(self) -> None:
        content = read_bytes(self.path)
        if digest(content) != self._digest:
            self._take(parsed(content, self.path.name), content)

    def _save(self, home: Home, origin: int = 0) -> None:
        """Keep the new state, then put it in the file's place; the old state is kept too if it isn't yet."""
        content = text_of(home)
        if digest(content) == self._digest:
            return
        self._keep_present()
        save = self.kept.add(content, origin)
        try:
            replace(self.path, content)
        except AlarmProblem:
            self.kept.drop(save)
            raise
        self._take(home, content)
        self.kept.thin()

    def _keep_present(self) -> None:
        """Have what the file holds as the newest save, if it is not yet.

        It is not where the file was written by hand: that is a new state. Nor is it where a crash came between a
        save and the file: then the file holds the state before, and redo finds the change that did not arrive.
        """
        saves = self.saves()
        if saves and self.kept.holds(saves[-1], self._home):
            return
        before = next((save for save in saves[-2:-1] if self.kept.holds(save, self._home)), None)
        self.kept.add(text_of(self._home), before.origin if before else 0)

    def _tell(self, before: Home) -> None:
        if self._home is before:
            return
        for callback in tuple(self._subscribers):
            try:
                callback(self._home)
            except Exception:  # the change is saved: one form's error must not hide it from the others
                _log.exception("A form could not show a change that was saved.")
