"""The smallest invented home with one of nearly everything that may fail."""

import pytest

from alarmlib.model import Home

_DEVICES = (
    ("door", "contact", "wired", {"zone": "door"}),
    ("shed", "contact", "wire_free", {"zone": "shed", "wire_free": {"missing_after_s": 3600}}),
    ("keypad", "keypad", "wired", {}),
    ("siren", "outside_sounder", "wired", {}),
    ("bell", "inside_sounder", "wire_free", {"wire_free": {}}),
)


@pytest.fixture
def cabin() -> Home:
    """Two zones, one wired and one wire-free, a keypad, two sounders, one path; nothing else."""
    return Home.model_validate(
        {
            "unit": {
                "zones": [
                    {"id": "door", "label": "Door", "function": "final_door"},
                    {"id": "shed", "label": "Shed", "function": "perimeter"},
                    {"id": "fire", "label": "Fire", "function": "fire"},
                ],
            },
            "devices": [{"id": i, "name": i, "kind": k, "link": link} | more for i, k, link, more in _DEVICES],
            "messages": {
                "paths": [
                    {"id": "net", "name": "Net", "works_without_mains": "yes", "failure_reported": "yes"},
                    {"id": "ear", "name": "Ear", "kind": "siren"},
                ],
                "responders": [{"id": "friend", "role": "friend"}],
                "messages": [{"id": "burglary", "event": "burglary", "to": ["friend"]}],
            },
        }
    )
