"""Held timers only add behaviour: what a unit does second by second is among what is explored with its timers held."""

import importlib.util
import math
import operator
from collections.abc import Callable
from copy import copy
from functools import cache, partial
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from alarmlib.control import inputs as i
from alarmlib.control import machine
from alarmlib.control.layout import A, State, U
from alarmlib.control.setup import Behaviour, Setup
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, ZoneSetup
from alarmlib.model.words import Function
from alarmlib.proof.unit.cones import Cone, Family
from alarmlib.proof.unit.rules import RULES
from alarmlib.proof.unit.timer_abstraction import Guarded, Holder, LookedAtError, OneLess, Rest, explore, fell, least


def _explicit() -> ModuleType:
    """The explicit search of the control's own property test, with its small units and its runs."""
    path = Path(__file__).parents[1] / "control" / "test_properties.py"
    spec = importlib.util.spec_from_file_location("explicit_search", path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


EXPLICIT = _explicit()
RUNS = [*(("plain", run) for run in EXPLICIT.RUNS), ("short", "window"), ("short", "part set")]
ALL_RULES = {rule.id: rule.breaks for rule in RULES}


@cache
def edges_of(unit: str, run: str) -> Any:
    """Every second of a run of the explicit search."""
    return EXPLICIT.edges_of(EXPLICIT.UNITS[unit], EXPLICIT.RUNS[run])


def input_alphabet(run: str) -> list[Guarded]:
    """The events of a run of the explicit search, one a second."""
    return [Guarded(() if event is None else (event,)) for event in EXPLICIT.RUNS[run]]


@pytest.mark.parametrize(("unit", "run"), RUNS)
def test_without_holding_it_finds_what_the_explicit_search_finds(unit: str, run: str) -> None:
    """Equal states, equal seconds worked out, and the same verdict: every rule holds."""
    setup, edges = EXPLICIT.UNITS[unit], edges_of(unit, run)
    found = explore(setup, input_alphabet(run), ALL_RULES)
    assert found.complete
    assert found.states == {edge.before for edge in edges}
    assert found.steps == len(edges)
    assert found.broken == {}


@pytest.mark.parametrize(("unit", "run"), [each for each in RUNS if each[1] != "inhibit"])
def test_holding_only_adds_behaviour(unit: str, run: str) -> None:
    """Every second of the explicit search is among those with timers held, from the canonical form of its own state.

    The largest run is left to the random walks with zones left out over the whole house.
    """
    setup, holder = EXPLICIT.UNITS[unit], Holder(EXPLICIT.UNITS[unit])
    held = explore(setup, input_alphabet(run), ALL_RULES, holder)
    assert held.broken == {}
    known: dict[tuple[State, tuple[int, ...], tuple[i.Input, ...]], set[State]] = {}
    for edge in edges_of(unit, run):
        happened = () if edge.event is None else (edge.event,)
        for reduced in holder.canonical(edge.before):
            ended = tuple(slot for slot in holder.running(reduced) if at_end(holder, edge.before, slot))
            key = reduced, ended, happened
            if key not in known:
                known[key] = following(setup, holder, reduced, ended, happened)
            assert reduced in held.states
            assert known[key] & set(holder.canonical(edge.after))


def at_end(holder: Holder, state: State, slot: int) -> bool:
    """Whether this timer of a state of the explicit search ends in the next second."""
    return state[slot] == (3 if slot in holder.watches else 1) and not state[U.LOST]


def following(
    setup: Setup, holder: Holder, reduced: State, ended: tuple[int, ...], happened: tuple[i.Input, ...]
) -> set[State]:
    """What may follow when timers are held and exactly these end."""
    befores = dict(holder.befores(reduced))
    found = explore_one(setup, holder, befores[ended if not reduced[U.LOST] else ()], happened)
    return {state for after in found for state in holder.canonical(after)}


def explore_one(setup: Setup, holder: Holder, before: list[int], happened: tuple[i.Input, ...]) -> list[Any]:
    """One second, with every number where one was looked at."""
    try:
        return [machine.step(setup, tuple(before), happened)[0]]
    except LookedAtError as looked:
        slot = looked.slot
        exact = ([*before[:slot], n, *before[slot + 1 :]] for n in range(least(before[slot]), holder.longest[slot] + 1))
        return [after for each in exact for after in explore_one(setup, holder, each, happened)]


def lone_hall() -> Setup:
    """One delayed detector that may alarm once in a set period: entry 3 s, siren 2 s, no abort window."""
    zone = ZoneSetup("hall", Function.ENTRY_EXIT, ("house",), (DeviceSetup("hall", lasting=False),), repeat_limit=1)
    area = AreaSetup("house", exit_s=0, entry_s=3, siren_s=2)
    return Setup((area,), (zone,), (), Behaviour(recent_closing_s=0))


HALL = [Guarded(()), *(Guarded((event,)) for event in (i.Sees("hall"), i.SetArea("house"), i.UnsetArea("house")))]


def test_states_counted_by_hand() -> None:
    """One delayed detector, counted by hand.

    Unset: tripped or not, an alarm remembered or not: 4. Set: 1. Delay: 3 s just tripped, 2 and 1 s tripped or not:
    5. Alarm given (not heard again): siren 2, 1, 0 s, tripped or not: 6. Together 16. With timers held, delay 2 states
    and the siren 4: 4 + 1 + 2 + 4 = 11.
    """
    setup = lone_hall()
    exact, held = explore(setup, HALL, ALL_RULES), explore(setup, HALL, ALL_RULES, Holder(setup))
    assert (len(exact.states), exact.steps) == (16, 64)
    assert len(held.states) == 11
    assert exact.broken == held.broken == {}


def test_a_held_timer_can_be_counted_down_and_asked_whether_it_runs() -> None:
    """Nothing else: any other look at it says where it was looked."""
    rest = Rest(2, 7)
    assert rest
    assert rest > 0
    assert rest >= 2
    assert rest != 1
    assert not rest < 1
    assert not rest <= 1
    less = rest - 1
    assert isinstance(less, OneLess)
    assert fell(rest, less)
    assert less
    assert less > 0
    for look in (
        lambda: less - 1,
        lambda: rest - 2,
        lambda: rest > 2,
        lambda: rest == 5,
        lambda: rest < 3,
        lambda: rest >= 3,
        lambda: rest < 4,
        lambda: less == 1,
    ):
        with pytest.raises(LookedAtError) as looked:
            look()
        assert looked.value.slot == 7


# Every operator of the data model's "Emulating numeric types" and of containers (Python's language reference, 3.3.7
# and 3.3.8), and what turns a number into something else; `x - 1` and the comparisons are tested above.
TWO = ("add", "mul", "matmul", "truediv", "floordiv", "mod", "pow", "lshift", "rshift", "and_", "or_", "xor")
LOOKS: dict[str, Callable[[Any], object]] = {
    **{f"x {name} 1": partial(lambda name, x: getattr(operator, name)(x, 1), name) for name in TWO},
    **{f"10 {name} x": partial(lambda name, x: getattr(operator, name)(10, x), name) for name in (*TWO, "sub")},
    **{f"x {name} x": partial(lambda name, x: getattr(operator, name)(x, x), name) for name in (*TWO, "sub")},
    **{f"x i{name} 1": partial(lambda name, x: getattr(operator, name)(x, 1), f"i{name.rstrip('_')}")
       for name in TWO if name not in ("and_", "or_")},
    "x iand 1": lambda x: operator.iand(x, 1),
    "x ior 1": lambda x: operator.ior(x, 1),
    "x isub 2": lambda x: operator.isub(x, 2),
    "x - 1.0": lambda x: x - 1.0,
    "x - True": lambda x: x - True,
    "divmod(x, 2)": lambda x: divmod(x, 2),
    "divmod(10, x)": lambda x: divmod(10, x),
    "pow(2, x, 3)": lambda x: pow(x, 2, 3),
    **{f"{name}(x)": function for name, function in {
        "neg": operator.neg, "pos": operator.pos, "abs": abs, "invert": operator.invert, "int": int, "float": float,
        "complex": complex, "index": operator.index, "round": round, "trunc": math.trunc, "floor": math.floor,
        "ceil": math.ceil, "hash": hash, "str": str, "format": format, "range": range, "bytes": bytes, "len": len,
        "list": list, "bin": bin, "chr": chr, "sqrt": math.sqrt}.items()},
    "table[x]": lambda x: [5, 6, 7, 8][x],
    "table[:x]": lambda x: [5, 6, 7, 8][:x],
    "x[0]": lambda x: x[0],
    "1 in x": lambda x: 1 in x,
    "x in {2}": lambda x: x in {2},
    "'a' * x": lambda x: "a" * x,
    "sum": lambda x: sum([x, 1]),
    "max(x, 7)": lambda x: max(x, 7),
    "min(7, x)": lambda x: min(7, x),
    "sorted": lambda x: sorted([x, 3]),
    "x == x": lambda x: x == copy(x),
    "x < x": lambda x: x < copy(x),
    "x == 2.0": lambda x: x == 2.0,
    "x == None": lambda x: x == None,  # noqa: E711 - asked by `==` on purpose
    "x.bit_length()": lambda x: x.bit_length(),
    "x.real": lambda x: x.real,
    "x.numerator": lambda x: x.numerator,
    "%d": lambda x: f"{x:d}",
}  # fmt: skip


@pytest.mark.parametrize("held", [Rest(2, 7), Rest(3, 7) - 1], ids=["held", "one less"])
@pytest.mark.parametrize("look", LOOKS)
def test_every_other_look_at_a_held_timer_is_denied(look: str, held: Rest) -> None:
    """What isn't known for every length is refused, so that the second is worked out with every number instead."""
    with pytest.raises(LookedAtError) as looked:
        LOOKS[look](held)
    assert looked.value.slot == 7


def test_whatever_a_number_can_do_is_stated_or_denied() -> None:
    """No method of whole numbers, known today or added by a later Python, works on a held timer by default."""
    said = {name for name, what in vars(Rest).items() if getattr(what, "__module__", "") == Rest.__module__}
    of_any_object = set(dir(object)) - {"__eq__", "__ne__", "__lt__", "__le__", "__gt__", "__ge__", "__hash__"}
    assert set(dir(int)) - of_any_object - {"__getnewargs__"} <= said | {
        name for name, what in vars(Rest).items() if isinstance(what, property)
    }
    assert not isinstance(Rest(2, 7), int)


def test_where_a_unit_looks_every_number_is_tried() -> None:
    """A unit that sounds only when its siren has exactly 2 s left to go is found, though the siren is held."""
    setup = lone_hall()
    slot = len(U) + A.SIREN

    def step(setup: Setup, state: Any, happened: tuple[i.Input, ...]) -> Any:
        after, out = machine.step(setup, state, happened)
        return ((*after[:slot], 9, *after[slot + 1 :]), out) if after[slot] == 1 else (after, out)

    found = explore(setup, HALL, ALL_RULES, Holder(setup), step)
    assert "siren_time" in found.broken


def test_a_search_that_grows_too_large_says_so() -> None:
    """More states than allowed: not complete."""
    assert not explore(lone_hall(), HALL, {}, most=5).complete


def test_rules_are_asked_where_they_belong() -> None:
    """A rule about codes is asked where codes are given, one about smoke where there is a smoke detector."""
    by_id = {rule.id: rule for rule in RULES}
    use, codes = Cone(lone_hall(), Family.USE, ("hall",)), Cone(lone_hall(), Family.CODES, ("hall",))
    assert not by_id["codes_limited"].asked_of(use)
    assert by_id["codes_limited"].asked_of(codes)
    assert not by_id["life_safety"].asked_of(use)
    assert by_id["entry_delay"].asked_of(use)
