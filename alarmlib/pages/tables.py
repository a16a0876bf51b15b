"""The tables and forms of the pages, declared: which part of the home, which columns, in which order."""

from typing import Any

from alarmlib.draft.blank import first_storey
from alarmlib.model.control_unit import (
    AllowedTimes,
    Area,
    ControlUnit,
    DoorTimes,
    PartSet,
    PartSetDoor,
    Season,
    SeasonZone,
    Times,
    UnitBehaviour,
    UnitLimits,
    Zone,
)
from alarmlib.model.devices import Circuit, DeviceEntry, DeviceType, HazardEntry, WirelessEntry, WirelessFacts
from alarmlib.model.furnishing import Fixture, Furniture
from alarmlib.model.hazards import HazardChoices, HazardTypeFacts
from alarmlib.model.home import Home, Price, Rules
from alarmlib.model.household import Habit, HabitStep, Household, Person, Pet, StopwatchWalk, Visitor
from alarmlib.model.log import Event, FoundItem, Inherited, Test, Upkeep
from alarmlib.model.messages import Message, MessagePath, Messages, Responder
from alarmlib.model.proof import ChangePrice, ProofChoices
from alarmlib.model.short_path import ShortPath
from alarmlib.model.site import Opening, Passage, Room, Site, Storey
from alarmlib.model.survey import Answer, Heading
from alarmlib.model.words import HAZARD_KINDS, Link
from alarmlib.pages import choices as c
from alarmlib.pages.declaring import Group, List, Sheet, columns, first
from alarmlib.pages.wiring_tables import WIRING_LISTS, WIRING_SHEETS
from alarmlib.store import Edit


def _survey(heading: Heading) -> List:
    return List(
        heading.text,
        ("site", "answers"),
        columns(Answer, "point found in_the_dark left to_do"),
        "point",
        blank=lambda _home: {"heading": heading},
        keep=lambda answer: answer.heading is heading,
        intro="As found, in the dark, and as left. Add points of your own below.",
    )


_ROOMS = c.of("site.rooms")


def _room_of(home: Home) -> dict[str, Any]:
    return {"name": "", "room": first(_ROOMS)(home)}


_UNIT = ("control_unit", "limits")
_TIMES = {"entry": "Entry delays it allows", "exit": "Exit delays it allows", "siren": "Siren times it allows"}

SHEETS: dict[str, Sheet] = {
    "rules": Sheet(
        "Your home and its rules",
        (
            Group("This home", Home, "name units start_point"),
            Group(
                "Rules",
                Rules,
                "rule_set grade siren_limit_s siren_limit_hour_s permit_asked",
                ("rules",),
                {"rule_set": c.rule_sets},
            ),
        ),
    ),
    "hazard_rules": Sheet(
        "Rules for smoke, heat and CO",
        (
            Group("Chosen with your authority", HazardChoices, " ".join(HazardChoices.model_fields), ("hazards",)),
            Group("The house", Site, "attached_garage fuel_appliances outside_walls_insulated", ("site",)),
        ),
    ),
    "short_path": Sheet(
        "The short path",
        (
            Group(
                "The home",
                ShortPath,
                "rooms outside_doors home_by windows inner_doors keypad_room unit_room",
                ("short_path",),
            ),
            Group(
                "Who lives here",
                ShortPath,
                "bedrooms people pace carries walk_s pets pets_at_night night_set",
                ("short_path",),
            ),
            Group(
                "The alarm and the other alarms",
                ShortPath,
                "tells_apart zones smoke_alarms fuel answers_siren",
                ("short_path",),
            ),
        ),
        intro="Twenty questions, most of them one line. A blank is an assumption; the draft names it.",
    ),
    "inherited_ticks": Sheet(
        "What came with the home: ticks",
        (Group("", Inherited, "contract_ended users_removed factory_access_changed", ("inherited",)),),
    ),
    "card": Sheet(
        Heading.CARD.text,
        (Group("", Site, "build_band tenure attached_garage fuel_appliances stop_tap breaker", ("site",)),),
    ),
    "absence": Sheet(
        "How often nobody is at home",
        (Group("", Household, "empty long_winter_absence", ("household",)),),
        intro="Choose a band. Do not write dates in this file.",
    ),
    "unit_limits": Sheet(
        "What your control unit can hold",
        (
            Group(
                "From its manual. Leave blank what you do not know yet",
                UnitLimits,
                "tells_apart zones circuits wireless_slots keypads users areas part_sets label_length functions "
                "log_events grade",
                _UNIT,
            ),
        ),
    ),
    "unit_times": Sheet(
        "The times your control unit allows",
        tuple(Group(text, AllowedTimes, "low_s high_s step_s", (*_UNIT, name)) for name, text in _TIMES.items()),
    ),
    "unit_behaviour": Sheet(
        "How your control unit behaves",
        (
            Group(
                "Where units differ; a blank takes the stated default",
                UnitBehaviour,
                " ".join(UnitBehaviour.model_fields),
                ("control_unit", "behaviour"),
            ),
        ),
    ),
    "season_now": Sheet(
        "The season in force",
        (Group("", ControlUnit, "season_by season_now", ("control_unit",)),),
    ),
    "times": Sheet(
        "Times for the whole unit", (Group("", Times, "entry_s exit_s siren_s abort_s", ("control_unit", "times")),)
    ),
    "proof_assumptions": Sheet(
        "What the proof may assume",
        (
            Group("The intruder", ProofChoices, "intruder_m_s breaks_glass brings_ladder cuts_mains", ("proof",)),
            Group(
                "The alarm and the household",
                ProofChoices,
                "tolerance_percent sounds_within_s looks_before_setting sure_detectors heard_first",
                ("proof",),
                {"sure_detectors": c.motion_detectors},
            ),
        ),
        intro="Every one of these is printed with the result. A change here makes an earlier result out of date.",
    ),
    "messages_self": Sheet("Emergency calls", (Group("", Messages, "calls_emergency_by_itself", ("messages",)),)),
    **WIRING_SHEETS,
}


