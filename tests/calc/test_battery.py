# ruff: noqa: E501 - one case a line reads best
"""Batteries against exam notes, a British example, Peukert's definition and a maker's table; and what always holds."""

import itertools
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.electrical.battery import (
    BRITISH_RATE_H,
    USUAL_AH,
    asked_ah,
    british_ah,
    cold_share,
    discharge,
    due_on,
    exponent_of,
    peukert_h,
    recharge_h,
    share_left,
    standby_of,
)
from alarmlib.errors import AlarmProblem
from alarmlib.model.wiring import RuleEdition, StandbyRule


@pytest.mark.outside
def test_exam_example() -> None:
    """Source: a study page for fire alarm exams: 0.25 A x 24 h and 1.5 A x 5 min before margin, 6.125 Ah."""
    assert asked_ah(0.25, 24, 1.5, 5 / 60) == pytest.approx(6.125, abs=1e-9)
    assert asked_ah(0.25, 24, 1.5, 5 / 60, 1.2) == pytest.approx(7.35, abs=1e-9)


@pytest.mark.outside
def test_british_example() -> None:
    """Source: a BS 5839 example: (0.05 A x 24 h + 0.3) x 1.25, printed 1.874, exactly 1.875."""
    assert asked_ah(0.05, 24, 0.6, 0.5, 1.25) == pytest.approx(1.875, abs=1e-9)
    assert asked_ah(0.05, 24, 0.6, 0.5, 1.25) == pytest.approx(1.874, abs=0.002)


@pytest.mark.outside
def test_british_factor_d() -> None:
    """Source: a trade guide on BS 5839-1:2025 Annex E: 0.25 A x 24 h, 0.75 A, D 1.75 by rule; 8.320 Ah."""
    asked, rate = british_ah(0.25, 24, 0.75)
    assert (asked, rate) == (pytest.approx(8.320, abs=1e-3), 1.75)
    assert asked / BRITISH_RATE_H == pytest.approx(0.416, abs=1e-3)
    assert british_ah(0.25, 24, 0.3)[1] == 1.0
    assert british_ah(0.25, 24, 0.75, high_rate=2.0)[0] > asked  # the factor before 2002


@given(st.floats(0.01, 1))
def test_factor_d_is_consistent_at_its_edge(quiet_a: float) -> None:
    """Cmin over 20 h just gives the alarm current: there D is 1, a hair above it is not."""
    edge = quiet_a * 24 * 1.25 / (BRITISH_RATE_H - 0.5 * 1.25)
    assert british_ah(quiet_a, 24, edge * 0.9999)[1] == 1.0
    assert british_ah(quiet_a, 24, edge * 1.0001)[1] == 1.75


@pytest.mark.outside
@pytest.mark.parametrize("exponent", [1.0, 1.1, 1.2, 1.6])
def test_peukert_at_its_own_rate(exponent: float) -> None:
    """Source: the definition: 100 Ah over 20 h gives 5 A for 20.0 h. Named trap: the bare form answers 14.5 h."""
    assert peukert_h(5, 100, 20, exponent) == pytest.approx(20.0, abs=1e-9)
    assert abs(peukert_h(5, 100, 20, exponent) - 100 / 5**1.2) > 5  # the bare form with k 1.2


def test_peukert_round_trip_and_cap() -> None:
    """No outside source: two ratings give the exponent back; below its rate no more than its capacity is counted."""
    assert exponent_of(5, 20, 50, peukert_h(50, 100, 20, 1.2)) == pytest.approx(1.2)
    assert peukert_h(1, 100, 20, 1.2) == 100
    assert peukert_h(0, 100, 20, 1.2) == inf


@pytest.mark.outside
@pytest.mark.parametrize("exponent", [1.0, 1.12, 1.3])
def test_aged_capacity_is_a_share_of_time(exponent: float) -> None:
    """Source: a text on storage battery maintenance (1997): capacity in per cent = actual time / rated time x 100.

    So at 80 % the rated current, C over H, is given for 80 % of H, whatever the exponent; it is not put into C, which
    would give H x 0.8^k: 15.6 h at k 1.12 where the definition says 16.
    """
    assert peukert_h(5, 100, 20, exponent, 0.8) == pytest.approx(0.8 * 20)
    fast = peukert_h(50, 100, 20, exponent)
    assert peukert_h(50, 100, 20, exponent, 0.8) == pytest.approx(0.8 * fast)
    assert discharge([(50, 99)], 100, 20, exponent, 0.8)[-1].hours == pytest.approx(0.8 * fast)


