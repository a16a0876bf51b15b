"""Keypads nearer to a door, fobs in place of keypads, and habits given up: with the habits as they then are."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from alarmlib.model.home import Home
from alarmlib.model.household import BeginsIn, Deed, Habit, HabitStep
from alarmlib.model.proof import ChangeKind
from alarmlib.model.questions import at_work
from alarmlib.model.words import DeviceKind
from alarmlib.proof.repairs.changes import EditWay, RepairChange, RepairEdit
from alarmlib.proof.repairs.prices import BY_OWN_FOB_PRICE, Prices

_KEYS = Deed.UNSET, Deed.WRONG_CODE


def habit_changes(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """A keypad in the room of a door that people come in by; a fob for whoever unsets at a keypad; a habit given up.

    Our own list.
    """
    yield from _keypads(home, prices)
    yield from _fobs(home, prices)
    price, assumed = prices.of(ChangeKind.HABIT)
    for habit in home.household.habits:
        yield RepairChange(
            f"habit/{habit.id}",
            EditWay.HABIT,
            sentence=f"Give up the habit: {habit.name}.",
            price=price,
            edits=(RepairEdit(("household", "habits"), habit.id, "drop"),),
            about=frozenset({habit.id}),
            slots=frozenset({f"habit/{habit.id}"}),
            assumed=assumed,
            because="nobody then does what sets off the alarm",
        )


def _keypads(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """A keypad in each room without one that habits come into, and these habits walking to it."""
    keypads = {device.id: device.room for device in at_work(home, DeviceKind.KEYPAD)}
    room_of = {opening.id: opening.room for opening in home.site.openings}
    names = {room.id: room.name for room in home.site.rooms}
    price, assumed = prices.of_device(DeviceKind.KEYPAD)
    for room in dict.fromkeys(room_of.values()):
        coming = [habit for habit in home.household.habits if room_of.get(habit.starts_at) == room]
        walks = {habit.id: step for habit in coming if (step := to_keypad(habit, keypads)) is not None}
        if room in keypads.values() or not walks:
            continue
        name = prices.unused(f"{room[:36]}_keypad")
        device = {"id": name, "name": f"Keypad, {names[room]}"[:80], "kind": "keypad", "room": room}
        edits = [RepairEdit(("devices",), device, "add")]
        for habit, step in walks.items():
            place = ("household", "habits", habit, "steps", step.id)
            edits += [RepairEdit((*place, "place"), name), RepairEdit((*place, "seconds"), None)]
        yield RepairChange(
            f"keypad/{room}",
            EditWay.KEYPAD,
            sentence=f"Mount a keypad in {names[room]}, and unset the alarm there when you come in.",
            price=price,
            edits=tuple(edits),
            about=frozenset(walks),
            slots=frozenset({f"keypad/{room}", *(f"habit/{each}" for each in walks)}),
            assumed=assumed,
            because="the alarm is unset there before anybody walks further",
        )


def to_keypad(habit: Habit, keypads: dict[str, str]) -> HabitStep | None:
    """The walk to the keypad (by id, with its room) at which the alarm is first unset; None when there is none.

    Our own reading of a habit.
    """
    for step, after in pairwise(habit.steps):
        if after.deed in _KEYS:
            at_keypad = step.deed is Deed.WALK_TO and (step.place in keypads or step.place in keypads.values())
            return step if at_keypad else None
    return None


@dataclass(frozen=True)
class _Carrier:
    """Somebody who may unset the alarm: the fob they carry ("" for none), and whether the home file says who has it."""

    id: str
    role: str
    fob: str
    lives_here: bool


def _fobs(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """A fob for each who unsets at a keypad after coming in, or has none; one who has a fob uses it."""
    people = [_Carrier(p.id, p.role, p.fob, True) for p in home.household.people if p.can_unset]
    people += [_Carrier(v.id, v.role, "", False) for v in home.household.visitors if v.can_unset]
    for who in people:
        fob = who.fob or prices.unused(f"{who.id[:40]}_fob")
        by_fob = {h.id: steps for h in home.household.habits if h.who == who.id and (steps := _by_fob(home, h, fob))}
        if by_fob or (who.lives_here and not who.fob):
            yield _fob(prices, who, fob, by_fob)


def _fob(prices: Prices, who: _Carrier, fob: str, by_fob: dict[str, list[Any]]) -> RepairChange:
    edits = [RepairEdit(("household", "habits", habit, "steps"), steps) for habit, steps in by_fob.items()]
    by_own = prices.of(ChangeKind.HABIT, BY_OWN_FOB_PRICE)
    price, assumed = by_own if who.fob else prices.of_device(DeviceKind.FOB)
    if not who.fob:
        edits.append(RepairEdit(("devices",), {"id": fob, "name": f"Fob, {who.role}"[:80], "kind": "fob"}, "add"))
        edits += [RepairEdit(("household", "people", who.id, "fob"), fob)] if who.lives_here else []
    sentence = f"{who.role} unsets with {'the' if who.fob else 'a new'} fob before opening the door."
    slots = {f"fob/{who.id}", *(f"habit/{habit}" for habit in by_fob)}
    return RepairChange(
        f"fob/{who.id}",
        EditWay.FOB,
        sentence=sentence,
        price=price,
        edits=tuple(edits),
        about=frozenset((*by_fob, who.id)),
        slots=frozenset(slots),
        assumed=assumed,
        because="the alarm is unset before the door opens, so no delay has to run",
    )


def _by_fob(home: Home, habit: Habit, fob: str) -> list[Any]:
    """The steps with a fob: it unsets before all else, and the first code is not keyed; [] when it changes nothing."""
    doors = {opening.id for opening in home.site.openings}
    keyed = next((step for step in habit.steps if step.deed is Deed.UNSET), None)
    begins_set = habit.begins_in is not BeginsIn.UNSET and habit.starts_at in doors
    switches = {device.id for device in home.whole_devices if device.kind is DeviceKind.KEY_SWITCH}
    has_fob = any(step.deed is Deed.FOB_UNSET for step in habit.steps)
    if keyed is None or not begins_set or has_fob or keyed.place in switches:
        return []
    before = habit.steps[: habit.steps.index(keyed)]
    taken = {step.id for step in habit.steps}
    name = next(each for each in ("by_fob", "by_the_fob", "with_the_fob") if each not in taken)
    kept = [step for step in before if step.deed is not Deed.WRONG_CODE] + list(habit.steps[len(before) + 1 :])
    area = keyed.place if any(area.id == keyed.place for area in home.control_unit.areas) else ""
    carried = any(person.id == habit.who for person in home.household.people)
    first = HabitStep(id=name, deed=Deed.FOB_UNSET, place=area if carried else fob, seconds=1)
    return [step.model_dump(mode="json") for step in (first, *kept)]
