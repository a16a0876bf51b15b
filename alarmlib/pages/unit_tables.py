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
        essential="recognises zones wireless_slots label_length",
        more="With these you are told when you plan more than your control unit can hold.",
    ),
    "unit_times": Sheet(
        "The times your control unit allows",
        tuple(Group(text, AllowedTimes, "low_s high_s step_s", (*_UNIT, name)) for name, text in _TIMES.items()),
        intro="You are never offered a time that your control unit does not have.",
        late=True,
        line="The shortest and longest times that you can enter. You can fill these in later.",
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
        late=True,
        line="You can leave these for last. If you leave one blank, the value in its help is used.",
    ),
    "season_now": Sheet(
        "The season in force",
        (Group("", ControlUnit, "season_by season_now", ("control_unit",)),),
        late=True,
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
        intro="Fit the end-of-line resistor at the device, not in the control unit.",
        essential="name ending end_resistor_ohm",
        more="These show what a damaged cable or a dead wire does, and what the cable schedule says.",
    ),
    "areas": List(
        "Areas",
        ("control_unit", "areas"),
        columns(Area, "name follows"),
        "area",
        blank=lambda _home: {"name": ""},
        essential="name follows",
        may_be_blank="follows",
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
        essential="label function areas circuit out_of_use",
        more="These give your household a chime, a silent alarm or a second zone that confirms.",
        may_be_blank="areas circuit",
    ),
    "part_sets": List(
        "Part sets",
        ("control_unit", "part_sets"),
        columns(PartSet, "name area left_out exit_delay"),
        "part set",
        blank=lambda _home: {"name": ""},
        intro="Give each part set the name that your family would use.",
        essential="name area left_out exit_delay",
        may_be_blank="area left_out",
    ),
    "seasons": List(
        "Seasonal settings",
        ("control_unit", "seasons"),
        columns(Season, "name months entry_s exit_s", months=c.months),
        "season",
        blank=lambda _home: {"name": ""},
        intro="Enter for a season only what differs from the ordinary settings.",
        late=True,
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
        intro="A door without an entry delay sounds at once when somebody comes home late.",
        essential="zone delayed",
    )


def season_zones(season: Season) -> List:
    """The table of how zones differ in one season."""
    return List(
        f"Zones in the season “{season.name}”",
        ("control_unit", "seasons", season.id, "zones"),
        columns(SeasonZone, "zone function out_of_use"),
        "zone",
        named_by="zone",
        intro="A blank means that the zone is as usual.",
        essential="zone function out_of_use",
        may_be_blank="function",
    )
