"""What the page on times tells of habits: what goes wrong, and a line for each habit with what is done in it."""

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.people.habits import leads_where_it_should
from alarmlib.draft.habit_sentences import habit_sentences
from alarmlib.model.home import Home
from alarmlib.record.blocks import Block, Findings, Table, Text

_LEADS = {Verdict.OK: "Yes", Verdict.NOTE: "See above", Verdict.SHOULD: "No", Verdict.MUST: "No"}


def habit_blocks(home: Home) -> tuple[Block, ...]:
    """Each habit played once: those that do not lead where they should with what to do, then a line for each."""
    habits = home.household.habits
    if not habits:
        return (Text(("No habits are entered yet.",)),)
    played = {each.subject: each for each in leads_where_it_should.result(home, None) if isinstance(each, Finding)}
    wrong = tuple(each for each in played.values() if each.verdict is not Verdict.OK)
    told = habit_sentences(home)
    rows = tuple((habit.name, told[habit.id].removesuffix("."), _led(played[habit.id])) for habit in habits)
    table = Table("Your habits, each played once", ("Habit", "What is done", "Leads where it should"), rows)
    return (Findings(wrong), table) if wrong else (Text((_all_well(len(habits)),)), table)


def _all_well(count: int) -> str:
    return "Your habit leads where it should." if count == 1 else f"All {count} habits lead where they should."


def _led(finding: Finding) -> str:
    spare = f", {finding.margin} to spare" if finding.margin else ""
    return f"{_LEADS[finding.verdict]}{spare}"
