"""A small home that every store test may start from, and a clock that tests set."""

import contextlib
import os
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.store import Session


def small_document() -> dict[str, Any]:
    """Two rooms, two ways in, two devices, two zones, a person, a test."""
    return {
        "schema_version": 2,
        "site": {
            "storeys": [{"id": "ground", "name": "Ground floor"}],
            "rooms": [
                {"id": "hall", "name": "Hall", "storey": "ground", "use": "hall", "ceiling_m": 2.5019},
                {"id": "kitchen", "name": "Kitchen", "storey": "ground", "use": "kitchen"},
            ],
            "openings": [
                {"id": "front_door", "name": "Front door", "room": "hall", "kind": "door", "width_m": 0.9},
                {"id": "kitchen_window", "name": "Kitchen window", "room": "kitchen", "at": None},
            ],
        },
        "household": {"people": [{"id": "first", "role": "first adult"}]},
        "control_unit": {
            "zones": [
                {"id": "z_front", "label": "FRONT DOOR", "place": "1", "function": "entry_exit"},
                {"id": "z_hall", "label": "HALL", "place": "2", "function": "entry_route"},
            ]
        },
        "devices": [
            {"id": "d_front", "name": "Front door contact", "kind": "contact", "room": "hall", "zone": "z_front"},
            {"id": "d_hall", "name": "Hall motion", "kind": "motion", "room": "hall", "zone": "z_hall",
             "wireless": {"slot": 3}},
        ],
        "log": {"tests": [{"id": "t1", "on": "2026-03-01", "device": "d_hall", "seen": "as_expected"}]},
    }  # fmt: skip


class Clock:
    """A clock that a test turns."""

    def __init__(self) -> None:
        self.at = datetime(2026, 3, 1, 12, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.at

    def turn(self, **step: float) -> None:
        """Go on by so many hours, minutes ..."""
        self.at += timedelta(**step)


@pytest.fixture
def document() -> dict[str, Any]:
    return small_document()


@pytest.fixture
def home() -> Home:
    return Home.model_validate(small_document())


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def session(tmp_path: Path, home: Home, clock: Clock) -> Session:
    return Session.new(tmp_path / "home.json", home, clock)


@pytest.fixture
def again(session: Session, clock: Clock) -> Callable[[], Session]:
    """Another kernel's session of the same file."""
    return lambda: Session.open(session.path, clock)


@pytest.fixture
def tell(capsys: pytest.CaptureFixture[str]) -> Callable[[str], None]:
    """Says what a trial counted; in the whole run it is read on the screen."""

    def said(text: str) -> None:
        with capsys.disabled() if os.environ.get("ALARM_WHOLE") == "1" else contextlib.nullcontext():
            sys.stdout.write(f"\n{text}\n")

    return said
