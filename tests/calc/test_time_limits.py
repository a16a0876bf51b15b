"""Limits of set times: rows of the standards, and the choice within them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.times.time_limits import (
    ABORT,
    ENTRY_AND_ABORT,
    SIREN_RULES,
    WALK_TO_KEYPAD_S,
    choose_time,
    door_times,
    entry_and_abort,
    free_time,
    siren_time,
    soundings_an_hour,
    steps_s,
)
from alarmlib.errors import FieldProblem
from alarmlib.rules import ALL, britain, europe, us
from alarmlib.rules.rule import Limits
from alarmlib.sources import Status, cite


def row(limits):
    return tuple(bound and bound.value_s for bound in (limits.least, limits.most, limits.customary))


@pytest.mark.outside
@pytest.mark.parametrize(
    ("limits", "expected"),
    [
        (us.RULES.exit, (45, 255, 60)),  # CP-01 4.2.2.1: 255 seen, rest from memory
        (us.RULES.entry, (30, 240, 30)),  # CP-01 4.2.3.1 from memory; NFPA 731 5.1.6.3: 240 seen
        (europe.RULES.entry, (None, 45, None)),  # EN 50131-1 8.3.8.2, seen
        (britain.RULES.entry, (None, 45, None)),
        (ABORT["2010"], (0, 45, 30)),  # CP-01 from 2010: 0 seen, rest from memory
        (ABORT["2009"], (15, 45, 30)),  # CP-01 before 2010: 15 seen, rest from memory
        (britain.RULES.confirmation, (1800, 3600, None)),  # DD 243:2004, 30 to 60 min, seen
        (ENTRY_AND_ABORT, (None, 60, None)),  # listing condition, from memory
    ],
)
def test_published_limits(limits, expected):
    assert row(limits) == expected


@pytest.mark.outside
def test_walk_to_the_keypad():
    """NFPA 731 5.1.6.2, seen: the place to unset within 15 s of the entry door."""
    assert WALK_TO_KEYPAD_S == 15
    assert cite("nfpa731_walk").status is Status.SEEN


@pytest.mark.parametrize(
    ("key", "status"),
    [
        ("cp01_exit_most", Status.SEEN), ("cp01_exit", Status.MEMORY), ("nfpa731_entry_most", Status.SEEN),
        ("cp01_entry", Status.MEMORY), ("en50131_unset", Status.SEEN), ("cp01_abort", Status.MEMORY),
        ("en50131_siren", Status.MEMORY), ("cp01_tolerance", Status.SEEN), ("dd243_window", Status.SEEN),
    ],
)  # fmt: skip
def test_each_bound_says_how_far_it_was_seen(key, status):
    assert cite(key).status is status


def test_every_source_of_a_limit_is_written_down():
    each = [limits for rules in ALL.values() for limits in (rules.entry, rules.exit, rules.confirmation)]
    tables = (*each, *ABORT.values(), ENTRY_AND_ABORT)
    keys = [b.cite for t in tables for b in (t.least, t.most, t.customary) if b] + [r.cite for r in SIREN_RULES]
    assert all(cite(key).title for key in keys)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("place", "minutes"),
    # Codes and regulations of these places, seen.
    [("New South Wales", 5), ("Travelers Rest", 10), ("Reedley", 15), ("United Kingdom", 20), ("Helena", 20)],
)
def test_siren_limits_of_towns(place, minutes):
    rule = next(rule for rule in SIREN_RULES if rule.place.startswith(place))
    assert rule.most_s == minutes * 60


@pytest.mark.outside
def test_hourly_cap_of_north_st_paul():
    """North St Paul 99.04, seen: at most 20 min in any hour, so four soundings of 5 min."""
    rule = next(rule for rule in SIREN_RULES if rule.most_in_an_hour_s)
    assert rule.most_in_an_hour_s == 1200
    assert soundings_an_hour(300, rule.most_in_an_hour_s) == 4


@pytest.mark.outside
def test_limits_in_minutes_agree_with_pint():
    import pint

    minutes = pint.UnitRegistry()
    window = britain.RULES.confirmation
    assert window.least.value_s == minutes.Quantity(30, "minute").to("second").magnitude
    assert window.most.value_s == minutes.Quantity(60, "minute").to("second").magnitude


@pytest.mark.parametrize(
    ("wanted", "local", "chosen"),
    [
        (300, None, 300),
        (300, 240, 240),
        (1800, None, 900),  # never above 15 min
        (1800, 1200, 900),
        (30, None, 90),  # never under 90 s ...
        (30, 60, 60),  # ... unless the local limit is smaller
        (300, 60, 60),
    ],
)
def test_siren_time(wanted, local, chosen):
    choice = siren_time(wanted, local)
    assert choice.set_s == chosen
    assert bool(choice.why) == (chosen != wanted)


def test_times_stay_within_rules_and_unit():
    american = us.RULES.entry
    assert choose_time(20, american).set_s == 30
    assert choose_time(300, american).set_s == 240
    assert choose_time(37, american, (15, 35, 50, 75)).set_s == 50
    assert choose_time(90, american, (15, 35, 50, 75)).set_s == 75
    assert not choose_time(90, american, (15, 35, 50, 75)).enough
    assert choose_time(50, europe.RULES.entry).sources == ("en50131_unset",)
    assert choose_time(40, american).why == ""
    with pytest.raises(FieldProblem, match="none lies within"):
        choose_time(40, american, (10, 20))


@given(st.floats(0, 600), st.lists(st.floats(0, 400), max_size=6), st.sampled_from(list(ALL.values())))
def test_a_chosen_time_is_allowed_by_rules_and_unit(wanted, allowed, rules):
    limits = rules.exit
    try:
        choice = choose_time(wanted, limits, allowed)
    except FieldProblem:
        assert allowed
        return
    assert not allowed or choice.set_s in allowed
    assert limits.least is None or choice.set_s >= limits.least.value_s
    assert limits.most is None or choice.set_s <= limits.most.value_s


@given(st.floats(0, 600), st.floats(0, 600))
def test_wanting_longer_never_chooses_shorter(one, other):
    shorter, longer = sorted((one, other))
    allowed = steps_s(10, 200, 15)
    assert choose_time(shorter, Limits(), allowed).set_s <= choose_time(longer, Limits(), allowed).set_s


def test_steps_of_a_unit():
    assert steps_s(10, 40, 15) == (10, 25, 40)
    with pytest.raises(FieldProblem):
        steps_s(10, 5, 1)


def test_each_entry_exit_door_has_its_own_times():
    front = door_times("front", 37, 52, us.RULES)
    garage = door_times("garage", 62, 80, us.RULES, (steps_s(10, 100, 10), ()))
    assert (front.entry.set_s, front.exit.set_s) == (37, 52)
    assert (garage.entry.set_s, garage.exit.set_s) == (70, 80)


def test_free_time_takes_the_tolerance_in():
    assert free_time(35).value == pytest.approx(38.5)
    assert free_time(35, held_s=30, tolerance=0.0).value == 65


def test_entry_and_abort_together():
    assert entry_and_abort(35, 20).value == 55


@pytest.mark.parametrize("make", [lambda: siren_time(0), lambda: siren_time(300, float("nan")),
                                  lambda: choose_time(-1), lambda: soundings_an_hour(0, 60)])  # fmt: skip
def test_times_that_cannot_be_are_refused(make):
    with pytest.raises(FieldProblem):
        make()
