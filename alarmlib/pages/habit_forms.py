"""The forms of habits: those that one press adds, filled in from the home; and the table, a sentence beside each."""

from collections.abc import Callable
from functools import partial

from alarmlib.draft.habit_sentences import habit_sentences
from alarmlib.draft.habit_templates import Offer, offers
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.household import Habit
from alarmlib.pages.assessed import facts_of
from alarmlib.store import Edit, Session
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import ActionSpec, FormSpec

TITLE = "Habits to choose from"
_INTRO = "One press adds a habit. Its steps are filled in from your people, doors, keypads and rooms."
_NONE = "Every habit that fits what you entered is among yours."


class HabitOffers(Form):
    """A button for each habit that fits the home and is not there yet, and a line for each that lacks something."""

    def __init__(self, session: Session) -> None:
        super().__init__(session, lambda _units: FormSpec(TITLE, ()), Extras())

    def _specify(self, home: Home) -> None:
        """The buttons follow the home: a habit that is there is offered no more."""
        with facts_of(home) as facts:
            found = facts.ask(offers)
        ready = [(offer, offer.habit) for offer in found if offer.habit is not None]
        lines = [_INTRO if ready or not home.household.habits else _NONE, *_missing(found)]
        self.spec = FormSpec(TITLE, (), "\n".join(lines))
        self._fields = {}
        undo = [ActionSpec("Undo the last change", self._undo)] if home.household.habits else []
        self.extras = Extras((*(ActionSpec(offer.label, self._adding(habit)) for offer, habit in ready), *undo))

    def _adding(self, habit: Habit) -> Callable[[], str]:
        return partial(self.add, habit)

    def add(self, habit: Habit) -> str:
        """Put the habit among those of the household, as one save. Raises AlarmProblem when it is there."""
        if any(each.id == habit.id for each in self.session.refresh().household.habits):
            raise AlarmProblem(f"“{habit.name}” is among your habits already.")
        self.session.apply([Edit(("household", "habits", habit.id), None, habit.model_dump(mode="json"))])
        return f"“{habit.name}” is among your habits. {habit_sentences(self.session.home)[habit.id]}"

    def _undo(self) -> str:
        self.session.undo()
        return "The last change is undone."


def _missing(found: tuple[Offer, ...]) -> list[str]:
    """One line for each thing that is missing, with the templates that wait for it."""
    waiting: dict[str, list[str]] = {}
    for offer in found:
        if offer.habit is None:
            waiting.setdefault(offer.missing, []).append(offer.label)
    return [f"{', '.join(labels)}: {missing}" for missing, labels in waiting.items()]
