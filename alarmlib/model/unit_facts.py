"""What the owner's manual says of a control unit: what it can hold, and how it behaves."""

from alarmlib.model.base import Part, Ref, fact, ref
from alarmlib.model.words import Function, Share, Word
from alarmlib.units import Kind

CLASS = Share.CLASS


class Recognises(Word):
    """What the unit can show on its own."""

    UNKNOWN = "unknown", "not known yet"
    DEVICES = "devices", "each device"
    CIRCUITS = "circuits", "each detector circuit"
    BOTH = "both", "each wireless device and each detector circuit"


class AllowedTimes(Part):
    """The times a unit lets its owner choose, in seconds: from, to, in steps of."""

    low_s: float = fact(
        0,
        "Shortest time",
        help="In the control unit's manual, where this time is described.",
        kind=Kind.TIME,
        ge=0,
        le=86400,
        share=CLASS,
    )
    high_s: float = fact(
        86400, "Longest time", help="In the same place of the manual.", kind=Kind.TIME, ge=0, le=86400, share=CLASS
    )
    step_s: float = fact(
        1,
        "Step from one time to the next",
        help="A step of 5 s means that you can enter 10, 15 and 20 s.",
        kind=Kind.TIME,
        ge=1,
        le=3600,
        share=CLASS,
    )


class UnitLimits(Part):
    """What the unit can hold; every one may be not known yet (left out)."""

    recognises: Recognises = fact(
        Recognises.UNKNOWN,
        "What it shows separately",
        help="In its manual, under zones. It decides how many zones you need.",
        share=CLASS,
    )
    zones: int | None = fact(
        None,
        "Zones it can hold",
        help="In its manual, under technical data. You are told when you plan more.",
        ge=1,
        le=2000,
        share=CLASS,
    )
    circuits: int | None = fact(None, "Detector circuits", ge=0, le=2000, share=CLASS)
    wireless_slots: int | None = fact(
        None, "Wireless devices it can hold", help="In its manual, under technical data.", ge=0, le=2000, share=CLASS
    )
    keypads: int | None = fact(
        None, "Keypads it can hold", help="In its manual, under technical data.", ge=0, le=100, share=CLASS
    )
    users: int | None = fact(
        None, "Users it can hold", help="In its manual, under users or codes.", ge=1, le=2000, share=CLASS
    )
    areas: int | None = fact(None, "Areas it can hold", help="In its manual, under areas.", ge=1, le=100, share=CLASS)
    part_sets: int | None = fact(
        None, "Part sets it offers", help="In its manual, under setting with people in.", ge=0, le=100, share=CLASS
    )
    label_length: int | None = fact(
        None,
        "Longest zone label, letters",
        help="In its manual, under zone labels. Longer labels are shortened to fit.",
        ge=2,
        le=200,
        share=CLASS,
    )
    functions: tuple[Function, ...] = fact(
        (),
        "Zone functions it offers",
        help="In its manual, where zones are described. Tick none if you do not know: all are taken as offered.",
        share=CLASS,
    )
    entry: AllowedTimes | None = fact(
        None, "Entry delays it allows", help="In its manual, under entry delay.", share=CLASS
    )
    exit: AllowedTimes | None = fact(
        None, "Exit delays it allows", help="In its manual, under exit delay.", share=CLASS
    )
    siren: AllowedTimes | None = fact(
        None, "Siren times it allows", help="In its manual, under siren time.", share=CLASS
    )
    log_events: int | None = fact(
        None, "Events it remembers", help="In its manual, under event memory.", ge=0, le=100000, share=CLASS
    )
    grade: int | None = fact(
        None,
        "Grade of the control unit (EN 50131)",
        help="On its label or in its manual: a number from 1 to 4.",
        ge=1,
        le=4,
        share=CLASS,
    )


class OffRoute(Word):
    """What a trip off the exit route does during the exit delay."""

    AT_ONCE = "at_once", "the alarm sounds at once"
    REFUSES = "refuses", "the control unit does not set"


class StillOpen(Word):
    """What an entry/exit door or route detector still open at the end of the exit delay does."""

    EXIT_ERROR = "exit_error", "sounds inside, then an alarm marked as exit error"
    NOT_SET = "not_set", "the control unit does not set"


class OpenAtSetting(Word):
    """What something open at setting does."""

    REFUSES = "refuses", "setting is refused until it is closed"
    INHIBIT_ONCE = "inhibit_once", "may be left out this time"


class ExitEnds(Word):
    """What ends the exit delay early."""

    TIME = "time", "only the end of its time"
    DOOR = "door", "closing the entry/exit door"
    BUTTON = "button", "a button outside"


