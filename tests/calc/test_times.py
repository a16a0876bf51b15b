"""The chance in time: published and closed forms, quadrature, sampling and an independent simulation."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from alarmlib.calc.times.chance import (
    AT_ONCE,
    NOT_ATTAINABLE,
    TimedWalk,
    chance_by_sampling,
    chance_figure,
    chance_in_time,
    delay_figure,
    delay_for,
    false_entries_a_year,
    fitters_delay_s,
    fitters_figure,
    stopped_spread,
    too_late_in_words,
)
from alarmlib.calc.walking.gait import Spread
from alarmlib.errors import FieldProblem

# Speed 1.272 (SD 0.211) m/s: Bohannon 1997, women in their seventies; mean seen in the abstract, SD from memory.
SPEED = Spread(1.272, 0.211)
NOTE = TimedWalk(12.0, SPEED, Spread(15.0))
WIDE = TimedWalk(12.0, SPEED, Spread(15.0, 2.0), keying_s=4.75, retry_chance=0.05)


@pytest.mark.outside
def test_chance_of_the_note_by_scipy():
    """D 30 s, T0 15 s, L 12 m: 0.98736 (our note, to 5e-5), and the same from scipy's normal distribution."""
    from scipy.stats import norm

    assert chance_in_time(NOTE, 30) == pytest.approx(0.98736, abs=5e-5)
    assert chance_in_time(NOTE, 30) == pytest.approx(norm.sf(12 / 15, 1.272, 0.211), abs=1e-12)


@pytest.mark.outside
def test_delay_for_99_percent():
    """T0 15 s, L 12 m: 30.362 s, to 1e-3, and the same from scipy's quantile."""
    from scipy.stats import norm

    assert delay_for(NOTE, 0.99) == pytest.approx(30.362, abs=1e-3)
    assert delay_for(NOTE, 0.99) == pytest.approx(15 + 12 / norm.isf(0.99, 1.272, 0.211), abs=1e-9)


@pytest.mark.outside
@pytest.mark.parametrize("start_sd", [0.01, 0.3, 2.0, 6.0])
@pytest.mark.parametrize("length_m", [0.5, 12.0, 60.0])
@pytest.mark.parametrize("delay_s", [20, 30, 45, 80])
def test_average_over_t0_agrees_with_scipy_quadrature(start_sd, length_m, delay_s):
    """scipy's adaptive quadrature over T0, cut at its kink, to 1e-8."""
    from scipy.integrate import quad
    from scipy.stats import norm

    walk = TimedWalk(length_m, SPEED, Spread(15.0, start_sd))

    def weighted(t0):
        return norm.pdf(t0, 15, start_sd) * norm.sf(length_m / (delay_s - t0), 1.272, 0.211)

    low, high = 15 - 9 * start_sd, min(delay_s - 1e-12, 15 + 9 * start_sd)
    middle = min(max(delay_s - length_m / 1.272, low), high)
    expected = sum(
        quad(weighted, a, b, limit=400, epsabs=1e-11)[0] for a, b in ((low, middle), (middle, high)) if b > a
    )
    assert chance_in_time(walk, delay_s) == pytest.approx(expected, abs=1e-8)


@pytest.mark.parametrize("delay_s", [22, 28, 32, 40])
def test_sampling_agrees_with_quadrature(delay_s):
    """400,000 walks, within four standard errors."""
    sampled, error = chance_by_sampling(WIDE, delay_s, 400_000, seed=7)
    assert abs(sampled - chance_in_time(WIDE, delay_s)) < 4 * error


def simulate_evenings(walk, delay_s, count, seed):
    """An independent household in SimPy: the person's steps against the unit's timer, one evening after another."""
    import random

    import simpy

    draw, environment, in_time = random.Random(seed), simpy.Environment(), []

    def come_home(unset):
        yield environment.timeout(max(0.0, draw.gauss(walk.start_s.mean, walk.start_s.sd)))
        pace = draw.gauss(walk.speed_m_s.mean, walk.speed_m_s.sd)
        if pace <= 0:
            return
        yield environment.timeout(walk.length_m / pace)
        yield environment.timeout(walk.keying_s)
        if draw.random() < walk.retry_chance:
            yield environment.timeout(walk.keying_s)
        unset.succeed()

    def evening():
        for _ in range(count):
            unset, timer = environment.event(), environment.timeout(delay_s)
            environment.process(come_home(unset))
            yield unset | timer
            in_time.append(unset.triggered)
            yield environment.timeout(3600)

    environment.process(evening())
    environment.run()
    return sum(in_time) / count


