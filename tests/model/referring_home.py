"""A home as small as can be in which every field that refers to something is filled once, with plain ids."""

from typing import Any

from alarmlib.model import Home


def referring_home() -> dict[str, Any]:
    """The home's document; nothing in it refers to anything that is not there."""
    document: dict[str, Any] = {
        "site": {
            "storeys": [{"id": "ground", "name": "Ground"}],
            "rooms": [
                {"id": "hall", "name": "Hall", "storey": "ground"},
                {"id": "den", "name": "Den", "storey": "ground"},
            ],
            "openings": [{"id": "front", "name": "Front", "room": "hall", "entry_exit": True}],
            "passages": [{"id": "between", "first": "hall", "second": "den"}],
            "furniture": [{"id": "sofa", "name": "Sofa", "room": "den"}],
            "fixtures": [{"id": "stove", "name": "Stove", "room": "den"}],
        },
        "household": {
            "people": [{"id": "one", "role": "Grown-up"}],
            "pets": [{"id": "cat", "kind": "cat"}],
            "visitors": [{"id": "help", "role": "Cleaner"}],
            "walks": [{"id": "walk", "person": "one", "door": "front"}],
            "habits": [{"id": "home", "name": "Home", "steps": [{"id": "first", "deed": "wait"}]}],
        },
        "control_unit": {
            "areas": [{"id": "house", "name": "House"}],
            "zones": [{"id": "z1", "label": "Front"}],
            "part_sets": [{"id": "night", "name": "Night", "doors": [{"zone": "z1"}]}],
            "seasons": [
                {
                    "id": "summer",
                    "name": "Summer",
                    "zones": [{"zone": "z1"}],
                    "doors": [{"id": "d2", "opening": "front"}],
                }
            ],
            "times": {"doors": [{"id": "d1", "opening": "front"}]},
        },
        "device_types": [{"id": "eye", "name": "Eyes", "kind": "motion"}],
        "devices": [{"id": "contact", "name": "Contact", "kind": "contact", "wireless": {}}],
        "circuits": [{"id": "c1", "name": "One"}],
        "messages": {
            "paths": [{"id": "net", "name": "Net"}],
            "responders": [{"id": "friend", "role": "Friend"}],
            "messages": [{"id": "told", "event": "burglary"}],
        },
        "inherited": {"items": [{"id": "old", "what": "Old box"}]},
        "log": {
            "tests": [{"id": "t1"}],
            "events": [{"id": "e1"}],
            "upkeep": [{"id": "u1"}],
        },
        "wiring": {
            "boxes": [{"id": "router", "name": "Router"}],
            "runs": [{"id": "run", "name": "Run", "stops": [{"device": "contact"}]}],
        },
        "sound": {"doors": [{"passage": "between"}], "heard": [{"id": "read", "sounder": "contact"}]},
    }
    Home.model_validate(document)
    return document
