"""A home file is read whole or refused in one sentence; it is replaced whole or left alone."""

import errno
import json
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.errors import AlarmProblem, FieldProblem
from alarmlib.model import Home
from alarmlib.store import Edit, Session, bring_back, last_good, load, text_of
from alarmlib.store import home_file as home_file_module
from alarmlib.store.document import parsed


def put(document: Any, path: str, value: Any) -> dict[str, Any]:
    """The document with a value at a dotted path; numbers are places in lists."""
    inside = document
    *way, last = [int(step) if step.isdigit() else step for step in path.split(".")]
    for step in way:
        inside = inside[step] if isinstance(step, int) else inside.setdefault(step, {})
    inside[last] = value
    return dict(document)


def refused(path: Path, content: bytes) -> str:
    """The one sentence with which a file is refused; the file must be as it was."""
    path.write_bytes(content)
    with pytest.raises(AlarmProblem) as caught:
        load(path)
    assert path.read_bytes() == content
    sentence = str(caught.value)
    assert "\n" not in sentence
    assert sentence.endswith(".")
    assert len(sentence) < 600
    return sentence


BROKEN_TEXT = [
    (b"", "it is empty"),
    (b" \n", "it is empty"),
    (b'{"schema_version": 2,\n "name": }', "not valid JSON at line 2, column 10"),
    (b'{"schema_version": 2', "not valid JSON at line 1"),
    (b"[]", "holds no object"),
    (b"null", "holds no object"),
    (b'"text"', "holds no object"),
    (b'{"schema_version": 2, "name": "\xff"}', "byte 32 is not UTF-8"),
    (b'{"schema_version": 2, "rules": {"siren_limit_s": NaN}}', "NaN"),
    (b'{"schema_version": 2, "rules": {"siren_limit_s": -Infinity}}', "-Infinity"),
    (b'{"schema_version": 2, "rules": {"siren_limit_s": 1e999}}', "not infinity or NaN"),
    (b'{"schema_version": 2, "rules": {"grade": 1' + b"0" * 5000 + b"}}", "write"),
    (b'{"schema_version": 2, "name": "a", "name": "b"}', "name"),
    (b"[" * 100_000, "nested too deeply"),
    (b'{"schema_version": 3}', "newer workbook"),
    (b'{"schema_version": 99, "anything": 1}', "leaves the file as it is"),
    (b'{"schema_version": "1"}', "schema_version"),
    (b'{"schema_version": true}', "schema_version"),
    (b'{"schema_version": -1}', "schema_version"),
    (b"{}", "schema_version"),
]
BAD_VALUES = [
    ("site.rooms.0.ceiling_m", "high", "site.rooms.hall.ceiling_m in home.json: “high”", "write a number"),
    ("site.rooms.0.ceiling_m", 200, "site.rooms.hall.ceiling_m in home.json: “200”", "1 m to 12 m is allowed"),
    ("site.openings.0.width_m", -1, "site.openings.front_door.width_m", "0.05 m to 10 m is allowed"),
    ("devices.0.sleep_s", -5, "devices.d_front.sleep_s", "0 s to 60 min is allowed"),
    ("site.rooms.0.use", "dungeon", "site.rooms.hall.use", "choose one of 'living'"),
    ("site.rooms.0.colour", "red", "site.rooms.hall.colour", "there is no such field"),
    ("site.rooms.0.id", "Front Hall", "site.rooms.Front Hall.id", "small letters"),
    ("site.rooms.0.name", 5, "site.rooms.hall.name", "write text in quotes"),
    ("site.rooms.0.name", None, "site.rooms.hall.name", "write text in quotes"),
    ("site.rooms.0.guarded", "perhaps", "site.rooms.hall.guarded", "write true or false"),
    ("site.rooms", {"hall": {}}, "site.rooms", "write a list"),
    ("site.rooms.0", "hall", "site.rooms.1", "write an object"),
    ("site", [], "site", "write an object"),
    ("site.rooms.0.outline", [[0, 0], [4, 4], [4, 0], [0, 4]], "site.rooms.hall.outline", "must not cross"),
    ("site.rooms.0.outline", [[0, 0], [4, 4, 1]], "site.rooms.hall.outline", "write 2 values"),
    ("log.tests.0.on", "1.3.2026", "log.tests.t1.on", "year-month-day"),
    ("rules.grade", 2.5, "rules.grade", "write a whole number"),
    ("site.rooms.0.name", "x" * 10_000, "site.rooms.hall.name", "write at most 80 characters"),
    ("site.rooms.0.name", "\ud800", "site.rooms.hall.name", "write text that UTF-8 can hold"),
    ("site.openings.0.room", "attic", "home.json", "there is no room “attic”"),
    ("devices.0.zone", "nowhere", "home.json", "there is no zone “nowhere”"),
    ("control_unit.zones.1.id", "z_front", "home.json", "zone “z_front” is there twice"),
    ("control_unit.zones.1.place", "1", "home.json", "the zone number “1” is there twice"),
    ("site.openings.0.at", [7, 7], "home.json", "off the walls"),
]


