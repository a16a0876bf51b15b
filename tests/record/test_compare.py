"""What changed since the last record."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.compare import FieldChange, differences
from alarmlib.record.record import build, render


def test_nothing_changed(home: Home) -> None:
    """A home is no different from itself."""
    assert differences(home, home) == ()


def test_a_field_of_a_room_and_a_time(facts: dict[str, Any], home: Home) -> None:
    """A line a field: where it is, its value before, its value now, in the home's units."""
    facts["control_unit"] = facts["control_unit"] | {"times": facts["control_unit"]["times"] | {"siren_s": 170}}
    rooms = [facts["site"]["rooms"][0] | {"ceiling_m": 2.45}, *facts["site"]["rooms"][1:]]
    facts["site"] = facts["site"] | {"rooms": rooms}
    assert differences(home, Home.model_validate(facts)) == (
        FieldChange("The home, Rooms, Hall, Ceiling height", "not known", "2.45 m"),
        FieldChange("Control unit, Times, Siren time", "4 min 50 s", "2 min 50 s"),
    )


def test_added_taken_out_and_moved(facts: dict[str, Any], home: Home) -> None:
    """Elements are matched by id: a new one and a missing one are a line each, a new order is one."""
    devices = facts["devices"]
    facts["devices"] = [
        devices[1],
        devices[0],
        *devices[3:],
        {"id": "new", "name": "New smoke detector", "kind": "smoke"},
    ]
    changes = differences(home, Home.model_validate(facts))
    assert FieldChange("Devices, New smoke detector", "–", "added") in changes
    assert FieldChange("Devices, Landing smoke detector", "was here", "taken out") in changes
    facts["devices"] = [devices[1], devices[0], *devices[2:]]
    assert differences(home, Home.model_validate(facts)) == (
        FieldChange("Devices", "in another order", "in a new order"),
    )


def test_lists_inside_elements_are_matched_too(facts: dict[str, Any], home: Home) -> None:
    """An entry/exit door taken out of a part set is a line that says where."""
    night = facts["control_unit"]["part_sets"][0] | {"doors": []}
    facts["control_unit"] = facts["control_unit"] | {"part_sets": [night]}
    where = "Control unit, Part sets, Night, Entry/exit doors, Front door"
    assert differences(home, Home.model_validate(facts)) == (FieldChange(where, "was here", "taken out"),)


def test_a_copy_hides_what_it_may_not_show(facts: dict[str, Any], home: Home) -> None:
    """A change of an owner's field is no line of a helper's copy."""
    facts["household"] = facts["household"] | {"empty": "weekdays"}
    changed = Home.model_validate(facts)
    assert [change.where for change in differences(home, changed)] == ["Household, How often nobody is at home"]
    assert differences(home, changed, Share.HELPER) == ()


def test_the_record_lists_the_changes(facts: dict[str, Any], home: Home) -> None:
    """Without an earlier record the section says so; the next lists what moved; the same home says nothing did."""
    blank = Assessment()
    changed = Home.model_validate(facts | {"name": "Brook House"})
    assert "No earlier record of this home is kept" in render(build(blank, home, Share.OWNER, "2026-11-25"))
    assert "Nothing changed" in render(build(blank, home, Share.OWNER, "2026-11-25", home))
    later = render(build(blank, changed, Share.OWNER, "2026-11-25", home))
    assert "<td>Brook Cottage<td>Brook House" in later


@given(st.floats(1, 600), st.floats(1, 600))
def test_one_changed_number_is_one_line(before_s: float, after_s: float) -> None:
    """However the number moves, there is one line, and none when it does not."""
    homes = [Home.model_validate({"control_unit": {"times": {"siren_s": s}}}) for s in (before_s, after_s)]
    assert len(differences(*homes)) == (before_s != after_s)
