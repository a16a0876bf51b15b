"""On which counterexamples a change can bear: without any change that bears on it, one comes about all the same.

That is what lets the search leave out most sets of changes untried; where it isn't known, every change bears.
"""

from collections.abc import Callable, Sequence

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.household import Deed, Expected
from alarmlib.model.words import DeviceKind, Function
from alarmlib.proof.habits.habit_cases import PreparedHabits
from alarmlib.proof.repairs.changes import EditWay, RepairChange
from alarmlib.proof.repairs.delay_changes import entry_delays
from alarmlib.proof.report.verdicts import Proved

_OF_ZONES = frozenset({EditWay.FUNCTION, EditWay.PUT_BACK, EditWay.LEAVE_OUT, EditWay.DOOR})
_DELAYED = frozenset({Function.ENTRY_EXIT})
_OF_HABITS = frozenset({EditWay.MOVED, EditWay.KEYPAD, EditWay.FOB, EditWay.HABIT})
_OF_RESTS = frozenset({EditWay.REST, EditWay.WIRED})
_SETS = frozenset({Deed.SET_FULL, Deed.SET_PART, Deed.FOB_SET, Deed.LET_OUT})


def bearing(home: Home, proved: Proved, changes: Sequence[RepairChange]) -> frozenset[int]:
    """The places of the changes that can bear on the counterexample of a breach in this home.

    Our own reasoning for each kind of property; brute force agrees in the tests.
    """
    rule, _, rest = proved.id.partition("/")
    every = frozenset(range(len(changes)))
    if rule == "siren_in_an_hour" and proved.counterexample:
        return _those(changes, lambda change: change.way is EditWay.SIREN)
    if rule in ("noticed_first", "sounds_first", "sounds_in_time"):
        told = _Coming(home, proved)
        return _those(changes, told.bears if proved.counterexample else told.may_bear)
    if rule in ("habit", "pair"):
        try:
            living = _Living(home, frozenset(rest.split("/")))
        except AlarmProblem:
            return every
        return _those(changes, living.bears)
    return every


def _those(changes: Sequence[RepairChange], bears: Callable[[RepairChange], bool]) -> frozenset[int]:
    return frozenset(place for place, change in enumerate(changes) if bears(change))


