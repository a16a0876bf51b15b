"""The demo home as it is today: the first plan, and what the family changed until the proof found no hole."""

from demo_household import NIGHT, SET_FULL, UNSET, habit
from demo_unit import GROUND_INSIDE, HOUSE, ZoneRow, zone

from alarmlib.model.control_unit import ControlUnit, DoorTimes, PartSet, Zone
from alarmlib.model.household import Habit, Household
from alarmlib.model.site import KeptOpen, Opening, Room, RoundResult, Site, Yes
from alarmlib.model.survey import Answer, Found
from alarmlib.model.wiring import FedBy, Wiring
from alarmlib.model.words import Function

_ZONES: tuple[ZoneRow, ...] = (
    ("conservatory_window", "Conservatory window", "Garden side eight", Function.AT_ONCE, HOUSE, "",
     "Two of its panes tilt."),
    ("boiler_hatch", "Boiler room hatch", "Below ground four", Function.AT_ONCE, HOUSE, "",
     "Nobody comes home this way."),
    ("cellar_co", "Boiler room CO", "Below ground five", Function.CARBON_MONOXIDE, HOUSE, "",
     "It tells the boiler room from the landing."),
    ("garage_blows", "Garage window blows", "Garage seven", Function.AT_ONCE, HOUSE, "",
     "Wind and the gate shake it: the window itself must be opened too."),
    ("garage_corner", "Garage corner motion", "Garage eight", Function.ENTRY_ROUTE, HOUSE, "", "Behind the car."),
    ("box_door", "Box room door", "Upper floor eight", Function.AT_ONCE, HOUSE, "",
     "The only way to the control unit from inside."),
)  # fmt: skip
_ZONE_CHANGES: dict[str, dict[str, object]] = {
    "garage_window": {"confirmed_by": "", "reason": "A contact: it trips only if the window is opened."},
    "garage_blows": {"confirmed_by": "garage_window"},
    "cellar_light": {"function": Function.AT_ONCE, "chime": True, "reason": "Nobody comes home this way."},
    "co": {"label": "Landing CO"},
    "teen_window": {"reason": "Above the garage roof; on the latch it reads closed."},
    "landing_motion": {"reason": "Left out while people are upstairs."},
}
_INSIDE = (*GROUND_INSIDE, "landing_motion", "garage_motion", "garage_corner", "box_door")
_LEFT_OUT = {"night": _INSIDE, "one_in_bed": _INSIDE, "evening": GROUND_INSIDE}
_PART_NAMES = {
    "night": "Night: everybody in, every way in guarded",
    "one_in_bed": "One in bed: every way in guarded",
}

_AGAIN = "Unsets before setting, in case somebody has set it meanwhile: the whole exit delay then runs."

_HABITS: tuple[Habit, ...] = (
    habit(
        "forgotten", "Back for something forgotten before setting", "second_parent", ("hall", UNSET, ""),
        "walk_to front_door; open front_door 3; close front_door 2; wait - 6; fob_unset house 2; open front_door 3; "
        "close front_door 2; walk_to kitchen; wait - 5; walk_to front_door; open front_door 3; close front_door 2; "
        "fob_set house 2; wait - 80", 1,
        note="Set by the fob, from outside, when nothing is forgotten: no exit delay runs while somebody comes home.",
    ),
    habit(
        "teenager_at_one", "Teenager home at one in the night", "teenager", ("front_door", *NIGHT),
        "fob_unset house 2; open front_door 2.5; close front_door 2; walk_to landing_keypad; "
        "set_part night 4; walk_to teen_room; wait - 90", 1,
        note="The fob first, then the door: at night the front door waits for nobody.",
    ),
    habit(
        "early_riser", "Early riser leaves while the others sleep", "second_parent", ("main_bedroom", *NIGHT),
        "walk_to landing_keypad; unset house 5; set_part night 4; walk_to front_door; open front_door 3; "
        "close front_door 2; wait - 90", 5,
        note="Unsets and sets again for the night, and leaves during the exit delay.",
    ),
    habit(
        "cleaner_comes", "Cleaner with a place of their own", "cleaner", ("front_door", SET_FULL, ""),
        "open front_door 5; close front_door 2; walk_to hall_keypad; unset house 7; walk_to living; wait - 5400; "
        "walk_to hall_keypad; unset house 4; set_full house 7; walk_to front_door; open front_door 4; "
        "close front_door 3; wait - 80", 1,
        note=_AGAIN,
    ),
    habit(
        "neighbour_looks_in", "Neighbour looks in", "neighbour", ("front_door", SET_FULL, ""),
        "open front_door 6; close front_door 2; walk_to hall_keypad; unset house 8; walk_to living; wait - 120; "
        "walk_to conservatory; wait - 60; walk_to hall_keypad; unset house 5; set_full house 8; walk_to front_door; "
        "open front_door 4; close front_door 2; wait - 80", 0.2,
        note=_AGAIN,
    ),
    habit(
        "window_on_latch", "Window on the latch at bedtime", "teenager", ("teen_room", UNSET, ""),
        "wait - 3; walk_to landing_keypad; set_part night 4; walk_to teen_room; wait - 90", 5,
        note="On the latch its contact reads closed; opened further it trips.",
    ),
)  # fmt: skip
_NOTES = {
    "child_runs_through": {"note": "A friends' child runs, and a parent stands at the keypad and unsets."},
}
_BARE_NO_MORE = {"conservatory_window", "boiler_room_hatch"}
_SMOKE_MADE = {"spare_room": 2026, "main_bedroom": 2026}


