"""Secrets planted in every free-text field reach no record and no list that others may read."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.answers import answer
from alarmlib.record.plain import plain_blocks
from alarmlib.record.produce import made, record_of
from alarmlib.store import load
from alarmlib.store.fields import part_in
from alarmlib.store.secrets import free_texts
from alarmlib.store.sharing import copy_for
from alarmlib.store.tables import CsvTable, to_csv

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"
DAY = "2026-11-25"
SECRET = "the code is 4827{number:03}"


def planted(home: Home) -> tuple[Home, list[str]]:
    """The home with a secret of its own in every free-text field, and all those secrets."""
    document: dict[str, Any] = home.model_dump(mode="json")
    secrets = []
    for number, (path, _text) in enumerate(free_texts(home)):
        secrets.append(SECRET.format(number=number))
        _put(document, path, secrets[-1])
    return Home.model_validate(document), secrets


def _put(inside: Any, path: tuple[str, ...], text: str) -> None:
    for step in path[:-1]:
        inside = (
            next(e for e in inside if e.get("id", e.get("zone")) == step) if isinstance(inside, list) else inside[step]
        )
    if isinstance(inside, list):
        inside[int(path[-1])] = text
    else:
        inside[path[-1]] = text


@pytest.fixture(scope="module")
def home_and_secrets() -> tuple[Home, list[str]]:
    """The demo home with every free text made a secret."""
    return planted(load(DEMO))


def test_planting__reaches_hundreds_of_fields(home_and_secrets: tuple[Home, list[str]]) -> None:
    """The plants are really there: the owner's own home file holds every one."""
    home, secrets = home_and_secrets
    text = home.model_dump_json()
    assert len(secrets) > 300
    assert all(secret in text for secret in secrets)


@pytest.mark.parametrize("copy", [Share.HELPER, Share.CLASS, Share.PUBLIC])
def test_record__holds_no_secret(copy: Share, home_and_secrets: tuple[Home, list[str]]) -> None:
    """No planted secret is in the record for others, long or short."""
    home, secrets = home_and_secrets
    for short in (False, True):
        _, html = made(home, copy, "2026-11-25", short=short)
        text = html.decode()
        assert [secret for secret in secrets if secret[-7:] in text] == []


@pytest.mark.parametrize("copy", [Share.HELPER, Share.CLASS, Share.PUBLIC])
def test_lists__hold_no_secret(copy: Share, home_and_secrets: tuple[Home, list[str]]) -> None:
    """Neither do the lists as CSV, nor what a page would print for that copy."""
    home, secrets = home_and_secrets
    seen = copy_for(home, copy)
    texts = [to_csv(seen, table) for table in CsvTable]
    texts += [
        answer(seen, name) for name in ("devices", "zones", "messages", "to_do", "test_log", "settings", "habits")
    ]
    told = "\n".join(texts)
    assert [secret for secret in secrets if secret[-7:] in told] == []


def test_record__owner_still_sees_them(home_and_secrets: tuple[Home, list[str]]) -> None:
    """The owner's own record shows what the owner typed: the test above can fail."""
    home, secrets = home_and_secrets
    text = made(home, Share.OWNER, "2026-11-25")[1].decode()
    assert sum(secret[-7:] in text for secret in secrets) > 50


def _notes(model: type[BaseModel], path: str = "") -> Iterator[str]:
    """The paths of the fields that hold sentences: notes, reasons, what was found and done."""
    for name, info in model.model_fields.items():
        inner = part_in(info.annotation)
        if inner is not None:
            yield from _notes(inner, f"{path}{name}.")
        elif "max_length=2000" in str(info.metadata):
            yield f"{path}{name}"


def test_record__owner_reads_every_reason_and_note(home_and_secrets: tuple[Home, list[str]]) -> None:
    """Whatever sentence the owner wrote is in the owner's copy; only the short path's answers are worked in."""
    home, _ = home_and_secrets
    worked_in = "short_path.", "site.answers.point"  # the draft's questions, and the survey's own points
    notes = {path for path in _notes(Home) if not path.startswith(worked_in)}
    assert {
        "note",
        "site.openings.left_bare_because",
        "devices.note",
        "control_unit.note",
        "household.habits.note",
    } <= notes
    document = home.model_dump(mode="json")
    planted_in: dict[str, str] = {}
    for path in sorted(notes):
        _fill(document, path.split("."), planted_in, path)
    record = record_of(Home.model_validate(document), Share.OWNER, DAY)
    text = "\n".join(plain_blocks(section.blocks) for section in record.sections)
    assert len(planted_in) > 150
    assert sorted({path for words, path in planted_in.items() if words not in text}) == []


def _fill(inside: Any, steps: list[str], planted_in: dict[str, str], path: str) -> None:
    """Put words of its own into the field at the end of the steps, in every element on the way."""
    if isinstance(inside, list):
        for each in inside:
            _fill(each, steps, planted_in, path)
    elif len(steps) > 1:
        _fill(inside[steps[0]], steps[1:], planted_in, path)
    else:
        words = f"sentence {len(planted_in)} ends here"
        planted_in[words] = path
        inside[steps[0]] = words
