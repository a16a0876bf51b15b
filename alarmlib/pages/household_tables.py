"""The tables and forms of the pages, declared: people, pets, visitors, walks and habits."""

from alarmlib.model.household import Habit, HabitStep, Household, Person, Pet, StopwatchWalk, Visitor
from alarmlib.pages import choices as c
from alarmlib.pages.declaring import Group, List, Sheet, columns, first

HOUSEHOLD_SHEETS: dict[str, Sheet] = {
    "absence": Sheet(
        "How often nobody is at home",
        (Group("", Household, "empty long_winter_absence", ("household",)),),
        intro="A home that is empty for long needs somebody who looks in. Choose a band. Do not write dates.",
    ),
}

HOUSEHOLD_LISTS: dict[str, List] = {
    "people": List(
        "People",
        ("household", "people"),
        columns(
            Person,
            "role age slow can_unset sleeps_in deep_sleeper hard_of_hearing carries speed_m_s unlock_s keying_s "
            "entries_a_week fob user_slot needs_help_out trained_on note",
            fob=c.fobs,
        ),
        "person",
        blank=lambda _home: {"role": ""},
        essential="role age can_unset sleeps_in",
        more="These make the delays yours, and show who may not wake or needs help.",
        may_be_blank="sleeps_in",
    ),
    "pets": List(
        "Pets",
        ("household", "pets"),
        columns(
            Pet,
            "kind reaches_m free_when_empty free_in_night free_in_day mass_kg",
        ),
        "pet",
        blank=lambda _home: {"kind": ""},
        essential="kind reaches_m free_when_empty free_in_night",
        more="Detectors that ignore pets do so up to a weight.",
        may_be_blank="free_when_empty free_in_night",
    ),
    "visitors": List(
        "Visitors who come in",
        ("household", "visitors"),
        columns(Visitor, "role door often can_unset user_slot trained_on"),
        "visitor",
        blank=lambda _home: {"role": ""},
        essential="role door can_unset",
        more="These go onto the family's card.",
        may_be_blank="door",
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
        essential="name who times_a_week expected",
        more="Where and how it begins. A habit that you chose above has these filled in.",
        may_be_blank="who",
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
