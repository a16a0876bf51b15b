"""What is to be done each month, half year and year, and after each change."""

from alarmlib.calc.electrical.power import due_day
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table
from alarmlib.record.context import Context
from alarmlib.record.section import section
from alarmlib.sources import cite

BATTERY = "Replace the standby battery by the date you wrote on it."

# The duties of intruder alarm upkeep and of published home safety guides, in our own words: (when, what, source).
DUTIES = (
    ("Each month", "Press the test button of every smoke and CO alarm; note it.", "upkeep_monthly_alarms"),
    ("Each month", "Look at the control unit: no fault shown, clock right, last events explained.", "practice"),
    ("Each month", "Before any test tell those who may hear it or get a message.", "caution_test_calls"),
    (
        "Each half year",
        "Walk test every detector and every door in its part sets; write down what was seen.",
        "upkeep_ts50131_7",
    ),
    ("Each half year", "Look at washing machine hoses, valves, sump and water sensors.", "upkeep_hoses"),
    ("Each half year", "Practise the way out, once by night.", "practice"),
    (
        "Each half year",
        "Change to the other season's settings, if there are any, and walk test what moved.",
        "practice",
    ),
    ("Each year", "Check that this record is still true, and correct it.", "upkeep_yearly_visit"),
    (
        "Each year",
        "Set and unset the alarm by each entry/exit door with the slowest person. Time it.",
        "upkeep_yearly_visit",
    ),
    (
        "Each year",
        "Test the tamper switch of each housing, the siren line, and each sounder with its stop time.",
        "upkeep_yearly_visit",
    ),
    (
        "Each year",
        "Unplug the supply: does the battery carry the system, is the loss shown, and does all come back?",
        "upkeep_yearly_visit",
    ),
    ("Each year", "Send a test message by each path; does everybody named still answer?", "upkeep_yearly_visit"),
    ("Each year", "Change device batteries by their dates; note the new dates.", "practice"),
    ("Each year", "Is every user still a user? Remove those who left; show the others again.", "upkeep_yearly_visit"),
    (
        "By its date",
        "Replace a smoke alarm ten years after it was made; a CO alarm by its maker's date.",
        "smoke_alarm_age",
    ),
    ("By its date", BATTERY, "practice"),
    (
        "After a change",
        "New use of a room, furniture, pet or building work: survey that room again and retest it.",
        "upkeep_ts50131_7",
    ),
)


@section("upkeep", "Upkeep", level=Share.CLASS)
def upkeep(context: Context) -> tuple[Block, ...]:
    """The list, with where each duty comes from and a column to date by hand; the battery's day where it is known."""
    due = due_day(context.home.wiring.supply) if context.sees(Share.HELPER) else ""
    battery = f"Replace the standby battery by {due}." if due else BATTERY
    told = [(when, battery if what == BATTERY else what, source) for when, what, source in DUTIES]
    rows = tuple((when, what, "", str(cite(source))) for when, what, source in told)
    return (Table("What is done when", ("When", "What", "Done on", "Where this comes from"), rows),)
