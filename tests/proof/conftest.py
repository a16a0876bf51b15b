"""The smallest invented home with one of nearly everything that may fail."""

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home

sys.path.insert(0, str(Path(__file__).parent))  # the homes that several of these tests share lie beside them
sys.path.insert(0, str(Path(__file__).parents[1] / "model"))  # how a home is changed

from repair_homes import ROOMS, SIREN, Made, Put

_DEVICES = (
    ("door", "contact", "wired", {"zone": "door"}),
    ("shed", "contact", "wireless", {"zone": "shed", "wireless": {"missing_after_s": 3600}}),
    ("keypad", "keypad", "wired", {}),
    ("siren", "outside_siren", "wired", {}),
    ("bell", "inside_sounder", "wireless", {"wireless": {}}),
)


@pytest.fixture
def cabin() -> Home:
    """Two zones, one wired and one wireless, a keypad, two sounders, one path; nothing else."""
    return Home.model_validate(
        {
            "control_unit": {
                "zones": [
                    {"id": "door", "label": "Door", "function": "entry_exit"},
                    {"id": "shed", "label": "Shed", "function": "at_once"},
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


@pytest.fixture(scope="session")
def demo() -> Home:
    """The demo home of the workbook."""
    text = (Path(__file__).parents[2] / "workbook" / "demo_home.json").read_text(encoding="utf-8")
    return Home.model_validate_json(text, strict=True)


@pytest.fixture(scope="session")
def two_rooms() -> Callable[..., Home]:
    """Makes a home without a plan: hall with front door, contact, motion detector, keypad; living room with both.

    The owner walks 1 m/s, 0.1 m/s more or less from day to day: one walk of 20 s in twenty takes 23.9 s or more, one
    17.2 s or less. The hall's detector is on the way in, the living room's is at once; the night set leaves out the
    hall. Habits are given as dicts, each step as (deed, place, seconds).
    """

    def made(
        *habits: dict[str, Any],
        entry_s: float = 27,
        exit_s: float = 40,
        tolerance_percent: float = 0,
        functions: dict[str, str] | None = None,
        devices: Sequence[dict[str, Any]] = (),
        people: Sequence[str] = ("owner",),
        behaviour: dict[str, Any] | None = None,
        more: dict[str, Any] | None = None,
        proof: dict[str, Any] | None = None,
    ) -> Home:
        treated = {"door": "entry_exit", "hall_zone": "entry_route", "living_zone": "at_once"} | (functions or {})
        fitted = [
            {"id": "contact", "name": "Contact", "kind": "contact", "openings": ["front"], "zone": "door"},
            {"id": "hall_eye", "name": "Hall eye", "kind": "motion", "room": "hall", "zone": "hall_zone"},
            {"id": "living_eye", "name": "Living eye", "kind": "motion", "room": "living", "zone": "living_zone"},
            {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "hall"},
            *devices,
        ]
        return Home.model_validate(
            {
                "rules": {"rule_set": "us"},
                "site": {
                    "storeys": [{"id": "ground", "name": "Ground"}],
                    "rooms": [{"id": r, "name": r.title(), "storey": "ground"} for r in ("hall", "living", "attic")],
                    "openings": [{"id": "front", "name": "Front", "room": "hall", "kind": "door", "entry_exit": True}],
                    "passages": [
                        {"id": "inner", "first": "hall", "second": "living", "seconds": 4},
                        {"id": "ladder", "first": "living", "second": "attic", "seconds": 8},
                    ],
                },
                "household": {
                    "people": [{"id": who, "role": who.title(), "speed_m_s": 1.0} for who in people],
                    "habits": [_habit(number, **({"who": people[0]} | habit)) for number, habit in enumerate(habits)],
                },
                "control_unit": {
                    "areas": [{"id": "house", "name": "House"}],
                    "zones": [{"id": z, "label": z, "function": f, "areas": ["house"]} for z, f in treated.items()],
                    "times": {"entry_s": entry_s, "exit_s": exit_s, "siren_s": 90, "abort_s": 20},
                    "part_sets": [{"id": "night", "name": "Night", "area": "house", "left_out": ["hall_zone"]}],
                    "behaviour": behaviour or {},
                },
                "devices": fitted,
                "proof": {"tolerance_percent": tolerance_percent} | (proof or {}),
            }
            | (more or {})
        )

    return made


def _habit(number: int, *, steps: Sequence[tuple[Any, ...]], **rest: Any) -> dict[str, Any]:
    told = [
        {"id": f"step_{at}", "deed": deed, "place": place, "seconds": seconds}
        for at, (deed, place, seconds) in enumerate(steps)
    ]
    plain = {"id": f"habit_{number}", "name": f"Habit {number}", "starts_at": "front"}
    return plain | rest | {"steps": told}


@pytest.fixture
def with_siren(two_rooms: Made, put: Put) -> Made:
    """The home of two rooms with a siren, its attic not to be guarded; `edits` change it further."""

    def made(*habits: dict[str, Any], edits: dict[str, Any] | None = None, **more: Any) -> Home:
        plain = two_rooms(*habits, **{"devices": (SIREN,)} | more)
        return put(plain, ROOMS | (edits or {}))

    return made


@pytest.fixture
def porch() -> Home:
    """A drawn porch with two bare windows, not to be guarded itself, and the guarded room behind it."""
    window = {"room": "porch", "kind": "window"}
    return Home.model_validate({
        "site": {
            "storeys": [{"id": "ground", "name": "Ground"}],
            "rooms": [
                {"id": "porch", "name": "Porch", "storey": "ground", "guarded": False,
                 "outline": [(0, 0), (3, 0), (3, 9), (0, 9)]},
                {"id": "vault", "name": "Vault", "storey": "ground", "outline": [(0, 9), (3, 9), (3, 11), (0, 11)]},
            ],
            "openings": [
                {"id": "left", "name": "Left", "at": (1, 0), **window},
                {"id": "right", "name": "Right", "at": (2, 0), **window},
                {"id": "front", "name": "Front", "room": "vault", "kind": "door", "entry_exit": True, "at": (3, 10)},
            ],
            "passages": [{"id": "between", "first": "porch", "second": "vault", "at": (1.5, 9)}],
        },
        "control_unit": {
            "areas": [{"id": "house", "name": "House"}],
            "zones": [{"id": "door", "label": "Door", "function": "entry_exit", "areas": ["house"]}],
            "times": {"entry_s": 30},
        },
        "devices": [
            {"id": "contact", "name": "Contact", "kind": "contact", "openings": ["front"], "zone": "door"},
            {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "vault", "at": (2, 10)},
            SIREN,
        ],
        "proof": {"intruder_m_s": 1.2},
        "prices": [{"id": "contact", "kind": "contact", "price": 15}, {"id": "motion", "kind": "motion", "price": 20}],
    })  # fmt: skip
