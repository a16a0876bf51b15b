"""A folder that its owner opens to a group: the group's members change the same home, nobody else reads it."""

import os
import stat
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.lab.open import prepare
from alarmlib.lab.place import in_folder
from alarmlib.lab.sharing import share
from alarmlib.model import Home
from alarmlib.store import Session, load
from alarmlib.store.edits import Edit

grp = pytest.importorskip("grp", reason="Windows has no groups of this kind")


@contextmanager
def somebody(user: int, groups: list[int]) -> Iterator[None]:
    """As another user, who is in these groups."""
    before = os.getgroups()
    os.setgroups(groups)
    os.setegid(user)
    os.seteuid(user)
    try:
        yield
    finally:
        os.seteuid(0)
        os.setegid(0)
        os.setgroups(before)


@pytest.fixture
def folder() -> Iterator[Path]:
    """A prepared folder with an edited home, in a place that all may enter."""
    with tempfile.TemporaryDirectory(prefix="t", dir="/tmp") as name:
        Path(name).chmod(0o755)
        place = prepare(Path(name) / "home")
        session = Session.new(place / "home.json", Home(name="Mine"))
        session.apply([Edit(("name",), "Mine", "Edited")])
        yield place


def bits(place: Path) -> int:
    """The permission bits of a place."""
    return stat.S_IMODE(place.stat().st_mode)


def own_group() -> str:
    """A group that whoever runs this is in."""
    return str(grp.getgrgid(os.getgid()).gr_name)


def test_a_shared_folder_is_its_groups_and_closes_again(folder: Path) -> None:
    """Folders get 2770 and files 660, also those of later edits and openings; `-` takes all that away."""
    place = in_folder(folder)
    share(place, own_group())
    session = Session.open(folder / "home.json")
    session.apply([Edit(("name",), "Edited", "Shared")])
    prepare(folder)
    for each in (folder, *folder.rglob("*")):
        assert bits(each) & 0o7777 == (0o2770 if each.is_dir() else 0o660), each
    share(place, "-")
    assert [each for each in (folder, *folder.rglob("*")) if bits(each) & 0o070] == []
    session.apply([Edit(("name",), "Shared", "Mine alone")])
    assert bits(folder / "home.json") == 0o600


def test_a_member_of_the_group_saves_and_a_stranger_does_not(folder: Path) -> None:
    """Tried as another user with and without the group, where the test is root; else only what the modes say."""
    share(in_folder(folder), own_group())
    assert bits(folder / "home.json") == 0o660
    if os.geteuid() != 0:
        warnings.warn("Not root: modes were looked at, but nothing was tried as another user.", stacklevel=1)
        return
    with somebody(65534, [os.getgid()]):
        Session.open(folder / "home.json").apply([Edit(("name",), "Edited", "By a member")])
    with somebody(65534, []), pytest.raises(AlarmProblem):
        Session.open(folder / "home.json")
    assert load(folder / "home.json").name == "By a member"
    assert (bits(folder / "home.json"), (folder / "home.json").stat().st_gid) == (0o660, os.getgid())


def test_a_group_that_is_not_there_is_said(folder: Path) -> None:
    """One sentence, and nothing was opened."""
    with pytest.raises(AlarmProblem, match="This computer has no group no-such-group"):
        share(in_folder(folder), "no-such-group")
    assert bits(folder / ".workbook") == 0o700
