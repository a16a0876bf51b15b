"""A small drawn home: two storeys, two motion detectors, walks, cables, an alarm near a cooker."""

from typing import Any

from alarmlib.model import Home


def drawn_home() -> Home:
    """Hall, kitchen and living room below, a bedroom above; every dear question has something to say of it."""
    return Home.model_validate(
        {
            "site": {"storeys": _STOREYS, "rooms": _ROOMS, "openings": _OPENINGS, "passages": _PASSAGES,
                     "furniture": [_TABLE], "fixtures": [_COOKER]},
            "household": {
                "people": [{"id": "one", "role": "One", "sleeps_in": "bed", "can_unset": True}],
                "pets": [{"id": "cat", "kind": "Cat", "reaches_m": 1.5, "free_when_empty": ["hall"]}],
                "walks": [{"id": "timed", "person": "one", "door": "front", "first_s": 9.0}],
            },
            "control_unit": {
                "times": {"entry_s": 30.0, "exit_s": 45.0},
                "areas": [{"id": "house", "name": "House"}],
                "zones": [_ZONE],
            },
            "circuits": [{"id": "loop", "name": "Loop", "ending": "single", "end_resistor_ohm": 4700.0,
                          "cable": "0.22 mm²"}],
            "device_types": [{"id": "eye", "name": "Eye", "kind": "motion", "range_m": 6.0, "angle_deg": 90.0}],
            "devices": _DEVICES,
        }
    )  # fmt: skip


def _box(x: float, y: float, wide: float, deep: float) -> list[list[float]]:
    return [[x, y], [x + wide, y], [x + wide, y + deep], [x, y + deep]]


def _device(name: str, kind: str, room: str, at: tuple[float, float], **more: Any) -> dict[str, Any]:
    own = {} if kind == "motion" else {"kind": kind}
    return {"id": name, "name": name, "room": room, "at": at, "height_m": 2.2} | own | more


_STOREYS = [{"id": "low", "name": "Low"}, {"id": "high", "name": "High", "level": 1}]
_ROOMS = [
    {"id": "hall", "name": "Hall", "storey": "low", "use": "hall", "outline": _box(0, 0, 3, 4)},
    {"id": "kitchen", "name": "Kitchen", "storey": "low", "use": "kitchen", "outline": _box(3, 0, 4, 4)},
    {"id": "living", "name": "Living", "storey": "low", "use": "living", "outline": _box(0, 4, 7, 4)},
    {"id": "bed", "name": "Bedroom", "storey": "high", "use": "bedroom", "outline": _box(0, 0, 3, 4)},
]
_OPENINGS = [
    {"id": "front", "name": "Front", "room": "hall", "kind": "door", "at": [1, 0], "entry_exit": True,
     "reach": "ground"},
    {"id": "pane", "name": "Pane", "room": "living", "at": [6, 8], "reach": "ground", "glass": "yes"},
]  # fmt: skip
_PASSAGES = [
    {"id": "to_kitchen", "first": "hall", "second": "kitchen", "kind": "doorway", "at": [3, 2]},
    {"id": "to_living", "first": "hall", "second": "living", "at": [1.5, 4]},
    {"id": "stairs", "first": "hall", "second": "bed", "kind": "stairs", "at": [2.5, 3.5], "at_second": [2.5, 1]},
]
_ZONE = {"id": "z", "label": "Door", "areas": ["house"], "function": "entry_exit", "circuit": "loop"}
_TABLE = {"id": "table", "name": "Table", "room": "living", "outline": _box(2, 5, 2, 1.5), "height_m": 1.2}
_COOKER = {"id": "cooker", "name": "Cooker", "room": "kitchen", "kind": "cooker", "at": [6.5, 0.5]}
_DEVICES = [
    _device("unit", "control_unit", "kitchen", (4, 3.9)),
    _device("keys", "keypad", "hall", (0.1, 3), link="wired"),
    _device("door", "contact", "hall", (1, 0.1), openings=["front"], zone="z", link="wired"),
    _device("eye_living", "motion", "living", (0.1, 7.9), type="eye", facing_deg=315.0),
    _device("eye_hall", "motion", "hall", (2.9, 3.9), type="eye", facing_deg=225.0),
    _device("smoke", "smoke", "kitchen", (5, 2), link="own"),
]
