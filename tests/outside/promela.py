"""A game written for SPIN: the control unit as the proof's table, the floor as its moves, one atomic step a second.

SPIN stores three kinds of states: the game's own, each once, since way in, fault, control and place are its whole
vector; one before the game has begun; and one in which every game that ended is put away (from the first state it may
be entered at will, so it is always there). `BESIDE` counts the last two.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import accumulate

from games import Broken, Game, Tick
from spin import Model

from alarmlib.proof.search.compiled import Compiled, Sign

BESIDE = 2
OVER = "way = 0; fault = 0; place = c_expr { OVER };"


def promela(game: Game, compiled: Compiled) -> Model:
    """The whole model; `compiled` grows by every state that any tick of the game may lead to."""
    kinds = sorted({kind for row in _kinds(game) for kind in row}, key=repr)
    control = list(_control(game, compiled, kinds))
    edges = [*game.moves, *game.ways.values(), ()]  # coming in is a move from a place of its own; over is one more
    sizes = {"PLACES": len(game.moves), "OVER": len(edges) - 1, "FAULTS": len(game.faults), "KINDS": len(kinds)}
    arrays = {
        "kind_of": [kinds.index(kind) for row in _kinds(game) for kind in row],
        "move_at": _starts(edges),
        "move_tick": [tick for row in edges for tick, _ in row],
        "move_to": [place for row in edges for _, place in row],
        "change_at": _starts(control),
        "change_to": [to for row in control for to, _ in row],
        "change_ends": [int(ends) for row in control for _, ends in row],
        "is_goal": [int(place in game.goals) for place in range(len(edges))],
    }
    most = {"move": max(map(len, edges)), "change": max(map(len, control))}
    return Model(tables(sizes, arrays), "\n".join(_body(most, len(game.ways), len(game.faults), game.quiet_wanted)))


def _kinds(game: Game) -> Iterator[list[tuple[Tick, bool, bool]]]:
    """For each tick, what is left of it under each fault, and which outputs reach nobody."""
    for number in range(len(game.ticks)):
        yield [(game.tick_under(number, broken), broken.no_siren, broken.no_message) for broken in game.faults]


def _control(
    game: Game, compiled: Compiled, kinds: Sequence[tuple[Tick, bool, bool]]
) -> Iterator[list[tuple[int, bool]]]:
    """For each control state before the end, for each kind of tick: where it may lead, and whether the game ends there.

    Control states are numbered in the order in which they are met; where the game ends the number doesn't matter.
    """
    met = {compiled.number(game.begin): 0}
    waiting = list(met)
    for state in waiting:  # it grows
        for tick, no_siren, no_message in kinds:
            broken = Broken(no_siren=no_siren, no_message=no_message)
            row = set()
            for choice in compiled.choices(state, tick.must, tick.may, tick.person):
                ends = told_by(game.told, choice.signs, broken)
                if not ends and choice.to not in met:
                    met[choice.to] = len(met)
                    waiting.append(choice.to)
                row.add((0 if ends else met[choice.to], ends))
            yield sorted(row)


def told_by(told: str, signs: Sign, broken: Broken) -> bool:
    """Whether the signs of a second tell somebody, as far as the fault lets them."""
    siren = bool(signs & Sign.SIREN) and not broken.no_siren
    message = bool(signs & Sign.MESSAGE) and not broken.no_message
    return siren or message or (told == "noticed" and bool(signs & Sign.DELAY))


def tables(sizes: Mapping[str, int], arrays: Mapping[str, Iterable[int]]) -> str:
    """Numbers and tables in C that are no part of the state."""
    rows = (f"static const int {name}[] = {{{','.join(map(str, values))}}};" for name, values in arrays.items())
    return "\n".join([*(f"#define {name} {size}" for name, size in sizes.items()), *rows, ""])


def _starts(rows: Sequence[Sequence[object]]) -> list[int]:
    return [0, *accumulate(len(row) for row in rows)]


def options(variable: str, many: str, most: int) -> str:
    """Any number from 0 below `many`, each by an option of its own."""
    rows = (f"    :: c_expr {{ {number} < {many} }} -> {variable} = {number}" for number in range(most))
    return "\n".join(["    if", *rows, "    fi;"])


def _body(most: dict[str, int], ways: int, faults: int, quiet_wanted: bool) -> Iterator[str]:
    row = "now.control*KINDS + kind_of[move_tick[now.move]*FAULTS + now.fault]"
    yield "int way, fault, control, place, move, change;  /* the last two: choices, 0 between the seconds */"
    yield "inline second() {"
    yield options("move", "move_at[now.place + 1] - move_at[now.place]", most["move"])
    yield "    move = move + c_expr { move_at[now.place] };"
    yield options("change", f"change_at[{row} + 1] - change_at[{row}]", most["change"])
    yield f"    change = change + c_expr {{ change_at[{row}] }};"
    breach = " assert(false)" if quiet_wanted else ""
    yield "    if"
    yield f"    :: c_expr {{ change_ends[now.change] }} -> {OVER} control = 0;{breach}"
    yield "    :: else -> control = c_expr { change_to[now.change] }; place = c_expr { move_to[now.move] };"
    yield "       assert(c_expr { !is_goal[now.place] })"
    yield "    fi;"
    yield "    move = 0; change = 0"
    yield "}"
    yield "active proctype game() {"
    yield "  atomic {"
    yield f"    if {' '.join(f':: fault = {number}' for number in range(faults))} fi;"
    yield f"    if {' '.join(f':: way = {number}' for number in range(ways))} :: place = c_expr {{ OVER }} fi;"
    yield "    if"
    yield f"    :: place -> {OVER} control = 0"
    yield "    :: else -> place = c_expr { PLACES } + way; second()"
    yield "    fi"
    yield "  }"
    yield "  do"
    yield "  :: atomic { c_expr { move_at[now.place + 1] > move_at[now.place] } -> second() }"
    yield "  od"
    yield "}"