class UnitBehaviour(Part):
    """How this unit behaves where units differ; `None` means not known yet, and the stated default is taken."""

    off_route_in_exit: OffRoute | None = fact(
        None,
        "Trip off the exit route while you leave",
        help="In its manual, under exit delay. Blank: as your country's rules ask.",
        share=CLASS,
    )
    still_open_at_end: StillOpen | None = fact(
        None,
        "Entry/exit door still open when the exit delay ends",
        help="In its manual, under exit delay. Blank: as your country's rules ask.",
        share=CLASS,
    )
    open_at_setting: OpenAtSetting | None = fact(
        None,
        "Door or window open when you set",
        help="In its manual, under setting. Blank: it may be left out this time.",
        share=CLASS,
    )
    exit_ends_by: ExitEnds = fact(
        ExitEnds.TIME, "What ends the exit delay", help="In its manual, under exit delay.", share=CLASS
    )
    exit_restarts_once: bool | None = fact(
        None,
        "Does opening the door again restart the exit delay once?",
        help="In its manual, under exit delay. Blank counts as yes.",
        share=CLASS,
    )
    later_door_shortens: bool | None = fact(
        None,
        "Can a second entry/exit door shorten a running entry delay?",
        help="In its manual, under entry delay. Blank counts as no.",
        share=CLASS,
    )
    nobody_left_part_set: Ref = ref(
        "control_unit.part_sets",
        "",
        "Part set that it chooses when nobody leaves",
        help="In its manual, under exit delay. Blank: it chooses none.",
        share=CLASS,
    )
    repeat_trip_limit: int | None = fact(
        None,
        "Repeat-trip limit, alarms of one zone",
        help=("In its manual, also as swinger shutdown. After so many alarms in one set period the zone is ignored."),
        ge=1,
        le=20,
        share=CLASS,
    )
    confirmation_s: float | None = fact(
        None,
        "Longest time between two zones that confirm each other",
        help="In its manual, under confirmation. It counts only for zones that another zone must confirm.",
        kind=Kind.TIME,
        ge=1,
        le=7200,
        share=CLASS,
    )
    wrong_code_limit: int | None = fact(
        None,
        "Wrong codes before the keypad locks",
        help="In its manual, under codes. Blank: it never locks.",
        ge=1,
        le=50,
        share=CLASS,
    )
    wrong_code_lock_s: float | None = fact(
        None,
        "How long the keypad stays locked",
        help="In its manual, under codes.",
        kind=Kind.TIME,
        ge=1,
        le=7200,
        share=CLASS,
    )
    ignores_after_power_s: float | None = fact(
        None,
        "How long it ignores detectors after power returns",
        help="In its manual, under power loss or restart. Blank: 60 s.",
        kind=Kind.TIME,
        ge=0,
        le=600,
        share=CLASS,
    )
    life_heard_after_power: bool | None = fact(
        None,
        "Does it act on fire and carbon monoxide at once after power returns?",
        help="In the unit's manual, under power loss or restart. Not known counts as no.",
        share=CLASS,
    )
    mains_hold_s: float | None = fact(
        None,
        "Delay before it reports lost mains",
        help="In its manual, under faults. Blank: 10 s.",
        kind=Kind.TIME,
        ge=0,
        le=86400,
        share=CLASS,
    )
    test_ends_after_s: float | None = fact(
        None,
        "Longest time in test mode",
        help="In its manual, under walk test. It leaves test mode by itself after this time. Blank: 20 minutes.",
        kind=Kind.TIME,
        ge=60,
        le=86400,
        share=CLASS,
    )
    remote_exit_delay: bool | None = fact(
        None,
        "Does the exit delay run when you set by fob?",
        help="In its manual, under fobs. Blank counts as no.",
        share=CLASS,
    )
    hold_up_silent: bool | None = fact(
        None,
        "Is a hold-up at the keypad or a fob silent?",
        help="In its manual, under hold-up. Blank counts as no: the siren sounds.",
        share=CLASS,
    )
    common_needs_all: bool | None = fact(
        None,
        "Does a zone in several areas listen only when all of them are set?",
        help="In its manual, under areas. Blank counts as yes.",
        share=CLASS,
    )
    stops_siren_in_hour: bool | None = fact(
        None,
        "Does it stop the siren at the local limit for an hour?",
        help="In its manual, under siren. Blank counts as yes.",
        share=CLASS,
    )
    tamper_outside_when_unset: bool | None = fact(
        None,
        "Does tampering sound the outside siren while unset?",
        help="In its manual, under tamper. Blank counts as no.",
        share=CLASS,
    )
