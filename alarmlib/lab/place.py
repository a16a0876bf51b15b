"""Where a workbook's pages are and which home they change: a folder with its home.json, or a home file by itself."""

from dataclasses import dataclass
from pathlib import Path

from alarmlib.errors import AlarmProblem
from alarmlib.lab import surroundings
from alarmlib.store import load
from alarmlib.store.home_file import real_place, reason_of

HOME_FILE = "home.json"


@dataclass(frozen=True)
class PagesPlace:
    """The folder of the pages, and the home file that they change."""

    folder: Path
    home: Path

    @property
    def apart(self) -> bool:
        """Whether the home is not in the pages' own folder."""
        return self.home.parent != self.folder


def in_folder(folder: Path) -> PagesPlace:
    """A folder of pages with its home in it."""
    return PagesPlace(folder, folder / HOME_FILE)


def place_of(named: Path) -> PagesPlace:
    """What a person named: a folder, there or not; the home file of one; or a home file anywhere, which is read.

    A home file by itself stays where it is. Its pages come into a folder of their own beside it.
    Raises AlarmProblem for a file that holds no home, and for a folder of pages that holds another one.
    """
    there = real_place(named)
    try:
        if there.is_dir() or not (there.is_file() or there.suffix == ".json"):
            return in_folder(there)
        if there.name == HOME_FILE and surroundings.pages_note(there.parent).exists():
            return in_folder(there.parent)
    except OSError as error:
        raise AlarmProblem(f"{named} cannot be opened: {reason_of(error)}.") from None
    load(there)
    return _beside(there)


def _beside(home: Path) -> PagesPlace:
    stem = home.stem if home.suffix == ".json" else home.name
    place = PagesPlace(home.with_name(f"{stem}-workbook"), home)
    if (place.folder / HOME_FILE).exists():
        raise AlarmProblem(f"{place.folder} holds another home, so {home.name} was not opened. Move one of the two.")
    return place
