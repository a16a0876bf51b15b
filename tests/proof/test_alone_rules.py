"""Each rule of a unit alone is broken by a unit with that fault, and its counterexample plays on that unit."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from alarmlib.control import inputs as i
from alarmlib.control import machine
from alarmlib.control.functions import TABLE, Action, Situation, changed
from alarmlib.control.layout import SET_FULL_AT, A, U, Z
from alarmlib.control.setup import Behaviour, DoorAtEnd, OffRouteTrip, Override, Setup, ZoneAtEnd
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, WatchSetup, ZoneSetup
from alarmlib.control.signals import LogLine, Outputs, Timer, UnitEvent
from alarmlib.model.words import FaultKind, Function
from alarmlib.proof.report.verdicts import ProofVerdict, Proved
from alarmlib.proof.unit.alone import setups_proved
from alarmlib.proof.unit.rules import ONE_OUTCOME, RULES

Step = Callable[[Setup, Any, Sequence[i.Input]], Any]
HOUSE = ("house",)
ZONES = {
    "front": ZoneSetup("front", Function.ENTRY_EXIT, HOUSE, repeat_limit=2),
    "side": ZoneSetup("side", Function.ENTRY_EXIT, HOUSE, entry_s=3),
    "hall": ZoneSetup("hall", Function.ENTRY_ROUTE, HOUSE, (DeviceSetup("hall", lasting=False, sleep_s=3),)),
    "lounge": ZoneSetup("lounge", Function.AT_ONCE, HOUSE, (DeviceSetup("lounge", lasting=False),), inside=True),
    "landing": ZoneSetup("landing", Function.ENTRY_EXIT, HOUSE, (DeviceSetup("landing", lasting=False),), inside=True),
    "window": ZoneSetup("window", Function.AT_ONCE, HOUSE),
    "hatch": ZoneSetup("hatch", Function.WARN_UNSET, HOUSE),
    "smoke": ZoneSetup("smoke", Function.FIRE, HOUSE),
    "gas": ZoneSetup("gas", Function.CARBON_MONOXIDE, HOUSE),
    "leak": ZoneSetup("leak", Function.WATER, HOUSE, repeat_limit=2),
    "frost": ZoneSetup("frost", Function.LOW_TEMPERATURE, HOUSE),
    "button": ZoneSetup("button", Function.HOLD_UP, HOUSE, (DeviceSetup("button", lasting=False),)),
    "lid": ZoneSetup("lid", Function.TAMPER, HOUSE),
    "safe": ZoneSetup("safe", Function.ALWAYS_MESSAGE, HOUSE),
    "cabinet": ZoneSetup("cabinet", Function.ALWAYS_SIREN, HOUSE),
    "key": ZoneSetup("key", Function.KEY_SWITCH, HOUSE, (DeviceSetup("key", lasting=False),)),
}


def unit(*zones: str, **facts: Any) -> Setup:
    """A house with these zones; a night set with the side door at once; the mains are watched."""
    inside = frozenset({"hall", "lounge", "landing"})
    parts = (PartSetup("night", inside, frozenset({"side"}), 0), PartSetup("evening", inside, exit_s=5))
    area = AreaSetup("house", exit_s=5, entry_s=4, siren_s=6, abort_s=2, parts=parts)
    watch = WatchSetup("mains", FaultKind.MAINS, hold_s=4, stops_setting=True, areas=HOUSE)
    usual = {"wrong_code_limit": 3, "wrong_code_lock_s": 5, "ignore_after_power_s": 5, "test_s": 9}
    return Setup((area,), tuple(ZONES[name] for name in zones), (watch,), Behaviour(**(usual | facts)))


def breached(proved: tuple[Proved, ...]) -> set[str]:
    """The rules that do not hold."""
    assert all(each.verdict is not ProofVerdict.NOT_SETTLED for each in proved), [each.why for each in proved]
    return {each.id.removeprefix("unit/") for each in proved if each.verdict is ProofVerdict.BREACHED}


FACTS: dict[str, dict[str, Any]] = {
    "American habits": {},
    "European habits": {
        "off_route": OffRouteTrip.BLOCKS,
        "door_at_end": DoorAtEnd.NOT_SET,
        "zone_at_end": ZoneAtEnd.NOT_SET,
        "override": Override.ONE_SET_PERIOD,
    },
    "lengths compared": {"later_door_shortens": True, "exit_ends_by_door": True, "exit_after_door_s": 2},
    "buttons": {
        "exit_ends_by_button": True,
        "exit_delay_from_outside": True,
        "override": Override.NOT_OFFERED,
        "exit_restarts_once": False,
        "hold_up_silent": True,
        "wrong_code_limit": 0,
    },
}
GROUPS = (
    ("front", "hall"),
    ("side", "window"),
    ("landing", "lounge"),
    ("hatch", "lid", "safe", "cabinet", "key"),
    ("smoke", "gas", "leak", "frost", "button"),
)


@pytest.mark.parametrize("facts", FACTS.values(), ids=FACTS.keys())
@pytest.mark.parametrize("zones", GROUPS, ids="+".join)
def test_a_right_unit_keeps_every_rule_whatever_its_habits(zones: tuple[str, ...], facts: dict[str, Any]) -> None:
    """No rule is broken by what the owner's unit may lawfully do."""
    assert breached(setups_proved((unit(*zones, **facts),))) == set()


