"""Sleep times that setting the alarm may leave behind: of them only the most that can be left is known.

A detector that may still sleep is silent, or it is over and it is heard: both are tried in each second in which it
may see somebody, which is all that any shorter rest could do. Its place in the state then holds `LOOSE` and the most
seconds. Sixty seconds and more are not counted down: such a rest may last for the whole of a search, which only adds
breaches, and each breach is played again on the whole unit with a rest that can be left.
"""

from collections.abc import Iterable, Mapping
from itertools import combinations

from alarmlib.control.layout import State
from alarmlib.control.setup import Setup

LOOSE = 2_000_000  # above every time that a unit is set to
HELD_S = 60
_HELD = LOOSE + 500_000
_MIDDLE = LOOSE + 250_000


def loose(most_s: int, counted: bool = False) -> int:
    """The number in the state for a rest of at most so many seconds; `counted` counts long ones down as well.

    Our own construction; a test compares it with a search from every rest.
    """
    return canonical(LOOSE + most_s) if counted or most_s < HELD_S else _HELD


def canonical(value: int) -> int:
    """The one number that a rest shares with all alike: one that is over within the next second is over."""
    if value < LOOSE:
        return value
    if value > _MIDDLE:
        return _HELD
    return value if value > LOOSE + 1 else 0


def canonical_rests(setup: Setup, state: State) -> list[int]:
    """The state's numbers with every rest in its canonical form.

    Our own construction.
    """
    made = list(state)
    for slot in setup.layout.quiet_slots:
        made[slot] = canonical(made[slot])
    return made


def outlasting(value: int, left_s: int, whole_s: int) -> int:
    """The number of a rest while a delay of `left_s` runs: those that outlast it have one value of their kind."""
    if value > LOOSE:
        return _HELD if value - LOOSE > left_s else value
    return whole_s if value > left_s else value


def left_s(value: int, least: int) -> int:
    """For how many seconds a timer stays far from its end, `least` being near it.

    Our own construction.
    """
    return value - least - 1 if value <= LOOSE else value - LOOSE - 2


def put(setup: Setup, state: State, rests: Mapping[str, int]) -> State:
    """The state with these numbers as rests of these devices; devices that do not rest in this setup are left.

    Our own construction.
    """
    made = list(state)
    for device, number in rests.items():
        at = setup.layout.device_of.get(device)
        if at is not None and at.sleep_s:
            made[at.slot] = number
    return tuple(made)


def ways_over(devices: Iterable[str]) -> list[frozenset[str]]:
    """Every choice of these devices, those whose rest is over in this second; none of them first."""
    names = sorted(devices)
    return [frozenset(chosen) for size in range(len(names) + 1) for chosen in combinations(names, size)]
