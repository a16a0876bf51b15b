"""The tables and forms of the pages, declared: home, rules, rooms, ways in, furniture, the survey."""

from typing import Any

from alarmlib.draft.blank import first_storey
from alarmlib.model.furnishing import Fixture, Furniture
from alarmlib.model.home import Home, Rules
from alarmlib.model.log import FoundItem, Inherited
from alarmlib.model.site import Opening, Passage, Room, Site, Storey
from alarmlib.model.survey import Heading
from alarmlib.pages import choices as c
from alarmlib.pages.declaring import Group, List, Sheet, columns, first
from alarmlib.store import Edit

_ROOMS = c.of("site.rooms")


def _room_of(home: Home) -> dict[str, Any]:
    return {"name": "", "room": first(_ROOMS)(home)}


def _blank_room(home: Home) -> dict[str, str]:
    return {"name": "", "storey": first(c.of("site.storeys"))(home) or first_storey(home).id}


def _storey_of_first_room(home: Home) -> list[Edit]:
    """A home without a storey gets one with its first room, so that rooms can be entered before storeys."""
    storey = first_storey(home)
    return [] if home.site.storeys else [Edit(("site", "storeys", storey.id), None, storey.model_dump())]


HOME_SHEETS: dict[str, Sheet] = {
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
    "inherited_ticks": Sheet(
        "What came with the home: what is done",
        (Group("", Inherited, "contract_ended users_removed factory_access_changed", ("inherited",)),),
    ),
    "card": Sheet(
        Heading.CARD.text,
        (Group("", Site, "build_band tenure attached_garage fuel_appliances stop_tap breaker", ("site",)),),
        essential="attached_garage fuel_appliances",
        more="With these you are told what to ask first, and what to turn off in an emergency.",
    ),
}

HOME_LISTS: dict[str, List] = {
    "storeys": List(
        "Storeys",
        ("site", "storeys"),
        columns(Storey, "name level height_m"),
        "storey",
        blank=lambda _home: {"name": ""},
        essential="name level",
        more="With its height the way up the stairs is worked out.",
    ),
    "rooms": List(
        "Rooms",
        ("site", "rooms"),
        columns(
            Room,
            "name storey use sleeps_here outline floor_area_m2 ceiling_m ceiling area guarded",
        ),
        "room",
        blank=_blank_room,
        needs=_storey_of_first_room,
        essential="name storey use sleeps_here",
        more="An outline gives you a plan with walks. It is a rectangle, such as 4.2 x 3.1 at 0, 0, or its corners.",
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
        listed_on=("", "“Rooms” above"),
    ),
    "openings": List(
        "Ways in",
        ("site", "openings"),
        columns(Opening, "name room kind reach entry_exit kept_open lock by_day by_night to_do"),
        "way in",
        blank=_room_of,
        essential="name room kind reach entry_exit",
        more="What you saw of its lock goes onto your to-do list.",
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
        listed_on=("", "“Ways in” above"),
    ),
    "passages": List(
        "Inside doorways and stairs",
        ("site", "passages"),
        columns(
            Passage,
            "first second kind at at_second width_m slope_m seconds shut_at_night",
        ),
        "passage",
        blank=lambda home: {"first": first(_ROOMS)(home), "second": (_ROOMS(home) or [("", "")])[-1][0]},
        essential="first second kind",
        more="With these walking times are worked out closely.",
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
        intro="A cooker, a fan or an air outlet near a smoke alarm causes false alarms or keeps the smoke away.",
        essential="name room kind at",
        more="With its size, the distance to a smoke alarm is measured from its edge.",
        may_be_blank="at",
        late=True,
    ),
    "found": List(
        "What was found in the walls",
        ("inherited", "items"),
        columns(
            FoundItem,
            "what room pair closed_ohm open_ohm both_open_ohm answers unknown fate device",
        ),
        "item",
        blank=lambda _home: {"what": ""},
    ),
}
