"""A habit as a row of labels, one a second: what its person surely tells the unit, and which detectors may see them."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby

from alarmlib.calc.walking.gait import level_speed
from alarmlib.calc.walking.walkers import Walker
from alarmlib.control.habit_events import KEYED, Done, Timeline, timeline
from alarmlib.control.habit_walks import HabitGround
from alarmlib.control.inputs import Closes, Input, Opens, Sees
from alarmlib.control.setup import Setup
from alarmlib.errors import FieldProblem
from alarmlib.model.home import Home
from alarmlib.model.household import Deed, Habit, HabitStep
from alarmlib.model.questions import at_work, is_at_work
from alarmlib.model.words import DeviceKind

LONG_WAIT_S = 900  # what lasts longer unchanged may end at any second
_BY_FOB = frozenset({Deed.FOB_SET, Deed.FOB_UNSET})
_TRIPPED = frozenset({DeviceKind.KEY_SWITCH, DeviceKind.HOLD_UP})
_ADULT = Walker(level_speed(50))


@dataclass(frozen=True)
class ScriptLabel:
    """What may reach the unit in a second.

    `told` happens: one row of inputs a person, each row in its order, the rows in any order among each other.
    Any of `may` (devices without a lasting state) may trip too, at any place among these; those of `later`, beside
    each row, only when its person has done all of it: nobody is seen before opening the door they come in by.
    `spoken`: somebody sets, unsets or the like, in this second or the next.
    """

    told: tuple[tuple[Input, ...], ...] = ()
    may: frozenset[str] = frozenset()
    later: tuple[frozenset[str], ...] = ()
    spoken: bool = False

    @property
    def seen_by(self) -> frozenset[str]:
        """Every device that may trip without being told of."""
        return self.may.union(*self.later)

    def __or__(self, other: "ScriptLabel") -> "ScriptLabel":
        """What two persons may do in one second."""
        spoken = self.spoken or other.spoken
        return ScriptLabel(self.told + other.told, self.may | other.may, self.later + other.later, spoken)


@dataclass(frozen=True)
class Script:
    """A habit's labels by place. Places of `waits` last any number of seconds from 1 on, all others one.

    `at_s`: the second in which a place begins at the habit's own pace, one more than labels; `rooms`: where the
    person may be at each place, empty while they are out of doors or no longer followed; `pets`: each detector
    that may see pets all the time, and which.
    """

    habit: Habit
    who: str
    labels: tuple[ScriptLabel, ...]
    waits: frozenset[int]
    at_s: tuple[int, ...]
    rooms: tuple[frozenset[str], ...]
    done: tuple[Done, ...]
    assumed: tuple[str, ...] = ()
    pets: tuple[tuple[str, tuple[str, ...]], ...] = ()

    @cached_property
    def kinds(self) -> frozenset[ScriptLabel]:
        """The labels, each once."""
        return frozenset(self.labels)

    @cached_property
    def devices(self) -> frozenset[str]:
        """Every device that the habit trips or may trip."""
        return self.sure_devices.union(*(label.seen_by for label in self.kinds))

    @cached_property
    def sure_devices(self) -> frozenset[str]:
        """Every device that the habit trips."""
        told = (event for label in self.kinds for row in label.told for event in row)
        return frozenset(event.device for event in told if isinstance(event, (Opens, Closes, Sees)))


@dataclass(frozen=True)
class HabitPlayer:
    """Who plays habits: a home, its unit and floors; `guards`: devices of zones that do nothing but guard."""

    home: Home
    setup: Setup
    ground: HabitGround
    guards: frozenset[str] = frozenset()

    def script(self, habit: Habit, pace: float = 0.0, tail_s: int = 0, dead: Collection[str] = ()) -> Script:
        """The habit at that pace; who finds a keypad or fob of `dead` without life walks on to another keypad.

        After its last step its person may move where they are for `tail_s`; 0: they are no longer followed.
        Raises FieldProblem when a step cannot be done: so where its keypad or fob was taken down.
        By `alarmlib.control.habit_events.timeline`.
        """
        gone = {device.id for device in self.home.whole_devices if not is_at_work(device)}
        for device in sorted(keypads_used(self.home, habit) & gone):
            raise FieldProblem("", f"habit {habit.id}", device, "a keypad or fob that is in service")
        played = _walking_on(self, habit, frozenset(dead)) if dead else habit
        seen = timeline(self.home, played, setup=self.setup, ground=self.ground, moving=True, tail_s=tail_s, pace=pace)
        labels = list(_labels(seen))
        rooms = [seen.rooms.get(second, frozenset()) for second in range(len(labels))]
        inside = habit.starts_at in self.ground.sides and not self._is_opening(habit.starts_at)
        first = frozenset({self.ground.sides[habit.starts_at][0].room}) if inside else frozenset[str]()
        return _shortened(habit, seen, self._spoken(_seen_after(labels, rooms, first)), rooms)

    def _spoken(self, labels: list[ScriptLabel]) -> list[ScriptLabel]:
        spoken = [any(not self._only_trips(event) for row in label.told for event in row) for label in labels]
        soon = (now or then for now, then in zip(spoken, (*spoken[1:], False), strict=True))
        return [replace(label, spoken=True) if speak else label for label, speak in zip(labels, soon, strict=True)]

    def _only_trips(self, event: Input) -> bool:
        return isinstance(event, (Opens, Closes)) and event.device in self.guards

    def _is_opening(self, place: str) -> bool:
        return any(opening.id == place for opening in self.home.site.openings)


def _labels(seen: Timeline) -> Iterator[ScriptLabel]:
    """The label of each second; what is seen and not told may also stay unseen."""
    known: dict[tuple[tuple[Input, ...], tuple[Input, ...]], ScriptLabel] = {}
    for second in range(max([seen.seconds, *seen.inputs]) + 1):
        told, happened = seen.told.get(second, ()), seen.inputs.get(second, ())
        if (told, happened) not in known:
            sure = {event.device for event in told if isinstance(event, Sees)}
            may = frozenset(event.device for event in happened if isinstance(event, Sees)) - sure
            known[told, happened] = ScriptLabel((told,), may, (frozenset(),)) if told else ScriptLabel((), may)
        yield known[told, happened]


def _seen_after(labels: list[ScriptLabel], rooms: list[frozenset[str]], first: frozenset[str]) -> list[ScriptLabel]:
    """The labels, where whoever comes into a room is newly seen there only after what they do in that second.

    `first`: the rooms somebody is in before.
    Nobody is seen behind a door before opening it, nor on the walk that follows unsetting before it. Pets may be.
    """
    always = frozenset.intersection(*{label.may for label in labels})
    was = [(first, frozenset[str]())]
    was += [(where, label.may) for label, where in zip(labels, rooms, strict=True)]
    return [_split_at_door(label, where - been, before | always) if label.told else label
            for label, where, (been, before) in zip(labels, rooms, was, strict=False)]  # fmt: skip


def _split_at_door(label: ScriptLabel, entered: frozenset[str], before: frozenset[str]) -> ScriptLabel:
    return ScriptLabel(label.told, label.may & before, (label.may - before,)) if entered else label


def _shortened(habit: Habit, told: Timeline, labels: list[ScriptLabel], rooms: list[frozenset[str]]) -> Script:
    """The script, with each stretch of one label longer than `LONG_WAIT_S` as one place of any length."""
    kept: list[tuple[ScriptLabel, frozenset[str]]] = []
    at_s, waits = [], set()
    for _, run in groupby(range(len(labels)), key=lambda second: (labels[second], rooms[second])):
        seconds = list(run)
        if len(seconds) > LONG_WAIT_S:
            waits.add(len(kept))
            seconds = seconds[:1]
        at_s += seconds
        kept += [(labels[second], rooms[second]) for second in seconds]
    return Script(
        habit,
        told.done[0].who if told.done else "",
        labels=tuple(label for label, _ in kept),
        waits=frozenset(waits),
        at_s=(*at_s, len(labels)),
        rooms=tuple(where for _, where in kept),
        done=told.done,
        assumed=told.assumed,
        pets=tuple(told.pets.items()),
    )


def keypads_used(home: Home, habit: Habit) -> frozenset[str]:
    """The keypads and fobs that the habit needs: without any of these it goes another way.

    Our own reading of a habit.
    """
    places = [(_keypad_at(home, place), step) for place, step in _standing(habit)]
    keyed = {keypad for keypad, step in places if _is_keyed(home, step)}
    return frozenset(keyed | {_fob(home, habit, step) for step in habit.steps}) - {""}


def _is_keyed(home: Home, step: HabitStep) -> bool:
    return step.deed in KEYED and _kind(home, step.place) not in _TRIPPED


def _fob(home: Home, habit: Habit, step: HabitStep) -> str:
    """The fob that a step needs: the one named, else the one its person carries."""
    if _kind(home, step.place) is DeviceKind.FOB:
        return step.place
    carried = next((person.fob for person in home.household.people if person.id == habit.who), "")
    return carried if step.deed in _BY_FOB else ""


def _kind(home: Home, place: str) -> DeviceKind | None:
    return next((device.kind for device in home.whole_devices if device.id == place), None)


def _standing(habit: Habit) -> Iterator[tuple[str, HabitStep]]:
    """Each step with the place walked to last."""
    place = habit.starts_at
    for step in habit.steps:
        place = step.place if step.deed is Deed.WALK_TO else place
        yield place, step


def _keypad_at(home: Home, place: str) -> str:
    """The keypad that is meant when one keys at a place: itself, else the first there, one at work before others."""
    keypads = [device for device in home.whole_devices if device.kind is DeviceKind.KEYPAD]
    here = [device for device in keypads if place in (device.id, device.room)]
    return min(here, key=lambda each: (each.id != place, not is_at_work(each))).id if here else ""


def _walking_on(player: HabitPlayer, habit: Habit, dead: frozenset[str]) -> Habit:
    """The habit of somebody who finds a keypad dead and walks on to the nearest that works before keying.

    A dead fob does nothing and nobody notices. With no other keypad nothing is keyed.
    """
    home = player.home
    steps: list[HabitStep] = []
    elsewhere = False  # they are elsewhere than the habit says
    for place, step in _standing(habit):
        if _fob(home, habit, step) in dead:
            continue
        if step.deed is Deed.WALK_TO:
            steps.append(step.model_copy(update={"seconds": None}) if elsewhere else step)
            elsewhere = False
            continue
        if _is_keyed(home, step) and not elsewhere and _keypad_at(home, place) in dead:
            nearest = _nearest(player, place, dead)
            if not nearest:
                continue
            steps.append(HabitStep(id=f"{step.id}_elsewhere", deed=Deed.WALK_TO, place=nearest))
            elsewhere = True
        steps.append(step)
    return habit.model_copy(update={"steps": tuple(steps)})


def _nearest(player: HabitPlayer, place: str, dead: frozenset[str]) -> str:
    """The keypad that works and is reached first by an adult, "" when there is none."""
    sides = player.ground.sides
    there = [device.id for device in at_work(player.home, DeviceKind.KEYPAD)]
    live = [keypad for keypad in there if keypad not in dead and keypad in sides]
    if place not in sides:
        return live[0] if live else ""
    strolls = {keypad: player.ground.stroll(sides[place][0], sides[keypad][0], _ADULT) for keypad in live}
    return min(live, key=lambda keypad: strolls[keypad].seconds, default="")
