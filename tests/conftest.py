"""Settings that every test shares, a small home, a way to change one fact in a home, and a proof made by hand."""

from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from alarmlib.model import Home
from alarmlib.model.home import SCHEMA_VERSION
from alarmlib.proof.report.verdicts import Assumption, Beat, FaultRow, Hole, Proof, ProofVerdict, Proved

settings.register_profile("fixed", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("fixed")


@pytest.fixture(scope="session")
def one_door() -> Callable[..., dict[str, Any]]:
    """Makes the document of a home: hall, front door with a contact, keypad, siren, and the `panes` by name and room.

    Nothing notices who comes in by a pane. Rooms beyond the hall are joined to it by an open doorway, 4 s apart.
    """

    def made(**panes: str) -> dict[str, Any]:
        beyond = [room for room in dict.fromkeys(panes.values()) if room != "hall"]
        front = {"id": "front", "name": "Front", "room": "hall", "kind": "door", "entry_exit": True, "reach": "ground"}
        ways = [{"id": room, "first": "hall", "second": room, "kind": "doorway", "seconds": 4} for room in beyond]
        windows = [
            {"id": pane, "name": pane.title(), "room": room, "kind": "window", "reach": "ground"}
            for pane, room in panes.items()
        ]
        return {
            "schema_version": SCHEMA_VERSION,
            "site": {
                "storeys": [{"id": "ground", "name": "Ground"}],
                "rooms": [{"id": room, "name": room.title(), "storey": "ground"} for room in ("hall", *beyond)],
                "openings": [front, *windows],
                "passages": ways,
            },
            "control_unit": {
                "times": {"entry_s": 30, "exit_s": 45},
                "zones": [{"id": "door", "label": "Door", "function": "entry_exit"}],
            },
            "devices": [
                {"id": "contact", "name": "Contact", "kind": "contact", "openings": ["front"], "zone": "door"},
                {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "hall"},
                {"id": "siren", "name": "Siren", "kind": "outside_siren"},
            ],
        }

    return made


@pytest.fixture
def put() -> Callable[..., Home]:
    """`put(home, {"devices.keypad.room": "kitchen", "devices.siren": None, "devices.+": {...}})`: the home changed.

    A path names fields and, in lists, elements by id; None on an element takes it out; "+" adds one.
    """

    def change(home: Home, edits: dict[str, Any]) -> Home:
        whole = home.model_dump(mode="json")
        for path, value in edits.items():
            _set(whole, path.split("."), value)
        return Home.model_validate(whole)

    return change


def _set(whole: Any, path: list[str], value: Any) -> None:
    *steps, last = path
    for step in steps:
        whole = whole[step] if isinstance(whole, dict) else next(item for item in whole if item["id"] == step)
    if last == "+":
        whole.append(deepcopy(value))
    elif isinstance(whole, list):
        whole[:] = [item for item in whole if item["id"] != last]
    else:
        whole[last] = value


@pytest.fixture
def hand_proof() -> Proof:
    """A proof of the demo home written by hand: one property of each verdict, a counterexample, two faults."""
    counterexample = (
        Beat(
            0,
            "intruder",
            "Back door",
            "ground",
            (6.4, 8.9),
            ("back_door_contact",),
            ("back_door",),
            "armed in the part set “Night”",
        ),
        Beat(1, "intruder", "Kitchen", "ground", (6.4, 7.2), ("kitchen_motion",), ("kitchen_motion",), "", "nothing"),
        Beat(4, "intruder", "Hall", "ground", (6.1, 4.0), (), (), "entry delay, 40 s left", "keypads sound"),
        Beat(9, "intruder", "Main bedroom", "upstairs", (3.0, 3.0), (), (), "", "nothing yet"),
    )
    properties = (
        Proved("noticed_first/house/set_full", "Whoever comes in is noticed first, nobody in.", ProofVerdict.HOLDS,
               {"margin_s": "3", "way_in": "back_door"}, (), 120),
        Proved("sounds_first/house/night", "Siren or message before the bedrooms, in Night.", ProofVerdict.BREACHED,
               {"way_in": "back_door", "room": "main_bedroom", "late_s": "31"}, counterexample, 4500),
        Proved("habit/late_shift", "Home late never sounds the siren.", ProofVerdict.NOT_SETTLED, {}, (), 12,
               "the walk does not repeat at half the square"),
    )  # fmt: skip
    faults = (
        FaultRow("dead_contact/back_door", "The contact of the back door is dead.", False, None,
                 (Hole("noticed_first/house/set_full", "Whoever comes in is noticed first, nobody in."),), 2),
        FaultRow("mains", "The mains are gone and the battery is flat.", True, 3600,
                 (Hole("sounds_in_time/house/set_full", "A siren within 40 s.", 3600),), 1),
        FaultRow("repeater", "The repeater is dead.", True, 60, (), 3),
    )  # fmt: skip
    assumptions = (
        Assumption("intruder_speed", "An intruder moves at 2.53 m/s at most.", "proof.intruder_m_s"),
        Assumption("quiet", "A device in its quiet time detects nothing."),
    )
    return Proof("Maple Row", assumptions, ("More than two people moving at once.",), 4632, 1.25, properties, faults)
