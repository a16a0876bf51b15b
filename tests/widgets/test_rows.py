"""A form for each element of a list: it comes and goes with its element, and the others stay as they are."""

from pathlib import Path

import pytest

from alarmlib.model import Home
from alarmlib.model.control_unit import ControlUnit, PartSet
from alarmlib.pages.forms import build
from alarmlib.store import Edit, Session
from alarmlib.widgets.rows import NOTHING


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """A home with an entry/exit door and without part sets."""
    return Session.new(tmp_path / "home.json", Home())


def names(session: Session, *told: str) -> None:
    """The home has part sets of these names, each with its name as id."""
    sets = tuple(PartSet(id=name.lower(), name=name) for name in told)
    session.replace(session.home.model_copy(update={"control_unit": ControlUnit(part_sets=sets)}))


def test_a_new_part_set_has_its_form_at_once(session: Session) -> None:
    """None, one, two; each says its name, and the first is the same form as before."""
    stack = build(session, "part_set_doors")
    assert (stack.forms, repr(stack), len(stack.children)) == ((), NOTHING, 1)
    names(session, "Night")
    (night,) = stack.forms
    assert stack.children == (night,)
    names(session, "Night", "Evening")
    assert stack.forms[0] is night
    assert [form.title.count(name) for form, name in zip(stack.forms, ("Night", "Evening"), strict=True)] == [1, 1]


def test_one_that_goes_takes_its_form_along_and_a_new_name_is_said(session: Session) -> None:
    """The others stay the same forms; a form that is gone hears of no change any more."""
    stack = build(session, "part_set_doors")
    names(session, "Night", "Evening")
    night, evening = stack.forms
    names(session, "Evening")
    assert stack.children == (evening,)
    session.apply([Edit(("control_unit", "part_sets", "evening", "name"), "Evening", "Late")])
    (late,) = stack.forms
    assert late is not evening
    assert "Late" in late.title
    assert len(session._subscribers) == 2
    names(session)
    assert repr(stack) == NOTHING
    del night


def test_an_edit_elsewhere_leaves_the_children_alone(session: Session) -> None:
    """The list is as before: the browser is sent nothing."""
    names(session, "Night")
    stack = build(session, "part_set_doors")
    sent: list[object] = []
    stack.observe(sent.append, "children")
    session.apply([Edit(("note",), "", "Read in autumn.")])
    assert sent == []
