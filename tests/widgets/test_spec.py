"""A field's label, unit, limits, help, choices and control come from the model and nowhere else."""

import pytest
from pydantic import BaseModel

from alarmlib.model.base import fact
from alarmlib.model.household import Person
from alarmlib.model.log import Test
from alarmlib.model.site import Opening, Room, Storey
from alarmlib.model.words import Share, UnitSystem
from alarmlib.widgets.spec import FieldSpec, fields_of, numbered


def one(model: type[BaseModel], name: str, system: str = "metric") -> FieldSpec:
    return fields_of(model, [name], ("x",), system)[0]


def test_fields_of__all_that_the_model_says_of_a_length() -> None:
    field = one(Room, "ceiling_m")
    assert (field.path, field.label, field.caption) == (("x", "ceiling_m"), "Ceiling height", "Ceiling height (m)")
    assert (field.control, field.ge, field.le, field.allowed) == ("number", 1, 12, "1 m to 12 m")
    assert (field.required, field.share) == (False, Share.CLASS)


def test_fields_of__units_of_the_home() -> None:
    field = one(Room, "ceiling_m", UnitSystem.US)
    assert (field.caption, field.allowed) == ("Ceiling height (ft)", "3 ft 3 3/8 in to 39 ft 4 7/16 in")


@pytest.mark.parametrize(
    ("model", "name", "control", "holds"),
    [
        (Room, "name", "text", "str"),
        (Room, "note", "longtext", "str"),
        (Room, "use", "choice", "str"),
        (Room, "guarded", "tick", "bool"),
        (Room, "disturbances", "multi", "strs"),
        (Room, "smoke_alarm_made", "number", "int"),
        (Room, "outline", "text", "points"),
        (Opening, "at", "text", "point"),
        (Test, "on", "date", "str"),
    ],
)
def test_fields_of__control_by_type(model: type[BaseModel], name: str, control: str, holds: str) -> None:
    field = one(model, name)
    assert (field.control, field.holds) == (control, holds)


def test_fields_of__a_number_without_a_blank_is_needed() -> None:
    assert one(Storey, "height_m").required
    assert not one(Room, "floor_area_m2").required


def test_fields_of__a_reference_follows_the_home() -> None:
    field = fields_of(Room, ["storey"], options={"storey": lambda home: [(each, each.title()) for each in home]})[0]
    assert field.control == "choice"
    assert field.choices_in(["ground", "first"]) == (("ground", "Ground"), ("first", "First"))


def test_fields_of__yes_no_or_open() -> None:
    class Asked(BaseModel):
        known: bool | None = fact(None, "Known")

    field = one(Asked, "known")
    assert field.control == "choice"
    assert field.choices_in(None) == (("", "not answered yet"), ("yes", "yes"), ("no", "no"))


def test_fields_of__every_field_of_a_person_can_be_asked() -> None:
    names = [name for name in Person.model_fields if name != "id"]
    assert [field.label for field in fields_of(Person, names)] == [Person.model_fields[name].title for name in names]


def test_fields_of__a_type_without_a_control_is_refused() -> None:
    class Odd(BaseModel):
        table: dict[str, str] = {}

    with pytest.raises(TypeError, match="no control"):
        fields_of(Odd, ["table"])


def test_numbered__takes_the_first_free_id() -> None:
    assert numbered("row")(frozenset({"row_1", "row_3"})) == "row_2"
