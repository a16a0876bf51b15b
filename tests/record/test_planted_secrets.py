"""Secrets planted in every free-text field reach no record and no list that others may read."""

from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.answers import answer
from alarmlib.record.produce import made
from alarmlib.store import load
from alarmlib.store.secrets import free_texts
from alarmlib.store.sharing import copy_for
from alarmlib.store.tables import Table, to_csv

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"
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
    """No planted secret stands in the record for others, long or short."""
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
    texts = [to_csv(seen, table) for table in Table]
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
