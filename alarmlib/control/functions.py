"""The function table: what a trip does, for every function in every situation of its area.

The function says how a trip is treated; the part set says who is listening. A zone that is left out of
the set is in the column `LEFT_OUT`, whatever its function.
"""

from dataclasses import dataclass
from enum import IntEnum

from alarmlib.model.words import Function, Word


class Situation(IntEnum):
    """What an area is doing, as far as one of its zones is concerned; the columns of the table."""

    UNSET = 0
    EXIT = 1
    PART_SET = 2
    PART_AT_ONCE = 3
    LEFT_OUT = 4
    SET_FULL = 5
    ENTRY = 6
    ALARM = 7
    TEST = 8
    EXIT_INSIDE = 9


class Action(Word):
    """What the control unit does with a trip."""

    IGNORE = "ignore", "Nothing happens; the trip is only logged."
    CHIME = "chime", "The keypad chimes, if the chime is on."
    LEAVE = "leave", "It counts as leaving. When it opens again, the exit delay restarts once."
    OFF_ROUTE = (
        "off_route",
        "It is off the way out: alarm at once, or setting is held up, whichever the control unit does.",
    )
    ENTRY = "entry", "The entry delay starts."
    LATER = (
        "later",
        "The running delay goes on. It is never lengthened, and is shortened only if the control unit does that.",
    )
    WAIT = "wait", "It waits for the running entry delay."
    ALARM = "alarm", "Burglary alarm at once."
    ALWAYS = "always", "Burglary alarm at once, set or not, without abort window."
    SILENT = "silent", "A message is sent; nothing sounds in the house."
    HOLD_UP = "hold_up", "Hold-up: siren and message, or message alone, whichever the control unit does."
    WARN = "warn", "A warning tone at the keypad, no siren."
    TAMPER_UNSET = "tamper_unset", "Inside tone, display and message; the outside siren stays silent."
    TAMPER_SETTING = "tamper_setting", "Inside tone, display and message, and setting is given up."
    TAMPER_SET = "tamper_set", "Inside and outside siren and a message."
    FIRE = "fire", "Fire pattern on every sounder and a message."
    CARBON_MONOXIDE = "carbon_monoxide", "Carbon monoxide pattern on every sounder and a message."
    WATER = "water", "A local tone and a message; no outside siren."
    LOW_TEMPERATURE = "low_temperature", "A local tone and a message; no outside siren."
    SHOW = "show", "It is shown on the keypad as seen in the test; nothing is sent."
    SET = "set", "The area is set from outside, nobody in."
    UNSET = "unset", "The area is unset."


OURS = "ours"
"""In place of a source key: the cell is our own decision."""


@dataclass(frozen=True)
class TableCell:
    """One cell of the table: what is done, the source's key or `OURS`, and a sentence."""

    action: Action
    source: str
    sentence: str


FunctionTable = tuple[tuple[Action, ...], ...]

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
    Function.ENTRY_EXIT: ("chime leave entry alarm ignore entry later entry show ignore", "pcppuppwcp"),
    Function.ENTRY_ROUTE: ("ignore ignore alarm alarm ignore alarm wait alarm show ignore", "ptpputtwct"),
    Function.AT_ONCE: ("chime off_route alarm alarm ignore alarm alarm alarm show ignore", "ptppwptwcw"),
    Function.WARN_UNSET: ("warn warn alarm alarm warn alarm alarm alarm show warn", "ppppwptwcp"),
    Function.ALWAYS_SIREN: ("always always always always always always always always show always", "ppppwppwcp"),
    Function.ALWAYS_MESSAGE: ("silent silent silent silent silent silent silent silent show silent", "ppppwppwcp"),
    Function.HOLD_UP: ("hold_up hold_up hold_up hold_up hold_up hold_up hold_up hold_up show hold_up", "ppppwppwcp"),
    Function.TAMPER: (
        " ".join(["tamper_unset", "tamper_setting", *["tamper_set"] * 6, "show", "tamper_setting"]),
        "eppppppwcp",
    ),
    Function.FIRE: ("fire fire fire fire fire fire fire fire fire fire", "lllllllfwl"),
    Function.CARBON_MONOXIDE: (" ".join(["carbon_monoxide"] * 10), "ppppwppwwp"),
    Function.WATER: ("water water water water water water water water show water", "ppppwppwwp"),
    Function.LOW_TEMPERATURE: (" ".join([*["low_temperature"] * 8, "show", "low_temperature"]), "ppppwppwwp"),
    Function.KEY_SWITCH: ("set unset unset unset unset unset unset unset ignore unset", "ppppwppwwp"),
    Function.UNUSED: (" ".join(["ignore"] * 10), "wwwwwwwwww"),
}

