"""Who may read a home and its saves: what is there keeps its mode, what is new begins closed."""

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from alarmlib.model import Home
from alarmlib.store import Session, home_file, modes
from alarmlib.store.edits import Edit

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes; its folders of persons are closed")


@pytest.fixture(autouse=True)
def open_to_all() -> Iterator[None]:
    """A system on which what is made is readable and writable by all, unless the library closes it."""
    before = os.umask(0)
    yield
    os.umask(before)


def mode(place: Path) -> int:
    """The permission bits of a place."""
    return stat.S_IMODE(place.stat().st_mode)


def renamed(session: Session, name: str) -> None:
    """One edit of the home by a form."""
    session.apply([Edit(("name",), session.home.name, name)])


def test_a_new_home_and_all_beside_it_is_its_owners_alone(tmp_path: Path) -> None:
    """After edits and a record every folder is 0700 and every file 0600, locks and saves with them."""
    session = Session.new(tmp_path / "home.json", Home())
    renamed(session, "One")
    session.keep_for_record()
    assert mode(tmp_path / "home.json") == 0o600
    hidden = tmp_path / ".workbook"
    found = {place.relative_to(hidden).as_posix(): mode(place) for place in hidden.rglob("*")}
    assert mode(hidden) == 0o700
    assert {name: each for name, each in found.items() if each & 0o077} == {}
    assert any(name.startswith("saves/home/") for name in found)


def test_a_home_keeps_the_mode_that_it_had(tmp_path: Path) -> None:
    """Whoever opened or closed a home file finds it so after an edit; the save beside it is closed all the same."""
    session = Session.new(tmp_path / "home.json", Home())
    for wanted in (0o640, 0o644, 0o600):
        session.path.chmod(wanted)
        renamed(session, f"Mode {wanted:o}")
        assert mode(session.path) == wanted


def test_the_draft_of_a_save_is_never_open(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """At the moment before it takes the file's place, the draft of a new file is closed."""
    seen = []
    rename = home_file._rename
    monkeypatch.setattr(home_file, "_rename", lambda draft, path: (seen.append(mode(draft)), rename(draft, path)))
    home_file.replace(tmp_path / "home.json", b"{}")
    assert seen == [0o600]


def test_an_open_hidden_folder_of_an_earlier_version_is_closed(tmp_path: Path) -> None:
    """The first edit closes the folder; opening the workbook closes all in it, and follows no link."""
    hidden, outside = tmp_path / ".workbook", tmp_path / "outside"
    (hidden / "runtime").mkdir(parents=True)
    (hidden / "server.log").write_text("token")
    outside.write_text("")
    (hidden / "link").symlink_to(outside)
    session = Session.new(tmp_path / "home.json", Home())
    assert mode(hidden) == 0o700
    modes.close_all(hidden)
    assert (mode(hidden / "runtime"), mode(hidden / "server.log"), mode(outside)) == (0o700, 0o600, 0o666)
    assert session.path.exists()


def test_a_folder_with_a_groups_mode_alone_is_not_shared(tmp_path: Path) -> None:
    """What a class room's set-group folder hands down opens nothing: only the owner's own word does."""
    tmp_path.chmod(0o2775)
    Session.new(tmp_path / "home.json", Home())
    hidden = tmp_path / ".workbook"
    assert mode(hidden) & 0o777 == 0o700
    hidden.chmod(0o2770)
    assert not modes.is_shared(hidden)
    assert modes.begun_mode(tmp_path / "home.json") == 0o600


def test_a_save_leaves_the_file_its_owners(tmp_path: Path) -> None:
    """An administrator's edit does not take the home from the person whose it is; only root can give it to another."""
    session = Session.new(tmp_path / "home.json", Home())
    owner, group = (65534, 65534) if os.geteuid() == 0 else (os.getuid(), os.getgid())
    os.chown(session.path, owner, group)
    renamed(session, "By root")
    assert (session.path.stat().st_uid, session.path.stat().st_gid, mode(session.path)) == (owner, group, 0o600)


def test_a_group_that_cannot_be_kept_gives_the_next_one_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the system refuses the old group, the mode for a group is not handed to another one."""
    place = tmp_path / "home.json"
    home_file.replace(place, b"{}")
    place.chmod(0o664)
    monkeypatch.setattr(modes, "_owned_as", lambda *_: False)
    home_file.replace(place, b"{ }")
    assert mode(place) == 0o604
