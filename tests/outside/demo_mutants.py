"""The demo home with one change, and what a person expects of it who thinks it through before any proof runs.

The home is taken in its ordinary season with the unit's clock right. What a person knows of it: eighteen contacts, of
which each is all that surely notices whoever comes by its opening (the pass door's: whoever comes from the garage);
motion detectors are never sure, so a missing one opens nothing; three ways in have no contact to lose. The people's
least margins on the entry delay are 5 s by the front door and 11 s by the garage; nobody comes home by the back door
or needs the studio's delay. The longest entry delay is 40 s, and 40 s to siren or message are all that is allowed.
Somebody sleeps upstairs in the sets night, evening and one_in_bed, and runs there takes far less than any delay.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from alarmlib.control.functions import Action, Situation
from alarmlib.model import Home
from alarmlib.model.words import Function

F, S, A = Function, Situation, Action
HARMFUL, HARMLESS, UNSURE = "harmful", "harmless", ""
KINDS = ("removed", "moved", "function", "delay", "part set", "keypad", "rule")


@dataclass(frozen=True)
class Mutant:
    """One change: of the home (`edits`, as the fixture `put` takes them) or of a cell of the function table."""

    kind: str
    name: str
    says: str
    edits: dict[str, Any] = field(default_factory=dict)
    cell: tuple[Function, Situation, Action] | None = None


CONTACTS = {
    "front_door": F.ENTRY_EXIT, "back_door": F.ENTRY_EXIT, "garage_door": F.ENTRY_EXIT, "studio_door": F.ENTRY_EXIT,
    "living_windows": F.AT_ONCE, "dining_window": F.AT_ONCE, "conservatory_door": F.AT_ONCE,
    "study_window": F.AT_ONCE, "kitchen_window": F.AT_ONCE, "pantry_window": F.AT_ONCE,
    "spare_window": F.AT_ONCE, "teen_window": F.AT_ONCE, "older_window": F.AT_ONCE, "box_window": F.AT_ONCE,
    "studio_window": F.AT_ONCE, "cellar_light": F.WARN_UNSET, "pass_door": F.ENTRY_ROUTE,
}  # fmt: skip
MOTIONS = {
    "hall_motion": F.ENTRY_ROUTE, "kitchen_motion": F.ENTRY_ROUTE, "utility_motion": F.ENTRY_ROUTE,
    "garage_motion": F.ENTRY_ROUTE, "studio_motion": F.ENTRY_ROUTE,
    "living_motion": F.AT_ONCE, "landing_motion": F.AT_ONCE, "cellar_motion": F.AT_ONCE,
}  # fmt: skip
USED = ("hall_keypad", "utility_keypad", "landing_keypad", "studio_key_switch", "teen_fob", "older_fob")
NOT_USED = ("studio_keypad", "parent_fob")  # no habit names them
WITH_BEDROOMS = ("night", "evening", "one_in_bed")


def mutants(home: Home) -> Iterator[Mutant]:
    """Every mutant of the list, kind by kind."""
    yield from removed(home)
    yield from moved()
    yield from functions()
    yield from delays()
    yield from part_sets()
    yield from keypads()
    yield from rules()


def removed(home: Home) -> Iterator[Mutant]:
    """A detector or a sounder taken down; contacts are missed, nothing else is ever counted on."""
    for device in home.whole_devices:
        if device.kind in ("keypad", "fob", "key_switch"):
            continue
        says = HARMFUL if device.kind == "contact" else HARMLESS
        yield Mutant("removed", device.id, says, {f"devices.{device.id}.state": "removed"})


# A detector inside that alarms at once breaks a habit in a room that somebody walks through while it is set
# (night: people on the landing; coming home: hall, kitchen, garage, utility room; an hour at the wheel while the house
# is set: studio). Nobody walks through the rest.
_WALKED = {
    "living_motion": ("hall", "kitchen", "garage", "utility", "landing", "studio"),
    "cellar_motion": ("hall", "kitchen", "garage", "utility", "landing", "studio"),
    "landing_motion": ("hall", "kitchen", "garage", "utility", "studio"),  # left out at night
}
_STILL = ("study", "spare_room", "box_room", "pantry")


def moved() -> Iterator[Mutant]:
    """A motion detector mounted in another room; a contact fitted to the opening beside its own."""
    for device, rooms in _WALKED.items():
        for room in rooms:
            yield _mounted(device, room, HARMFUL)
        for room in _STILL:
            yield _mounted(device, room, HARMLESS)
    for device in ("hall_motion", "kitchen_motion", "garage_motion", "utility_motion"):
        for room in ("study", "pantry", "store_cellar"):  # it waits, and off the way nobody meets it
            yield _mounted(device, room, HARMLESS)
    for device, opening in (
        ("living_side_contact", "living_front_window"),
        ("conservatory_contact", "conservatory_window"),
        ("kitchen_window_contact", "back_door"),
        ("cellar_light_contact", "boiler_room_hatch"),
        ("garage_door_contact", "garage_window"),
        ("studio_window_contact", "studio_door"),
        ("spare_contact", "bathroom_window"),
        ("study_contact", "dining_window"),
    ):
        yield Mutant("moved", f"{device} to {opening}", HARMFUL, {f"devices.{device}.openings": [opening]})


def _mounted(device: str, room: str, says: str) -> Mutant:
    return Mutant("moved", f"{device} to {room}", says, {f"devices.{device}.room": room, f"devices.{device}.at": None})


ALWAYS = (F.ALWAYS_SIREN, F.ALWAYS_MESSAGE, F.FIRE, F.HOLD_UP)


def functions() -> Iterator[Mutant]:
    """Another function of a zone."""
    for zone, own in CONTACTS.items():
        for function in (F.UNUSED, F.AT_ONCE, F.ENTRY_EXIT, F.ENTRY_ROUTE, F.AT_ONCE, F.ENTRY_EXIT, *ALWAYS):
            if function is not own:
                yield _function(zone, function, _of_contact(zone, own, function))
    for zone, own in MOTIONS.items():
        for function in (F.UNUSED, F.ENTRY_ROUTE, F.AT_ONCE, F.ENTRY_EXIT, F.ALWAYS_SIREN):
            if function is not own:
                yield _function(zone, function, _of_motion(zone, own, function))


def _function(zone: str, function: Function, says: str) -> Mutant:
    return Mutant(
        "function", f"{zone} as {function.value}", says, {f"control_unit.zones.{zone}.function": function.value}
    )


def _of_contact(zone: str, own: Function, function: Function) -> str:
    if function is F.UNUSED:
        return HARMFUL
    if zone == "kitchen_window":  # somebody opens it and means to be refused
        return HARMFUL if function in ALWAYS else UNSURE
    if zone == "teen_window":  # open at night, when it is left out
        return HARMFUL if function in ALWAYS else UNSURE if function is F.ENTRY_EXIT else HARMLESS
    if own is F.ENTRY_EXIT:
        home_by_it = zone in ("front_door", "garage_door")
        return HARMFUL if (function in ALWAYS or home_by_it) and function is not F.ENTRY_EXIT else UNSURE
    if zone == "pass_door":  # passed by whoever comes home by the garage
        return UNSURE if function in (F.ENTRY_EXIT, F.ENTRY_EXIT) else HARMFUL
    begins_a_delay = function in (F.ENTRY_EXIT, F.ENTRY_EXIT)
    return HARMFUL if begins_a_delay and zone != "studio_window" else HARMLESS  # to the bedrooms before it ends


def _of_motion(zone: str, own: Function, function: Function) -> str:
    if function is F.UNUSED:
        return HARMLESS
    walked = own is F.ENTRY_ROUTE and zone != "studio_motion"
    if function is F.ALWAYS_SIREN:
        return UNSURE if zone == "cellar_motion" else HARMFUL  # people live there
    if function is F.AT_ONCE:
        return HARMFUL if walked else HARMLESS
    # Its delay mutes the pass door's contact for whoever came by the garage window at night: from the garage before,
    # from what is within a second behind that door in the same second, whose events may come in any order. The
    # living room's sees as far as the kitchen through open doorways.
    if function is F.ENTRY_EXIT and zone in (
        "garage_motion",
        "utility_motion",
        "kitchen_motion",
        "living_motion",
    ):
        return HARMFUL
    return UNSURE if walked else HARMLESS


def delays() -> Iterator[Mutant]:
    """Entry delays of each door, exit delays, siren time and abort window."""
    margins = {"front": 5, "garage": 11, "back": 34, "studio": 24}
    times = {"front": 40, "garage": 40, "back": 35, "studio": 25}
    for door, now_s in times.items():
        for off_s in (-20, -15, -10, -8, -4, -2, 2, 5, 10, 16):
            late = now_s + off_s > 40
            says = HARMFUL if late or -off_s > margins[door] else HARMLESS
            edits = {f"control_unit.times.doors.{door}.entry_s": now_s + off_s}
            yield Mutant("delay", f"entry by the {door} door {now_s + off_s} s", says, edits)
    doors = tuple(times)
    for exit_s, says in ((8, HARMFUL), (20, HARMFUL), (40, HARMLESS), (60, HARMLESS), (120, HARMLESS)):
        edits = {f"control_unit.times.doors.{door}.exit_s": exit_s for door in doors} | {
            "control_unit.times.exit_s": exit_s
        }
        yield Mutant("delay", f"every exit {exit_s} s", says, edits)
    for field_, values in (("siren_s", (60, 120)), ("abort_s", (0, 10, 35))):
        for value in values:
            yield Mutant("delay", f"{field_} {value} s", HARMLESS, {f"control_unit.times.{field_}": value})


_LEFT_OUT = {
    "night": ("landing_motion", "teen_window"),
    "evening": ("hall_motion", "living_motion", "kitchen_motion", "utility_motion", "teen_window"),
    "one_in_bed": ("landing_motion", "teen_window"),
}
# Once more in the set: only at night does somebody walk on the landing and open that window.
_PUT_BACK = {("night", "landing_motion"): HARMFUL, ("night", "teen_window"): HARMFUL}
_AT_ONCE_AT_NIGHT = ("back_door", "garage_door")


def part_sets() -> Iterator[Mutant]:
    """A zone more or less left out; a door at once or delayed; no exit delay."""
    for part, out in _LEFT_OUT.items():
        path = f"control_unit.part_sets.{part}"
        for zone in (*CONTACTS, *MOTIONS):
            if zone.startswith("studio"):
                continue
            if zone in out:
                says = _PUT_BACK.get((part, zone), HARMLESS)
                rest = [each for each in out if each != zone]
                yield Mutant("part set", f"{part} with {zone}", says, {f"{path}.left_out": rest})
            else:
                says = HARMFUL if zone in CONTACTS else HARMLESS
                yield Mutant("part set", f"{part} without {zone}", says, {f"{path}.left_out": [*out, zone]})
        for zone in ("front_door", "back_door", "garage_door"):
            yield _door(part, zone)
        yield Mutant("part set", f"{part}, no exit delay", UNSURE, {f"{path}.exit_delay": False})


def _door(part: str, zone: str) -> Mutant:
    delayed = not (part == "night" and zone in _AT_ONCE_AT_NIGHT)
    doors = [
        {
            "zone": each,
            "delayed": (not delayed) if each == zone else not (part == "night" and each in _AT_ONCE_AT_NIGHT),
        }
        for each in ("front_door", "back_door", "garage_door")
    ]
    at_once = "at once" if delayed else "delayed"
    # delayed: upstairs before the siren; the front door at once: the teenager comes home at night
    says = HARMFUL if not delayed or (part, zone) == ("night", "front_door") else HARMLESS
    says = UNSURE if (part, zone) == ("one_in_bed", "front_door") else says
    return Mutant("part set", f"{part}, {zone} {at_once}", says, {f"control_unit.part_sets.{part}.doors": doors})


def keypads() -> Iterator[Mutant]:
    """A keypad, fob or key switch less, or a keypad elsewhere."""
    for device in (*USED, *NOT_USED):
        says = HARMFUL if device in USED else HARMLESS
        yield Mutant("keypad", f"{device} gone", says, {f"devices.{device}.state": "removed"})
    for device, rooms in {
        # the way to it leads past a detector that sounds at once
        "hall_keypad": {"living": HARMFUL, "landing": HARMFUL, "box_room": HARMFUL, "store_cellar": HARMFUL,
                        "kitchen": UNSURE, "utility": UNSURE},
        # at night the hall's detector is met without a delay
        "landing_keypad": {"hall": HARMFUL, "kitchen": HARMFUL, "main_bedroom": UNSURE, "teen_room": UNSURE},
        "utility_keypad": {"living": HARMFUL, "landing": HARMFUL, "kitchen": UNSURE, "garage": UNSURE},
        "studio_keypad": {"kitchen": HARMLESS, "hall": HARMLESS},
    }.items():  # fmt: skip
        for room, says in rooms.items():
            edits = {f"devices.{device}.room": room, f"devices.{device}.at": None}
            yield Mutant("keypad", f"{device} in {room}", says, edits)


_RULES = {
    (F.ENTRY_EXIT, S.SET_FULL): {A.IGNORE: HARMFUL, A.ALARM: HARMFUL, A.WAIT: UNSURE},
    (F.ENTRY_EXIT, S.PART_SET): {A.IGNORE: HARMFUL, A.ALARM: HARMFUL},
    (F.ENTRY_EXIT, S.PART_AT_ONCE): {A.IGNORE: HARMFUL, A.ENTRY: HARMFUL},
    (F.ENTRY_EXIT, S.ENTRY): {A.ALARM: HARMFUL, A.IGNORE: HARMLESS, A.WAIT: HARMLESS},
    (F.ENTRY_EXIT, S.EXIT): {A.ALARM: HARMFUL, A.IGNORE: UNSURE, A.ENTRY: UNSURE},
    (F.ENTRY_EXIT, S.UNSET): {A.ALWAYS: HARMFUL, A.IGNORE: HARMLESS},
    # who shakes the gate beside the garage window begins a delay that nobody ends
    (F.AT_ONCE, S.SET_FULL): {A.IGNORE: HARMFUL, A.ENTRY: HARMFUL, A.CHIME: HARMFUL},
    (F.AT_ONCE, S.PART_SET): {A.IGNORE: HARMFUL, A.ENTRY: HARMFUL},
    (F.AT_ONCE, S.ENTRY): {A.IGNORE: UNSURE, A.WAIT: UNSURE},
    (F.AT_ONCE, S.UNSET): {A.ALWAYS: HARMFUL, A.IGNORE: HARMLESS},
    (F.AT_ONCE, S.LEFT_OUT): {A.ALARM: HARMFUL},  # people walk past those inside
    (F.ENTRY_ROUTE, S.SET_FULL): {A.IGNORE: HARMFUL, A.ENTRY: HARMLESS, A.WAIT: UNSURE},
    (F.ENTRY_ROUTE, S.PART_SET): {A.IGNORE: HARMFUL, A.ENTRY: HARMFUL},
    (F.ENTRY_ROUTE, S.ENTRY): {A.ALARM: HARMFUL, A.IGNORE: HARMLESS},
    (F.ENTRY_ROUTE, S.EXIT): {A.ALARM: HARMFUL},
    (F.ENTRY_ROUTE, S.UNSET): {A.ALWAYS: HARMFUL},
    (F.AT_ONCE, S.EXIT_INSIDE): {A.ALARM: UNSURE},
    (F.WARN_UNSET, S.SET_FULL): {A.IGNORE: HARMFUL, A.WARN: HARMFUL},
    (F.WARN_UNSET, S.PART_SET): {A.IGNORE: HARMFUL, A.WARN: HARMFUL},
    (F.WARN_UNSET, S.UNSET): {A.IGNORE: HARMLESS},
    (F.KEY_SWITCH, S.SET_FULL): {A.IGNORE: HARMFUL},
    (F.FIRE, S.UNSET): {A.IGNORE: HARMLESS},  # a matter of the unit alone
    (F.TAMPER, S.SET_FULL): {A.IGNORE: HARMLESS},
}  # fmt: skip


def rules() -> Iterator[Mutant]:
    """A cell of the function table changed: a unit that is built wrongly."""
    for (function, situation), actions in _RULES.items():
        for action, says in actions.items():
            name = f"{function.value}, {situation.name.lower()}: {action.value}"
            yield Mutant("rule", name, says, cell=(function, situation, action))
