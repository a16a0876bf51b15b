"""Which season is in force, and the unit as it is set then, held against the control unit's own reading."""

import calendar
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.times.seasons import MONTHS, months_of, season_in_force, unit_in
from alarmlib.control.from_home import setup_from_home
from alarmlib.model import Home
from alarmlib.record.produce import demo_home

WINTER = {"id": "winter", "name": "Winter", "months": [11, 12, 1], "entry_s": 45}
SUMMER = {"id": "summer", "name": "Summer", "months": [6, 7, 12]}


def unit(**facts: Any) -> Any:
    """A unit with two seasons that both claim December."""
    return Home.model_validate({"control_unit": {"seasons": [WINTER, SUMMER], **facts}}).control_unit


@pytest.mark.parametrize(
    ("day", "season"),
    [("2026-11-01", "winter"), ("2026-12-31", "winter"), ("2027-02-01", ""), ("2026-06-30", "summer")],
)
def test_the_month_decides(day: str, season: str) -> None:
    """The first day and the last of a month; a month of two seasons has the first; one of none the ordinary set."""
    found = season_in_force(unit(), date.fromisoformat(day))
    assert (found.id if found else "") == season


def test_without_a_day_no_season_is_in_force() -> None:
    """What does not depend on the day shows the ordinary set."""
    assert season_in_force(unit(), None) is None


@pytest.mark.parametrize("season", ["winter", "summer", ""])
def test_the_owner_may_decide(season: str) -> None:
    """The owner's word wins over the date, the ordinary set included; it counts only when the owner decides."""
    days = [date(2026, 1, 1) + timedelta(days=30 * n) for n in range(12)]
    chosen = unit(season_by="owner", season_now=season)
    assert {(found.id if (found := season_in_force(chosen, day)) else "") for day in days} == {season}
    by_date = unit(season_now=season)
    assert [season_in_force(by_date, day) for day in days] == [season_in_force(unit(), day) for day in days]


def test_a_season_in_force_is_one_of_the_home() -> None:
    """A season that is not there is refused like every other name that points to nothing."""
    with pytest.raises(ValueError, match="there is no season"):
        unit(season_by="owner", season_now="autumn")


def test_months_are_named_as_the_calendar_names_them() -> None:
    """Against the standard library's calendar, in its plain English locale."""
    assert list(MONTHS) == list(calendar.month_name)[1:]
    assert months_of(unit().seasons[0]) == "November, December, January"


SECONDS = st.none() | st.integers(1, 120)


@given(SECONDS, SECONDS, SECONDS, SECONDS, st.booleans())
def test_the_unit_in_a_season_is_what_the_control_unit_takes(
    entry_s: int | None, exit_s: int | None, door_entry_s: int | None, door_exit_s: int | None, out: bool
) -> None:
    """Two ways to the same set-up: the home with the season's values as its ordinary ones, and the control's own."""
    home = demo_home()
    door, zone = home.site.openings[0].id, home.control_unit.zones[0].id
    season = {"id": "winter", "name": "W", "entry_s": entry_s, "exit_s": exit_s,
              "doors": [{"id": "d", "opening": door, "entry_s": door_entry_s, "exit_s": door_exit_s}],
              "zones": [{"zone": zone, "out_of_use": out, "function": None if out else "at_once"}]}  # fmt: skip
    facts = home.control_unit.model_dump(mode="json") | {"seasons": [season]}
    changed = home.model_copy(update={"control_unit": type(home.control_unit).model_validate(facts)})
    in_force = changed.model_copy(
        update={"control_unit": unit_in(changed.control_unit, changed.control_unit.seasons[0])}
    )
    assert setup_from_home(in_force) == setup_from_home(changed, "winter")
    assert unit_in(changed.control_unit, None) is changed.control_unit
