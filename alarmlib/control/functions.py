"""The function table: what a trip does, for every function in every situation of its area.

The function says how a trip is treated; the part set says who is listening. A zone that is left out of
the set stands in the column `LEFT_OUT`, whatever its function.
"""

from dataclasses import dataclass
from enum import IntEnum

from alarmlib.model.words import Function, Word


class Situation(IntEnum):
    """What an area is doing, as far as one of its zones is concerned; the columns of the table."""

    DISARMED = 0
    EXIT = 1
    PART = 2
    PART_AT_ONCE = 3
    LEFT_OUT = 4
    AWAY = 5
    ENTRY = 6
    ALARM = 7
    TEST = 8


SITUATION_TEXT = {
    Situation.DISARMED: "disarmed",
    Situation.EXIT: "exit delay running",
    Situation.PART: "part set, listening",
    Situation.PART_AT_ONCE: "part set, a final door without delay",
    Situation.LEFT_OUT: "set, but left out of this set",
    Situation.AWAY: "armed away",
    Situation.ENTRY: "entry delay running",
    Situation.ALARM: "siren sounding while set",
    Situation.TEST: "test mode",
}


class Action(Word):
    """What the control unit does with a trip."""

    IGNORE = "ignore", "Nothing happens; the trip is only logged."
    CHIME = "chime", "The keypad chimes, if the chime is on."
    LEAVE = "leave", "It counts as leaving; opened again, the exit time restarts once."
    OFF_ROUTE = "off_route", "Off the way out: alarm at once, or setting is held up, as the unit does."
    ENTRY = "entry", "The entry delay starts."
    LATER = "later", "The running delay goes on; it is never lengthened, and shortened only if the unit does so."
    WAIT = "wait", "It waits for the running entry delay."
    ALARM = "alarm", "Burglary alarm at once."
    ALWAYS = "always", "Burglary alarm at once, set or not, without abort window."
    SILENT = "silent", "A message is sent; nothing sounds in the house."
    PANIC = "panic", "Panic: siren and message, or message alone, as the unit does."
    TROUBLE = "trouble", "A trouble tone at the keypad, no siren."
    TAMPER_UNSET = "tamper_unset", "Inside tone, display and message; the outside siren stays still."
    TAMPER_SETTING = "tamper_setting", "Inside tone, display and message, and setting is given up."
    TAMPER_SET = "tamper_set", "Inside and outside siren and a message."
    FIRE = "fire", "Fire pattern on every sounder and a message."
    CARBON_MONOXIDE = "carbon_monoxide", "Carbon monoxide pattern on every sounder and a message."
    WATER = "water", "A local tone and a message; no outside siren."
    COLD = "cold", "A local tone and a message; no outside siren."
    SHOW = "show", "It is shown on the keypad as seen in the test; nothing is sent."
    ARM = "arm", "The area is armed away from outside."
    DISARM = "disarm", "The area is disarmed."


OURS = "ours"
"""In place of a source key: the cell is our own decision."""


@dataclass(frozen=True)
class Cell:
    """One cell of the table: what is done, the source's key or `OURS`, and a sentence."""

    action: Action
    source: str
    sentence: str


Table = tuple[tuple[Action, ...], ...]