class _Coming:
    """How an intruder gets in: the way, the rooms passed, what tripped, the set that was on."""

    def __init__(self, home: Home, proved: Proved) -> None:
        self.rule, self.area, self.part = proved.id.split("/")
        self.home = home
        self.only_just_set = bool(proved.why)
        beats = proved.counterexample
        devices = {device for beat in beats for device in beat.devices}
        self.zones = {zone.id: zone for zone in home.control_unit.zones if any(zone.id in beat.zones for beat in beats)}
        self.rooms = {room for beat in beats for room in beat.place.split("/")}
        named = {o.id for o in home.site.openings if o.name == proved.worst.get("way_in")}
        self.openings = named | {o for d in home.whole_devices if d.id in devices for o in d.openings}
        self.delays = self._delays()
        self.out = {zone for part in home.control_unit.part_sets if part.id == self.part for zone in part.left_out}

    def _delays(self) -> set[str]:
        """Whose entry delays may run: of the entry/exit doors opened, of the unit ("") where a zone has none."""
        seasons = self.home.control_unit.seasons
        rows = [
            door for doors in (self.home.control_unit.times.doors, *(each.doors for each in seasons)) for door in doors
        ]
        typed = {door.opening for door in rows if door.entry_s is not None}
        delayed = {zone.zone for season in seasons for zone in season.zones if zone.function in _DELAYED}
        delayed |= {zone.id for zone in self.zones.values() if zone.function in _DELAYED}
        devices = self.home.whole_devices
        on = {z: {o for d in devices if d.zone == z for o in d.openings} for z in delayed & set(self.zones)}
        unit = {"" for openings in on.values() if not openings & typed}
        return unit.union(*on.values())

    def bears(self, change: RepairChange) -> bool:
        """Who comes in opens one door alone, passes these rooms, and trips these zones."""
        if change.way is EditWay.CONTACT:
            return bool(change.about & self.openings)
        if change.way is EditWay.MOTION or change.way in _OF_RESTS:  # asleep, it need not be in the counterexample
            return bool(change.about & self.rooms) and (change.way is EditWay.MOTION or _wakes(self.home, change))
        if change.way in _OF_ZONES:
            return any(zone in self.zones and self._listens(zone, change) for zone in change.about)
        if change.way is EditWay.EXIT:  # the exit delay bounds its sleep
            return self.only_just_set
        if change.way is EditWay.ENTRY and self.rule != "noticed_first":
            return self._sooner(change)
        return False

    def may_bear(self, change: RepairChange) -> bool:
        """The same of a breach without a counterexample: nothing is known of it but the way in."""
        if change.way is EditWay.CONTACT:
            return not self.openings or bool(change.about & self.openings)
        if change.way in _OF_ZONES:
            return bool(change.about & self._feel())
        if change.way in _OF_RESTS:
            return _wakes(self.home, change)
        return change.way is EditWay.MOTION or (change.way is EditWay.ENTRY and self.rule != "noticed_first")

    def _feel(self) -> set[str]:
        """The zones that who comes in by this way may trip at all: not those of other ways in."""
        glass = self.home.proof.breaks_glass
        return {
            device.zone
            for device in self.home.whole_devices
            if device.kind is DeviceKind.MOTION or device.passages or not self.openings
            or self.openings & set(device.openings) or (glass and device.kind is DeviceKind.GLASS_BREAK)
        }  # fmt: skip

    def _sooner(self, change: RepairChange) -> bool:
        """Where it has not sounded yet, only a delay that is shorter than this home's makes it sound sooner.

        Without a typed limit "in time" is the longest entry delay: then each of them bears on it, longer or shorter.
        """
        if self.rule == "sounds_in_time" and self.home.proof.sounds_within_s is None:
            return True
        now_s = max(entry_delays(self.home, *change.about))
        touches = bool(change.about & self.delays)
        return touches and (change.value_s <= now_s if change.longer else change.value_s < now_s)

    def _listens(self, zone: str, change: RepairChange) -> bool:
        """Of a zone that is left out of this set, another function is of no use; nor is what it is in other sets."""
        if not set(self.zones[zone].areas) <= {self.area}:
            return True
        return zone not in self.out if change.way is EditWay.FUNCTION else change.part == self.part


def _wakes(home: Home, change: RepairChange) -> bool:
    """Whether the detector sleeps less by it than in this home: who is not seen by one that is awake still isn't."""
    slots = {f"rest/{device.id}": device.sleep_s for device in home.whole_devices}
    return any(change.value_s < slots.get(slot, 0.0) for slot in change.slots)


class _Living:
    """Habits: what they trip or may trip, the doors they open, who does them."""

    def __init__(self, home: Home, names: frozenset[str]) -> None:
        self.names = names
        household = PreparedHabits(home)
        habits = [habit for habit in home.household.habits if habit.id in names]
        devices = {device for habit in habits for device in household.script(habit).devices}
        known = household.setups[""].layout.device_of
        openings = {opening.id for opening in home.site.openings}
        self.zones = {known[device].zone.id for device in devices if device in known}
        self.openings = openings & {place for h in habits for place in (h.starts_at, *(s.place for s in h.steps))}
        self.home = home
        switches = {device.id for device in home.whole_devices if device.kind is DeviceKind.KEY_SWITCH}
        self.sets_at = any(step.deed in _SETS or step.place in switches for habit in habits for step in habit.steps)
        self.meant_to = any(habit.expected is Expected.ALARM for habit in habits)

    def bears(self, change: RepairChange) -> bool:
        """A detector more can only be one more that may trip, except on a door that they open."""
        if self.meant_to:
            return True
        if change.way is EditWay.ENTRY:
            return self._later(change)
        if change.way is EditWay.EXIT:
            return self.sets_at
        if change.way is EditWay.CONTACT:
            return bool(change.about & self.openings)
        if change.way in _OF_ZONES or change.way in _OF_RESTS:
            return bool(change.about & self.zones)
        return change.way in _OF_HABITS and bool(change.about & self.names)

    def _later(self, change: RepairChange) -> bool:
        """Where it has sounded, only a longer entry delay than this home has keeps it quiet."""
        now_s = min(entry_delays(self.home, *change.about))
        return change.value_s > now_s if change.longer else change.value_s >= now_s
