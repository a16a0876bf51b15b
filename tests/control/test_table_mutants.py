"""Every cell of the function table against a list written by hand, and every changed cell against that list.

The list says what a person in the house and those who get messages notice when one zone trips, is normal, and
trips again (seconds 0, 1, 2, 3), beside the same house where it doesn't. Numbers are seconds after the trip; "-"
means that something known does not happen then. Siren "io" sounds inside and outside, "i" inside only.
"""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from alarmlib.control.functions import TABLE, Action, FunctionTable, Situation, changed
from alarmlib.control.inputs import Closes, Input, Opens, SetArea, TestStart, UnsetArea
from alarmlib.control.machine import Trace, run
from alarmlib.control.setup import Behaviour, OffRouteTrip, Setup
from alarmlib.control.setup_parts import AreaSetup, PartSetup, ZoneSetup
from alarmlib.model.words import Function

S, F = Situation, Function
# exit 6 s, entry 5 s by the front door but 2 s by the zone under test, siren 8 s, abort window 1 s
AREA = AreaSetup(
    "house",
    exit_s=6,
    entry_s=5,
    siren_s=8,
    abort_s=1,
    parts=(
        PartSetup("night"),
        PartSetup("bare", left_out=frozenset({"z"})),
        PartSetup("once", doors_at_once=frozenset({"z"})),
    ),
)
FACTS = Behaviour(
    off_route=OffRouteTrip.BLOCKS, later_door_shortens=True, recent_closing_s=0, exit_last_s=0, wrong_code_limit=3
)
# what leads to each situation, and the second of the trip
BEFORE: dict[Situation, tuple[dict[int, tuple[Input, ...]], int]] = {
    S.UNSET: ({}, 1),
    S.EXIT: ({0: (SetArea("house"),)}, 1),
    S.PART_SET: ({0: (SetArea("house", "night"),)}, 2),
    S.PART_AT_ONCE: ({0: (SetArea("house", "once"),)}, 2),
    S.LEFT_OUT: ({0: (SetArea("house", "bare"),)}, 2),
    S.SET_FULL: ({0: (SetArea("house", outside=True),)}, 2),
    S.ENTRY: ({0: (SetArea("house", outside=True),), 1: (Opens("front"),)}, 2),
    S.ALARM: ({0: (SetArea("house", outside=True),), 1: (Opens("glass"),)}, 3),
    S.TEST: ({0: (TestStart(),)}, 1),
    S.EXIT_INSIDE: ({0: (SetArea("house"),)}, 1),
}
HORIZON_S = 9
EXITS = (S.EXIT, S.EXIT_INSIDE)

