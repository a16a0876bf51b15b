"""Small homes whose games are few enough states to be thought through, and one with many cells.

All of them are ours. A device bears the name of its zone; one that sees movement lies in a room, one that opens
guards a way in. `EXPECTED` says what a person expects who thinks it through, with the reason beside it.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from games import NONE, Broken, Floor, Game, Tick, when_set

from alarmlib.control.inputs import Input, UnsetArea
from alarmlib.control.setup import Behaviour, Setup
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, ZoneSetup
from alarmlib.model.words import Function

F = Function
OPENS = frozenset({"front", "back", "door", "window"})
"""Last words of the names of contacts; every other device sees movement inside."""


def unit(entry_s: int, functions: Mapping[str, Function], left_out: Iterable[str] = (), sleep_s: int = 0) -> Setup:
    """A house set with nobody in or for the night; what a device is, its name says."""
    zones = tuple(_zone(name, function, sleep_s) for name, function in functions.items())
    area = AreaSetup("house", 10, entry_s, 2, parts=(PartSetup("night", frozenset(left_out)),))
    return Setup((area,), zones, behaviour=Behaviour(recent_closing_s=0))


def _zone(name: str, function: Function, sleep_s: int) -> ZoneSetup:
    lasting = name.rpartition("_")[2] in OPENS
    return ZoneSetup(name, function, ("house",), (DeviceSetup(name, lasting, sleep_s),), inside=not lasting)


def opens(*devices: str) -> Tick:
    """Coming in by an opening with these contacts."""
    return Tick(frozenset(devices))


def sees(**rooms: str) -> Mapping[str, frozenset[str]]:
    """What sees somebody in which room, names parted by blanks."""
    return {room: frozenset(devices.split()) for room, devices in rooms.items()}


# By hand, two rooms: a hall with the front door (contact) and a window (none), a detector of the entry route that may
# see the hall, and a study, the goal. The entry delay is 2 s.
#
# Noticed first. By the door the delay runs at once: over. By the window the detector sees it (siren, over) or not:
#   1. hall, set;  a second later the hall is left or not, unseen (seen is over);
#   2. study, set: the goal, unnoticed, and back again. Two states, breached one second after coming in.
# Sounds first. By the window the same two states. By the door, (rest of the delay; the detector waits; it is tripped):
#   coming in, 3. hall (2; no; no)  4. hall (2; yes; yes), seen after the door; seen before it the siren sounds, over;
#   next second, 5. hall and 6. study (1; no; no)  7. and 8. (1; yes; yes), seen in it  9. and 10. (1; yes; no), seen
#   in the second before; then the siren. Ten states; the study is reached one second after coming in: breached.
# What waits makes no difference to what follows, and if it is forgotten (3, 4) and (5, 7, 9) and (6, 8, 10) are one
# state each: five.
def two_rooms(told: str) -> Game:
    """The home above."""
    setup = unit(2, {"front": F.ENTRY_EXIT, "hall_sight": F.ENTRY_ROUTE})
    floor = Floor((("hall", "study"),), may=sees(hall="hall_sight"))
    ways = {"door": ("hall", opens("front")), "window": ("hall", Tick())}
    return floor.game(setup, when_set(setup), ways, goals=("study",), told=told)


TWO_ROOMS = {"noticed": (2, 2), "sounds": (10, 5)}  # states, and with what waits forgotten


def two_detectors(told: str, fringe: str = "may") -> Game:
    """A back window without a contact; the stair is surely seen by a follower, its fringe by a delayed detector.

    `fringe`: whether the delayed detector "may" fire there, "must" or does "not".
    """
    setup = unit(4, {"fringe": F.ENTRY_EXIT, "follower": F.ENTRY_ROUTE})
    corner = sees(corner="fringe")
    floor = Floor(
        (("pantry", "corner"), ("corner", "stair"), ("stair", "top"), ("top", "bedroom")),
        may=corner if fringe == "may" else {},
        passing={("pantry", "corner"): frozenset({"fringe"})} if fringe == "must" else {},
        sure=sees(stair="follower", top="follower"),
    )
    return floor.game(setup, when_set(setup), {"window": ("pantry", Tick())}, goals=("bedroom",), told=told)


def two_detectors_household(told: str, fringe: str = "may") -> Game:
    """The same two detectors on the way of somebody who comes home by a door without a contact and unsets."""
    setup = unit(4, {"fringe": F.ENTRY_EXIT, "follower": F.ENTRY_ROUTE})
    seen = frozenset({"fringe"})
    corner = Tick(seen) if fringe == "must" else Tick(may=seen if fringe == "may" else NONE)
    follower = frozenset({"follower"})
    route = [Tick(), corner, Tick(follower), Tick(follower), Tick(person=(UnsetArea("house"),))]
    return habit(setup, route, told)


def habit(setup: Setup, route: Sequence[Tick], told: str, hurries: bool = False) -> Game:
    """Somebody walks a route, a tick a second, begun with the unit set; the end is not wanted.

    Where one hurries, any second but a person's own may also be skipped.
    """
    moves = []
    for at in range(len(route)):
        onward = [(at + 1, at + 1)] if at + 1 < len(route) else []
        if hurries and at + 2 < len(route) and not route[at + 1].person:
            onward.append((at + 2, at + 2))
        moves.append(tuple(onward))
    return Game(setup, when_set(setup), tuple(route), tuple(moves), {"walk": ((0, 0),)}, told=told, quiet_wanted=True)


def way_in(function: Function) -> Callable[[str], Game]:
    """Coming home by the front door, past a detector of that function that surely sees it, to the keypad."""

    def made(told: str) -> Game:
        setup = unit(9, {"front": F.ENTRY_EXIT, "hall_sight": function})
        seen = frozenset({"hall_sight"})
        unset_area: tuple[Input, ...] = (UnsetArea("house"),)
        route = [opens("front"), Tick(may=seen), *[Tick(seen)] * 4, Tick(may=seen, person=unset_area)]
        return habit(setup, route, told, hurries=True)

    return made


# A ground floor of rooms in a ring, the bedroom upstairs beside the landing; at night the inside detectors are out.
RING = (("hall", "living"), ("living", "dining"), ("dining", "kitchen"), ("kitchen", "hall"), ("hall", "stairs"),
        ("stairs", "landing"), ("landing", "bedroom"))  # fmt: skip
RING_WAYS = {
    "front_door": ("hall", opens("front")),
    "kitchen_door": ("kitchen", opens("back")),
    "living_window": ("living", opens("living_window")),
    "dining_window": ("dining", Tick()),  # missed when the contacts were fitted
}


def ring(part: str, contacts: bool, entry_s: int = 5) -> Callable[[str], Game]:
    """The ring, set with nobody in or for the night; with `contacts` the missed window has one as well."""
    functions = {
        "front": F.ENTRY_EXIT, "back": F.ENTRY_EXIT, "living_window": F.AT_ONCE, "dining_window": F.AT_ONCE,
        "dining_sight": F.AT_ONCE, "hall_sight": F.ENTRY_ROUTE,
    }  # fmt: skip
    ways = RING_WAYS | ({"dining_window": ("dining", opens("dining_window"))} if contacts else {})

    def made(told: str) -> Game:
        setup = unit(entry_s, functions, left_out=("dining_sight", "hall_sight"))
        inside = sees(dining="dining_sight", kitchen="dining_sight", living="dining_sight", hall="hall_sight")
        sure = sees(hall="hall_sight", stairs="hall_sight", landing="hall_sight")
        floor = Floor(RING, may=inside, sure=sure)
        return floor.game(setup, when_set(setup, part), ways, goals=("bedroom",), told=told, part=part)

    return made


def corridor(told: str, length: int = 240, hatch: bool = True) -> Game:
    """A long corridor, cell by cell, two wide: many cells, a long delay, detectors along it."""
    names = {"door": F.ENTRY_EXIT, "near": F.ENTRY_ROUTE, "middle": F.ENTRY_EXIT}
    setup = unit(45, names)
    cells = [(f"a{at}", f"b{at}") for at in range(length)]
    joined = list(cells)
    for (a, b), (next_a, next_b) in pairwise(cells):
        joined += [(a, next_a), (b, next_b), (a, next_b), (b, next_a)]
    may = {name: frozenset({"near"}) for pair in cells[:40] for name in pair}
    may |= {name: frozenset({"middle"}) for pair in cells[30:90] for name in pair}
    floor = Floor(tuple(joined), may=may)
    ways = {"door": ("a0", opens("door"))} | ({"hatch": ("b100", Tick())} if hatch else {})
    return floor.game(setup, when_set(setup), ways, goals=(f"b{length - 1}",), told=told)


def with_faults(told: str) -> Game:
    """The ring set with nobody in, every window with a contact, under every single fault, and two at once."""
    whole = ring("", contacts=True)(told)
    devices = [zone.id for zone in whole.setup.zones]
    dead = tuple(Broken(f"dead_{device}", frozenset({device})) for device in devices)
    dead += (Broken("two_dead", frozenset({"living_window", "hall_sight"})),)
    outputs = (Broken("no_siren", no_siren=True), Broken("no_message", no_message=True))
    silent = Broken("neither", no_siren=True, no_message=True)
    return replace(whole, faults=(Broken(), *dead, *outputs, silent))


def resting(told: str) -> Game:
    """One sure detector that rests 6 s after each trip and says nothing meanwhile, a delayed one beside it."""
    setup = unit(7, {"porch": F.ENTRY_EXIT, "passage": F.ENTRY_ROUTE}, sleep_s=6)
    floor = Floor(
        (("porch", "passage"), ("passage", "end"), ("end", "study")),
        may=sees(porch="porch"),
        sure=sees(passage="passage", end="passage"),
    )
    return floor.game(setup, when_set(setup), {"window": ("porch", Tick())}, goals=("study",), told=told)


HOMES: dict[str, Callable[[str], Game]] = {
    "two_rooms": two_rooms,
    "two_detectors": two_detectors,
    "two_detectors_fringe_never": lambda told: two_detectors(told, "not"),
    "two_detectors_household": two_detectors_household,
    "two_detectors_household_fringe_sure": lambda told: two_detectors_household(told, "must"),
    "way_in_instant": way_in(F.AT_ONCE),
    "way_in_route": way_in(F.ENTRY_ROUTE),
    "night_window_missed": ring("night", contacts=False),
    "night_window_guarded": ring("night", contacts=True),
    "away_window_missed": ring("", contacts=False),
    "night_short_delay": ring("night", contacts=True, entry_s=3),
    "corridor": corridor,
    "corridor_by_the_door": lambda told: corridor(told, hatch=False),
    "faults": with_faults,
    "resting": resting,
}
BREACHED: dict[str, dict[str, bool]] = {
    # the fringe mutes the follower for 4 s, and the bedroom is 2 s away; nobody is unnoticed on the stair
    "two_rooms": {"noticed": True, "sounds": True},
    "two_detectors": {"noticed": False, "sounds": True},
    "two_detectors_fringe_never": {"noticed": False, "sounds": False},
    # coming home the other way round: silent only if the fringe does fire ("noticed" is what an entry delay is for)
    "two_detectors_household": {"sounds": True},
    "two_detectors_household_fringe_sure": {"sounds": False},
    "way_in_instant": {"sounds": True},
    "way_in_route": {"sounds": False},
    # in by the window that has no contact, up the stairs: at night nothing inside listens
    "night_window_missed": {"noticed": True, "sounds": True},
    "night_window_guarded": {"noticed": False, "sounds": True},  # by the doors: upstairs sooner than the 5 s
    "night_short_delay": {"noticed": False, "sounds": False},  # 3 s are less than the way up
    "away_window_missed": {"noticed": False, "sounds": True},
    # the hatch is beyond the detectors; from the door it is further than the delay
    "corridor": {"noticed": True, "sounds": True},
    "corridor_by_the_door": {"noticed": False, "sounds": False},
    "faults": {"noticed": True, "sounds": True},
    "resting": {"noticed": False, "sounds": True},
}