def shaped(name: str) -> Setup:
    """Setups of less usual shapes."""
    one = unit("front", "hall")
    area = one.areas[0]
    if name == "nobody left":
        return replace(one, areas=(replace(area, nobody_left="night"),))
    if name == "times of one second":
        return replace(one, areas=(replace(area, exit_s=1, entry_s=1, siren_s=1),))
    if name == "silent":
        return replace(one, zones=tuple(replace(zone, silent=True) for zone in one.zones))
    shed = AreaSetup("shed", 5, 3, 6, follows="house")
    return replace(one, areas=(area, shed), zones=(*one.zones, ZoneSetup("gate", Function.AT_ONCE, ("shed",))))


@pytest.mark.parametrize("name", ["nobody left", "times of one second", "silent", "an area that follows"])
def test_a_right_unit_of_another_shape_keeps_every_rule(name: str) -> None:
    """Nobody left, shortest times, silent zones, an area that follows another's entry."""
    assert breached(setups_proved((shaped(name),))) == set()


@pytest.mark.parametrize("heard", [False, True])
def test_fire_after_a_power_loss_is_as_the_units_manual_says(heard: bool) -> None:
    """Both kinds of unit keep the rule as it is worded for them; one that hears fire only later than said breaks it."""
    facts = {"life_heard_after_power": heard}
    (found,) = setups_proved((unit("smoke", **facts),), only=frozenset({"life_safety"}))
    assert found.verdict is ProofVerdict.HOLDS
    assert ("but not in the 5 s after the control unit's power returns" in found.sentence) is not heard

    def late(setup: Setup, state: Any, happened: Sequence[i.Input] = ()) -> Any:
        facts = replace(setup.behaviour, life_heard_after_power=False)
        return machine.step(replace(setup, behaviour=facts), state, happened)

    (found,) = setups_proved((unit("smoke", **facts),), step=late, only=frozenset({"life_safety"}))
    assert found.verdict is (ProofVerdict.BREACHED if heard else ProofVerdict.HOLDS)


