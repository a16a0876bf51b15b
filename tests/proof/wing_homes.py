"""Invented homes of several wings, each an area of its own: rooms in two columns, a door, keypad and people of its own.

One seed, one home. What wings share is asked for: a doorway between them, a zone of two areas, a shared entry delay.
"""

from collections.abc import Iterator
from random import Random
from typing import Any

from alarmlib.model import Home

SIDE_M = 4.0
_GUARDS = ("at_once", "at_once", "entry_route", "warn_unset")


def wing_home(
    wings: int = 5, rooms: int = 40, part_sets: int = 6, seed: int = 0, habits: int = 2, joined: bool = True
) -> Home:
    """So many rooms over so many wings; the part sets dealt out over the wings; so many habits a wing."""
    random = Random(seed)
    shares = [rooms // wings + (number < rooms % wings) for number in range(wings)]
    parts = [_wing(random, number, share) for number, share in enumerate(shares)]
    zones = [zone for part in parts for zone in part["zones"]]
    doors = list(_between(shares)) if joined else []
    return Home.model_validate(
        {
            "name": f"Home of {wings} wings",
            "rules": {"rule_set": "us"},
            "site": {
                "storeys": [{"id": "ground", "name": "Ground"}],
                "rooms": [room for part in parts for room in part["rooms"]],
                "openings": [opening for part in parts for opening in part["openings"]],
                "passages": [*(passage for part in parts for passage in part["passages"]), *doors],
            },
            "household": {
                "people": [{"id": f"person_{n}", "role": f"Person {n}", "speed_m_s": 1.0} for n in range(wings)],
                "habits": [_habit(random, wing, number) for wing in range(wings) for number in range(habits)],
            },
            "control_unit": {
                "areas": [{"id": f"wing_{n}", "name": f"Wing {n}"} for n in range(wings)],
                "zones": zones,
                "times": {"entry_s": 30, "exit_s": 45, "siren_s": 180, "abort_s": 20},
                "part_sets": [_part_set(random, number, number % wings, zones) for number in range(part_sets)],
            },
            "devices": [device for part in parts for device in part["devices"]] + [_SIREN],
        }
    )


_SIREN = {"id": "siren", "name": "Siren", "kind": "outside_siren", "link": "wired"}


def _wing(random: Random, wing: int, rooms: int) -> dict[str, Any]:
    """Two columns of rooms, the left one a corridor; a contact on each way in, a detector in every other room."""
    places = [(f"room_{wing}_{n}", *divmod(n, 2)) for n in range(rooms)]
    found: dict[str, Any] = {"rooms": [], "openings": [], "passages": [], "devices": [], "zones": []}
    for number, (room, row, column) in enumerate(places):
        x, y = (2 * wing + column) * SIDE_M, row * SIDE_M
        outline = [[x, y], [x + SIDE_M, y], [x + SIDE_M, y + SIDE_M], [x, y + SIDE_M]]
        found["rooms"].append(
            {"id": room, "name": room, "storey": "ground", "outline": outline, "area": f"wing_{wing}",
             "sleeps_here": number == rooms - 1}
        )  # fmt: skip
        if column:
            found["passages"].append(_passage(room, places[number - 1][0], [x, y + 2]))
        elif row:
            found["passages"].append(_passage(room, places[number - 2][0], [x + 2, y]))
        if number % 2 == 0 or random.random() < 0.5:
            _guard(random, found, (wing, number), [x + 1.0, y] if row == 0 else [x, y + 1.0])
    found["devices"].append(
        {"id": f"keypad_{wing}", "name": f"Keypad {wing}", "kind": "keypad", "room": places[0][0], "link": "wired"}
    )
    return found


def _guard(random: Random, found: dict[str, Any], place: tuple[int, int], at: list[float]) -> None:
    wing, number = place
    name, room = f"{wing}_{number}", f"room_{wing}_{number}"
    door = number == 0
    found["openings"].append(
        {"id": f"in_{name}", "name": f"Way in {name}", "room": room, "at": at, "reach": "ground",
         "kind": "door" if door else "window", "entry_exit": door}
    )  # fmt: skip
    functions = ["entry_exit" if door else "at_once", "entry_route" if number < 2 else random.choice(_GUARDS)]
    kinds = [("contact", {"openings": [f"in_{name}"]}), ("motion", {"room": room})]
    for (kind, where), function in list(zip(kinds, functions, strict=True))[: 1 + (number % 4 == 0)]:
        zone = f"{kind}_zone_{name}"
        found["zones"].append({"id": zone, "label": zone, "function": function, "areas": [f"wing_{wing}"]})
        found["devices"].append({"id": f"{kind}_{name}", "name": f"{kind} {name}", "kind": kind, "zone": zone} | where)


def _passage(one: str, other: str, at: list[float]) -> dict[str, Any]:
    return {"id": f"{one}_{other}", "first": one, "second": other, "at": at}


def _between(shares: list[int]) -> Iterator[dict[str, Any]]:
    """A doorway from each wing into the next, between the first rooms of the second column and of the corridor."""
    for wing in range(len(shares) - 1):
        yield _passage(f"room_{wing}_1", f"room_{wing + 1}_0", [2 * (wing + 1) * SIDE_M, 1.0])


def _part_set(random: Random, number: int, wing: int, zones: list[dict[str, Any]]) -> dict[str, Any]:
    inside = [zone["id"] for zone in zones if zone["areas"] == [f"wing_{wing}"] and zone["id"].startswith("motion")]
    left_out = sorted(random.sample(inside, max(1, len(inside) // 2))) if inside else []
    return {"id": f"part_{number}", "name": f"Part set {number}", "area": f"wing_{wing}", "left_out": left_out}


def _habit(random: Random, wing: int, number: int) -> dict[str, Any]:
    """Coming home into a wing that is set, or leaving one that is not."""
    door, keypad, area = f"in_{wing}_0", f"keypad_{wing}", f"wing_{wing}"
    comes = number % 2 == 0
    steps = [("open", door, 4), ("close", door, 2), ("walk_to", keypad, None), ("unset", area, random.randint(3, 6))]
    if not comes:
        steps = [
            ("walk_to", keypad, None),
            ("set_full", area, 4),
            ("open", door, random.randint(3, 6)),
            ("close", door, 2),
        ]
    return {
        "id": f"habit_{wing}_{number}",
        "name": f"{'Home' if comes else 'Out'} {wing} {number}",
        "who": f"person_{wing}",
        "starts_at": door if comes else f"room_{wing}_0",
        "begins_in": "set_full" if comes else "unset",
        "area": area,
        "steps": [
            {"id": f"step_{at}", "deed": deed, "place": place, "seconds": seconds}
            for at, (deed, place, seconds) in enumerate(steps)
        ],
    }
