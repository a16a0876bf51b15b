"""The invented control unit: plain, like no product; its zones stand in the order of the house."""

from alarmlib.model.control_unit import (
    AllowedTimes,
    Area,
    ControlUnit,
    DoorTimes,
    ExitEnds,
    OffRoute,
    OpenAtArming,
    PartSet,
    PartSetDoor,
    Season,
    SeasonZone,
    StillOpen,
    TellsApart,
    Times,
    UnitBehaviour,
    UnitLimits,
    Zone,
)
from alarmlib.model.words import Function

LIMITS = UnitLimits(
    tells_apart=TellsApart.BOTH,
    zones=48,
    circuits=14,
    wire_free_slots=40,
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
    open_at_arming=OpenAtArming.REFUSES,
    exit_ends_by=ExitEnds.TIME,
    exit_restarts_once=True,
    later_door_shortens=False,
    nobody_left_part_set="",
    repeat_trip_limit=3,
    cross_zone_s=120,
    wrong_code_limit=6,
    wrong_code_lock_s=120,
    ignores_after_power_s=60,
    life_heard_after_power=True,
    mains_hold_s=900,
    test_ends_after_s=3600,
    remote_exit_delay=False,
    panic_silent=False,
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
        DoorTimes(id="workshop", opening="workshop_door", entry_s=25, exit_s=35),
    ),
)
HOUSE, WORKSHOP, BOTH = ("house",), ("workshop",), ("house", "workshop")