@pytest.mark.parametrize(("content", "part"), BROKEN_TEXT)
def test_a_text_that_is_no_home_is_refused(tmp_path: Path, content: bytes, part: str) -> None:
    assert part in refused(tmp_path / "home.json", content)


@pytest.mark.parametrize(("path", "value", "place", "allowed"), BAD_VALUES)
def test_a_wrong_value_is_named_with_its_field_and_range(
    tmp_path: Path, document: dict[str, Any], path: str, value: Any, place: str, allowed: str
) -> None:
    """One sentence: field by ids, file, value, what is allowed."""
    if path == "site.openings.0.at":
        put(document, "site.rooms.0.outline", [[0, 0], [4, 0], [4, 3], [0, 3]])
    sentence = refused(tmp_path / "home.json", json.dumps(put(document, path, value)).encode())
    assert place in sentence
    assert allowed in sentence


def test_markup_and_right_to_left_text_are_kept_as_text(tmp_path: Path, document: dict[str, Any]) -> None:
    """Names may hold markup and any script; they come back as they were, and a sentence shows them on one line."""
    for name in ("<script>alert(1)</script>", "مدخل", "שלום hall", "a & b", "“quoted”"):
        put(document, "site.rooms.0.name", name)
        path = tmp_path / "home.json"
        path.write_bytes(json.dumps(document).encode())
        assert load(path).site.rooms[0].name == name
        assert parsed(text_of(load(path)), "home.json") == load(path)
    sentence = refused(tmp_path / "home.json", json.dumps(put(document, "units", "\u202ebad\n" * 9)).encode())
    assert "\u202e" not in sentence


def test_a_byte_order_mark_is_read(tmp_path: Path, home: Home) -> None:
    (tmp_path / "home.json").write_bytes(b"\xef\xbb\xbf" + text_of(home))
    assert load(tmp_path / "home.json") == home


def test_a_file_of_50_mb_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "home.json"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    monkeypatch.setattr(Path, "open", lambda *_: pytest.fail("it was opened"))
    with pytest.raises(AlarmProblem, match="has 50 MB, so it was not read"):
        load(path)


def test_no_file_and_a_folder_are_said_plainly(tmp_path: Path) -> None:
    with pytest.raises(AlarmProblem, match=r"There is no file home\.json in"):
        load(tmp_path / "home.json")
    with pytest.raises(AlarmProblem, match="is a folder"):
        load(tmp_path)
    assert list(tmp_path.iterdir()) == []


@given(content=st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_any_bytes_are_a_home_or_a_sentence(content: bytes) -> None:
    try:
        parsed(content, "home.json")
    except AlarmProblem as problem:
        assert str(problem).endswith(".")


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)
PLACES = [
    "name",
    "site",
    "site.rooms",
    "site.rooms.0",
    "site.rooms.0.name",
    "devices.1.wireless",
    "control_unit.zones.0",
]


@given(value=JSON, place=st.sampled_from(PLACES))
def test_any_value_anywhere_is_taken_or_a_sentence(value: Any, place: str) -> None:
    """No JSON value at any place leads to anything but a home or a problem in words."""
    base = {
        "schema_version": 2,
        "site": {"storeys": [{"id": "g", "name": "G"}], "rooms": [{"id": "hall", "name": "Hall", "storey": "g"}]},
        "control_unit": {"zones": [{"id": "z", "label": "Z"}]},
        "devices": [{"id": "a", "name": "A", "kind": "contact"}, {"id": "b", "name": "B", "kind": "motion"}],
    }
    try:
        parsed(json.dumps(put(base, place, value)).encode(), "home.json")
    except FieldProblem as problem:
        assert "home.json" in str(problem)


def test_the_text_of_a_home_is_always_the_same(home: Home) -> None:
    """Two spaces, UTF-8, one line end, model order: the same home gives the same bytes."""
    text = text_of(home)
    assert text == text_of(parsed(text, ""))
    assert b"\r" not in text
    assert text.endswith(b"}\n")
    assert text.startswith(b'{\n  "schema_version": 2,\n  "name"')


# --- a disk that fails ---


def fails(number: int) -> Any:
    def failing(*_args: Any, **_kwargs: Any) -> Any:
        raise OSError(number, os.strerror(number))

    return failing