@pytest.mark.outside
def test_simulated_household_agrees():
    """20,000 evenings in SimPy, within four standard errors of the quadrature."""
    chance = chance_in_time(WIDE, 32)
    error = math.sqrt(chance * (1 - chance) / 20_000)
    assert abs(simulate_evenings(WIDE, 32, 20_000, seed=3) - chance) < 4 * error


metres, seconds, means = st.floats(0, 80), st.floats(0, 200), st.floats(0.3, 2.5)
walks = st.builds(
    lambda length, mean, ratio, start, sd, keying, retry: TimedWalk(
        length, Spread(mean, mean * ratio), Spread(start, sd), keying, retry
    ),
    metres, means, st.floats(0, 0.33), st.floats(0, 30), st.floats(0, 8), st.floats(0, 10), st.floats(0, 1),
)  # fmt: skip


@given(walks, seconds, seconds)
def test_longer_delay_never_lowers_the_chance(walk, one, other):
    shorter, longer = sorted((one, other))
    assert chance_in_time(walk, shorter) <= chance_in_time(walk, longer) + 1e-9
    assert 0 <= chance_in_time(walk, longer) <= 1 + 1e-12


@given(walks, seconds, st.floats(0, 20))
def test_longer_walk_never_raises_the_chance(walk, delay_s, more_m):
    longer = TimedWalk(walk.length_m + more_m, walk.speed_m_s, walk.start_s, walk.keying_s, walk.retry_chance)
    assert chance_in_time(longer, delay_s) <= chance_in_time(walk, delay_s) + 1e-9


@given(walks, st.floats(0.5, 0.995))
def test_delay_for_a_chance_gives_that_chance(walk, assurance):
    """Round trip; and a hundredth of a second less isn't enough."""
    delay_s = delay_for(walk, assurance)
    assume(delay_s is not None)
    assert chance_in_time(walk, delay_s + 1e-5) >= assurance - 1e-6
    assert chance_in_time(walk, delay_s - 0.01) <= assurance + 1e-6


STOPPED = TimedWalk(0.0, SPEED, keying_s=9.0, retry_chance=0.05, stopped_s=(23.0, 25.0, 24.5))


@pytest.mark.outside
def test_stopped_walks_by_scipy():
    """Walks of 23, 25 and 24.5 s: mean 24.17 s, their own spread (1.04 s) below 10 %, so 2.417 × √(4/3) = 2.79 s.

    The chance is scipy's normal distribution at once and, once in twenty, 9 s later.
    """
    from scipy.stats import norm

    spread = stopped_spread((23.0, 25.0, 24.5))
    assert (spread.mean, spread.sd) == (pytest.approx(24.1667, abs=1e-4), pytest.approx(2.7905, abs=1e-4))
    for delay_s in (20, 27, 33, 40):
        at_once, again = (norm.cdf(delay_s, 24.1667 + more, 2.7905) for more in (0, 9))
        assert chance_in_time(STOPPED, delay_s) == pytest.approx(0.95 * at_once + 0.05 * again, abs=1e-5)


def test_walks_that_differ_much_spread_more():
    """20 and 30 s: their own standard deviation, 7.07 s, is above 10 % of 25 s; × √1.5."""
    assert stopped_spread((20.0, 30.0)).sd == pytest.approx(50**0.5 * 1.5**0.5)
    assert stopped_spread((25.0,)).sd == pytest.approx(2.5 * 2**0.5)


@pytest.mark.parametrize("delay_s", [22, 28, 36])
def test_sampling_of_stopped_walks_agrees(delay_s):
    """400,000 walks, within four standard errors."""
    sampled, error = chance_by_sampling(STOPPED, delay_s, 400_000, seed=11)
    assert abs(sampled - chance_in_time(STOPPED, delay_s)) < 4 * error


@given(walks, st.lists(st.floats(1, 100), min_size=1, max_size=3), seconds, st.floats(0, 50))
def test_the_stopwatch_replaces_the_plan(walk, stopped_s, delay_s, more_s):
    """Metres, speed and door play no part once a walk was stopped, and longer walks are late no less often."""
    from dataclasses import replace

    stopped = replace(walk, stopped_s=tuple(stopped_s))
    other = replace(stopped, length_m=walk.length_m + 10, start_s=AT_ONCE)
    assert chance_in_time(other, delay_s) == chance_in_time(stopped, delay_s)
    if delay_s > max(stopped_s) + walk.keying_s:
        longer = replace(stopped, stopped_s=tuple(s + more_s for s in stopped_s))
        assert chance_in_time(longer, delay_s) <= chance_in_time(stopped, delay_s) + 1e-9


