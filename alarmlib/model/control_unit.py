"""The control unit as the owner's own manuals describe it, and what is to be entered in it."""

from alarmlib.model.base import Id, Name, Note, Part, Ref, fact, identity, ref
from alarmlib.model.site import Yes
from alarmlib.model.unit_facts import UnitBehaviour, UnitLimits
from alarmlib.model.words import Function, Share, Word
from alarmlib.units import Kind

HELPER, CLASS, PUBLIC = Share.HELPER, Share.CLASS, Share.PUBLIC


class DoorTimes(Part):
    """The delays of one entry/exit door, in ordinary use."""

    id: Id = identity()
    opening: Id = ref("site.openings", ..., "Entry/exit door", share=HELPER)
    entry_s: float | None = fact(
        None,
        "Entry delay",
        help="The time from opening this door until you must unset. Blank: the delay of the whole control unit.",
        kind=Kind.TIME,
        ge=0,
        le=600,
        share=HELPER,
    )
    exit_s: float | None = fact(
        None,
        "Exit delay",
        help="The time that you have to leave by this door. Blank: the delay of the whole control unit.",
        kind=Kind.TIME,
        ge=0,
        le=600,
        share=HELPER,
    )


class Times(Part):
    """The unit-wide times to be entered."""

    entry_s: float | None = fact(
        None,
        "Entry delay",
        help="The time from opening the door until you must unset.",
        kind=Kind.TIME,
        ge=0,
        le=600,
        share=HELPER,
    )
    exit_s: float | None = fact(
        None,
        "Exit delay",
        help="The time that you have to leave when you set.",
        kind=Kind.TIME,
        ge=0,
        le=600,
        share=HELPER,
    )
    siren_s: float | None = fact(
        None,
        "Siren time",
        help="How long the siren sounds. Your city or council may limit it.",
        kind=Kind.TIME,
        ge=1,
        le=7200,
        share=HELPER,
    )
    abort_s: float | None = fact(
        None,
        "Abort window",
        help="The time in which you can still stop the message of an alarm. In the manual, under messages.",
        kind=Kind.TIME,
        ge=0,
        le=600,
        share=HELPER,
    )
    doors: tuple[DoorTimes, ...] = fact((), "Each entry/exit door", share=HELPER, noun="door time")


class Area(Part):
    """A part of the site with its own state of set or unset."""

    id: Id = identity()
    name: Name = fact(..., "Area", share=HELPER)
    follows: Ref = ref(
        "control_unit.areas",
        "",
        "Area whose entry delay it waits for",
        help="Choose it if people come into this area through that one. Blank: none.",
        share=HELPER,
    )


class Zone(Part):
    """What the control unit tells apart: one place in the unit, one label, one function."""

    id: Id = identity()
    label: Name = fact(..., "Label", help="The words that the keypad shows for this zone.", share=HELPER)
    place: Name = fact(
        "",
        "Zone number in the control unit",
        help="As the control unit numbers it. Each number may be used once.",
        share=HELPER,
    )
    function: Function = fact(
        Function.UNUSED,
        "Function",
        help="What the control unit does when this zone trips. In its manual, where zones are described.",
        share=CLASS,
    )
    passed_leaving: Yes = fact(
        Yes.UNKNOWN,
        "Do people pass it on the way out?",
        help=(
            "If so, it does not count during the exit delay. Not known: yes for motion detectors that guard no way in."
        ),
        share=CLASS,
    )
    areas: tuple[Id, ...] = ref(
        "control_unit.areas", (), "Areas", help="The areas of the alarm that this zone is in.", share=HELPER
    )
    circuit: Ref = ref("circuits", "", "Detector circuit", share=HELPER)
    chime: bool = fact(
        False, "Chimes while unset", help="The keypad gives a short tone when the zone opens.", share=HELPER
    )
    silent: bool = fact(False, "Sends a message without a siren", share=HELPER)
    confirmed_by: Ref = ref(
        "control_unit.zones",
        "",
        "Zone that must confirm it",
        help="The alarm sounds only if that zone trips too. Blank: this one alarms alone.",
        share=HELPER,
    )
    out_of_use: bool = fact(False, "Out of use until put back", share=HELPER)
    reason: Note = fact("", "Why it is out of use")