# Written by hand: what each word of the lists below means, in each situation that uses it.
SEEN: dict[str, dict[str, int]] = {
    "nothing": {},
    "chime": {"tone chime": 0},
    # closed after a second, opened again: six seconds again from second 2, so set at 8 instead of 5
    "restart": {"shown set": 8, "tone set": 8, "tone exit": 5, "-shown set": 5, "-tone set": 5},
    "blocks": {"shown blocks z": 0, "tone refused": 0},
    "delay": {"tone entry": 0, "siren burglary io": 2, "message burglary z": 3, "shown was_alarm z": 2},
    # the siren sounds already and would stop at 6; delay of 2 s, then a message at once, the siren goes on
    "second_delay": {
        "tone entry": 0,
        "shown was_alarm glass": 0,
        "message burglary z": 2,
        "siren burglary io": 6,
        "shown was_alarm z glass": 2,
    },
    # 4 s were left, 2 s are left now
    "shorter": {
        "siren burglary io": 2,
        "message burglary z front": 3,
        "-message burglary front": 5,
        "shown was_alarm z front": 2,
        "message burglary z": 4,
    },
    # tripped while waiting: named in the message that was due anyway
    "waits": {"message burglary z front": 5, "-message burglary front": 5},
    "alarm": {"siren burglary io": 0, "message burglary z": 1},
    "alarm_in_entry": {
        "siren burglary io": 0,
        "message burglary z": 1,
        "message burglary front": 4,
        "-message burglary front": 5,
    },
    "alarm_again": {"message burglary z": 0, "siren burglary io": 6},
    "always": {"siren burglary io": 0, "message burglary z": 0},
    "always_in_entry": {
        "siren burglary io": 0,
        "message burglary z": 0,
        "message burglary front": 4,
        "-message burglary front": 5,
    },
    "silent": {"message burglary z": 0},
    "silent_in_entry": {"message burglary z": 0, "message burglary front": 4, "-message burglary front": 5},
    "hold_up": {"siren hold_up io": 0, "message hold_up z": 0},
    # hold-up outranks the burglar siren that sounds, or is due at 4
    "hold_up_in_entry": {"siren hold_up io": 0, "message hold_up z": 0, "-siren burglary io": 4},
    "hold_up_in_alarm": {"siren hold_up io": 0, "message hold_up z": 0, "-siren burglary io": 0},
    "warn": {"tone fault": 0, "shown warn_unset z": 0},
    "tamper_in": {"siren tamper i": 0, "message tamper z": 0, "shown tamper z": 0},
    # setting is given up at once
    "tamper_setting": {
        "siren tamper i": 0,
        "message tamper z": 0,
        "shown tamper z": 0,
        "-tone exit": 0,
        "-shown set": 5,
        "-tone set": 5,
    },
    "tamper_set": {"siren tamper io": 0, "message tamper z": 0, "shown tamper z": 0},
    # burglary outranks tamper
    "tamper_in_alarm": {"message tamper z": 0, "shown tamper z": 0, "siren burglary io": 6},
    "fire": {"siren fire io": 0, "message fire z": 0},
    "fire_in_entry": {"siren fire io": 0, "message fire z": 0, "-siren burglary io": 4},
    "fire_in_alarm": {"siren fire io": 0, "message fire z": 0, "-siren burglary io": 0},
    "co": {"siren carbon_monoxide io": 0, "message carbon_monoxide z": 0},
    "co_in_entry": {"siren carbon_monoxide io": 0, "message carbon_monoxide z": 0, "-siren burglary io": 4},
    "co_in_alarm": {"siren carbon_monoxide io": 0, "message carbon_monoxide z": 0, "-siren burglary io": 0},
    "water": {"tone water": 0, "message water z": 0},
    "frost": {"tone low_temperature": 0, "message low_temperature z": 0},
    "show": {"shown seen_in_test z": 0},
    # the key turned once sets, turned again unsets
    "key_sets": {"shown set": 0, "tone set": 0, "tone unset": 2},
    # the key unsets, and turned again at 2 sets from outside without exit time
    "key_in_exit": {"tone unset": 0, "-tone exit": 0, "shown set": 2, "tone set": 2, "-shown set": 5, "-tone set": 5},
    "key_unsets": {"tone unset": 0, "shown set": 2, "tone set": 2},
    # the front door is still open, so setting again is refused
    "key_in_entry": {
        "tone unset": 0,
        "-tone entry": 0,
        "tone refused": 2,
        "refused zone_open front": 2,
        "-siren burglary io": 4,
        "-message burglary front": 5,
    },
    # the message had gone out: cancelled; the glass stays broken, so setting again is refused
    "key_in_alarm": {
        "tone unset": 0,
        "-siren burglary io": 0,
        "message burglary  cancel": 0,
        "shown cancelled": 0,
        "shown was_alarm glass": 0,
        "tone refused": 2,
        "refused zone_open glass": 2,
    },
}

# Written by hand, in the order of Situation:
# unset, exit, part, part at once, left out, nobody in, entry, alarm, test, exit for what is inside and passed
EXPECTED: dict[Function, str] = {
    F.ENTRY_EXIT: "chime restart delay alarm nothing delay shorter second_delay show nothing",
    F.ENTRY_ROUTE: "nothing nothing alarm alarm nothing alarm waits alarm_again show nothing",
    F.AT_ONCE: "chime blocks alarm alarm nothing alarm alarm_in_entry alarm_again show nothing",
    F.WARN_UNSET: "warn warn alarm alarm warn alarm alarm_in_entry alarm_again show warn",
    F.ALWAYS_SIREN: "always always always always always always always_in_entry alarm_again show always",
    F.ALWAYS_MESSAGE: "silent silent silent silent silent silent silent_in_entry silent show silent",
    F.HOLD_UP: "hold_up hold_up hold_up hold_up hold_up hold_up hold_up_in_entry hold_up_in_alarm show hold_up",
    F.TAMPER: "tamper_in tamper_setting tamper_set tamper_set tamper_set tamper_set tamper_set tamper_in_alarm show "
    "tamper_setting",
    F.FIRE: "fire fire fire fire fire fire fire_in_entry fire_in_alarm fire fire",
    F.CARBON_MONOXIDE: "co co co co co co co_in_entry co_in_alarm co co",
    F.WATER: "water water water water water water water water show water",
    F.LOW_TEMPERATURE: "frost frost frost frost frost frost frost frost show frost",
    F.KEY_SWITCH: "key_sets key_in_exit key_unsets key_unsets key_unsets key_unsets key_in_entry key_in_alarm nothing "
    "key_in_exit",
    F.UNUSED: "nothing nothing nothing nothing nothing nothing nothing nothing nothing nothing",
}


