"""The invented control unit: plain, like no product; its zones begin at the end of the garden and end at the street."""

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
from alarmlib.model.unit_facts import (
    AllowedTimes,
    ExitEnds,
    OffRoute,
    OpenAtSetting,
    Recognises,
    StillOpen,
    UnitBehaviour,
    UnitLimits,
)
from alarmlib.model.words import Function

LIMITS = UnitLimits(
    recognises=Recognises.BOTH,
    zones=48,
    circuits=14,
    wireless_slots=40,
    keypads=5,
    users=16,
    areas=3,
    part_sets=6,
    label_length=24,
    functions=tuple(Function),
    entry=AllowedTimes(low_s=5, high_s=90, step_s=5),
    exit=AllowedTimes(low_s=5, high_s=180, step_s=5),
    siren=AllowedTimes(low_s=90, high_s=900, step_s=30),
    log_events=600,
    grade=2,
)
BEHAVIOUR = UnitBehaviour(
    off_route_in_exit=OffRoute.REFUSES,
    still_open_at_end=StillOpen.NOT_SET,
    open_at_setting=OpenAtSetting.REFUSES,
    exit_ends_by=ExitEnds.TIME,
    exit_restarts_once=True,
    later_door_shortens=False,
    nobody_left_part_set="",
    repeat_trip_limit=3,
    confirmation_s=120,
    wrong_code_limit=6,
    wrong_code_lock_s=120,
    ignores_after_power_s=60,
    life_heard_after_power=True,
    mains_hold_s=900,
    test_ends_after_s=3600,
    remote_exit_delay=False,
    hold_up_silent=False,
    common_needs_all=True,
    stops_siren_in_hour=True,
    tamper_outside_when_unset=False,
)
TIMES = Times(
    entry_s=40,
    exit_s=65,
    siren_s=180,
    abort_s=20,
    doors=(
        DoorTimes(id="front", opening="front_door", entry_s=40, exit_s=65),
        DoorTimes(id="back", opening="back_door", entry_s=35, exit_s=65),
        DoorTimes(id="garage", opening="garage_door", entry_s=40, exit_s=75),
        DoorTimes(id="studio", opening="studio_door", entry_s=25, exit_s=35),
    ),
)
HOUSE, STUDIO, BOTH = ("house",), ("studio",), ("house", "studio")

# id, label, place in the unit, function, areas, circuit, why
ZoneRow = tuple[str, str, str, Function, tuple[str, ...], str, str]
_ZONES: tuple[ZoneRow, ...] = (
    ("studio_frost", "Clay sink frost", "Garden end one", Function.LOW_TEMPERATURE, STUDIO, "",
     "The pipe of the clay sink runs in that corner."),
    ("studio_heat", "Studio heat", "Garden end two", Function.FIRE, STUDIO, "", "Clay dust would trip smoke."),
    ("studio_window", "Studio window", "Garden end three", Function.AT_ONCE, STUDIO, "", "At once."),
    ("studio_key", "Studio key switch", "Garden end four", Function.KEY_SWITCH, STUDIO, "studio_key_loop",
     "Sets and unsets the studio alone."),
    ("studio_door", "Studio door", "Garden end five", Function.ENTRY_EXIT, STUDIO, "", "Its only door."),
    ("studio_motion", "Studio motion", "Garden end six", Function.ENTRY_ROUTE, STUDIO, "", "Waits for the door."),
    ("conservatory_door", "Conservatory door", "Garden side one", Function.AT_ONCE, HOUSE, "",
     "Nobody comes home by it: at once."),
    ("dining_window", "Dining room window", "Garden side two", Function.AT_ONCE, HOUSE, "", "Alone in its room."),
    ("back_door", "Back door", "Garden side three", Function.ENTRY_EXIT, HOUSE, "",
     "The way to the garden and home again."),
    ("kitchen_window", "Kitchen window", "Garden side four", Function.AT_ONCE, HOUSE, "", "Often left open."),
    ("kitchen_motion", "Kitchen motion", "Garden side five", Function.ENTRY_ROUTE, HOUSE, "",
     "On the way from the back door and the utility room."),
    ("kitchen_heat", "Kitchen heat", "Garden side six", Function.FIRE, HOUSE, "heat_loop", "Cooking would trip smoke."),
    ("pantry_window", "Pantry window", "Garden side seven", Function.AT_ONCE, HOUSE, "", "Hidden from the street."),
    ("cellar_water", "Cellar water", "Below ground one", Function.WATER, HOUSE, "water_loop", "Beside the sump."),
    ("cellar_light", "Cellar light", "Below ground two", Function.WARN_UNSET, HOUSE, "cellar_loop",
     "Unset it only warns."),
    ("cellar_motion", "Cellar motion", "Below ground three", Function.AT_ONCE, HOUSE, "cellar_motion_loop",
     "Nobody comes home this way."),
    ("utility_motion", "Utility room motion", "Garage one", Function.ENTRY_ROUTE, HOUSE, "",
     "On the garage way in."),
    ("frost", "Utility room frost", "Garage two", Function.LOW_TEMPERATURE, HOUSE, "", "Pipes in the outer corner."),
    ("garage_door", "Garage door", "Garage three", Function.ENTRY_EXIT, HOUSE, "", "The car comes home by it."),
    ("pass_door", "Pass door", "Garage four", Function.ENTRY_ROUTE, HOUSE, "",
     "Waits if the garage door began the delay, else at once."),
    ("garage_motion", "Garage motion", "Garage five", Function.ENTRY_ROUTE, HOUSE, "", "On the garage way in."),
    ("garage_window", "Garage window", "Garage six", Function.AT_ONCE, HOUSE, "",
     "Wind and the gate shake it: the motion detector must confirm."),
    ("co", "Carbon monoxide", "Upper floor one", Function.CARBON_MONOXIDE, HOUSE, "",
     "Life safety has a zone of its own."),
    ("landing_motion", "Landing motion", "Upper floor two", Function.AT_ONCE, HOUSE, "",
     "Left out while people sleep."),
    ("spare_window", "Spare room window", "Upper floor three", Function.AT_ONCE, HOUSE, "", "Above a flat roof."),
    ("teen_window", "Teenager's window", "Upper floor four", Function.AT_ONCE, HOUSE, "",
     "Above the garage roof; open at night, so left out then."),
    ("older_window", "Grandparent's window", "Upper floor five", Function.AT_ONCE, HOUSE, "",
     "Above the garage roof."),
    ("box_window", "Box room window", "Upper floor six", Function.AT_ONCE, HOUSE, "",
     "The control unit is mounted there."),
    ("hold_up", "Bedside hold-up", "Upper floor seven", Function.HOLD_UP, HOUSE, "", "Works whether set or unset."),
    ("living_windows", "Living room windows", "Street side one", Function.AT_ONCE, HOUSE, "living_loop",
     "One room, treated alike."),
    ("living_glass", "Living room glass", "Street side two", Function.AT_ONCE, HOUSE, "", "Hears glass early."),
    ("living_motion", "Living room motion", "Street side three", Function.AT_ONCE, HOUSE, "living_motion_loop",
     "Off the way in: at once."),
    ("study_window", "Study window", "Street side four", Function.AT_ONCE, HOUSE, "study_loop", "Alone in its room."),
    ("smoke", "Smoke detectors", "Street side five", Function.FIRE, HOUSE, "smoke_loop",
     "Life safety has a zone of its own."),
    ("hall_motion", "Hall motion", "Street side six", Function.ENTRY_ROUTE, HOUSE, "hall_loop",
     "On the way to the keypad."),
    ("front_door", "Front door", "Street side seven", Function.ENTRY_EXIT, HOUSE, "front_door_loop",
     "Home by it on foot."),
    ("sounder_tamper", "Outside siren tamper", "Street side eight", Function.TAMPER, BOTH, "sounder_tamper_loop",
     "Cover and cable of the sounder."),
)  # fmt: skip
_CHIME = {"front_door", "back_door", "conservatory_door"}
UPSTAIRS = ("landing_motion", "teen_window")
GROUND_INSIDE = ("hall_motion", "living_motion", "kitchen_motion", "utility_motion")

