"""Between stored values and typed text: round trips, and a sentence for what does not read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.errors import FieldProblem
from alarmlib.model.control_unit import Zone
from alarmlib.model.site import Opening, Room
from alarmlib.widgets.spec import FieldSpec, fields_of
from alarmlib.widgets.values import NotThereError, read_text, shown_text, value_at


def room(name: str, system: str = "metric") -> FieldSpec:
    return fields_of(Room, [name], (), system)[0]


def read(field: FieldSpec, text: str) -> object:
    return read_text(field, text, field.choices_in(None))


@given(st.floats(1, 12), st.sampled_from(["metric", "us"]))
def test_numbers__text_read_and_shown_again_is_the_same_text(value: float, system: str) -> None:
    field = room("ceiling_m", system)
    text = shown_text(field, value)
    try:
        again = read(field, text)
    except FieldProblem:  # at the very end of the range the shown text is rounded over the limit
        assert min(abs(value - 1), abs(value - 12)) < 1e-3
        return
    assert shown_text(field, again) == text


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("ceiling_m", "2,45", 2.45),
        ("ceiling_m", "8 ft 2 in", pytest.approx(98 * 0.0254)),
        ("ceiling_m", " ", None),
        ("smoke_alarm_made", "2019", 2019),
        ("guarded", "yes", True),
        ("guarded", "", False),
        ("guarded", "No", False),
        ("use", "bathroom or toilet", "bath"),
        ("disturbances", "sun,fan", ("sun", "fan")),
        ("disturbances", "", ()),
        ("note", " kept as typed ", " kept as typed "),
        ("outline", "4 x 3", ((0, 0), (4, 0), (4, 3), (0, 3))),
        ("outline", "4,5 × 3 at 1, 2", ((1, 2), (5.5, 2), (5.5, 5), (1, 5))),
        ("outline", "0,0; 4,0; 4 3", ((0, 0), (4, 0), (4, 3))),
        ("outline", "0, 0; 4,2, 0; 4,2, 3,1", ((0, 0), (4.2, 0), (4.2, 3.1))),
    ],
)
def test_read_text__what_people_type(name: str, text: str, value: object) -> None:
    assert read(room(name), text) == value


@pytest.mark.parametrize(
    ("name", "text", "allowed"),
    [
        ("ceiling_m", "13", "1 m to 12 m is allowed"),
        ("ceiling_m", "high", "write"),
        ("smoke_alarm_made", "2019.5", "whole number"),
        ("use", "ballroom", "choose one of: living room"),
        ("outline", "1", "corners such as"),
        ("guarded", "perhaps", "yes or no"),
    ],
)
def test_read_text__what_does_not_read(name: str, text: str, allowed: str) -> None:
    with pytest.raises(FieldProblem) as caught:
        read(room(name), text)
    assert allowed in caught.value.allowed
    assert caught.value.value == text


def test_shown_text__points_round_trip_in_feet() -> None:
    field = fields_of(Opening, ["at"], (), "us")[0]
    assert read(field, shown_text(field, (1.25, 3.5))) == pytest.approx((1.25, 3.5), abs=1e-6)


def test_value_at__a_removed_element_is_not_there(session) -> None:
    assert value_at(session.home, ("site", "rooms", "hall", "ceiling_m")) == 2.4
    with pytest.raises(NotThereError):
        value_at(session.home, ("site", "rooms", "attic", "ceiling_m"))


@pytest.mark.parametrize(
    ("text", "value"),
    [("final_door", "entry_exit"), ("panic", "hold_up"), ("interior (at once)", "at_once"), ("day", "warn_unset")],
)
def test_choice__typed_in_a_page_of_an_earlier_version_is_read(text: str, value: str) -> None:
    """Kept half-typed in a browser's tab, a choice comes with the value or the text that it had then."""
    assert read(fields_of(Zone, ["function"], (), "metric")[0], text) == value


def test_choice__what_never_was_one_is_refused() -> None:
    with pytest.raises(FieldProblem, match="choose one of"):
        read(fields_of(Zone, ["function"], (), "metric")[0], "entrance")
