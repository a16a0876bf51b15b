"""Lists typed one a line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.draft.lines import Reader, commas, lines, slug
from alarmlib.model.short_path import ShortPath


@given(st.text(max_size=60), st.lists(st.text(max_size=12), max_size=8))
def test_slug__is_an_id_unlike_the_others(name: str, others: list[str]) -> None:
    """Whatever is typed, the id fits the model and is used once."""
    from pydantic import TypeAdapter

    from alarmlib.model.base import Id

    taken: list[str] = []
    for each in (name, *others, name):
        taken.append(slug(each, taken))
        TypeAdapter(Id).validate_python(taken[-1])
    assert len(set(taken)) == len(taken)


def test_lines__drop_blanks_and_bullets() -> None:
    """Blank lines and list marks are not names; a semicolon ends a line too."""
    assert lines("- Hall\n\n  • Kitchen \n* Study; Attic;") == ("Hall", "Kitchen", "Study", "Attic")


def test_commas__or_semicolons() -> None:
    """Both separate."""
    assert commas("a, b;c ,, ") == ("a", "b", "c")


def reader(**answers: str) -> Reader:
    """A reader of these answers."""
    return Reader(ShortPath(**answers))


@pytest.mark.parametrize(
    "text",
    [
        "Front door: Hall\nBack door: Kitchen",
        "Front door: Hall, Back door: Kitchen",
        "Front door: Hall; Back door: Kitchen",
    ],
)
def test_pairs__one_a_line_or_several(text: str) -> None:
    """Each colon begins an entry of its own, however the entries are separated."""
    asked = reader(outside_doors=text)
    assert list(asked.pairs("outside_doors")) == [("Front door", ("Hall",)), ("Back door", ("Kitchen",))]
    assert asked.wrong == []


def test_pairs__what_follows_an_entry_belongs_to_it() -> None:
    """Until the next colon."""
    asked = reader(inner_doors="Hall: Kitchen, Living room; Landing\nLanding: Bedroom")
    wanted = [("Hall", ("Kitchen", "Living room", "Landing")), ("Landing", ("Bedroom",))]
    assert list(asked.pairs("inner_doors")) == wanted


def test_pairs__want_a_colon() -> None:
    """A line without a room says what is wanted, in one sentence, and the other lines are read."""
    asked = reader(outside_doors="Back door\nFront door: Hall")
    assert list(asked.pairs("outside_doors")) == [("Front door", ("Hall",))]
    (wrong,) = asked.wrong
    assert wrong.field == "outside_doors"
    assert all(word in str(wrong.problem) for word in ("Outside doors", "Back door", "colon"))


def test_find__whatever_the_capitals() -> None:
    """A name is found in any capitals; an unknown one names those that are known."""
    asked = reader()
    assert asked.find("keypad_room", "KITCHEN", {"Kitchen": "kitchen"}, "rooms") == "kitchen"
    assert asked.find("keypad_room", "Attic", {"Kitchen": "kitchen"}, "rooms") is None
    assert "“Attic”" in str(asked.wrong[0].problem)
    assert "Kitchen" in str(asked.wrong[0].problem)


def test_chosen__and_joins_two_known_names_only() -> None:
    """“Front door and Back door” are two doors; a name that holds “and” is one."""
    asked = reader(home_by="Front door and Back door")
    assert asked.chosen("home_by", {"Front door": "f", "Back door": "b"}, "doors") == ("f", "b")
    assert reader(home_by="Bed and breakfast").chosen("home_by", {"Bed and breakfast": "x"}, "doors") == ("x",)