def zones(first: tuple[Zone, ...]) -> tuple[Zone, ...]:
    """The zones of the first plan and the new ones."""
    return tuple(
        each.model_copy(update=_ZONE_CHANGES.get(each.id, {})) for each in (*first, *(zone(row) for row in _ZONES))
    )


def unit(first: ControlUnit) -> ControlUnit:
    """The control unit as it is set up now: no door of the house waits in a part set, so home by fob."""
    facts = {
        "zones": zones(first.zones),
        "part_sets": tuple(_part_set(each) for each in first.part_sets),
        "seasons": tuple(season.model_copy(update={"zones": ()}) for season in first.seasons),
        "times": first.times.model_copy(update={"doors": tuple(_door(each) for each in first.times.doors)}),
    }
    return first.model_copy(update=facts)


def _door(first: DoorTimes) -> DoorTimes:
    """The back door as long as the front door: the grandparent was late by it one evening in 26."""
    return first.model_copy(update={"entry_s": 40.0} if first.opening == "back_door" else {})


def _part_set(first: PartSet) -> PartSet:
    if first.area != "house":
        return first
    doors = tuple(door.model_copy(update={"delayed": False}) for door in first.doors)
    name = _PART_NAMES.get(first.id, first.name)
    return first.model_copy(update={"name": name, "left_out": _LEFT_OUT[first.id], "doors": doors})


def household(first: Household) -> Household:
    """The same people with the same habits, some of them done another way; one more fob."""
    other = {each.id: each for each in _HABITS}
    people = tuple(
        each.model_copy(update={"fob": "second_fob"} if each.id == "second_parent" else {}) for each in first.people
    )
    habits = tuple(other.get(each.id, each.model_copy(update=_NOTES.get(each.id, {}))) for each in first.habits)
    return first.model_copy(update={"people": people, "habits": habits})


def site(first: Site) -> Site:
    """The same rooms and ways in, all points of the survey put right."""
    return first.model_copy(
        update={
            "rooms": tuple(_room(each) for each in first.rooms),
            "openings": tuple(_opening(each) for each in first.openings),
            "answers": tuple(_answer(each) for each in first.answers),
        }
    )


def _room(first: Room) -> Room:
    facts: dict[str, object] = {}
    if first.id in _SMOKE_MADE:
        facts = {"smoke_alarm": Yes.YES, "smoke_alarm_made": _SMOKE_MADE[first.id]}
    if first.id == "living":
        facts = {"carbon_monoxide_alarm": Yes.YES}
    if first.id == "study":
        facts = {"valuables_seen": Yes.NO}
    return first.model_copy(update=facts)


def _opening(first: Opening) -> Opening:
    facts: dict[str, object] = {"lock": RoundResult.OK, "by_night": RoundResult.OK, "to_do": ""}
    if first.id in _BARE_NO_MORE:
        facts["left_bare_because"] = ""
    if first.id == "teen_room_window":
        facts["kept_open"] = KeptOpen.NEVER  # on the latch nobody gets through
    return first.model_copy(update=facts)


def _answer(first: Answer) -> Answer:
    if first.found is not Found.NEEDS_WORK:
        return first
    return first.model_copy(update={"found": Found.OK, "in_the_dark": Found.OK, "left": Found.OK, "to_do": ""})


def wiring(first: Wiring) -> Wiring:
    """Router and fibre box on a small standby supply of their own."""
    boxes = tuple(
        each.model_copy(update={"fed_by": FedBy.OWN_BATTERY, "own_battery_wh": wh})
        for each, wh in zip(first.boxes, (300.0, 160.0), strict=True)
    )
    return first.model_copy(update={"boxes": boxes})
