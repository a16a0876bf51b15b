"""Lists typed one a line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.draft.lines import MOST_LINES, commas, find, listed, pairs, slug
from alarmlib.errors import FieldProblem


@given(st.text(max_size=60), st.lists(st.text(max_size=12), max_size=8))
def test_slug__is_an_id_unlike_the_others(name: str, others: list[str]) -> None:
    """Whatever is typed, the id fits the model and stands once."""
    from pydantic import TypeAdapter

    from alarmlib.model.base import Id

    taken: list[str] = []
    for each in (name, *others, name):
        taken.append(slug(each, taken))
        TypeAdapter(Id).validate_python(taken[-1])
    assert len(set(taken)) == len(taken)


def test_listed__drops_blanks_and_bullets() -> None:
    """Blank lines and list marks are not names."""
    assert listed("- Hall\n\n  • Kitchen \n* Study", "Rooms") == ("Hall", "Kitchen", "Study")


def test_listed__a_name_twice() -> None:
    """The same name in other capitals is the same name."""
    with pytest.raises(FieldProblem, match=r"HALL.*once"):
        listed("Hall\nHALL", "Rooms")


def test_listed__too_many_lines() -> None:
    """One line more than allowed."""
    assert len(listed("\n".join(f"r{n}" for n in range(MOST_LINES)), "Rooms")) == MOST_LINES
    with pytest.raises(FieldProblem, match=rf"{MOST_LINES + 1} lines"):
        listed("\n".join(f"r{n}" for n in range(MOST_LINES + 1)), "Rooms")


def test_commas__or_semicolons() -> None:
    """Both separate."""
    assert commas("a, b;c ,, ") == ("a", "b", "c")


def test_pairs__want_a_colon() -> None:
    """A line without a room says what is wanted."""
    assert list(pairs("Back door: Kitchen", "Outside doors")) == [("Back door", "Kitchen")]
    with pytest.raises(FieldProblem, match=r"Outside doors.*Back door.*colon"):
        list(pairs("Back door", "Outside doors"))


def test_find__whatever_the_capitals() -> None:
    """A name is found in any capitals; an unknown one names those that are known."""
    assert find("KITCHEN", {"Kitchen": "kitchen"}, "Rooms", "rooms") == "kitchen"
    with pytest.raises(FieldProblem, match=r"Attic.*Kitchen"):
        find("Attic", {"Kitchen": "kitchen"}, "Rooms", "rooms")