def tokens(trace: Trace, second: int) -> set[str]:
    """What is noticed in a second, as words."""
    out = trace[second].outputs
    found = {f"siren {x.pattern} {'i' * x.inside}{'o' * x.outside}" for x in out.sirens}
    found |= {f"tone {x.tone}" for x in out.tones}
    found |= {" ".join(("message", x.kind, " ".join(x.about), *x.marks)) for x in out.messages}
    found |= {" ".join(("shown", x.notice, *x.about)) for x in out.shown}
    found |= {f"refused {x.reason} {x.about}".strip() for x in out.refusals}
    return found


def house(function: Function, situation: Situation, table: FunctionTable, abort_s: int = 1, entry_s: int = 2) -> Setup:
    """The zone under test, a front door and a window."""
    inside = situation is S.EXIT_INSIDE
    zones = (
        ZoneSetup("z", function, ("house",), entry_s=entry_s, chime=True, inside=inside),
        ZoneSetup("front", F.ENTRY_EXIT, ("house",)),
        ZoneSetup("glass", F.AT_ONCE, ("house",)),
    )
    return Setup((replace(AREA, abort_s=abort_s),), zones, behaviour=FACTS, table=table)


def noticed(function: Function, situation: Situation, table: FunctionTable) -> dict[str, int]:
    """The first second after the trip in which each signal differs from the house without the trip."""
    setup = house(function, situation, table)
    before, trip_s = BEFORE[situation]
    probe = {0: (Opens("z"),), 1: (Closes("z"),), 2: (Opens("z"),), 3: (Closes("z"),)}
    after = {trip_s + second: events for second, events in probe.items()}
    without = run(setup, before, trip_s + HORIZON_S)
    with_trip = run(setup, before | after, trip_s + HORIZON_S)
    found: dict[str, int] = {}
    for second in range(HORIZON_S):
        seen, usual = tokens(with_trip, trip_s + second), tokens(without, trip_s + second)
        for token in (seen - usual) | {f"-{token}" for token in usual - seen}:
            found.setdefault(token, second)
    return found


def first_seen(trace: Trace, from_s: int, token: str) -> int | None:
    """The first second from `from_s` in which something is noticed, counted from there."""
    return next((x.at_s - from_s for x in trace[from_s:] if token in tokens(trace, x.at_s)), None)


SET = (S.PART_SET, S.PART_AT_ONCE, S.LEFT_OUT, S.SET_FULL, S.ENTRY, S.ALARM)


def afterwards(function: Function, situation: Situation, table: FunctionTable, word: str) -> bool:
    """By hand: a trip that does nothing leaves nothing behind, though the zone stays tripped.

    The front door opens 2 s later (7 s while setting) and nobody unsets in time: the alarm told at last is of
    the front door (and of the window that was broken before), never of this zone.
    """
    before, trip_s = BEFORE[situation]
    if word != "nothing" or (situation not in SET and (function is not F.UNUSED or situation not in EXITS)):
        return True
    comes_s = trip_s + (7 if situation in EXITS else 2)
    scenario = before | {trip_s: (Opens("z"),), comes_s: (Opens("front"),), comes_s + 10: (UnsetArea("house"),)}
    trace = run(house(function, situation, table), scenario, comes_s + 11)
    expected = "shown was_alarm front glass" if situation is S.ALARM else "shown was_alarm front"
    return expected in tokens(trace, comes_s + 10)


def at_exit_end(function: Function, situation: Situation, table: FunctionTable, word: str) -> bool:
    """By hand: still tripped when the exit time ends 5 s later, the way out alarms; what delays, 2 s after that."""
    if situation not in EXITS or word != "nothing":
        return True
    before, trip_s = BEFORE[situation]
    trace = run(house(function, situation, table), before | {trip_s: (Opens("z"),)}, trip_s + 10)
    expected = {F.ENTRY_ROUTE: 5, F.AT_ONCE: 5, F.ENTRY_EXIT: 7, F.UNUSED: None}[function]
    return first_seen(trace, trip_s, "siren burglary io") == expected


