"""The tables and forms of the pages, declared: people, pets, visitors, walks and habits."""

from alarmlib.model.household import Habit, HabitStep, Household, Person, Pet, StopwatchWalk, Visitor
from alarmlib.pages import choices as c
from alarmlib.pages.declaring import Group, List, Sheet, columns, first

HOUSEHOLD_SHEETS: dict[str, Sheet] = {
    "absence": Sheet(
        "How often nobody is at home",
        (Group("", Household, "empty long_winter_absence", ("household",)),),
        intro="Choose a band. Do not write dates in this file.",
    ),
}

HOUSEHOLD_LISTS: dict[str, List] = {
    "people": List(
        "People",
        ("household", "people"),
        columns(
            Person,
            "role age slow carries speed_m_s unlock_s keying_s entries_a_week can_unset fob user_slot sleeps_in "
            "deep_sleeper hard_of_hearing needs_help_out trained_on note",
            fob=c.fobs,
        ),
        "person",
        blank=lambda _home: {"role": ""},
    ),
    "pets": List(
        "Pets",
        ("household", "pets"),
        columns(
            Pet,
            "kind mass_kg reaches_m free_in_day free_in_night free_when_empty",
        ),
        "pet",
        blank=lambda _home: {"kind": ""},
    ),
    "visitors": List(
        "Visitors who come in",
        ("household", "visitors"),
        columns(Visitor, "role door often can_unset user_slot trained_on"),
        "visitor",
        blank=lambda _home: {"role": ""},
    ),
    "walks": List(
        "Walks by stopwatch",
        ("household", "walks"),
        columns(StopwatchWalk, "person door leaving first_s second_s third_s", door=c.entry_exit_doors),
        "walk",
        blank=lambda home: {"person": first(c.of("household.people"))(home), "door": first(c.entry_exit_doors)(home)},
        intro="Stop the time from opening the door until the alarm is unset, three times, at the person's own pace.",
    ),
    "habits": List(
        "Habits",
        ("household", "habits"),
        columns(
            Habit,
            "name who starts_at begins_in part_set area season times_a_week expected note",
        ),
        "habit",
        blank=lambda _home: {"name": ""},
    ),
}


def habit_steps(habit: Habit) -> List:
    """The table of what is done in one habit, step by step."""
    return List(
        f"Steps of the habit “{habit.name}”",
        ("household", "habits", habit.id, "steps"),
        columns(HabitStep, "deed place seconds"),
        "step",
        blank=lambda _home: {"deed": "wait"},
        intro="Enter the steps in order. A walk without seconds is worked out from the plan.",
    )
