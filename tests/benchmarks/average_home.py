"""An average home as its owner would tell it: seven rooms, eight ways in, a couple, a child and a cat. All invented.

`PICKED` answers the questions of the short path, by their titles. `FACTS` answers fields of the forms, by the place of
the field in the home file, without ids; fields of a device or its type come after its kind. `HABITS` are those to
pick. `entered` puts every fact in that is still blank: the twin of which all is entered.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from alarmlib.model import Home

UNSURE = "I do not know"
KEPT = ("",)  # what is picked already is right
Answer = str | tuple[str, ...]
"""A number as text, the chips that are picked ("+ ..." is a button that adds one, "A > B" is B of the group A), `KEPT`,
or `UNSURE`."""
PICKED: Mapping[str, Answer] = {
    "Which floors does your home have?": ("Ground floor", "Upstairs"),
    "Which rooms are there?": (
        "Hall", "Living room", "Kitchen", "Landing", "Upstairs > Bedroom", "+ One more bedroom", "Upstairs > Bathroom",
    ),
    "Which buildings apart should the alarm guard too?": (),
    "Which rooms have a door to the outside?": ("Hall", "Living room", "Kitchen"),
    "Which doors do you come home by?": KEPT,
    "In which rooms could somebody reach a window from the ground?": ("Living room", "Kitchen"),
    "Which windows higher up could somebody reach?": ("Bedroom", "Bedroom 2", "Bathroom"),
    "Where do the halls lead?": KEPT,
    "How do you get into these rooms?": (),
    "In which room is the keypad?": ("Hall",),
    "In which room is the control unit?": ("Landing",),
    "In which rooms does somebody sleep?": KEPT,
    "How many people live here?": "3",
    "What is true for somebody who lives here?": (
        "Somebody would not wake by an alarm: a child, or who sleeps deeply or hears badly",
    ),
    "Seconds from opening the door until the alarm is unset": UNSURE,
    "Do pets move about indoors?": ("Yes, and they climb on furniture, like a cat",),
    "Do the pets roam at night?": ("Yes",),
    "Do you want to set the alarm while you sleep?": ("Yes",),
    "What does your control unit show separately?": ("Each device",),
    "How many zones does your control unit have?": "16",
    "Are there smoke alarms on every level and at every bedroom?": ("Yes",),
    "Is there a boiler, stove or fireplace, or a garage joined to the house?": ("Yes",),
    "In which rooms is a boiler, stove or fireplace?": ("Kitchen",),
    "Would somebody near answer a siren?": ("Yes",),
}  # fmt: skip
HABITS = ("Coming home", "Going out", "At night", "Pet alone at home", "Pet free at night", "Something forgotten")
FACTS: Mapping[str, Any] = {
    "rules.permit_asked": True,
    "rules.siren_limit_s": 600.0,
    "site.attached_garage": "no",
    "site.fuel_appliances": "yes",
    "site.outside_walls_insulated": "yes",
    "site.stop_tap": "yes",
    "site.breaker": "yes",
    "site.build_band": "later",
    "site.rooms.ceiling_m": 2.4,
    "site.rooms.floor_area_m2": 14.0,
    "site.rooms.door_shut_at_night": "yes",
    "site.rooms.valuables_seen": "no",
    "site.rooms.may_freeze": "no",
    "site.rooms.smoke_alarm": "yes",
    "site.rooms.carbon_monoxide_alarm": "yes",
    "site.rooms.two_ways_out": "yes",
    "site.openings.width_m": 0.9,
    "site.openings.seen_by_others": "yes",
    "site.openings.glass": "yes",
    "site.openings.frame": "wood",
    "site.openings.lock": "ok",
    "site.openings.latches_in_wind": "ok",
    "site.openings.opens_without_key": "yes",
    "site.openings.by_day": "ok",
    "site.openings.by_night": "ok",
    "site.passages.seconds": 4.0,
    "site.passages.shut_at_night": "no",
    "household.empty": "weekdays",
    "household.people.trained_on": "2026-10-01",
    "household.pets.mass_kg": 5.0,
    "control_unit.times.abort_s": 20.0,
    "control_unit.limits.label_length": 16,
    "control_unit.limits.users": 16,
    "control_unit.limits.part_sets": 2,
    "control_unit.limits.areas": 2,
    "control_unit.limits.wireless_slots": 32,
    "control_unit.behaviour.off_route_in_exit": "at_once",
    "control_unit.behaviour.still_open_at_end": "exit_error",
    "control_unit.behaviour.open_at_setting": "inhibit_once",
    "control_unit.behaviour.exit_restarts_once": True,
    "control_unit.behaviour.later_door_shortens": False,
    "control_unit.behaviour.repeat_trip_limit": 3,
    "control_unit.behaviour.wrong_code_limit": 5,
    "control_unit.behaviour.wrong_code_lock_s": 90.0,
    "control_unit.behaviour.mains_hold_s": 60.0,
    "control_unit.behaviour.stops_siren_in_hour": True,
    "device_types.contact.tamper": "yes",
    "device_types.contact.contact_gap_mm": 15.0,
    "device_types.motion.tamper": "yes",
    "device_types.motion.range_m": 12.0,
    "device_types.motion.angle_deg": 90.0,
    "device_types.motion.ignores_pets_kg": 10.0,
    "device_types.keypad.tamper": "yes",
    "device_types.keypad.quiet_current_a": 0.02,
    "device_types.keypad.alarm_current_a": 0.06,
    "device_types.inside_sounder.tamper": "yes",
    "device_types.inside_sounder.level_dba": 95.0,
    "device_types.inside_sounder.level_at_m": 1.0,
    "device_types.inside_sounder.quiet_current_a": 0.0,
    "device_types.inside_sounder.alarm_current_a": 0.12,
    "device_types.outside_siren.tamper": "yes",
    "device_types.outside_siren.level_dba": 100.0,
    "device_types.outside_siren.level_at_m": 1.0,
    "device_types.outside_siren.quiet_current_a": 0.02,
    "device_types.outside_siren.alarm_current_a": 0.3,
    "device_types.control_unit.tamper": "yes",
    "device_types.control_unit.quiet_current_a": 0.08,
    "device_types.control_unit.alarm_current_a": 0.2,
    "devices.mount": "inside_wall",
    "devices.motion.height_m": 2.2,
    "wiring.supply.standby_battery_ah": 7.0,
    "wiring.supply.rated_over_h": 20.0,
    "wiring.supply.charger_a": 0.5,
    "messages.paths.works_without_mains": "yes",
    "messages.responders.minutes_away": 2.0,
    "messages.responders.agreed": "yes",
}
_BLANK = (None, "", "unknown", "not_looked_at", False)


def fact_of(document: Any, path: tuple[str, ...]) -> Any:
    """What the owner knows of the field at this path of the home file; None where they know nothing of it."""
    names, kind, here = list[str](), "", document
    for name in path:
        if isinstance(here, list):
            here = next((each for each in here if each["id"] == name), {})
            kind = here.get("kind") or _kind_of(document, here)
        else:
            names.append(name)
            here = here.get(name) if isinstance(here, dict) else None
    return _known(names, kind)


def entered(home: Home) -> Home:
    """The home with every fact put in that is blank in it."""
    document = home.model_dump(mode="json")
    for part, names, kind in tuple(_parts(document, document, [], "")):
        for name, value in part.items():
            known = _known([*names, name], kind)
            if known is not None and value in _BLANK and not isinstance(value, dict | list):
                part[name] = known
    return Home.model_validate(document)


def _known(names: list[str], kind: str) -> Any:
    plain = FACTS.get(".".join(names))
    return FACTS.get(".".join([*names[:-1], kind, names[-1]]), plain) if kind else plain


def _kind_of(document: Any, part: Mapping[str, Any]) -> str:
    return next((each["kind"] for each in document["device_types"] if each["id"] == part.get("type")), "")


def _parts(document: Any, here: Any, names: list[str], kind: str) -> Iterator[tuple[dict[str, Any], list[str], str]]:
    if isinstance(here, dict):
        yield here, names, kind
        for name, value in here.items():
            yield from _parts(document, value, [*names, name], "")
    elif isinstance(here, list):
        for each in here:
            if isinstance(each, dict):
                yield from _parts(document, each, names, each.get("kind") or _kind_of(document, each))