class PartSetDoor(Part):
    """What an entry/exit door does in a part set."""

    zone: Id = ref("control_unit.zones", ..., "Entry/exit door", share=HELPER)
    delayed: bool = fact(True, "Has its entry delay (otherwise alarm at once)", share=HELPER)

    @property
    def id(self) -> str:
        """The zone: each may be listed once, so it names the row."""
        return self.zone


class PartSet(Part):
    """A way of setting with people in: what is left out, and what each entry/exit door does."""

    id: Id = identity()
    name: Name = fact(..., "Part set", share=HELPER)
    area: Ref = ref("control_unit.areas", "", "Area", share=HELPER)
    left_out: tuple[Id, ...] = ref(
        "control_unit.zones",
        (),
        "Zones left out",
        help="Zones that do not listen in this part set, so that people can move about.",
        share=HELPER,
    )
    doors: tuple[PartSetDoor, ...] = fact((), "Entry/exit doors", share=HELPER, noun="entry/exit door")
    exit_delay: bool = fact(True, "Has an exit delay", help="Untick it if the part set starts at once.", share=HELPER)


class SeasonZone(Part):
    """How one zone differs in a season."""

    zone: Id = ref("control_unit.zones", ..., "Zone", share=HELPER)
    function: Function | None = fact(None, "Function in this season", share=HELPER)
    out_of_use: bool = fact(False, "Out of use in this season", share=HELPER)

    @property
    def id(self) -> str:
        """The zone: each may be listed once, so it names the row."""
        return self.zone


class Season(Part):
    """A set of settings for a part of the year: only what differs from the ordinary set."""

    id: Id = identity()
    name: Name = fact(..., "Season", share=HELPER)
    months: tuple[int, ...] = fact(
        (), "Months", help="The months of this season, as numbers: 1 is January and 12 is December.", share=HELPER
    )
    entry_s: float | None = fact(
        None,
        "Entry delay in this season",
        help="Blank: the ordinary delay.",
        kind=Kind.TIME,
        ge=0,
        le=600,
        share=HELPER,
    )
    exit_s: float | None = fact(
        None, "Exit delay in this season", help="Blank: the ordinary delay.", kind=Kind.TIME, ge=0, le=600, share=HELPER
    )
    doors: tuple[DoorTimes, ...] = fact((), "Entry/exit doors in this season", share=HELPER)
    zones: tuple[SeasonZone, ...] = fact((), "Zones in this season", share=HELPER, noun="zone")


class SeasonBy(Word):
    """Who decides which season is in force."""

    DATE = "date", "the date decides"
    OWNER = "owner", "you decide, below"


class ControlUnit(Part):
    """The unit: what it can hold, how it behaves, and what is to be entered."""

    limits: UnitLimits = fact(UnitLimits(), "Limits", share=CLASS)
    behaviour: UnitBehaviour = fact(UnitBehaviour(), "Behaviour", share=CLASS)
    times: Times = fact(Times(), "Times", share=HELPER)
    areas: tuple[Area, ...] = fact((), "Areas", share=CLASS, noun="area")
    zones: tuple[Zone, ...] = fact((), "Zones", share=CLASS, noun="zone")
    part_sets: tuple[PartSet, ...] = fact((), "Part sets", share=CLASS, noun="part set")
    seasons: tuple[Season, ...] = fact((), "Seasonal settings", share=CLASS, noun="season")
    season_by: SeasonBy = fact(
        SeasonBy.DATE, "Season in force", help="Decides which settings the record tells you to enter.", share=HELPER
    )
    season_now: Ref = ref(
        "control_unit.seasons",
        "",
        "Season that you choose",
        help="Blank: the ordinary settings. Not used while the date decides.",
        share=HELPER,
    )
    note: Note = fact("", "Note")

    @property
    def zones_used(self) -> tuple[Zone, ...]:
        """The zones that have a function: whoever counts the unit's zones counts these."""
        return tuple(zone for zone in self.zones if zone.function is not Function.UNUSED)