PART_SETS = (
    PartSet(
        id="night", name="Night: upstairs asleep, ground floor guarded", area="house", left_out=UPSTAIRS,
        doors=(
            PartSetDoor(zone="front_door", delayed=True),
            PartSetDoor(zone="back_door", delayed=False),
            PartSetDoor(zone="garage_door", delayed=False),
        ),
        exit_delay=True,
    ),
    PartSet(
        id="evening", name="Evening: people downstairs, the rest guarded", area="house",
        left_out=(*GROUND_INSIDE, "teen_window"),
        doors=(
            PartSetDoor(zone="front_door", delayed=True),
            PartSetDoor(zone="back_door", delayed=True),
            PartSetDoor(zone="garage_door", delayed=True),
        ),
        exit_delay=True,
    ),
    PartSet(
        id="one_in_bed", name="One in bed: the others out", area="house", left_out=UPSTAIRS,
        doors=(
            PartSetDoor(zone="front_door", delayed=True),
            PartSetDoor(zone="back_door", delayed=True),
            PartSetDoor(zone="garage_door", delayed=True),
        ),
        exit_delay=True,
    ),
    PartSet(
        id="at_the_wheel", name="At the wheel: the studio's window guarded", area="studio",
        left_out=("studio_motion",), doors=(PartSetDoor(zone="studio_door", delayed=True),), exit_delay=True,
    ),
)  # fmt: skip
SEASONS = (
    Season(
        id="winter",
        name="Winter",
        months=(11, 12, 1, 2, 3),
        entry_s=40,
        exit_s=75,
        doors=(
            DoorTimes(id="front_in_winter", opening="front_door", entry_s=40, exit_s=75),
            DoorTimes(id="studio_in_winter", opening="studio_door", entry_s=35, exit_s=50),
        ),
        zones=(SeasonZone(zone="cellar_light", function=Function.AT_ONCE),),
    ),
)


def zone(row: ZoneRow) -> Zone:
    """A zone, from its row."""
    id_, label, place, function, areas, circuit, why = row
    return Zone(
        id=id_,
        label=label,
        place=place,
        function=function,
        areas=areas,
        circuit=circuit,
        chime=id_ in _CHIME,
        silent=False,
        confirmed_by="garage_motion" if id_ == "garage_window" else "",
        reason=why,
    )


def unit() -> ControlUnit:
    """What is to be entered in the control unit, and what its manual says it can hold."""
    return ControlUnit(
        limits=LIMITS,
        behaviour=BEHAVIOUR,
        times=TIMES,
        areas=(Area(id="house", name="House"), Area(id="studio", name="Studio")),
        zones=tuple(zone(row) for row in _ZONES),
        part_sets=PART_SETS,
        seasons=SEASONS,
        note="Words as places, plain words as choices; an event is shown as a sentence.",
    )
