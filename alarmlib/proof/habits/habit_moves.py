"""Where the control unit may go in a second of a habit: every choice of what is seen, every order, every fault."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations
from typing import NamedTuple

from alarmlib.control.functions import Action, Situation
from alarmlib.control.inputs import Closes, Input, Opens, Sees
from alarmlib.control.layout import A, State, Z, situation_of
from alarmlib.control.setup import Setup
from alarmlib.model.words import BURGLARY
from alarmlib.proof.faults.fault import FaultMasks
from alarmlib.proof.habits.canonical_form import canonical_delay
from alarmlib.proof.habits.habit_script import ScriptLabel
from alarmlib.proof.search.budget import ENTRY_BYTES, Spending
from alarmlib.proof.search.compiled import SOUNDED, Compiled, Sign, TooLarge

ALARMED = SOUNDED | Sign.ALARM
MOST_WAYS = 20_000  # orders of the events of one second
_DEVICES = (Opens, Closes, Sees)
_NOT_HEARD = frozenset({Situation.UNSET, Situation.LEFT_OUT, Situation.EXIT})
_STILL = frozenset({Action.IGNORE, Action.CHIME})


class Move(NamedTuple):
    """One way a second may go: the next state, what it gave out, under which faults, and the inputs in order."""

    to: int
    signs: Sign
    under: int
    inputs: tuple[Input, ...]


HabitRows = tuple[tuple[Input, ...], ...]


class Moves:
    """The control unit as a habit meets it; a second that was worked out once is remembered."""

    def __init__(self, setup: Setup, masks: FaultMasks, spending: Spending | None = None) -> None:
        self.masks, self.spending = masks, spending or Spending()
        self.unit = Compiled(setup, None if _rest(setup) else canonical_delay(setup), self.spending)
        self._dead = {
            device: masks.dead_of.get(device, 0) | masks.dead_keypad_of.get(device, 0)
            for device in setup.layout.device_of
        }
        self._zones = {device: at.zone for device, at in setup.layout.device_of.items()}
        self._forgotten = frozenset(_forgotten(setup))
        self._moves: dict[ScriptLabel, dict[int, tuple[Move, ...]]] = {}
        self._parted: dict[ScriptLabel, tuple[tuple[int, HabitRows], ...]] = {}

    def of(self, k: int, label: ScriptLabel) -> tuple[Move, ...]:
        """Every way a second with that label may go from a state.

        By `alarmlib.control.machine.step` for all subsets of `may` and all orders.
        """
        found = self._moves.setdefault(label, {})
        if k not in found:
            found[k] = tuple(self._work_out(k, label))
            self.unit.keep(ENTRY_BYTES * (1 + len(found[k])))
        return found[k]

    def layer(self, layer: Mapping[int, int], label: ScriptLabel) -> tuple[dict[int, int], int]:
        """All states after a second with that label, each with its faults, and the faults of those that alarmed.

        `layer`: faults by state. A way that alarms is not followed further.
        As `of`.
        """
        known = self._moves.setdefault(label, {})
        following: dict[int, int] = {}
        alarmed = 0
        self.spending.look(len(layer))
        for k, mask in layer.items():
            if k not in known:
                self.of(k, label)
            for to, signs, under, _ in known[k]:
                here = mask & under
                if here and signs & ALARMED:
                    alarmed |= here
                elif here:
                    following[to] = following.get(to, 0) | here
        return following, alarmed

    def met(self, states: int) -> None:
        """So many states lie after a second of a habit; they are kept until its verdict is told."""
        self.unit.keep(ENTRY_BYTES * states)
        self.spending.met(states)

    def _work_out(self, k: int, label: ScriptLabel) -> Iterator[Move]:
        """The ways, those that need the fewest devices first; a fault is told of the same way once."""
        known: dict[tuple[int, Sign], int] = {}
        for under, told in self._parts(label):
            for fired in _subsets(self.felt(k, label, told)):
                here = under & ~self._dead_of(fired)
                for inputs in _orders(label, told, fired) if here else ():
                    self.spending.look()
                    to, signs = self.unit.after(k, inputs)
                    new = here & ~known.get((to, signs), 0)
                    if new:
                        known[to, signs] = known.get((to, signs), 0) | new
                        yield Move(to, signs, new, inputs)

    def _parts(self, label: ScriptLabel) -> tuple[tuple[int, HabitRows], ...]:
        """What is told, parted by which of its devices are dead."""
        found = self._parted.get(label)
        if found is None:
            parts = [(self.masks.all, label.told)]
            devices = {event.device for row in label.told for event in row if isinstance(event, _DEVICES)}
            for device in sorted(devices):
                parts = list(self._split(parts, device))
            found = self._parted[label] = tuple(parts)
        return found

    def _split(self, parts: Iterable[tuple[int, HabitRows]], device: str) -> Iterator[tuple[int, HabitRows]]:
        dead = self._dead[device]
        for under, told in parts:
            if under & ~dead:
                yield under & ~dead, told
            if under & dead:
                rows = (tuple(event for event in row if getattr(event, "device", "") != device) for row in told)
                yield under & dead, tuple(rows)

    def _dead_of(self, devices: Iterable[str]) -> int:
        under = 0
        for device in devices:
            under |= self._dead[device]
        return under

    def felt(self, k: int, label: ScriptLabel, told: HabitRows) -> list[str]:
        """The devices that may trip and could change anything: not those that are ignored in this second and the next.

        Only where nobody sets or unsets in these two: that looks at what is tripped, and a trip is over in the next.
        Our own construction; a test searches without it too.
        """
        free = sorted(label.seen_by)
        if label.spoken:
            return free
        state = self.unit.states[self.unit.after(k).to]
        doors = any(told)
        return [device for device in free if not (device in self._forgotten and self._ignored(state, device, doors))]

    def _ignored(self, state: State, device: str, doors: bool) -> bool:
        """Whether nobody listens to the device in a second and the next; `state`: after the first with nothing told.

        Left out or not set, it stays so unless an exit time ends; with `doors` that open or close that may come early.
        """
        zone, needs_all = self._zones[device], self.unit.setup.behaviour.common_needs_all
        if any(state[base + A.EXIT] + state[base + A.LET] if doors else _ends(state, base) for base in zone.area_bases):
            return False
        places = zip(zone.areas, zone.area_bases, strict=True)
        found = [situation_of(state, zone, place, base, needs_all) for place, base in places]
        left_out = state[zone.base + Z.OUT] > 0
        return left_out or all(each in _NOT_HEARD and zone.actions[each] in _STILL for each in found)


def _ends(state: State, base: int) -> bool:
    """Whether an exit time, or that to be let out, ends with the next second."""
    return state[base + A.EXIT] == 1 or state[base + A.LET] == 1


def _rest(setup: Setup) -> bool:
    """Whether any detector sleeps after a trip: what may be forgotten while a delay runs supposes that none does."""
    return any(at.sleep_s for at in setup.layout.device_of.values())


def _forgotten(setup: Setup) -> Iterator[str]:
    """Devices whose trip leaves no trace after the next second, unless the table acts upon it."""
    partners = {place for zone in setup.layout.zones for place in zone.partners}
    for device, at in setup.layout.device_of.items():
        zone = at.zone
        kept = at.lasting or at.sleep_s or zone.levels or zone.setup.restore_hold_s or zone.place in partners
        if not kept and zone.function in BURGLARY and Action.LEAVE not in zone.actions:
            yield device


def _subsets(devices: Sequence[str]) -> Iterator[tuple[str, ...]]:
    return (chosen for size in range(len(devices) + 1) for chosen in combinations(devices, size))


def _orders(label: ScriptLabel, told: HabitRows, fired: Sequence[str]) -> Iterator[tuple[Input, ...]]:
    """Every order of what is told and what trips that keeps the order within each row and `later` behind its row.

    Raises TooLarge above `MOST_WAYS`.
    """
    rows = (*(row for row in told), *((Sees(device),) for device in fired))
    ways, before = 1, 0
    for row in rows:
        for place in range(len(row)):
            before += 1
            ways = ways * before // (place + 1)
    if ways > MOST_WAYS:
        raise TooLarge(f"{before} events may happen in one second in {ways} orders. At most {MOST_WAYS} are tried.")
    waits = [tuple(n for n, later in enumerate(label.later) if device in later - label.may) for device in fired]
    return _merged(rows, (*((),) * len(told), *waits))


def _merged(left: HabitRows, waits: tuple[tuple[int, ...], ...]) -> Iterator[tuple[Input, ...]]:
    """Every order of what is left; `waits`: for each row those of which one must be over first, if any."""
    if not any(left):
        yield ()
        return
    for place, row in enumerate(left):
        if row and (not waits[place] or any(not left[other] for other in waits[place])):
            for tail in _merged((*left[:place], row[1:], *left[place + 1 :]), waits):
                yield (row[0], *tail)
