"""The cautions of a step on its page: one tick for them all, and what the tick opens."""

from collections.abc import Mapping
from typing import Any

from alarmlib.checks.cautions import STEPS, before
from alarmlib.rules import say_of
from alarmlib.store import Session
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.gate import Gate
from alarmlib.widgets.spec import FieldSpec, FormSpec

TICK = "I have read this"
READ = "You have read these cautions."
APART = frozenset({"short_path", "test_plan"})  # steps whose cautions are a cell of their own


class CautionForm(Form):
    """Cautions with their tick; once they are read, the page opens with one line in their place."""

    def _folding(self, values: Mapping[str, Any]) -> dict[str, Any]:
        read = all(values.values())
        return {**super()._folding(values), "line": READ if read else "", "folded": read}


def caution_form(session: Session, cell: str) -> Form:
    """The cautions before a cell, with one tick; the ids of all of them are what the tick stores."""
    advices = before(cell)
    words = tuple(advice.id for advice in advices)
    tick = FieldSpec(("cautions_read",), TICK, control="tick", holds="bool", words=words)
    intro = "\n".join(f"⚠ {advice.text}" for advice in advices)
    return CautionForm(session, FormSpec(STEPS[cell].title, (("", (tick,)),), intro, summed=True), Extras())


def gated(session: Session, cell: str, form: Any) -> Any:
    """The form of a cell under the cautions before it, closed until they are ticked; alone where there are none."""
    words = frozenset(advice.id for advice in before(cell))
    if not words:
        return form
    where = f"in “{STEPS[cell].title}” above"
    closed = f"This form opens when you tick “{TICK}” {where}."
    caution = None if cell in APART else caution_form(session, cell)
    return Gate(
        session, lambda home: words <= set(home.cautions_read), form, lambda home: say_of(home)(closed), caution
    )