@pytest.mark.outside
@pytest.mark.parametrize("size", [1.2, 2.1, 3.2, 7.0, 12.0, 17.0, 4.0, 24.0, 40.0])
def test_usual_sizes(size: float) -> None:
    """Source: a trade page on standby batteries (1.2 to 17 Ah), a power supply maker's note (4, 7, 12, 24, 40 Ah)."""
    assert size in USUAL_AH
    assert list(USUAL_AH) == sorted(USUAL_AH)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("at", "left"), [(0, 0.84), (5, 0.88), (10, 0.90), (15, 0.94), (20, 0.99), (25, 1.0), (40, 1.0)]
)
def test_cold(at: float, left: float) -> None:
    """Source: a battery maker's answers, discharge over more than an hour; a gain in warmth is not counted."""
    assert cold_share(at) == pytest.approx(left)


@given(st.floats(-40, 40), st.floats(-40, 40))
def test_colder_never_asks_for_less(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert cold_share(low) <= cold_share(high)


@pytest.mark.outside
def test_recharge() -> None:
    """Source: the reference's formula, C / (I x 85 %): 7 Ah at 0.35 A in 23.5 h; 80 % of it in 72 h asks 78 mA."""
    assert recharge_h(7, 0.35) == pytest.approx(23.53, abs=0.01)
    assert recharge_h(0.8 * 7, 0.078, efficiency=1) == pytest.approx(72, abs=0.3)


def test_household_case() -> None:
    """By hand: 0.12 A, 0.85 A, 24 h and 4 min: 2.937 Ah, 3.524 with 1.2; at 0 °C 4.195: 7 Ah serves, 4 Ah when warm only."""
    raw = asked_ah(0.12, 24, 0.85, 4 / 60)
    assert raw == pytest.approx(2.937, abs=1e-3)
    assert 1.2 * raw / cold_share(0) == pytest.approx(4.195, abs=1e-3)


@pytest.mark.outside
@pytest.mark.parametrize(("rule", "quiet_h", "alarm_min", "factor"), [
    (StandbyRule.EN_LOW, 12, None, 1.25), (StandbyRule.EN_HIGH, 60, None, 1.25), (StandbyRule.EN_HIGH_TOLD, 30, None, 1.25),
    (StandbyRule.BURGLARY_US, 4, None, 1.2), (StandbyRule.FIRE_US, 24, 4, 1.2), (StandbyRule.PREMISES_US, 24, 5, 1.2),
    (StandbyRule.PREMISES_BRITAIN, 24, 30, 1.25),
])  # fmt: skip
def test_rules(rule: StandbyRule, quiet_h: float, alarm_min: float | None, factor: float) -> None:
    """Source: the reference's table 3.1 (EN 50131-1 and NFPA 72 seen second-hand; UL 1023 from memory)."""
    found = standby_of(rule)
    assert found is not None
    assert (found.quiet_h, found.factor) == (quiet_h, factor)
    assert (found.alarm_h is None) is (alarm_min is None)
    assert alarm_min is None or found.alarm_h == pytest.approx(alarm_min / 60)


def test_editions() -> None:
    earlier = standby_of(StandbyRule.FIRE_US, RuleEdition.EARLIER)
    assert earlier is not None
    assert earlier.factor == 1.0
    assert standby_of(StandbyRule.EN_LOW, RuleEdition.EARLIER) == standby_of(StandbyRule.EN_LOW)
    assert standby_of(StandbyRule.UNKNOWN) is None


def test_course_ends_where_it_is_empty() -> None:
    """By hand: 7 Ah linear, 0.35 A for 10 h leaves half, 1.75 A takes the rest in 2 h."""
    course = discharge([(0.35, 10), (1.75, 99)], 7, 20, 1.0)
    assert [(p.hours, p.left) for p in course] == [(0, 1), (10, pytest.approx(0.5)), (pytest.approx(12), 0)]
    assert discharge([(0.35, 10)], 7, 20, 1.0)[-1].left == pytest.approx(0.5)


@given(st.lists(st.tuples(st.floats(0.01, 3), st.floats(0.1, 30)), min_size=1, max_size=5), st.floats(1, 1.5))
def test_course_never_rises(phases: list[tuple[float, float]], exponent: float) -> None:
    course = discharge(phases, 7, 20, exponent)
    assert all(a.left >= b.left >= 0 and a.hours <= b.hours for a, b in itertools.pairwise(course))


def test_due_day() -> None:
    assert due_on("2026-09-19", 4) == "2030-09-19"
    assert share_left(0) == pytest.approx(0.8 * 0.84)


@pytest.mark.parametrize(("call", "part"), [
    (lambda: asked_ah(-0.1, 24, 1, 1), "quiet current is -0.1"), (lambda: asked_ah(0.1, 24, 1, -1), "alarm hours is -1"),
    (lambda: peukert_h(1, 7, 0, 1.2), "hours over which"), (lambda: recharge_h(7, 0), "charger gives 0 A"),
])  # fmt: skip
def test_bad_values_get_a_sentence(call: object, part: str) -> None:
    with pytest.raises(AlarmProblem, match=part):
        call()  # type: ignore[operator]