IN = Situation
TABLE_FAULTS = (
    ("unset_is_silent", "window", Function.AT_ONCE, IN.UNSET, Action.ALARM),
    ("siren_has_cause", "hall", Function.ENTRY_ROUTE, IN.LEFT_OUT, Action.ALARM),
    ("left_out_is_still", "hall", Function.ENTRY_ROUTE, IN.LEFT_OUT, Action.ENTRY),
    ("at_once", "window", Function.AT_ONCE, IN.SET_FULL, Action.CHIME),
    ("at_once", "window", Function.AT_ONCE, IN.PART_SET, Action.ENTRY),
    ("at_once", "front lounge", Function.AT_ONCE, IN.ENTRY, Action.WAIT),
    ("at_once", "lid", Function.TAMPER, IN.UNSET, Action.SHOW),
    ("at_once", "side", Function.ENTRY_EXIT, IN.PART_AT_ONCE, Action.ENTRY),
    ("entry_delay", "front hall", Function.ENTRY_ROUTE, IN.ENTRY, Action.ENTRY),  # motion restarts the delay
    ("entry_delay", "front side", Function.ENTRY_EXIT, IN.ENTRY, Action.ENTRY),  # the next door restarts it
    ("entry_delay", "front", Function.ENTRY_EXIT, IN.SET_FULL, Action.IGNORE),
    ("entry_delay", "hall", Function.ENTRY_ROUTE, IN.SET_FULL, Action.ENTRY),
    ("life_safety", "smoke", Function.FIRE, IN.SET_FULL, Action.IGNORE),
    ("life_safety", "front smoke", Function.FIRE, IN.ENTRY, Action.SHOW),
    ("life_safety", "gas", Function.CARBON_MONOXIDE, IN.TEST, Action.SHOW),
    ("water_and_low_temperature", "leak", Function.WATER, IN.PART_SET, Action.IGNORE),
    ("water_and_low_temperature", "frost", Function.LOW_TEMPERATURE, IN.UNSET, Action.SHOW),
    ("hold_up", "button", Function.HOLD_UP, IN.UNSET, Action.IGNORE),
)


@pytest.mark.parametrize(("rule", "zones", "function", "situation", "action"), TABLE_FAULTS)
def test_a_wrong_cell_of_the_function_table_breaks_its_rule(
    rule: str, zones: str, function: Function, situation: Situation, action: Action
) -> None:
    """The fault is found, told step by step up to the second of the breach, and not found without it."""
    wrong = replace(unit(*zones.split()), table=changed(TABLE, function, situation, action))
    (found,) = setups_proved((wrong,), only=frozenset({rule}))
    assert found.id == f"unit/{rule}"
    assert found.verdict is ProofVerdict.BREACHED
    assert found.counterexample
    assert found.counterexample[-1].state.startswith("house is ")
    assert [beat.at_s for beat in found.counterexample] == sorted({beat.at_s for beat in found.counterexample})


def after_step(change: Callable[[Setup, Sequence[int], Sequence[i.Input], list[int]], None]) -> Step:
    """The unit with its state changed once more at the end of each second."""

    def step(setup: Setup, state: Any, happened: Sequence[i.Input] = ()) -> Any:
        after, out = machine.step(setup, state, happened)
        wrong = list(after)
        change(setup, state, happened, wrong)
        return tuple(wrong), out

    return step


def given(change: Callable[[Outputs], Outputs]) -> Step:
    """The unit with something else given out."""

    def step(setup: Setup, state: Any, happened: Sequence[i.Input] = ()) -> Any:
        after, out = machine.step(setup, state, happened)
        return after, change(out)

    return step


def of_area(place: A) -> int:
    """The place of a number of the only area."""
    return len(U) + place


def _keeps_delay(setup: Setup, before: Sequence[int], happened: Sequence[i.Input], after: list[int]) -> None:
    if before[of_area(A.ENTRY)] and any(isinstance(event, i.UnsetArea) for event in happened):
        after[of_area(A.ENTRY)] = setup.areas[0].entry_s


def _every_door_restarts(setup: Setup, before: Sequence[int], happened: Sequence[i.Input], after: list[int]) -> None:
    opened = any(isinstance(event, i.Opens) for event in happened)
    if opened and before[of_area(A.EXIT)] and after[of_area(A.EXIT)]:
        after[of_area(A.EXIT)] = setup.areas[0].exit_s


def _siren_stays(setup: Setup, before: Sequence[int], happened: Sequence[i.Input], after: list[int]) -> None:
    if before[of_area(A.SIREN)] and after[of_area(A.SIREN)]:
        after[of_area(A.SIREN)] = setup.areas[0].siren_s


def _inhibit_stays(setup: Setup, before: Sequence[int], happened: Sequence[i.Input], after: list[int]) -> None:
    slot = setup.layout.zones[0].base + Z.OUT if setup.zones else 0
    if slot and before[slot] and not any(isinstance(event, i.PutBack) for event in happened):
        after[slot] = before[slot]


def _power_unsets(setup: Setup, before: Sequence[int], happened: Sequence[i.Input], after: list[int]) -> None:
    if before[U.LOST] and not after[U.LOST]:
        after[of_area(A.SET)] = 0


