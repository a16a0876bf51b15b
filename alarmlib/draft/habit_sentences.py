"""A habit in one sentence: who does what, where, in order."""

from itertools import pairwise

from alarmlib.model.home import Home
from alarmlib.model.household import BeginsIn, Deed, Habit, HabitStep
from alarmlib.model.naming import ANYTHING, Names, name_in, names_of
from alarmlib.units import Kind, show

MOST_WORDS = 25  # a longer sentence is not read
_SAID: dict[Deed, str] = {
    Deed.WALK_TO: "walks to {place}",
    Deed.WAIT: "waits {time}",
    Deed.OPEN: "opens {place}",
    Deed.CLOSE: "closes {place}",
    Deed.SET_FULL: "sets the alarm with nobody in",
    Deed.SET_PART: "sets “{place}”",
    Deed.UNSET: "unsets the alarm",
    Deed.FOB_SET: "sets the alarm by fob",
    Deed.FOB_UNSET: "unsets the alarm by fob",
    Deed.LET_OUT: "leaves by {place} while the others stay set",
    Deed.WRONG_CODE: "enters a wrong code",
    Deed.INHIBIT: "leaves out {place} this time",
    Deed.SILENCE: "silences the siren",
    Deed.RESET: "resets the alarm",
    Deed.HOLD_UP: "presses the hold-up button",
    Deed.DISTURB: "shakes {place} from outside",
}
_MOVERS = ("person", "visitor", "pet")


def habit_sentences(home: Home) -> dict[str, str]:
    """What is done in each habit, a sentence each, by the habit's id."""
    names = names_of(home)
    return {habit.id: _sentence(home, names, habit) for habit in home.household.habits}


def _sentence(home: Home, names: Names, habit: Habit) -> str:
    told = [_deed(home, names, step) for step in _worth_telling(habit.steps)]
    if not told:
        return "No steps are entered yet."
    if {step.deed for step in habit.steps} == {Deed.WAIT} and not habit.who:
        return f"{_state(names, habit) or 'While nobody is in, '}only pets move, for {_time(home, habit.steps[0])}."
    sentences = (
        f"{_state(names, habit)}{_who(names, habit)} {_listed(told, kept)}." for kept in range(len(told), 0, -1)
    )
    return next((each for each in sentences if len(each.split()) <= MOST_WORDS), "It is told by its steps below.")


def _worth_telling(steps: tuple[HabitStep, ...]) -> list[HabitStep]:
    """The steps without what goes without saying: doors are closed, one walks to what one opens, the end is a wait."""
    kept = [step for step in steps if step.deed is not Deed.CLOSE]
    while len(kept) > 1 and kept[-1].deed is Deed.WAIT:
        kept.pop()
    opened_next = {step.id: after for step, after in pairwise(kept) if after.deed is Deed.OPEN}
    return [step for step in kept if step.deed is not Deed.WALK_TO or not _leads_to(step, opened_next.get(step.id))]


def _leads_to(walk: HabitStep, opening: HabitStep | None) -> bool:
    return opening is not None and opening.place == walk.place


def _state(names: Names, habit: Habit) -> str:
    """In which part set it happens, if in any."""
    if habit.begins_in is not BeginsIn.PART_SET or not habit.part_set:
        return ""
    return f"While “{_short(name_in(names, ANYTHING, habit.part_set))}” is set, "


def _who(names: Names, habit: Habit) -> str:
    found = (names.get((kind, habit.who)) for kind in _MOVERS)
    return next((name for name in found if name), "Somebody")


def _deed(home: Home, names: Names, step: HabitStep) -> str:
    place = _short(name_in(names, ANYTHING, step.place)) if step.place else "where they are"
    return _SAID[step.deed].format(place=place, time=_time(home, step))


def _time(home: Home, step: HabitStep) -> str:
    seconds = step.seconds or 0.0
    return show(seconds, Kind.TIME, home.units.value) if seconds < 120 else f"{round(seconds / 60):d} min"


def _listed(told: list[str], kept: int) -> str:
    """The first deeds, and how many more there are."""
    more = len(told) - kept
    deeds = [*told[:kept], *([f"{more} more steps" if more > 1 else "one more step"] if more else [])]
    return deeds[0] if len(deeds) == 1 else f"{', '.join(deeds[:-1])} and {deeds[-1]}"


def _short(name: str) -> str:
    """A name without what follows its colon."""
    return name.partition(":")[0]
