"""A small control unit written by hand for SPIN, straight from the words of the function table, not from our code.

One area, set long ago, nobody in or in part; each zone has one device; no abort window. Only what somebody who comes in
can set going is there:

- an entry/exit door that opens, and a detector inside with delay, begin the entry delay unless one runs;
- a detector of the entry route waits while an entry delay runs, else the siren sounds at once;
- a way in whose zone alarms at once, when it opens, and such a detector inside, sound at once;
- a contact that is open says nothing more; a delay of n seconds ends in the n-th second after it began, before
  anything else of that second, and then the siren sounds;
- whoever unsets it ends all that;
- of one second's trips, and unsetting among them, any order is possible.
"""

from collections.abc import Iterator, Sequence
from itertools import accumulate

from games import Game
from promela import OVER, options, tables
from spin import Model

from alarmlib.control.inputs import UnsetArea
from alarmlib.control.setup_parts import ZoneSetup
from alarmlib.model.words import Function

RULES = """
inline alarm() { if :: !disarmed -> sounds = true :: else fi }
inline begins() { if :: left_s == 0 && !disarmed -> left_s = ENTRY_S :: else fi }
inline entry_exit(device) { if :: opened & device :: else -> opened = opened | device; begins() fi }
inline at_once(device) { if :: opened & device :: else -> opened = opened | device; alarm() fi }
inline entry_route(device) { if :: left_s == 0 -> alarm() :: else fi }
inline at_once_inside(device) { alarm() }
inline entry_exit_inside(device) { begins() }
inline disarms() { disarmed = true; left_s = 0 }
inline a_second_goes() { if :: left_s > 1 -> left_s-- :: left_s == 1 -> left_s = 0; sounds = true :: else fi }
"""
KNOWN = frozenset({Function.ENTRY_EXIT, Function.AT_ONCE, Function.ENTRY_ROUTE})
UNSET = 1 << 20
REST = "left_s = 0; opened = 0; waited_s = 0;"


def promela_by_hand(game: Game, longest_wait_s: int | None = None) -> Model:
    """The model with the rules above; SPIN finds an error when a goal is reached before the end, or, where
    `longest_wait_s` is given, when an entry delay runs for more seconds than that.
    """
    (area,) = game.setup.areas
    zones = game.setup.zones
    assert {zone.function for zone in zones} <= KNOWN
    assert not area.abort_s
    assert all(zone.entry_s is None for zone in zones)
    bits = {device.id: 1 << place for place, zone in enumerate(zones) for device in zone.devices}
    called = [
        f"    :: trips & {bit} -> trips = trips & ~{bit}; {_rule(zone)}({bit})"
        for zone, bit in zip(zones, bits.values(), strict=True)
    ]
    called.append(f"    :: trips & {UNSET} -> trips = trips & ~{UNSET}; disarms()")
    edges = [*game.moves, *game.ways.values(), ()]
    body = _body(game, max(map(len, edges)), list(bits.values()), called, longest_wait_s)
    sizes = {"PLACES": len(game.moves), "OVER": len(edges) - 1}
    return Model(
        tables(sizes, _arrays(game, bits, edges)), "\n".join([f"#define ENTRY_S {area.entry_s}", RULES, *body])
    )


def _rule(zone: ZoneSetup) -> str:
    """A contact that stays open says nothing more; a detector inside trips again and again."""
    inside = not all(device.lasting for device in zone.devices) and zone.function is not Function.ENTRY_ROUTE
    return f"{zone.function.value}_inside" if inside else zone.function.value


def _arrays(game: Game, bits: dict[str, int], edges: Sequence[Sequence[tuple[int, int]]]) -> dict[str, list[int]]:
    return {
        "move_at": [0, *accumulate(map(len, edges))],
        "move_to": [place for row in edges for _, place in row],
        "must": [_mask(bits, game.ticks[tick].must) + _unsets(game, tick) for row in edges for tick, _ in row],
        "may": [_mask(bits, game.ticks[tick].may) for row in edges for tick, _ in row],
        "is_dead": [_mask(bits, broken.dead | _left_out(game)) for broken in game.faults],
        "is_goal": [int(place in game.goals) for place in range(len(edges))],
    }


def _mask(bits: dict[str, int], devices: frozenset[str]) -> int:
    return sum(bits[device] for device in devices if device in bits)


def _unsets(game: Game, tick: int) -> int:
    return UNSET if any(isinstance(deed, UnsetArea) for deed in game.ticks[tick].person) else 0


def _left_out(game: Game) -> frozenset[str]:
    """The zones that the set leaves out; here a zone and its one device have the same name."""
    return frozenset().union(*(part.left_out for part in game.setup.areas[0].parts if part.id == game.part))


def _body(game: Game, most: int, bits: list[int], called: list[str], longest_wait_s: int | None) -> Iterator[str]:
    timed = longest_wait_s is not None
    claim = f"waited_s <= {longest_wait_s}" if timed else "c_expr { !is_goal[now.place] }"
    breach = " assert(false)" if game.quiet_wanted and not timed else ""
    yield "int way, fault, place, left_s, opened, waited_s;"
    yield "int move, trips, may_trip; bool sounds, disarmed;  /* 0 between the seconds */"
    yield "inline second() {"
    yield options("move", "move_at[now.place + 1] - move_at[now.place]", most)
    yield "    move = move + c_expr { move_at[now.place] };"
    yield "    trips = c_expr { must[now.move] & ~is_dead[now.fault] };"
    yield "    may_trip = c_expr { may[now.move] & ~is_dead[now.fault] };"
    for bit in bits:
        yield f"    if :: may_trip & {bit} -> trips = trips | {bit} :: true fi;"
    yield "    a_second_goes();"
    yield "    do"
    yield from called
    yield "    :: trips == 0 -> break"
    yield "    od;"
    yield "    if :: left_s -> waited_s++ :: else -> waited_s = 0 fi;"
    yield "    if"
    yield f"    :: sounds{' || left_s > 0' if game.told == 'noticed' else ''} -> {OVER} {REST}{breach}"
    yield "    :: else -> place = c_expr { move_to[now.move] };"
    yield f"       assert({claim})"
    yield "    fi;"
    yield "    move = 0; trips = 0; may_trip = 0; sounds = false; disarmed = false"
    yield "}"
    yield "active proctype game() {"
    yield "  atomic {"
    yield f"    if {' '.join(f':: fault = {number}' for number in range(len(game.faults)))} fi;"
    yield f"    if {' '.join(f':: way = {number}' for number in range(len(game.ways)))} fi;"
    yield "    place = c_expr { PLACES } + way;"
    yield "    second()"
    yield "  }"
    yield "  do"
    yield "  :: atomic { c_expr { move_at[now.place + 1] > move_at[now.place] } -> second() }"
    yield "  od"
    yield "}"
