"""The home of a set size that edits are timed on: rooms in a grid on two storeys, all of it invented."""

from collections.abc import Iterator
from typing import Any

from alarmlib.model import Home

ACROSS = 5
SIDE_M = 4.0


def grid_home(rooms: int = 25, devices: int = 40) -> Home:
    """Three rows of rooms below and two above, joined by passages; four people; tables to go round."""
    places = [_place(number) for number in range(rooms)]
    keypads = [_device("keypad_0", "keypad", f"room_{ACROSS + 1}"), _device("keypad_1", "keypad", f"room_{ACROSS + 3}")]
    joined = [_detector(number, rooms) for number in range(devices - len(keypads) - 2)]
    others = [_device("unit", "control_unit", "room_1"), _device("siren", "outside_siren", "room_2")]
    return Home.model_validate(
        {
            "name": "Home of the benchmark",
            "rules": {"permit_asked": True, "siren_limit_s": 600},
            "site": {
                "storeys": [{"id": "ground", "name": "Ground"}, {"id": "upper", "name": "Upstairs", "level": 1}],
                "rooms": [_room(number, *place) for number, place in enumerate(places)],
                "openings": [_opening(number, *place) for number, place in enumerate(places)],
                "passages": list(_passages(places)),
                "furniture": [_table(number, *place) for number, place in enumerate(places) if number % 2],
            },
            "household": {"people": [_person(number, rooms) for number in range(4)]},
            "control_unit": _unit(joined),
            "devices": [*keypads, *joined, *others],
        }
    )


def _place(number: int) -> tuple[str, float, float]:
    """(storey, x, y) of a room's corner, m; three rows below, the others upstairs."""
    row, column = divmod(number, ACROSS)
    return "ground" if row < 3 else "upper", column * SIDE_M, (row % 3) * SIDE_M


def _room(number: int, storey: str, x: float, y: float) -> dict[str, Any]:
    outline = [[x, y], [x + SIDE_M, y], [x + SIDE_M, y + SIDE_M], [x, y + SIDE_M]]
    use = ("hall", "living", "kitchen", "bedroom", "bath")[number % ACROSS]
    return {"id": f"room_{number}", "name": f"Room {number}", "storey": storey, "use": use, "outline": outline,
            "sleeps_here": use == "bedroom"}  # fmt: skip


def _opening(number: int, _storey: str, x: float, y: float) -> dict[str, Any]:
    final = number in {0, ACROSS - 1}
    return {"id": f"opening_{number}", "name": f"Way in {number}", "room": f"room_{number}", "at": [x + 1.0, y],
            "kind": "door" if final else "window", "entry_exit": final, "reach": "ground"}  # fmt: skip


def _passages(places: list[tuple[str, float, float]]) -> Iterator[dict[str, Any]]:
    """Doors from row to row, and along rows 1 and 3: the passages."""
    for number, (storey, x, y) in enumerate(places):
        for step, at in ((1, [x + SIDE_M, y + 2]), (ACROSS, [x + 2, y + SIDE_M])):
            beside = number + step
            wall = step == 1 and (beside % ACROSS == 0 or number // ACROSS not in {1, 3})
            if beside < len(places) and not wall and places[beside][0] == storey:
                yield _passage(number, beside, at=at)
    upper = 3 * ACROSS
    if len(places) > upper:
        yield _passage(7, upper + 2, at=[10, 5], at_second=[10, 3], kind="stairs")


def _passage(one: int, other: int, **more: Any) -> dict[str, Any]:
    return {"id": f"way_{one}_{other}", "first": f"room_{one}", "second": f"room_{other}"} | more


def _table(number: int, _storey: str, x: float, y: float) -> dict[str, Any]:
    outline = [[x + 1.5, y + 2.4], [x + 2.7, y + 2.4], [x + 2.7, y + 3.2], [x + 1.5, y + 3.2]]
    return {"id": f"table_{number}", "name": f"Table {number}", "room": f"room_{number}", "outline": outline}


def _person(number: int, rooms: int) -> dict[str, Any]:
    return {"id": f"person_{number}", "role": f"adult {number}", "sleeps_in": f"room_{min(3 + 5 * number, rooms - 1)}"}


def _device(name: str, kind: str, room: str, **more: Any) -> dict[str, Any]:
    return {"id": name, "name": name.replace("_", " "), "kind": kind, "room": room, "tamper": "yes"} | more


def _detector(number: int, rooms: int) -> dict[str, Any]:
    room = number % rooms
    if number < rooms:
        guarded = {"openings": [f"opening_{room}"], "zone": f"zone_{room}"}
        return _device(f"contact_{number}", "contact", f"room_{room}", **guarded)
    return _device(f"motion_{number}", "motion", f"room_{room}", zone=f"zone_m{number}")


def _unit(joined: list[dict[str, Any]]) -> dict[str, Any]:
    zones = [
        {"id": d["zone"], "label": d["zone"].replace("_", " "), "areas": ["house"], "function": _function(d)}
        for d in joined
    ]
    quiet = [zone["id"] for zone in zones if zone["function"] == "at_once"]
    return {
        "times": {"entry_s": 35, "exit_s": 60, "siren_s": 300, "abort_s": 20},
        "limits": {"zones": 64, "label_length": 16},
        "areas": [{"id": "house", "name": "House"}],
        "zones": zones,
        "part_sets": [{"id": "night", "name": "Night", "left_out": quiet}],
    }


def _function(device: dict[str, Any]) -> str:
    if device["kind"] == "motion":
        return "at_once"
    final = {f"contact_{number}" for number in (0, ACROSS - 1)}
    return "entry_exit" if device["id"] in final else "at_once"
