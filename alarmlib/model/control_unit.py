"""The control unit as the owner's own manuals describe it, and what is to be entered in it."""

from alarmlib.model.base import Id, Name, Note, Part, Ref, fact, identity, ref
from alarmlib.model.site import Yes
from alarmlib.model.words import Function, Share, Word
from alarmlib.units import Kind

HELPER, CLASS, PUBLIC = Share.HELPER, Share.CLASS, Share.PUBLIC


class Recognises(Word):
    """What the unit can show on its own."""

    UNKNOWN = "unknown", "not known yet"
    DEVICES = "devices", "each device"
    CIRCUITS = "circuits", "each wired circuit"
    BOTH = "both", "each wireless device and each wired circuit"


class AllowedTimes(Part):
    """The times a unit lets its owner choose, in seconds: from, to, in steps of."""

    low_s: float = fact(0, "From", kind=Kind.TIME, ge=0, le=86400, share=CLASS)
    high_s: float = fact(86400, "To", kind=Kind.TIME, ge=0, le=86400, share=CLASS)
    step_s: float = fact(1, "In steps of", kind=Kind.TIME, ge=1, le=3600, share=CLASS)


class UnitLimits(Part):
    """What the unit can hold; every one may be not known yet (left out)."""

    recognises: Recognises = fact(Recognises.UNKNOWN, "Recognises", share=CLASS)
    zones: int | None = fact(None, "Zones", ge=1, le=2000, share=CLASS)
    circuits: int | None = fact(None, "Wired circuits", ge=0, le=2000, share=CLASS)
    wireless_slots: int | None = fact(None, "Wireless places", ge=0, le=2000, share=CLASS)
    keypads: int | None = fact(None, "Keypads", ge=0, le=100, share=CLASS)
    users: int | None = fact(None, "User places", ge=1, le=2000, share=CLASS)
    areas: int | None = fact(None, "Areas", ge=1, le=100, share=CLASS)
    part_sets: int | None = fact(None, "Part sets", ge=0, le=100, share=CLASS)
    label_length: int | None = fact(None, "Letters in a zone label", ge=2, le=200, share=CLASS)
    functions: tuple[Function, ...] = fact(
        (), "Functions it offers", help="None ticked: not known yet, all are taken as offered.", share=CLASS
    )
    entry: AllowedTimes | None = fact(None, "Entry delays it allows", share=CLASS)
    exit: AllowedTimes | None = fact(None, "Exit delays it allows", share=CLASS)
    siren: AllowedTimes | None = fact(None, "Siren times it allows", share=CLASS)
    log_events: int | None = fact(None, "Events it remembers", ge=0, le=100000, share=CLASS)
    grade: int | None = fact(None, "Grade in its manual (EN 50131)", ge=1, le=4, share=CLASS)


class OffRoute(Word):
    """What a trip off the exit route does during the exit delay."""

    AT_ONCE = "at_once", "sounds at once"
    REFUSES = "refuses", "the unit does not set"


class StillOpen(Word):
    """What an entry/exit door or route detector still open at the end of the exit delay does."""

    EXIT_ERROR = "exit_error", "sounds, then an alarm marked as exit error"
    NOT_SET = "not_set", "the unit does not set"


class OpenAtSetting(Word):
    """What something open at setting does."""

    REFUSES = "refuses", "refused until it is closed"
    INHIBIT_ONCE = "inhibit_once", "may be left out this time"


class ExitEnds(Word):
    """What ends the exit delay early."""

    TIME = "time", "its time only"
    DOOR = "door", "closing the entry/exit door"
    BUTTON = "button", "a button outside"


