"""What the proofs of habits and of pairs of habits take for granted, and what they leave out, in plain sentences."""

from collections.abc import Iterable, Iterator

from alarmlib.proof.habits.household import HabitProved
from alarmlib.proof.report.verdicts import Assumption

_ALWAYS = (
    Assumption(
        "habit_pace",
        "Everybody walks at their own mean pace, or as slowly or as fast as one walk in twenty. Walks whose seconds "
        "are entered change in the same ratio. Keying, doors and waits take the seconds entered, or those assumed.",
        "household.people",
    ),
    Assumption(
        "habit_seen",
        "In each second of a habit a motion detector may see, or miss, somebody in its room. The same goes for a room "
        "joined to it by an open doorway. It may see pets where they are free, unless it ignores them.",
    ),
    Assumption("habit_rest", "A detector that a habit is sure to trip is not in its sleep time when the habit begins."),
    Assumption("habit_door", "Nobody at home is seen in a room before they open the door into it."),
    Assumption(
        "habit_wait",
        "A wait of more than 15 min in a habit may end at any second; shorter waits are exact.",
    ),
    Assumption(
        "habit_end",
        "After the last step of a habit, whoever is indoors may move about where they are until every delay is over.",
    ),
    Assumption(
        "habit_keypad",
        "Whoever finds a keypad dead walks on to the nearest one that works. Nobody notices that a fob did nothing.",
    ),
    Assumption(
        "pair_begin",
        "The second of two habits begins at any second of the first in which its areas are set as it says. Any "
        "delay may be running then. Whoever has done their last step is no longer followed.",
    ),
    Assumption("pair_pace", "Two people both walk at their mean pace, both slowly or both fast."),
    Assumption("pair_door", "A door that two people use is open or closed as the last of them left it."),
)
HABITS_NOT_COVERED = (
    "One habit begun again before it is over, and paces between the slow, the mean and the fast one.",
    "Wireless devices whose messages come late, so that a detector is heard before the door that was opened first.",
)


def habit_assumptions(habits: Iterable[HabitProved]) -> Iterator[Assumption]:
    """Every assumption, last the walks of which no way is known; nothing when there are no habits.

    Our own list, of the modules beside this one.
    """
    habits = tuple(habits)
    if habits:
        yield from _ALWAYS
    for number, text in enumerate(dict.fromkeys(text for habit in habits for text in habit.assumed), 1):
        yield Assumption(f"habit_walk_{number}", f"{text[:1].upper()}{text[1:]}.", "site.passages")
