"""Homes drafted from few answers, then given circumstances that a drawn home in good order does not have."""

from alarmlib.draft.short_path import draft_home
from alarmlib.model import Home
from alarmlib.model.short_path import ShortPath


def _small() -> Home:
    answers = ShortPath(
        rooms="Hall, Kitchen, Living room, Garage\nUpstairs: Landing, Bedroom, Nursery, Bathroom",
        outside_doors="Front door: Hall\nBack door: Kitchen",
        windows="Kitchen window: Kitchen\nBay window: Living room\nBed window: Bedroom",
        inner_doors="Hall: Kitchen, Living room, Landing\nKitchen: Garage\nLanding: Bedroom, Nursery, Bathroom",
        people=3,
        pets="floor",
        walk_s=12,
        answers_siren="yes",
        bedrooms="Bedroom, Nursery",
    )
    return draft_home(Home(short_path=answers)).home


def british_home() -> Home:
    """The small home under British rules."""
    document = _small().model_dump(mode="json")
    document["rules"]["rule_set"] = "britain"
    document["wiring"]["supply"] = {"standby_battery_ah": 7.0, "rated_over_h": 20.0, "rule": "premises_britain"}
    document["devices"][0] |= {"quiet_current_a": 0.1, "alarm_current_a": 0.5}
    return Home.model_validate(document)


def wintry_home() -> Home:
    """The small home with circumstances that the demo home does not have: poor walls, a loud siren, a found cable."""
    document = _small().model_dump(mode="json")
    site, devices = document["site"], document["devices"]
    site["outside_walls_insulated"] = "no"
    for device in devices:
        if device["type"] in ("draft_inside_sounder", "draft_outside_siren"):
            device |= {"level_dba": 100.0, "level_at_m": 1.0}
    smoke = {
        "id": "smoke",
        "name": "Smoke",
        "kind": "smoke",
        "link": "own",
        "room": "landing",
        "mount": "outside_wall",
        "hazard": {"below_ceiling_m": 0.02},
    }
    eye = {"id": "eye", "name": "Eye", "kind": "motion", "room": "garage", "circuit": "pair", "tamper": "yes"}
    leaves = [
        {
            "id": f"leaf_{n}",
            "name": f"Leaf {n}",
            "kind": "contact",
            "room": "garage",
            "circuit": "other",
            "zone": devices[-1]["zone"],
        }
        for n in (1, 2)
    ]
    document["devices"] = [*devices, *leaves, smoke, eye | {"zone": devices[-1]["zone"]}]
    document["circuits"] = [
        {"id": "pair", "name": "Pair", "ending": "single", "terminals": "Z1"},
        {"id": "other", "name": "Other", "ending": "double", "terminals": "Z2"},
    ]
    document["sound"] = {"ambient_dba": 60.0, "limit_dba": 70.0, "boundary_m": 10.0, "neighbour_m": 20.0}
    document["wiring"]["boxes"] = [
        {
            "id": "router",
            "name": "Router",
            "draws_w": 10.0,
            "fed_by": "own_battery",
            "own_battery_wh": 5.0,
            "paths": ["net"],
        },
        {"id": "switch", "name": "Switch", "draws_w": 5.0, "fed_by": "standby_battery"},
    ]
    document["wiring"]["supply"] = {
        "standby_battery_ah": 7.0,
        "rated_over_h": 20.0,
        "rule": "own",
        "quiet_h": 12.0,
        "alarm_s": 900.0,
        "second_ah": 5.0,
        "second_over_h": 1.0,
    }
    document["devices"][0] |= {"quiet_current_a": 0.1, "alarm_current_a": 0.5}
    document["messages"]["paths"].append({"id": "net", "name": "Net"})
    document["inherited"]["items"] = [
        {"id": "pair", "what": "Pair", "closed_ohm": 2200.0, "open_ohm": 4400.0, "both_open_ohm": 6600.0}
    ]
    for zone in document["control_unit"]["zones"]:
        zone["chime"] = True
    document["household"]["pets"][0]["free_in_day"] = [room["id"] for room in site["rooms"]]
    document["control_unit"]["seasons"] = [{"id": "winter", "name": "Winter", "months": [12, 1], "entry_s": 45.0}]
    document["control_unit"]["season_by"] = "owner"
    document["proof"]["prices"] = [{"kind": "move", "price": 10.0}]
    return Home.model_validate(document)