class UnitBehaviour(Part):
    """How this unit behaves where units differ; `None` means not known yet, and the stated default is taken."""

    off_route_in_exit: OffRoute | None = fact(None, "A trip off the exit route", share=CLASS)
    still_open_at_end: StillOpen | None = fact(None, "An entry/exit door still open at the end", share=CLASS)
    open_at_setting: OpenAtSetting | None = fact(None, "Something open at setting", share=CLASS)
    exit_ends_by: ExitEnds = fact(ExitEnds.TIME, "Exit delay ends by", share=CLASS)
    exit_restarts_once: bool | None = fact(None, "Re-opening the door restarts the exit delay once", share=CLASS)
    later_door_shortens: bool | None = fact(
        None, "A later entry/exit door may shorten a running entry delay", share=CLASS
    )
    nobody_left_part_set: Ref = ref(
        "control_unit.part_sets", "", "If nobody left, it sets instead", help="A part set, or blank.", share=CLASS
    )
    repeat_trip_limit: int | None = fact(None, "Alarms from one zone in a set period", ge=1, le=20, share=CLASS)
    confirmation_s: float | None = fact(
        None, "Two zones must trip within", help="Blank: not used.", kind=Kind.TIME, ge=1, le=7200, share=CLASS
    )
    wrong_code_limit: int | None = fact(None, "Wrong codes before it locks", ge=1, le=50, share=CLASS)
    wrong_code_lock_s: float | None = fact(None, "Locks for", kind=Kind.TIME, ge=1, le=7200, share=CLASS)
    ignores_after_power_s: float | None = fact(
        None, "Ignores detectors after power returns for", kind=Kind.TIME, ge=0, le=600, share=CLASS
    )
    life_heard_after_power: bool | None = fact(
        None,
        "Hears fire and carbon monoxide at once after power returns",
        help="In the unit's manual, under power loss or restart. Not known counts as no.",
        share=CLASS,
    )
    mains_hold_s: float | None = fact(None, "Reports lost mains after", kind=Kind.TIME, ge=0, le=86400, share=CLASS)
    test_ends_after_s: float | None = fact(None, "Test mode ends after", kind=Kind.TIME, ge=60, le=86400, share=CLASS)
    remote_exit_delay: bool | None = fact(None, "A fob sets with the exit delay", share=CLASS)
    hold_up_silent: bool | None = fact(None, "Hold-up at keypad and fob keeps the siren still", share=CLASS)
    common_needs_all: bool | None = fact(
        None, "A zone of several areas listens only when all of them are set", share=CLASS
    )
    stops_siren_in_hour: bool | None = fact(
        None, "Stops the siren by itself when the local limit for an hour is reached", share=CLASS
    )
    tamper_outside_when_unset: bool | None = fact(None, "Tamper sounds the outside siren while unset", share=CLASS)


class DoorTimes(Part):
    """The delays of one entry/exit door, in ordinary use."""

    id: Id = identity()
    opening: Id = ref("site.openings", ..., "Entry/exit door", share=HELPER)
    entry_s: float | None = fact(None, "Entry delay", kind=Kind.TIME, ge=0, le=600, share=HELPER)
    exit_s: float | None = fact(None, "Exit delay", kind=Kind.TIME, ge=0, le=600, share=HELPER)


class Times(Part):
    """The unit-wide times to be entered."""

    entry_s: float | None = fact(None, "Entry delay", kind=Kind.TIME, ge=0, le=600, share=HELPER)
    exit_s: float | None = fact(None, "Exit delay", kind=Kind.TIME, ge=0, le=600, share=HELPER)
    siren_s: float | None = fact(None, "Siren time", kind=Kind.TIME, ge=1, le=7200, share=HELPER)
    abort_s: float | None = fact(None, "Abort window", kind=Kind.TIME, ge=0, le=600, share=HELPER)
    doors: tuple[DoorTimes, ...] = fact((), "Each entry/exit door", share=HELPER, noun="door time")


class Area(Part):
    """A part of the site with its own state of set or unset."""

    id: Id = identity()
    name: Name = fact(..., "Area", share=HELPER)
    follows: Ref = ref(
        "control_unit.areas", "", "Its entry is shared with", help="An area whose delay it waits for.", share=HELPER
    )


