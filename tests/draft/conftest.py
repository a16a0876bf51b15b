"""A small home told by the short path."""

import sys
from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.model.short_path import ShortPath

sys.path.insert(0, str(Path(__file__).parents[1] / "model"))  # drawn homes lie beside the tests of the model

ANSWERS: dict[str, Any] = {
    "rooms": "Hall\nKitchen\nLiving room\nLanding, upstairs\nBedroom, upstairs\nBathroom, upstairs",
    "outside_doors": "Front door: Hall\nBack door: Kitchen",
    "windows": "Kitchen window: Kitchen\nBay window: Living room",
    "inner_doors": "Hall: Kitchen, Living room, Landing\nLanding: Bedroom, Bathroom",
    "keypad_room": "Hall",
    "bedrooms": "Bedroom",
    "people": 3,
}


class OnProgress:
    """Makes homes from answers of the short path."""

    def __call__(self, **changed: Any) -> Home:
        return Home(short_path=ShortPath(**{**ANSWERS, **changed}))


@pytest.fixture
def told() -> OnProgress:
    """`told(pace="slow")` is the small home with one answer changed."""
    return OnProgress()
