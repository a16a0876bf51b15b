"""Troubles the unit may show, what each does, and what to do."""

from alarmlib.model.words import RuleSet, Share, Trouble
from alarmlib.record.blocks import Block, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_text

ID = "troubles"
TITLE = "Troubles and what to do"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.HELPER

# What each trouble leaves working, and what is done about it; common practice, in our own words.
_ADVICE = {
    Trouble.MAINS: (
        "The system runs on its battery; messages may stop when the router has no power.",
        "Look at fuse and plug; ask how long it will last.",
    ),
    Trouble.BATTERY: (
        "All works while mains is there; nothing does without.",
        "Fit a new battery; write the date on it.",
    ),
    Trouble.DEVICE_MISSING: (
        "That device guards nothing.",
        "Look at it, its battery and what stands before it; test it.",
    ),
    Trouble.LOW_CELL: ("That device still works, for days or weeks.", "Fit a new cell soon; test it."),
    Trouble.TAMPER: ("A cover is open or a cable cut.", "Look before you clear it; then test that device."),
    Trouble.MESSAGE_PATH: (
        "The siren works; nobody is told by that path.",
        "Look at router and sender; send a test message.",
    ),
    Trouble.SIREN_LINE: ("The siren may not sound.", "Find the cable or siren fault before you leave the home empty."),
    Trouble.CLOCK: ("All works; times in the event list are wrong.", "Set the clock."),
}
# EN 50131-1 table 4: which conditions prevent setting; grade 1 leaves faults optional, grades 2 to 4 ask for it.
_EN_FAULTS = frozenset(Trouble) - {Trouble.CLOCK, Trouble.LOW_CELL}


def build(context: Context) -> tuple[Block, ...]:
    """Each trouble in words, and how long the unit waits before it says so, where that is known."""
    rows = tuple((trouble.text, *_ADVICE[trouble], _stops_arming(context, trouble)) for trouble in Trouble)
    hold = fact_text(context, context.home.unit.behaviour, "mains_hold_s")
    return (
        Table("Troubles", ("Shown", "What it means", "What to do", "Stops arming"), rows),
        Text((f"Lost mains is reported after: {hold}. The unit's papers say what it shows and when it clears.",)),
    )


def _stops_arming(context: Context, trouble: Trouble) -> str:
    rules = context.home.rules
    if rules.rule_set in (RuleSet.EUROPE, RuleSet.BRITAIN) and trouble in _EN_FAULTS:
        return "yes (EN 50131-1, table 4)" if rules.grade >= 2 else "may (EN 50131-1, table 4)"
    return "see the unit's papers"