def test_figure_of_a_stopped_walk_shows_its_seconds():
    figure = chance_figure("granny", STOPPED, 30, 1.0)
    told = dict(figure.inputs)
    assert "L" not in told
    assert (told["by stopwatch"], told["T"], told["s"]) == ("23 s, 25 s, 24.5 s", "24.2 s", "2.8 s")
    assert "gilbert_2021" in figure.sources
    assert chance_figure("granny", STOPPED, 90, 1.0).inputs[-1] == ("too late a year", "under 0.1")
    wanted = delay_figure("granny", STOPPED, 0.99)
    assert chance_in_time(STOPPED, wanted.value) == pytest.approx(0.99, abs=1e-6)
    assert "L" not in dict(wanted.inputs)


def test_no_time_no_chance_and_no_walk_no_risk():
    """Limiting cases: a delay not above T0; a keypad at the door."""
    assert chance_in_time(NOTE, 15) == 0
    assert chance_in_time(NOTE, 0) == 0
    assert chance_in_time(TimedWalk(0, SPEED, Spread(15)), 15) == 1
    assert chance_in_time(TimedWalk(0, SPEED, Spread(15, 2)), 15) == pytest.approx(0.5)


def test_steady_walker_is_in_time_or_not():
    """No spread at all: a step from 0 to 1 at T0 + L/v."""
    walk = TimedWalk(12, Spread(1.2), Spread(5))
    assert (chance_in_time(walk, 14.999), chance_in_time(walk, 15.001)) == (0, 1)
    assert delay_for(walk, 0.9) == pytest.approx(15)


def test_certainty_beyond_the_spread_is_not_attainable():
    """μ must stay above z σ: a mean of three standard deviations never gives 99.9 %."""
    walk = TimedWalk(12, Spread(0.9, 0.3))
    assert delay_for(walk, 0.999) is None
    assert delay_figure("guest", walk, 0.999).value == NOT_ATTAINABLE
    assert isinstance(delay_figure("guest", walk, 0.9).value, float)


def test_fitters_rule():
    """Common practice, no source: slowest of three, half as much again, up to the next 5 s."""
    assert fitters_delay_s((14, 17, 19)) == 30  # 28.5
    assert fitters_delay_s((14, 17, 20)) == 30  # 30 stays 30
    assert fitters_delay_s((14, 17, 20.1)) == 35
    assert fitters_figure((14, 17, 19)).sources == ("practice",)
    with pytest.raises(FieldProblem, match="three"):
        fitters_delay_s((14, 17))
    with pytest.raises(FieldProblem):
        fitters_delay_s((14, 17, -1))


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.98, "about one evening in 50"),
        (0.98736, "about one evening in 79"),
        (1 - 1 / 234, "about one evening in 230"),
        (1 - 1 / 999, "about one evening in 1,000"),
        (0.99999, "less than one evening in 1,000"),
        (0.75, "about one evening in 4"),
        (0.5, "about 5 evenings in 10"),
        (0.7, "about 3 evenings in 10"),
        (0.01, "nearly every evening"),
    ],
)
def test_words_have_two_figures_at_most(chance, words):
    assert too_late_in_words(chance) == words


@given(st.floats(0, 1))
def test_words_never_say_more_than_two_figures(chance):
    digits = "".join(c for c in too_late_in_words(chance).rpartition(" in ")[2] if c.isdigit())
    assert len(digits.rstrip("0")) <= 2


def test_false_entries_a_year():
    """365 n (1 − P): two entries a day at 0.98 are 14.6 a year."""
    assert false_entries_a_year(2, 0.98) == pytest.approx(14.6)


def test_figure_of_the_chance_shows_what_was_put_in():
    figure = chance_figure("granny", NOTE, 30, 1.0)
    assert figure.value == "too late about one evening in 79"
    assert ("D", "30 s") in figure.inputs
    assert ("too late a year", "4.6") in figure.inputs


@pytest.mark.parametrize(
    "make",
    [
        lambda: TimedWalk(-1, SPEED),
        lambda: TimedWalk(float("nan"), SPEED),
        lambda: TimedWalk(1, Spread(1.0, 0.5)),
        lambda: TimedWalk(1, Spread(0.0)),
        lambda: TimedWalk(1, SPEED, retry_chance=1.5),
        lambda: Spread(-1),
        lambda: Spread(1, float("inf")),
        lambda: delay_for(NOTE, 1.0),
    ],
)
def test_numbers_that_cannot_be_are_refused(make):
    with pytest.raises(FieldProblem):
        make()
