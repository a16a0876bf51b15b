"""Habits from templates: filled in from the home, quiet with adequate delays, and one sentence where they cannot be."""

from collections.abc import Callable

import pytest
from drafted_homes import british_home
from drawn_home import drawn_home

from alarmlib.control.simulate import simulate
from alarmlib.draft.habit_sentences import habit_sentences
from alarmlib.draft.habit_templates import offers
from alarmlib.model import Home
from alarmlib.model.devices import DeviceState
from alarmlib.model.household import BeginsIn, Deed, Expected, Habit, Pet
from alarmlib.model.questions import by_id
from alarmlib.model.words import DeviceKind
from alarmlib.proof.habits.household import habits_proved
from alarmlib.proof.report.verdicts import ProofVerdict

DELAY_S = 90.0  # longer than any walk of these homes


def without_habits(home: Home) -> Home:
    household = home.household.model_copy(update={"habits": ()})
    return home.model_copy(update={"household": household})


def with_delays(home: Home, entry_s: float = DELAY_S) -> Home:
    """The home with these delays for every door, in every season."""
    times = home.control_unit.times.model_copy(update={"entry_s": entry_s, "exit_s": DELAY_S, "doors": ()})
    return home.model_copy(
        update={"control_unit": home.control_unit.model_copy(update={"times": times, "seasons": ()})}
    )


def with_habit(home: Home, habit: Habit) -> Home:
    household = home.household.model_copy(update={"habits": (*home.household.habits, habit)})
    return Home.model_validate(home.model_copy(update={"household": household}).model_dump(), strict=True)


def ready(home: Home) -> dict[str, Habit]:
    return {offer.label: offer.habit for offer in offers(home) if offer.habit is not None}


HOMES: dict[str, Callable[[], Home]] = {"drawn": drawn_home, "drafted": british_home}
"""A home on a drawn plan, and one of rooms and doors alone."""


@pytest.mark.parametrize("name", HOMES)
def test_with_adequate_delays_none_gives_an_alarm(name: str) -> None:
    """Every template of a home without pets that a detector sees, played through the control unit."""
    home = HOMES[name]()
    home = with_delays(home.model_copy(update={"household": home.household.model_copy(update={"pets": ()})}))
    found = ready(without_habits(home))
    assert {label.partition(":")[0] for label in found} >= {"Coming home", "Going out", "At night", "Up at night"}
    runs = [simulate(home, habit) for habit in found.values()]
    assert [run.sentence for run in runs if run.reached is not Expected.QUIET] == []


def test_a_delay_that_is_too_short_is_told() -> None:
    """The template does not make the habit quiet: the control unit does."""
    home = with_delays(without_habits(drawn_home()), entry_s=5)
    assert simulate(home, ready(home)["Coming home: Front door"]).reached is Expected.ALARM


def test_the_steps_are_those_of_this_home() -> None:
    """The slowest who can unset comes in by the entry/exit door and walks to its nearest keypad."""
    habit = ready(without_habits(drawn_home()))["Coming home: Front door"]
    assert (habit.who, habit.starts_at, habit.begins_in) == ("parent", "front_door", BeginsIn.SET_FULL)
    assert [(step.deed, step.place) for step in habit.steps] == [
        (Deed.OPEN, "front_door"), (Deed.CLOSE, "front_door"), (Deed.WALK_TO, "keypad"), (Deed.UNSET, "house"),
    ]  # fmt: skip


def test_without_a_keypad_a_fob_unsets_before_the_door() -> None:
    home = without_habits(drawn_home())
    devices = tuple(
        each.model_copy(update={"state": DeviceState.REMOVED}) if each.kind is DeviceKind.KEYPAD else each
        for each in home.devices
    )
    found = ready(with_delays(home.model_copy(update={"devices": devices})))
    assert found["Coming home: Front door"].steps[0].deed is Deed.FOB_UNSET
    assert found["Going out: Front door"].steps[-1].deed is Deed.FOB_SET
    assert simulate(home, found["Coming home: Front door"]).reached is Expected.QUIET


def test_a_habit_that_is_there_is_offered_no_more() -> None:
    """Also one that its owner entered: what counts is how it begins, its doors and its codes."""
    home = drawn_home()
    assert "Coming home: Front door" not in ready(home)
    assert "At night" not in ready(home)
    labels = set(ready(without_habits(home)))
    for label, habit in ready(without_habits(home)).items():
        labels.discard(label)
        assert label not in ready(with_habit(without_habits(home), habit))
    assert labels == set()


def test_a_pet_is_where_it_may_be_and_nobody_else_moves() -> None:
    """A cat that climbs is seen by the hall's detector; one that may not be there is not."""
    home = without_habits(drawn_home())
    cat = Pet(id="cat", kind="Cat", mass_kg=4, reaches_m=1.5, free_when_empty=("living",), free_in_night=("bedroom",))
    home = home.model_copy(update={"household": home.household.model_copy(update={"pets": (cat,)})})
    found = ready(home)
    assert simulate(home, found["Cat alone at home"]).reached is Expected.ALARM
    assert simulate(home, found["Cat free at night"]).reached is Expected.QUIET
    unknown = cat.model_copy(update={"free_when_empty": (), "free_in_night": ()})
    home = home.model_copy(update={"household": home.household.model_copy(update={"pets": (unknown,)})})
    (offer,) = [offer for offer in offers(home) if offer.label.startswith("Cat")]
    assert offer.missing == "Nothing says where the cat may go. Choose its rooms in “Pets” on page 01."


def test_a_blank_home_says_what_is_missing_and_where() -> None:
    """One sentence for each thing, and no half-made habit."""
    found = offers(Home())
    assert [offer for offer in found if offer.habit is not None] == []
    assert {offer.missing for offer in found} == {
        "No way in is marked as “Used to leave and come home”. Mark one in “Ways in” on page 01.",
        "No part set is entered for the night. Enter one in “Part sets” on page 03.",
    }


def test_the_proof_reads_it_as_any_other_habit() -> None:
    """Each is proved, and none of this home fails."""
    home = with_delays(without_habits(drawn_home()))
    for habit in ready(home).values():
        home = with_habit(home, habit)
    found = {each.habit: each.proved.verdict for each in habits_proved(home)}
    assert found == {habit.id: ProofVerdict.HOLDS for habit in home.household.habits}


def test_each_is_told_in_one_sentence_of_at_most_25_words() -> None:
    home = without_habits(drawn_home())
    for habit in ready(home).values():
        home = with_habit(home, habit)
    told = habit_sentences(home)
    assert told["coming_home_front_door"] == "Parent opens Front door, walks to Keypad and unsets the alarm."
    assert all(len(sentence.split()) <= 25 and sentence.count(".") == 1 for sentence in told.values())
    assert by_id(home.household.habits).keys() == told.keys()