class Zone(Part):
    """What the control unit tells apart: one place in the unit, one label, one function."""

    id: Id = identity()
    label: Name = fact(..., "Label", share=HELPER)
    place: Name = fact("", "Place in the unit", help="As the unit names it; used once.", share=HELPER)
    function: Function = fact(Function.UNUSED, "Function", share=CLASS)
    passed_leaving: Yes = fact(
        Yes.UNKNOWN,
        "People pass it on the way out",
        help="It then does not count during the exit delay. Not known: motion detectors that guard no way in.",
        share=CLASS,
    )
    areas: tuple[Id, ...] = ref("control_unit.areas", (), "Areas", share=HELPER)
    circuit: Ref = ref("circuits", "", "Circuit", share=HELPER)
    chime: bool = fact(False, "Chimes while unset", share=HELPER)
    silent: bool = fact(False, "Sends a message without a siren", share=HELPER)
    confirmed_by: Ref = ref(
        "control_unit.zones",
        "",
        "Must be confirmed by zone",
        help="Confirmation by a second zone: it alarms only if both trip in time. Blank: it alarms alone.",
        share=HELPER,
    )
    out_of_use: bool = fact(False, "Out of use until put back", share=HELPER)
    reason: Note = fact("", "Why")


class PartSetDoor(Part):
    """What an entry/exit door does in a part set."""

    zone: Id = ref("control_unit.zones", ..., "Entry/exit door", share=HELPER)
    delayed: bool = fact(True, "Has its delay (otherwise at once)", share=HELPER)

    @property
    def id(self) -> str:
        """The zone: each may be listed once, so it names the row."""
        return self.zone


class PartSet(Part):
    """A way of setting with people in: what is left out, and what each entry/exit door does."""

    id: Id = identity()
    name: Name = fact(..., "Part set", share=HELPER)
    area: Ref = ref("control_unit.areas", "", "Area", share=HELPER)
    left_out: tuple[Id, ...] = ref("control_unit.zones", (), "Zones left out", share=HELPER)
    doors: tuple[PartSetDoor, ...] = fact((), "Entry/exit doors", share=HELPER, noun="entry/exit door")
    exit_delay: bool = fact(True, "Has an exit delay", share=HELPER)


class SeasonZone(Part):
    """How one zone differs in a season."""

    zone: Id = ref("control_unit.zones", ..., "Zone", share=HELPER)
    function: Function | None = fact(None, "Function then", share=HELPER)
    out_of_use: bool = fact(False, "Out of use then", share=HELPER)

    @property
    def id(self) -> str:
        """The zone: each may be listed once, so it names the row."""
        return self.zone


class Season(Part):
    """A set of settings for a part of the year: only what differs from the ordinary set."""

    id: Id = identity()
    name: Name = fact(..., "Season", share=HELPER)
    months: tuple[int, ...] = fact((), "Months", help="1 to 12.", share=HELPER)
    entry_s: float | None = fact(None, "Entry delay then", kind=Kind.TIME, ge=0, le=600, share=HELPER)
    exit_s: float | None = fact(None, "Exit delay then", kind=Kind.TIME, ge=0, le=600, share=HELPER)
    doors: tuple[DoorTimes, ...] = fact((), "Entry/exit doors then", share=HELPER)
    zones: tuple[SeasonZone, ...] = fact((), "Zones then", share=HELPER, noun="zone")


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
    seasons: tuple[Season, ...] = fact((), "Seasonal sets", share=CLASS, noun="season")
    season_by: SeasonBy = fact(
        SeasonBy.DATE, "Season in force", help="Decides what the record's sheets tell you to enter.", share=HELPER
    )
    season_now: Ref = ref(
        "control_unit.seasons",
        "",
        "If you decide, the season",
        help="Blank: the ordinary set. Not used while the date decides.",
        share=HELPER,
    )
    note: Note = fact("", "Note")

    @property
    def zones_used(self) -> tuple[Zone, ...]:
        """The zones that have a function: whoever counts the unit's zones counts these."""
        return tuple(zone for zone in self.zones if zone.function is not Function.UNUSED)
