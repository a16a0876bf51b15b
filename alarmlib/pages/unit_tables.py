"""The tables and forms of the pages, declared: the control unit, its times, zones, areas, part sets and seasons."""

from alarmlib.model.circuits import Circuit
from alarmlib.model.control_unit import (
    Area,
    ControlUnit,
    DoorTimes,
    PartSet,
    PartSetDoor,
    Season,
    SeasonZone,
    Times,
    Zone,
)
from alarmlib.model.unit_facts import AllowedTimes, UnitBehaviour, UnitLimits
from alarmlib.pages import choices as c
from alarmlib.pages.declaring import Group, List, Sheet, columns, first

_UNIT = ("control_unit", "limits")


_TIMES = {"entry": "Entry delays it allows", "exit": "Exit delays it allows", "siren": "Siren times it allows"}


UNIT_SHEETS: dict[str, Sheet] = {
    "unit_limits": Sheet(
        "What your control unit can hold",
        (
            Group(
                "From its manual. Leave blank what you do not know yet",
                UnitLimits,
                "recognises zones circuits wireless_slots keypads users areas part_sets label_length functions "
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
                "Control units differ here. Each help says what a blank counts as",
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
        "Times for the whole control unit",
        (Group("", Times, "entry_s exit_s siren_s abort_s", ("control_unit", "times")),),
    ),
}

UNIT_LISTS: dict[str, List] = {
    "circuits": List(
        "Detector circuits",
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
            "label place function passed_leaving areas circuit chime silent confirmed_by out_of_use reason",
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
        "Seasonal settings",
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


def season_zones(season: Season) -> List:
    """The table of how zones differ in one season."""
    return List(
        f"Zones in the season “{season.name}”",
        ("control_unit", "seasons", season.id, "zones"),
        columns(SeasonZone, "zone function out_of_use"),
        "zone",
        named_by="zone",
    )
