"""A small invented home in which nearly all is in order."""

from typing import Any

import pytest

from alarmlib.model import Home

ROOMS = (("hall", "ground", "hall"), ("living", "ground", "living"), ("kitchen", "ground", "kitchen"),
         ("landing", "upstairs", "hall"), ("bedroom", "upstairs", "bedroom"), ("bath", "upstairs", "bath"))  # fmt: skip
WAYS = (("hall", "living", 4), ("hall", "kitchen", 4), ("hall", "landing", 8), ("landing", "bedroom", 3),
        ("landing", "bath", 3))  # fmt: skip
OPENINGS = (
    ("front_door", "hall", "door"),
    ("living_window", "living", "window"),
    ("kitchen_window", "kitchen", "window"),
)


def _contact(opening: str, room: str) -> dict[str, Any]:
    return _device(f"{opening}_contact", "contact", room, zone=opening, openings=[opening])


def _device(name: str, kind: str, room: str, **more: Any) -> dict[str, Any]:
    return {"id": name, "name": name.replace("_", " "), "kind": kind, "room": room, "tamper": "yes"} | more


def _zone(name: str, function: str) -> dict[str, Any]:
    return {"id": name, "label": name.replace("_", " "), "function": function, "areas": ["house"]}


@pytest.fixture
def house() -> Home:
    """Six rooms, three ways in, one entry/exit door with a keypad, smoke alarms, a night set; two adults."""
    parts: dict[str, Any] = {
        "rules": {"permit_asked": True, "siren_limit_s": 600},
        "site": {
            "attached_garage": "no", "fuel_appliances": "no", "stop_tap": "yes",
            "storeys": [{"id": "ground", "name": "Ground floor"}, {"id": "upstairs", "name": "Upstairs", "level": 1}],
            "rooms": [{"id": r, "name": r, "storey": s, "use": u, "smoke_alarm": "yes"} for r, s, u in ROOMS],
            "openings": [{"id": o, "name": o, "room": r, "kind": k, "reach": "ground", "opens_without_key": "yes",
                          "entry_exit": o == "front_door"}
                         for o, r, k in OPENINGS],
            "passages": [{"id": f"{a}_{b}", "first": a, "second": b, "seconds": s} for a, b, s in WAYS],
        },
        "household": {"people": [_person("one"), _person("two")]},
        "control_unit": {
            "times": {"entry_s": 35, "exit_s": 60, "siren_s": 300, "abort_s": 20},
            "limits": {"zones": 16, "label_length": 16},
            "areas": [{"id": "house", "name": "House"}],
            "zones": [_zone("front_door", "entry_exit"), _zone("living_window", "at_once"),
                      _zone("kitchen_window", "at_once"), _zone("hall_motion", "entry_route"),
                      _zone("living_motion", "at_once"), _zone("fire", "fire"), _zone("hold_up", "hold_up")],
            "part_sets": [{"id": "night", "name": "Night", "left_out": ["hall_motion", "living_motion"]}],
        },
        "devices": [
            *(_contact(opening, room) for opening, room, _ in OPENINGS),
            _device("hall_motion", "motion", "hall", zone="hall_motion"),
            _device("living_motion", "motion", "living", zone="living_motion"),
            _device("smoke", "smoke", "landing", zone="fire"),
            _device("button", "hold_up", "bedroom", zone="hold_up"),
            _device("keypad", "keypad", "hall"), _device("unit", "control_unit", "living"),
            _device("siren", "outside_siren", "landing"),
        ],
        "messages": {
            "responders": [{"id": "neighbour", "role": "neighbour", "minutes_away": 5, "holds_key": True,
                            "can_unset": True, "agreed": "yes", "does": "looks from outside"}],
            "messages": [{"id": e, "event": e, "to": ["neighbour"]} for e in ("burglary", "fire", "hold_up")],
        },
    }  # fmt: skip
    return Home.model_validate(parts)


def _person(name: str) -> dict[str, Any]:
    return {"id": name, "role": f"adult {name}", "sleeps_in": "bedroom", "trained_on": "2026-01-10"}


EYE = {"id": "pir", "name": "Corner eye", "kind": "motion", "room": "big", "at": [0, 5], "height_m": 2.2,
       "facing_deg": 0, "range_m": 12, "angle_deg": 90, "straight_range_m": 6, "looks_down_deg": 90}  # fmt: skip


@pytest.fixture
def drawn() -> Home:
    """A room of 20 m by 10 m to the left, one of 10 m by 10 m right of it, a door between, one eye at the left wall."""
    site = {
        "storeys": [{"id": "ground", "name": "Ground floor"}],
        "rooms": [
            {"id": "big", "name": "Great room", "storey": "ground", "outline": [[0, 0], [20, 0], [20, 10], [0, 10]]},
            {"id": "den", "name": "Den", "storey": "ground", "outline": [[20, 0], [30, 0], [30, 10], [20, 10]]},
        ],
        "passages": [{"id": "den_door", "first": "big", "second": "den", "at": [20, 5], "width_m": 1}],
        "openings": [{"id": "gate", "name": "Front door", "room": "big", "kind": "door", "at": [19, 0],
                      "reach": "ground", "entry_exit": True}],
    }  # fmt: skip
    return Home.model_validate({"site": site, "devices": [EYE]})