_SENTENCES = {
    (Function.ENTRY_EXIT, Situation.ALARM): "The siren sounds already; whoever comes in still gets the entry delay "
    "before this door counts as a second alarm.",
    (Function.ENTRY_EXIT, Situation.PART_AT_ONCE): "This part set gives it no delay: burglary alarm at once.",
    (Function.ENTRY_EXIT, Situation.ENTRY): "A later door never lengthens the running delay. With a shorter time "
    "of its own, it shortens the delay only if the control unit does that.",
    (
        Function.ENTRY_ROUTE,
        Situation.SET_FULL,
    ): "No entry delay is running, so nobody came by an entry/exit door: alarm.",
    (Function.ENTRY_ROUTE, Situation.ALARM): "The siren sounds already; this zone is added to the alarm.",
    (Function.AT_ONCE, Situation.ENTRY): "It does not wait: off the way in, burglary alarm at once.",
    (Function.AT_ONCE, Situation.EXIT_INSIDE): "People pass it on the way out: it does not count yet.",
    (Function.ENTRY_EXIT, Situation.EXIT_INSIDE): "People pass it on the way out: it is no door that was opened.",
    (
        Function.WARN_UNSET,
        Situation.LEFT_OUT,
    ): "It is left out of this set, so it is treated as when unset: a warning tone, no siren.",
    (
        Function.WARN_UNSET,
        Situation.EXIT,
    ): "A warning tone. If it is still open when the exit delay ends, setting is not completed.",
    (Function.FIRE, Situation.TEST): "A fire alarm is a fire alarm in test mode too.",
    (Function.CARBON_MONOXIDE, Situation.TEST): "A carbon monoxide alarm is given in test mode too.",
    (Function.TAMPER, Situation.LEFT_OUT): "A part set leaves out detection, never tamper.",
    (Function.KEY_SWITCH, Situation.TEST): "Setting waits until the test has ended.",
    (Function.UNUSED, Situation.TEST): "An unused zone does nothing, in test mode too.",
}


def _row(function: Function) -> tuple[TableCell, ...]:
    actions, letters = _ROWS[function]
    cells = zip(Situation, actions.split(), letters, strict=True)
    return tuple(
        TableCell(Action(name), _SOURCES[letter], _SENTENCES.get((function, situation), Action(name).text))
        for situation, name, letter in cells
    )


CELLS: dict[tuple[Function, Situation], TableCell] = {
    (function, situation): cell
    for function in Function
    for situation, cell in zip(Situation, _row(function), strict=True)
}
FUNCTION_AT: dict[Function, int] = {function: place for place, function in enumerate(Function)}
TABLE: FunctionTable = tuple(
    tuple(CELLS[function, situation].action for situation in Situation) for function in Function
)


def changed(table: FunctionTable, function: Function, situation: Situation, action: Action) -> FunctionTable:
    """The table with one cell changed: a unit that differs there, or a mutant for a test."""
    rows = [list(row) for row in table]
    rows[FUNCTION_AT[function]][situation] = action
    return tuple(tuple(row) for row in rows)