@pytest.mark.parametrize(
    ("call", "number", "words"),
    [
        ("fsync", errno.ENOSPC, "no room left on the disk"),
        ("fsync", errno.EIO, "input/output error"),
        ("replace", errno.EACCES, "may not be written"),
        ("replace", errno.EROFS, "may not be written"),
    ],
)
def test_a_failing_disk_leaves_everything_as_it_was(
    session: Session, monkeypatch: pytest.MonkeyPatch, call: str, number: int, words: str
) -> None:
    """One sentence; file, saves, folder and session as before; the same edit goes through afterwards.

    The failures are put in by hand: a test that runs as administrator is stopped by no file mode.
    """
    monkeypatch.setattr(home_file_module, "PATIENCE_S", 0.1)
    before = {path: path.read_bytes() for path in session.path.parent.rglob("*") if path.is_file()}
    edit = Edit(("site", "rooms", "hall", "name"), "Hall", "Lobby")
    with monkeypatch.context() as patch:
        patch.setattr(os, call, fails(number))
        with pytest.raises(AlarmProblem, match=words) as caught:
            session.apply([edit])
    assert "is as it was" in str(caught.value)
    assert {path: path.read_bytes() for path in session.path.parent.rglob("*") if path.is_file()} == before
    assert session.home.site.rooms[0].name == "Hall"
    assert session.apply([edit]).site.rooms[0].name == "Lobby"


def test_a_full_disk_while_the_home_itself_is_written_drops_the_kept_save(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The kept save is written first; if the home then finds no room, that save is taken away again."""
    real, calls = os.fsync, iter([real_call := os.fsync, real_call])

    def second_file_fails(handle: int) -> None:
        next(calls, fails(errno.ENOSPC))(handle)

    before = session.saves()
    monkeypatch.setattr(os, "fsync", second_file_fails)
    with pytest.raises(AlarmProblem, match="no room left"):
        session.apply([Edit(("name",), "My home", "Cottage")])
    monkeypatch.setattr(os, "fsync", real)
    assert session.saves() == before
    assert load(session.path).name == "My home"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_a_device_that_is_really_full_is_said_plainly(session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same against the system's own full device."""
    monkeypatch.setattr(home_file_module, "new_file", lambda _: os.open("/dev/full", os.O_WRONLY))
    with pytest.raises(AlarmProblem, match="no room left on the disk"):
        session.apply([Edit(("name",), "My home", "Cottage")])


NOBODY = 65534


@pytest.fixture
def ordinary_folder() -> Iterator[Path]:
    """A folder seen by somebody who is no administrator: one who is steps down for the test."""
    administrator = hasattr(os, "geteuid") and os.geteuid() == 0
    with tempfile.TemporaryDirectory() as name:
        if administrator:
            os.chown(name, NOBODY, NOBODY)
            os.seteuid(NOBODY)
        try:
            yield Path(name)
        finally:
            Path(name).chmod(0o755)
            if administrator:
                os.seteuid(0)


def test_a_folder_that_is_really_read_only_is_said_plainly(ordinary_folder: Path) -> None:
    """A folder whose rights were taken away: one sentence, and the home is as it was."""
    session = Session.new(ordinary_folder / "home.json", Home(name="My home"))
    for folder in (ordinary_folder / ".workbook", ordinary_folder):
        folder.chmod(0o555)
    try:
        with pytest.raises(AlarmProblem, match="may not be written"):
            session.apply([Edit(("name",), "My home", "Cottage")])
        assert load(session.path).name == "My home"
    finally:
        (ordinary_folder / ".workbook").chmod(0o755)


def test_a_held_lock_gives_a_sentence_after_a_while(session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(home_file_module, "PATIENCE_S", 0.1)
    monkeypatch.setattr(home_file_module, "QUEUE_S", 0.1)
    from filelock import FileLock

    with (
        FileLock(session.path.parent / ".workbook" / "home.json.lock"),
        pytest.raises(AlarmProblem, match="held by another program"),
    ):
        session.apply([Edit(("name",), "My home", "Cottage")])
    assert session.home.name == "My home"


def test_a_file_held_for_a_moment_is_replaced_when_it_is_let_go(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on Windows, where a virus scanner may hold a file: it is tried again for two seconds."""
    real, refusals = os.replace, iter(range(3))

    def held(source: Any, target: Any) -> None:
        if next(refusals, None) is not None:
            raise PermissionError(errno.EACCES, "held")
        real(source, target)

    monkeypatch.setattr(os, "replace", held)
    assert session.apply([Edit(("name",), "My home", "Cottage")]).name == "Cottage"
    assert next(refusals, None) is None


def test_the_last_good_save_is_offered_for_a_broken_file(session: Session) -> None:
    """The broken file is kept beside the one that is brought back."""
    session.apply([Edit(("name",), "My home", "Cottage")])
    session.path.write_bytes(b'{"name": ')
    with pytest.raises(AlarmProblem, match="not valid JSON"):
        Session.open(session.path)
    good = last_good(session.path)
    assert good is not None
    assert good[1].name == "Cottage"
    assert session.path.read_bytes() == b'{"name": '
    assert bring_back(session.path).home.name == "Cottage"
    assert session.path.with_name("home.json.broken").read_bytes() == b'{"name": '


def test_there_is_no_last_good_save_where_none_was_kept(tmp_path: Path) -> None:
    (tmp_path / "home.json").write_bytes(b"{")
    assert last_good(tmp_path / "home.json") is None
    with pytest.raises(AlarmProblem, match="no kept save"):
        bring_back(tmp_path / "home.json")
