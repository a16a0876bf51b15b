"""In the tables of devices a blank cell says what the device's type says, so that the owner sees what holds."""

from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.pages.forms import build
from alarmlib.store import Session
from alarmlib.widgets.table import TableForm

TYPES = [
    {"id": "corner", "name": "Corner detectors", "kind": "motion", "link": "wireless", "range_m": 12,
     "movement_restarts_sleep": True, "wireless": {"battery": "lithium", "check_in_s": 1200}},
]  # fmt: skip
DEVICES: list[dict[str, Any]] = [
    {"id": "hall", "name": "Hall detector", "type": "corner"},
    {"id": "study", "name": "Study detector", "type": "corner", "range_m": 8},
    {"id": "door", "name": "Door contact", "kind": "contact"},
]


@pytest.fixture
def session(tmp_path: Path) -> Session:
    home = Home.model_validate({"device_types": TYPES, "devices": DEVICES})
    return Session.new(tmp_path / "home.json", home)


def shown(session: Session, name: str) -> TableForm:
    form: TableForm = build(session, name)
    return form


def test_a_blank_cell_shows_what_the_type_says(session: Session) -> None:
    form = shown(session, "detection")
    assert form.values["hall/range_m"] == ""
    assert form.inherited["hall/range_m"] == "From its type: 12 m"
    assert form.inherited["hall/movement_restarts_sleep"] == "From its type: yes"
    assert "hall/angle_deg" not in form.inherited, "the type does not say it"


def test_a_cell_that_says_something_itself_shows_no_type(session: Session) -> None:
    form = shown(session, "detection")
    assert form.values["study/range_m"] == "8" and "study/range_m" not in form.inherited
    form._edit("study/range_m", "", "8")
    assert form.inherited["study/range_m"] == "From its type: 12 m"
    form._edit("study/range_m", "9", "")
    assert "study/range_m" not in form.inherited


def test_a_device_of_no_type_shows_none(session: Session) -> None:
    assert not [key for key in shown(session, "detection").inherited if key.startswith("door/")]


def test_facts_in_a_part_and_choices_are_shown_in_words(session: Session) -> None:
    form = shown(session, "wireless")
    assert form.inherited["hall/wireless/battery"] == "From its type: lithium battery"
    assert form.inherited["hall/wireless/check_in_s"] == "From its type: 20 min"


def test_it_follows_the_home_in_its_own_units_and_words(session: Session) -> None:
    home = session.home.model_copy(
        update={"units": "us", "rules": session.home.rules.model_copy(update={"rule_set": "us"})}
    )
    session.replace(Home.model_validate(home.model_dump(mode="json")))
    form = shown(session, "detection")
    assert form.inherited["hall/range_m"] == "From its type: 39 ft 4 7/16 in"