# id, label, place in the unit, function, areas, circuit, why
_ZONES: tuple[tuple[str, str, str, Function, tuple[str, ...], str, str], ...] = (
    ("front_door", "Front door", "Hall one", Function.FINAL_DOOR, HOUSE, "front_door_loop", "Home by it on foot."),
    ("hall_motion", "Hall motion", "Hall two", Function.ENTRY_ROUTE, HOUSE, "hall_loop", "On the way to the keypad."),
    ("smoke", "Smoke detectors", "Hall three", Function.FIRE, HOUSE, "smoke_loop", "Life safety stands apart."),
    ("living_windows", "Living room windows", "Living one", Function.PERIMETER, HOUSE, "living_loop",
     "One room, treated alike."),
    ("living_glass", "Living room glass", "Living two", Function.PERIMETER, HOUSE, "", "Hears glass early."),
    ("living_motion", "Living room motion", "Living three", Function.INTERIOR, HOUSE, "living_motion_loop",
     "Off the way in: at once."),
    ("dining_window", "Dining room window", "Dining one", Function.PERIMETER, HOUSE, "", "Alone in its room."),
    ("conservatory_door", "Conservatory door", "Dining two", Function.PERIMETER, HOUSE, "",
     "Nobody comes home by it: at once."),
    ("study_window", "Study window", "Study one", Function.PERIMETER, HOUSE, "study_loop", "Alone in its room."),
    ("kitchen_window", "Kitchen window", "Kitchen one", Function.PERIMETER, HOUSE, "", "Often left open."),
    ("back_door", "Back door", "Kitchen two", Function.FINAL_DOOR, HOUSE, "", "The way to the garden and home again."),
    ("kitchen_motion", "Kitchen motion", "Kitchen three", Function.ENTRY_ROUTE, HOUSE, "",
     "On the way from the back door and the utility room."),
    ("kitchen_heat", "Kitchen heat", "Kitchen four", Function.FIRE, HOUSE, "heat_loop", "Cooking would trip smoke."),
    ("pantry_window", "Pantry window", "Pantry one", Function.PERIMETER, HOUSE, "", "Hidden from the street."),
    ("utility_motion", "Utility room motion", "Utility one", Function.ENTRY_ROUTE, HOUSE, "",
     "On the garage way in."),
    ("frost", "Utility room cold", "Utility two", Function.COLD, HOUSE, "", "Pipes run in the outer corner."),
    ("garage_door", "Garage door", "Garage one", Function.FINAL_DOOR, HOUSE, "", "The car comes home by it."),
    ("pass_door", "Pass door", "Garage two", Function.ENTRY_ROUTE, HOUSE, "",
     "Waits if the garage door began the delay, else at once."),
    ("garage_motion", "Garage motion", "Garage three", Function.ENTRY_ROUTE, HOUSE, "", "On the garage way in."),
    ("garage_window", "Garage window", "Garage four", Function.PERIMETER, HOUSE, "",
     "Wind and the gate shake it: the motion detector must confirm."),
    ("landing_motion", "Landing motion", "Landing one", Function.INTERIOR, HOUSE, "", "Left out while people sleep."),
    ("co", "Carbon monoxide", "Landing two", Function.CARBON_MONOXIDE, HOUSE, "", "Life safety stands apart."),
    ("spare_window", "Spare room window", "Upstairs one", Function.PERIMETER, HOUSE, "", "Above a flat roof."),
    ("teen_window", "Teenager's window", "Upstairs two", Function.PERIMETER, HOUSE, "",
     "Above the garage roof; open at night, so left out then."),
    ("older_window", "Grandparent's window", "Upstairs three", Function.PERIMETER, HOUSE, "", "Above the garage roof."),
    ("box_window", "Box room window", "Upstairs four", Function.PERIMETER, HOUSE, "", "The control unit hangs there."),
    ("panic", "Bedside panic", "Upstairs five", Function.PANIC, HOUSE, "", "Stands apart from arming."),
    ("cellar_light", "Cellar light", "Cellar one", Function.DAY, HOUSE, "cellar_loop", "Open by day it is only shown."),
    ("cellar_motion", "Cellar motion", "Cellar two", Function.INTERIOR, HOUSE, "cellar_motion_loop",
     "Nobody comes home this way."),
    ("cellar_water", "Cellar water", "Cellar three", Function.WATER, HOUSE, "water_loop", "Beside the sump."),
    ("sounder_tamper", "Outside sounder tamper", "Outside one", Function.TAMPER, BOTH, "sounder_tamper_loop",
     "Cover and cable of the sounder."),
    ("workshop_door", "Workshop door", "Workshop one", Function.FINAL_DOOR, WORKSHOP, "", "Its only door."),
    ("workshop_motion", "Workshop motion", "Workshop two", Function.ENTRY_ROUTE, WORKSHOP, "", "Waits for the door."),
    ("workshop_window", "Workshop window", "Workshop three", Function.PERIMETER, WORKSHOP, "", "At once."),
    ("workshop_heat", "Workshop heat", "Workshop four", Function.FIRE, WORKSHOP, "", "Dust would trip smoke."),
    ("workshop_frost", "Workshop cold", "Workshop five", Function.COLD, WORKSHOP, "", "A tap stands in the corner."),
    ("workshop_key", "Workshop key switch", "Workshop six", Function.KEY_SWITCH, WORKSHOP, "workshop_key_loop",
     "Sets and unsets the workshop alone."),
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
        id="at_the_bench", name="At the bench: the workshop's window guarded", area="workshop",
        left_out=("workshop_motion",), doors=(PartSetDoor(zone="workshop_door", delayed=True),), exit_delay=True,
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
            DoorTimes(id="workshop_in_winter", opening="workshop_door", entry_s=35, exit_s=50),
        ),
        zones=(SeasonZone(zone="cellar_light", function=Function.PERIMETER),),
    ),
)


def unit() -> ControlUnit:
    """What is to be entered in the control unit, and what its papers say it can hold."""
    return ControlUnit(
        limits=LIMITS,
        behaviour=BEHAVIOUR,
        times=TIMES,
        areas=(Area(id="house", name="House"), Area(id="workshop", name="Workshop")),
        zones=tuple(
            Zone(
                id=i,
                label=label,
                place=place,
                function=function,
                areas=areas,
                circuit=circuit,
                chime=i in _CHIME,
                silent=False,
                partner="garage_motion" if i == "garage_window" else "",
                reason=why,
            )
            for i, label, place, function, areas, circuit, why in _ZONES
        ),
        part_sets=PART_SETS,
        seasons=SEASONS,
        note="Words as places, plain words as choices; an event is shown as a sentence.",
    )