def _code_fails_in_exit(setup: Setup, before: Sequence[int], happened: Sequence[i.Input], after: list[int]) -> None:
    if before[of_area(A.EXIT)] and happened and not after[of_area(A.SET)]:
        after[of_area(A.SET)] = SET_FULL_AT


def _wrong_codes_forgotten(setup: Setup, before: Sequence[int], happened: Sequence[i.Input], after: list[int]) -> None:
    after[U.WRONG] = after[U.LOCK] = 0


def _lets_set(setup: Setup, state: Any, happened: Sequence[i.Input] = ()) -> Any:
    watches = tuple(replace(watch, stops_setting=False) for watch in setup.watches)
    return machine.step(replace(setup, watches=watches), state, happened)


class Fickle:
    """A unit that forgets to log every seventh second."""

    def __init__(self) -> None:
        self.seconds = 0

    def __call__(self, setup: Setup, state: Any, happened: Sequence[i.Input] = ()) -> Any:
        """One second."""
        self.seconds += 1
        after, out = machine.step(setup, state, happened)
        return after, replace(out, log=out.log if self.seconds % 7 else ())


STEP_FAULTS: tuple[tuple[str, str, Step], ...] = (
    ("code_in_time", "front", after_step(_keeps_delay)),
    ("exit_ends", "front", after_step(_every_door_restarts)),
    ("siren_time", "window", after_step(_siren_stays)),
    ("inhibit_ends", "window", after_step(_inhibit_stays)),
    ("power_keeps", "window", after_step(_power_unsets)),
    ("code_unsets", "window", after_step(_code_fails_in_exit)),
    ("codes_limited", "window", after_step(_wrong_codes_forgotten)),
    ("fault_shown", "window", given(lambda out: replace(out, shown=()))),
    ("fault_stops", "window", _lets_set),
    (
        "log_has_cause",
        "window",
        given(lambda out: replace(out, log=(*out.log, LogLine(UnitEvent.ENTRY, "window", Timer.ENTRY)))),
    ),
)


@pytest.mark.parametrize(("rule", "zones", "step"), STEP_FAULTS, ids=[fault[0] for fault in STEP_FAULTS])
def test_a_wrong_unit_breaks_its_rule(rule: str, zones: str, step: Step) -> None:
    """A fault of the unit itself is found, and its counterexample plays on that unit."""
    (found,) = setups_proved((unit(*zones.split()),), only=frozenset({rule}), step=step)
    assert found.id == f"unit/{rule}"
    assert found.verdict is ProofVerdict.BREACHED
    assert found.counterexample


def test_a_unit_with_two_outcomes_is_found() -> None:
    """The same state and events that give something else the second time break the rule of one outcome."""
    (found,) = setups_proved((unit("window"),), only=frozenset({ONE_OUTCOME}), step=Fickle())
    assert found.verdict is not ProofVerdict.HOLDS


def test_every_rule_has_a_fault_that_breaks_it() -> None:
    """At least one seeded fault a rule."""
    seeded = {fault[0] for fault in (*TABLE_FAULTS, *STEP_FAULTS)}
    assert seeded == {rule.id for rule in RULES}


def test_a_restarted_delay_is_told_step_by_step() -> None:
    """Motion restarts the delay: the door, then the hall; the delay is 4 s again when it should have 3 s."""
    wrong = replace(unit("front", "hall"), table=changed(TABLE, Function.ENTRY_ROUTE, IN.ENTRY, Action.ENTRY))
    counterexample = setups_proved((wrong,), {"hall": "Hall motion"}, only=frozenset({"entry_delay"}))[0].counterexample
    assert "Hall motion is tripped" in counterexample[-1].place
    assert counterexample[-1].devices == ("hall",)
    assert counterexample[-1].zones == ("hall",)
    assert "4 s to unset" in counterexample[-1].state


def test_a_unit_without_limit_for_codes_is_told_what_holds_instead() -> None:
    """No limit is a fact, not a breach."""
    (proved,) = setups_proved((unit("window", wrong_code_limit=0),), only=frozenset({"codes_limited"}))
    assert proved.verdict is ProofVerdict.HOLDS
    assert "does not limit wrong codes" in proved.sentence
