"""People, pets and visitors, by role; what they habitually do and what should come of it."""

from collections.abc import Iterator

from alarmlib.model.household import Habit
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table, named
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_table, note_table, part_table, plain_value
from alarmlib.units import Kind

ID = "household"
TITLE = "People, pets and visitors"
NEEDS = ("household.people",)
LEVEL = Share.CLASS

_PEOPLE = (
    "role",
    "age",
    "slow",
    "carries",
    "speed_m_s",
    "keying_s",
    "unlock_s",
    "entries_a_week",
    "can_unset",
    "fob",
    "user_slot",
    "trained_on",
)
_SLEEP = ("role", "sleeps_in", "deep_sleeper", "hard_of_hearing", "needs_help_out")
_PETS = ("kind", "mass_kg", "reaches_m", "free_in_day", "free_in_night", "free_when_empty")
_VISITORS = ("role", "door", "often", "can_unset", "user_slot", "trained_on")


def build(context: Context) -> tuple[Block, ...]:
    """Who lives here, who comes, what they do."""
    return tuple(_tables(context))


def _tables(context: Context) -> Iterator[Block]:
    household = context.home.household
    yield part_table(context, "People", household.people, _PEOPLE)
    if context.sees(Share.OWNER):
        yield part_table(context, "Who sleeps where, and who may not wake", household.people, _SLEEP)
        yield from note_table(context, "Notes on people", household.people, ("note",))
        yield fact_table(context, "When nobody is at home", (household,))
    if household.pets:
        yield part_table(context, "Pets", household.pets, _PETS)
    if household.visitors and context.sees(Share.HELPER):
        yield part_table(context, "Visitors", household.visitors, _VISITORS)
    if household.habits and context.sees(Share.OWNER):
        rows = tuple(_habit(context, habit) for habit in household.habits)
        yield from note_table(context, "Notes on habits", household.habits, ("note",))
        yield Table("Habits the alarm has to live with", ("Habit", "Begins while", "Steps", "Should lead to"), rows)


def _habit(context: Context, habit: Habit) -> tuple[str, str, str, str]:
    begins = context.name("part set", habit.part_set) if habit.part_set else habit.begins_in.text
    steps = (
        " ".join(filter(None, (step.deed.text, context.any_name(step.place), _takes(context, step.seconds))))
        for step in habit.steps
    )
    who = f" ({context.any_name(habit.who)})" if habit.who else ""
    return named(habit.name) + who, begins, "; ".join(steps), habit.expected.text


def _takes(context: Context, seconds: float | None) -> str:
    return "" if seconds is None else f"({plain_value(seconds, Kind.TIME, context.home.units)})"