# Columns in the order of Situation. Source letters: p = common trade practice, c = ANSI/SIA CP-01 4.2.2.3
# and 4.6.3, e = EN 50131-1 table 7, t = CLC/TS 50131-7 route rules, u = UL 1641 16.1, f = NFPA 72 household
# chapter (fire before all others), l = the same from memory (fire always on), w = our decision.
_SOURCES = {
    "p": "practice",
    "c": "cp01_exit_and_test",
    "e": "en50131_table7",
    "t": "ts50131_routes",
    "u": "ul1641_shunt",
    "f": "household_fire_72",
    "l": "life_safety_zones",
    "w": OURS,
}
_ROWS: dict[Function, tuple[str, str]] = {
    Function.FINAL_DOOR: ("chime leave entry alarm ignore entry later entry show", "pcppuppwc"),
    Function.ENTRY_ROUTE: ("ignore ignore alarm alarm ignore alarm wait alarm show", "ptpputtwc"),
    Function.PERIMETER: ("chime off_route alarm alarm ignore alarm alarm alarm show", "ptppwptwc"),
    Function.INTERIOR: ("ignore ignore alarm alarm ignore alarm alarm alarm show", "wwwwuwtwc"),
    Function.INTERIOR_DELAYED: ("ignore ignore entry entry ignore entry later entry show", "ppwwuppwc"),
    Function.DAY: ("trouble trouble alarm alarm trouble alarm alarm alarm show", "ppppwptwc"),
    Function.ALWAYS_AUDIBLE: ("always always always always always always always always show", "ppppwppwc"),
    Function.ALWAYS_SILENT: ("silent silent silent silent silent silent silent silent show", "ppppwppwc"),
    Function.PANIC: ("panic panic panic panic panic panic panic panic show", "ppppwppwc"),
    Function.TAMPER: (
        "tamper_unset tamper_setting tamper_set tamper_set tamper_set tamper_set tamper_set tamper_set show",
        "eppppppwc",
    ),
    Function.FIRE: ("fire fire fire fire fire fire fire fire fire", "lllllllfw"),
    Function.CARBON_MONOXIDE: (" ".join(["carbon_monoxide"] * 9), "ppppwppww"),
    Function.WATER: ("water water water water water water water water show", "ppppwppww"),
    Function.COLD: ("cold cold cold cold cold cold cold cold show", "ppppwppww"),
    Function.KEY_SWITCH: ("arm disarm disarm disarm disarm disarm disarm disarm ignore", "ppppwppww"),
    Function.UNUSED: (" ".join(["ignore"] * 9), "wwwwwwwww"),
}

_SENTENCES = {
    (Function.FINAL_DOOR, Situation.ALARM): "The siren sounds already; whoever comes in still gets the entry delay "
    "before this door counts as a second alarm.",
    (Function.FINAL_DOOR, Situation.PART_AT_ONCE): "This part set gives the door no delay: burglary alarm at once.",
    (Function.FINAL_DOOR, Situation.ENTRY): "A later door never lengthens the running delay; with a shorter time of "
    "its own it shortens it only if the unit does so.",
    (Function.ENTRY_ROUTE, Situation.AWAY): "No entry delay is running, so nobody came by a final door: alarm at once.",
    (Function.ENTRY_ROUTE, Situation.ALARM): "The siren sounds already; this zone is added to the alarm.",
    (Function.INTERIOR, Situation.ENTRY): "It does not wait: off the way in, burglary alarm at once.",
    (Function.INTERIOR_DELAYED, Situation.ALARM): "The siren sounds already; it gives the delay as a final door does.",
    (Function.DAY, Situation.LEFT_OUT): "Left out of this set it is treated as by day: a trouble tone, no siren.",
    (Function.DAY, Situation.EXIT): "A trouble tone; still open when the exit time ends, setting is not completed.",
    (Function.FIRE, Situation.TEST): "A fire alarm is a fire alarm in test mode too.",
    (Function.CARBON_MONOXIDE, Situation.TEST): "A carbon monoxide alarm is given in test mode too.",
    (Function.TAMPER, Situation.LEFT_OUT): "A part set leaves out detection, never tamper.",
    (Function.KEY_SWITCH, Situation.TEST): "Arming waits until the test has ended.",
    (Function.UNUSED, Situation.TEST): "An unused zone does nothing, in test mode too.",
}


def _row(function: Function) -> tuple[Cell, ...]:
    actions, letters = _ROWS[function]
    cells = zip(Situation, actions.split(), letters, strict=True)
    return tuple(
        Cell(Action(name), _SOURCES[letter], _SENTENCES.get((function, situation), Action(name).text))
        for situation, name, letter in cells
    )


CELLS: dict[tuple[Function, Situation], Cell] = {
    (function, situation): cell
    for function in Function
    for situation, cell in zip(Situation, _row(function), strict=True)
}
FUNCTION_AT: dict[Function, int] = {function: place for place, function in enumerate(Function)}
TABLE: Table = tuple(tuple(CELLS[function, situation].action for situation in Situation) for function in Function)


def changed(table: Table, function: Function, situation: Situation, action: Action) -> Table:
    """The table with one cell changed: a unit that differs there, or a mutant for a test."""
    rows = [list(row) for row in table]
    rows[FUNCTION_AT[function]][situation] = action
    return tuple(tuple(row) for row in rows)
