"""A home without wires is asked nothing about wires, until it has some or its owner says so."""

from pathlib import Path
from typing import Any

import pytest

from alarmlib.draft.blank import blank_home
from alarmlib.pages.forms import build
from alarmlib.pages.wires import WIRED_FORMS, has_wires, wired
from alarmlib.store import Edit, Session

WIRELESS = {"id": "hall", "name": "Hall", "kind": "contact", "link": "wireless"}


@pytest.fixture
def session(tmp_path: Path) -> Session:
    return Session.new(tmp_path / "home.json", blank_home())


def gates(session: Session) -> list[Any]:
    return [wired(session, name, build(session, name)) for name in sorted(WIRED_FORMS)]


def test_the_forms_come_with_the_first_wired_device_and_go_with_it(session: Session) -> None:
    made = gates(session)
    assert [gate.opened for gate in made] == [False] * len(WIRED_FORMS)
    assert [len(gate.children) for gate in made] == [int(name == "circuits") for name in sorted(WIRED_FORMS)]
    session.apply([Edit(("devices", "hall"), None, WIRELESS)])
    assert not any(gate.opened for gate in made)
    session.apply([Edit(("devices", "hall", "link"), "wireless", "wired")])
    assert all(gate.children == (gate.form,) for gate in made)
    session.undo()
    assert not any(gate.opened for gate in made)
    session.apply([Edit(("circuits", "one"), None, {"id": "one", "name": "Cellar"})])
    assert has_wires(session.home)


def test_the_owner_says_that_there_are_wires(session: Session) -> None:
    made = gates(session)
    first = next(gate for gate in made if gate.instead)
    before = session.home
    first.instead._answer({"kind": "action", "n": 0}, [])
    assert all(gate.children == (gate.form,) for gate in made)
    assert session.home is before
    assert wired(session, "people", "form") == "form"