def never_longer(function: Function, situation: Situation, table: FunctionTable, word: str) -> bool:
    """By hand: with 9 s of its own, a later door leaves the 4 s that are left."""
    if word != "shorter":
        return True
    before, trip_s = BEFORE[situation]
    trace = run(house(function, situation, table, entry_s=9), before | {trip_s: (Opens("z"),)}, trip_s + 12)
    return first_seen(trace, trip_s, "siren burglary io") == 4


def held_or_not(function: Function, situation: Situation, table: FunctionTable, word: str) -> bool:
    """By hand: with an abort window of 4 s, 2 s of it left, a burglary zone waits with the first; one that is
    never switched off doesn't wait."""
    if situation is not S.ALARM or word != "alarm_again":
        return True
    before, trip_s = BEFORE[situation]
    trace = run(house(function, situation, table, abort_s=4), before | {trip_s: (Opens("z"),)}, trip_s + 6)
    if function is F.ALWAYS_SIREN:
        return first_seen(trace, trip_s, "message burglary z") == 0
    alone = first_seen(trace, trip_s, "message burglary z")
    return alone is None and first_seen(trace, trip_s, "message burglary z glass") == 2


def still_set(function: Function, situation: Situation, table: FunctionTable, word: str) -> bool:
    """By hand: tamper in an alarm leaves the area set: the front door starts its delay 2 s later."""
    if word != "tamper_in_alarm":
        return True
    before, trip_s = BEFORE[situation]
    scenario = before | {trip_s: (Opens("z"),), trip_s + 2: (Opens("front"),)}
    trace = run(house(function, situation, table), scenario, trip_s + 4)
    return first_seen(trace, trip_s, "tone entry") == 2


def as_expected(function: Function, situation: Situation, table: FunctionTable, word: str) -> bool:
    """All that was written by hand about the cell."""
    more = (afterwards, at_exit_end, never_longer, held_or_not, still_set)
    return noticed(function, situation, table) == SEEN[word] and all(
        check(function, situation, table, word) for check in more
    )


CASES = [
    (function, situation, word)
    for function, words in EXPECTED.items()
    for situation, word in zip(Situation, words.split(), strict=True)
]


@pytest.mark.parametrize(("function", "situation", "word"), CASES, ids=[f"{f}-{s.name.lower()}" for f, s, _ in CASES])
def test_each_cell_does_what_the_list_says(function: Function, situation: Situation, word: str) -> None:
    """A trip of this function in this situation is noticed exactly as written by hand."""
    assert noticed(function, situation, TABLE) == SEEN[word]
    assert as_expected(function, situation, TABLE, word)


def same_by_hand(situation: Situation, one: Action, other: Action) -> bool:
    """Pairs of actions that mean the same in a situation, by reasoning, so that no list can distinguish them."""
    return any(
        {one, other} <= alike and situation in where
        for alike, where in (
            # leaving counts only while the exit time runs
            ({Action.LEAVE, Action.IGNORE}, set(Situation) - set(EXITS)),
            # waiting for an entry delay means nothing while there is none to come, and setting forgets it
            ({Action.WAIT, Action.IGNORE}, {S.UNSET, S.TEST}),
            ({Action.LATER, Action.IGNORE}, {S.UNSET, S.TEST}),
            # there is no setting to give up
            ({Action.TAMPER_UNSET, Action.TAMPER_SETTING}, {S.UNSET}),
            # the outside siren sounds already, for something of higher rank
            ({Action.TAMPER_UNSET, Action.TAMPER_SET}, {S.ALARM}),
        )
    )


def mutants() -> Iterator[tuple[Function, Situation, Action, str]]:
    """Every cell with every other action."""
    for function, situation, word in CASES:
        right = TABLE[list(Function).index(function)][situation]
        for wrong in Action:
            if wrong is not right and not same_by_hand(situation, right, wrong):
                yield function, situation, wrong, word


def test_every_changed_cell_is_caught() -> None:
    """A table with one cell changed to any other action is told from the right one by the list."""
    missed = [
        (function.value, situation.name, wrong.value)
        for function, situation, wrong, word in mutants()
        if as_expected(function, situation, changed(TABLE, function, situation, wrong), word)
    ]
    assert missed == []


def test_every_cell_has_a_mutant() -> None:
    """All 140 cells are changed, 21 ways each, but for the pairs that mean the same."""
    cells = {(function, situation) for function, situation, _, _ in mutants()}
    assert len(cells) == len(Function) * len(Situation) == 140