def _blank_room(home: Home) -> dict[str, str]:
    return {"name": "", "storey": first(c.of("site.storeys"))(home) or first_storey(home).id}


def _storey_of_first_room(home: Home) -> list[Edit]:
    """A home without a storey gets one with its first room, so that rooms can be entered before storeys."""
    storey = first_storey(home)
    return [] if home.site.storeys else [Edit(("site", "storeys", storey.id), None, storey.model_dump())]


LISTS: dict[str, List] = {
    "storeys": List(
        "Storeys",
        ("site", "storeys"),
        columns(Storey, "name level height_m"),
        "storey",
        blank=lambda _home: {"name": ""},
    ),
    "rooms": List(
        "Rooms",
        ("site", "rooms"),
        columns(
            Room,
            "name storey use outline ceiling_m ceiling area guarded sleeps_here",
        ),
        "room",
        blank=_blank_room,
        needs=_storey_of_first_room,
        intro="An outline may be a rectangle, such as 4.2 x 3.1 at 0, 0, or its corners; or left out.",
    ),
    "room_facts": List(
        "What each room holds",
        ("site", "rooms"),
        columns(
            Room,
            "name door_shut_at_night disturbances coldest_c hottest_c open_to_above tub_or_shower water_sources "
            "may_freeze fuel_appliance smoke_alarm smoke_alarm_made carbon_monoxide_alarm two_ways_out "
            "valuables_seen note",
        ),
        "room",
        blank=_blank_room,
        needs=_storey_of_first_room,
    ),
    "openings": List(
        "Ways in",
        ("site", "openings"),
        columns(Opening, "name room kind reach entry_exit kept_open lock by_day by_night to_do"),
        "way in",
        blank=_room_of,
    ),
    "opening_facts": List(
        "Ways in: more about each",
        ("site", "openings"),
        columns(
            Opening,
            "name at width_m sill_m ledge_width_m ledge_below_m seen_by_others glass frame gap_mm latches_in_wind "
            "escape_way opens_without_key left_bare_because note",
        ),
        "way in",
        blank=_room_of,
    ),
    "passages": List(
        "Doors and stairs inside",
        ("site", "passages"),
        columns(
            Passage,
            "first second kind at at_second width_m slope_m seconds shut_at_night",
        ),
        "passage",
        blank=lambda home: {"first": first(_ROOMS)(home), "second": (_ROOMS(home) or [("", "")])[-1][0]},
    ),
    "furniture": List(
        "Furniture that blocks a walk or a view",
        ("site", "furniture"),
        columns(Furniture, "name room outline height_m"),
        "piece",
        blank=_room_of,
    ),
    "fixtures": List(
        "Cookers, heaters, fans and air outlets",
        ("site", "fixtures"),
        columns(Fixture, "name room kind at radius_m"),
        "fixture",
        blank=_room_of,
    ),
    "people": List(
        "People",
        ("household", "people"),
        columns(
            Person,
            "role age slow carries speed_m_s unlock_s keying_s entries_a_week can_unset fob user_slot sleeps_in "
            "deep_sleeper hard_of_hearing needs_help_out trained_on",
            fob=c.fobs,
        ),
        "person",
        blank=lambda _home: {"role": ""},
    ),
    "pets": List(
        "Pets",
        ("household", "pets"),
        columns(
            Pet,
            "kind mass_kg reaches_m free_in_day free_in_night free_when_empty",
        ),
        "pet",
        blank=lambda _home: {"kind": ""},
    ),
    "visitors": List(
        "Visitors who come in",
        ("household", "visitors"),
        columns(Visitor, "role door often can_unset user_slot trained_on"),
        "visitor",
        blank=lambda _home: {"role": ""},
    ),
    "walks": List(
        "Walks by stopwatch",
        ("household", "walks"),
        columns(StopwatchWalk, "person door leaving first_s second_s third_s", door=c.entry_exit_doors),
        "walk",
        blank=lambda home: {"person": first(c.of("household.people"))(home), "door": first(c.entry_exit_doors)(home)},
        intro="From opening the door until the alarm is unset, at the person's own pace, three times each.",
    ),
    "habits": List(
        "Habits",
        ("household", "habits"),
        columns(
            Habit,
            "name who starts_at begins_in part_set area season times_a_week expected note",
        ),
        "habit",
        blank=lambda _home: {"name": ""},
    ),
    "device_types": List(
        "Types of devices",
        ("device_types",),
        (
            Group(
                "",
                DeviceType,
                "name kind link assumed tamper has_hold_up standby contact_gap_mm range_m straight_range_m angle_deg "
                "looks_down_deg slowest_m_s ignores_pets_kg sleep_s movement_restarts_sleep warm_up_s",
            ),
            Group(
                "",
                WirelessFacts,
                "check_in_s missing_after_s battery battery_lasts_years reports_low_battery",
                ("wireless",),
            ),
            Group("", HazardTypeFacts, " ".join(HazardTypeFacts.model_fields), ("hazard",)),
        ),
        "type",
        blank=lambda _home: {"name": "", "kind": "contact", "wireless": {}, "hazard": {}},
        intro="Enter what a manual says once, for all devices that are alike. A device then says its type.",
    ),
    "devices": List(
        "Devices",
        ("devices",),
        columns(
            DeviceEntry,
            "name type kind link state room openings passages zone circuit height_m mount fitted_on price note",
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "contact"},
    ),
    "detection": List(
        "What each detector can do",
        ("devices",),
        columns(
            DeviceEntry,
            "name at facing_deg range_m straight_range_m angle_deg looks_down_deg slowest_m_s ignores_pets_kg "
            "sleep_s movement_restarts_sleep warm_up_s contact_gap_mm tamper level_dba level_at_m has_hold_up "
            "standby quiet_current_a alarm_current_a",
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "motion"},
        intro="Leave a cell blank where the device is as its type says. Write here only what differs.",
    ),
    "wireless": List(
        "Wireless devices",
        ("devices",),
        (
            Group("", DeviceEntry, "name"),
            Group("", WirelessEntry, " ".join(WirelessEntry.model_fields), ("wireless",)),
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "contact", "link": "wireless", "wireless": {}},
        keep=lambda device: device.link is Link.WIRELESS,
    ),
    "hazard_devices": List(
        "Smoke, heat and CO devices",
        ("devices",),
        (
            Group("", DeviceEntry, "name kind link state room at height_m mount made_on"),
            Group("", HazardEntry, " ".join(HazardEntry.model_fields), ("hazard",)),
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "smoke", "link": "own", "hazard": {}},
        keep=lambda device: device.kind in HAZARD_KINDS,
        intro="The household's own alarms work alone, without the control unit, and count first. List "
        "them here as well.",
    ),
    "circuits": List(
        "Wired circuits",
        ("circuits",),
        columns(Circuit, " ".join(name for name in Circuit.model_fields if name != "id")),
        "circuit",
        blank=lambda _home: {"name": ""},
    ),
    "areas": List(
        "Areas",
        ("control_unit", "areas"),
        columns(Area, "name follows"),
        "area",
        blank=lambda _home: {"name": ""},
    ),
    "zones": List(
        "Zones",
        ("control_unit", "zones"),
        columns(
            Zone,
            "label place function areas circuit chime silent partner out_of_use reason",
        ),
        "zone",
        blank=lambda _home: {"label": ""},
    ),
    "part_sets": List(
        "Part sets",
        ("control_unit", "part_sets"),
        columns(PartSet, "name area left_out exit_delay"),
        "part set",
        blank=lambda _home: {"name": ""},
    ),
    "seasons": List(
        "Seasonal sets",
        ("control_unit", "seasons"),
        columns(Season, "name months entry_s exit_s", months=c.months),
        "season",
        blank=lambda _home: {"name": ""},
    ),
    "door_times": List(
        "Delays of each entry/exit door",
        ("control_unit", "times", "doors"),
        columns(DoorTimes, "opening entry_s exit_s", opening=c.entry_exit_doors),
        "door",
        blank=lambda home: {"opening": first(c.entry_exit_doors)(home)},
    ),
    "found": List(
        "What was found in the walls",
        ("inherited", "items"),
        columns(
            FoundItem,
            "what room pair shut_ohm open_ohm both_open_ohm answers unknown fate device",
        ),
        "item",
        blank=lambda _home: {"what": ""},
    ),
    "paths": List(
        "Ways a message takes",
        ("messages", "paths"),
        columns(MessagePath, "name kind boxes works_without_mains failure_reported"),
        "path",
        blank=lambda _home: {"name": ""},
    ),
    "responders": List(
        "Who is told",
        ("messages", "responders"),
        columns(Responder, "role lives_here minutes_away holds_key can_unset agreed does"),
        "person told",
        blank=lambda _home: {"role": ""},
    ),
    "messages": List(
        "Messages",
        ("messages", "messages"),
        columns(Message, "event to paths wait_s"),
        "message",
        blank=lambda _home: {"event": "burglary"},
    ),
    "device_prices": List(
        "What a further device costs",
        ("prices",),
        columns(Price, "kind price"),
        "price",
        blank=lambda _home: {"kind": "contact", "price": 0},
        intro="For the search for fixes: your own prices, fitting included. Without one an assumed price is used.",
    ),
    "change_prices": List(
        "What another change costs",
        ("proof", "prices"),
        columns(ChangePrice, "kind price"),
        "price",
        blank=lambda _home: {"price": 0},
        intro="In money, or what the effort is worth to you.",
        named_by="kind",
    ),
    "tests": List(
        "Test log",
        ("log", "tests"),
        columns(
            Test,
            "on at by device kind expected seen seen_zone cause action retest_of",
            retest_of=c.tests,
        ),
        "test",
    ),
    "events": List("Event diary", ("log", "events"), columns(Event, "on zone cause changed"), "event"),
    "upkeep": List("Maintenance diary", ("log", "upkeep"), columns(Upkeep, "on done device"), "line"),
    "grounds": _survey(Heading.GROUNDS),
    "hazards": _survey(Heading.HAZARDS),
    "outbuildings": _survey(Heading.OUTBUILDINGS),
    "looked_after": _survey(Heading.ABSENCE),
    "neighbours": _survey(Heading.NEIGHBOURS),
    **WIRING_LISTS,
}


def part_set_doors(part_set: PartSet) -> List:
    """The table of what each entry/exit door does in one part set."""
    return List(
        f"Entry/exit doors in the part set “{part_set.name}”",
        ("control_unit", "part_sets", part_set.id, "doors"),
        columns(PartSetDoor, "zone delayed"),
        "entry/exit door",
        named_by="zone",
    )


def habit_steps(habit: Habit) -> List:
    """The table of what is done in one habit, step by step."""
    return List(
        f"Steps of the habit “{habit.name}”",
        ("household", "habits", habit.id, "steps"),
        columns(HabitStep, "deed place seconds"),
        "step",
        blank=lambda _home: {"deed": "wait"},
        intro="One after the other. A walk without seconds is taken from the plan.",
    )


def season_zones(season: Season) -> List:
    """The table of how zones differ in one season."""
    return List(
        f"Zones in the season “{season.name}”",
        ("control_unit", "seasons", season.id, "zones"),
        columns(SeasonZone, "zone function out_of_use"),
        "zone",
        named_by="zone",
    )
