"""What a walk past a detector proves, against tables and scipy."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.coverage.detection import (
    STEPS_M,
    STEPS_S,
    Task,
    all_work,
    any_notices,
    chance_of_interruption,
    passes_figure,
    proven_chance,
    steps_to_notice,
)
from alarmlib.errors import FieldProblem

# US guide specification UFGS 13721 (49 of 50, 98 of 100) and exact binomial bounds at 95 %; three decimals.
BOUNDS = ((3, 3, 0.368), (5, 5, 0.549), (10, 10, 0.741), (20, 20, 0.861), (29, 29, 0.902), (45, 46, 0.901),
          (49, 50, 0.909), (98, 100, 0.938))  # fmt: skip


@pytest.mark.outside
@pytest.mark.parametrize(("noticed", "passes", "bound"), BOUNDS)
def test_lower_bounds(noticed, passes, bound):
    """To half of the third decimal, and the same from scipy's beta quantile to 1e-9."""
    from scipy.stats import beta

    assert proven_chance(noticed, passes) == pytest.approx(bound, abs=5e-4)
    assert proven_chance(noticed, passes) == pytest.approx(beta.ppf(0.05, noticed, passes - noticed + 1), abs=1e-9)


@pytest.mark.outside
def test_four_steps():
    """UL 1641 15.3.1, seen: four steps of 24 in, one a second: 2.44 m, 4 s; pint gives the metres."""
    import pint

    assert (pytest.approx(2.44), 4) == (STEPS_M, STEPS_S)
    assert steps_to_notice() == (pytest.approx(2.44), 4)
    assert pint.UnitRegistry().Quantity(4 * 24, "inch").to("metre").magnitude == pytest.approx(STEPS_M, abs=5e-3)


@pytest.mark.outside
def test_products():
    """By hand: misses of 0.2 and 0.3 leave 0.94; 0.9 · 0.95 · 0.98 = 0.8379."""
    assert any_notices((0.8, 0.7)) == pytest.approx(0.94, abs=1e-9)
    assert all_work((0.9, 0.95, 0.98)) == pytest.approx(0.8379, abs=1e-9)
    assert any_notices(()) == 0
    assert all_work(()) == 1


@given(st.integers(1, 60), st.data())
def test_more_notices_prove_more(passes, data):
    noticed = data.draw(st.integers(0, passes - 1))
    assert proven_chance(noticed, passes) < proven_chance(noticed + 1, passes)
    assert proven_chance(noticed + 1, passes) <= (noticed + 1) / passes


def test_nothing_noticed_proves_nothing():
    assert proven_chance(0, 5) == 0
    assert passes_figure(3, 3).value == pytest.approx(0.05 ** (1 / 3))


@pytest.mark.parametrize("make", [lambda: proven_chance(4, 3), lambda: proven_chance(0, 0), lambda: any_notices((1.1,)),
                                  lambda: proven_chance(1, 1, 1.0)])  # fmt: skip
def test_counts_that_cannot_be_are_refused(make):
    with pytest.raises(FieldProblem):
        make()


# The textbook's sabotage path (inputs from memory); its answer 0.47604 was recomputed by hand.
SABOTAGE = tuple(
    Task(chance, mean, sd)
    for chance, mean, sd in ((0, 10, 3), (0, 12, 3.6), (0.9, 90, 27), (0, 10, 3), (0.9, 90, 27), (0, 120, 36))
)


@pytest.mark.outside
def test_sabotage_path():
    """0.95 · (0.9 · 0.53822 + 0.1 · 0.9 · 0.18555) = 0.47604."""
    assert chance_of_interruption(SABOTAGE, 300, 90, 0.95) == pytest.approx(0.47604, abs=5e-5)


@pytest.mark.outside
def test_sabotage_path_by_drawing_it():
    """200,000 intruders with normal times, within four standard errors."""
    import numpy as np

    draw, count = np.random.default_rng(5), 200_000
    times = np.stack([draw.normal(t.mean_s, t.sd_s, count) for t in SABOTAGE])
    seen = draw.random(times.shape) < np.array([[t.chance] for t in SABOTAGE])
    first = np.where(seen.any(axis=0), seen.argmax(axis=0), len(SABOTAGE))
    left = (times * (np.arange(len(SABOTAGE))[:, None] >= first)).sum(axis=0)
    caught = seen.any(axis=0) & (draw.random(count) < 0.95) & (left > draw.normal(300, 90, count))
    drawn = caught.mean()
    expected = chance_of_interruption(SABOTAGE, 300, 90, 0.95)
    assert abs(drawn - expected) < 4 * math.sqrt(expected * (1 - expected) / count)


@pytest.mark.outside
@pytest.mark.parametrize(("notice", "chance"), [("end", 0.07598), ("beginning", 0.70283)])
def test_home_path_with_notice_at_either_end_of_the_door(notice, chance):
    """Our own rows, recomputed in the notes to 5e-5: a contact that fires late against one that fires early."""
    tasks = Task(0.95, 300, 90, notice), Task(0.85, 20, 6, "middle"), Task(0, 180, 60)
    assert chance_of_interruption(tasks, 390, 120, 0.98) == pytest.approx(chance, abs=5e-5)


@pytest.mark.outside
def test_identities():
    """Φ(0) and Φ(1) for one task; without spread the chances up to the last timely step, 1 − 0.5 · 0.2 = 0.9."""
    assert chance_of_interruption((Task(1, 300, 0),), 300, 90) == pytest.approx(0.5)
    assert chance_of_interruption((Task(1, 390, 0),), 300, 90) == pytest.approx(0.841345, abs=1e-6)
    tasks = tuple(Task(chance, 60, 0) for chance in (0.5, 0.8, 0.9))
    assert chance_of_interruption(tasks, 100, 0) == pytest.approx(0.9, abs=1e-9)


@given(st.lists(st.floats(0, 1), min_size=1, max_size=5), st.floats(1, 400), st.floats(0, 60))
def test_longer_steps_never_help_the_intruder(chances, response_s, more_s):
    """And no chance exceeds that of being noticed at all."""
    tasks = tuple(Task(chance, 60, 20) for chance in chances)
    longer = (Task(chances[0], 60 + more_s, 20), *tasks[1:])
    chance = chance_of_interruption(tasks, response_s, 30)
    assert chance <= chance_of_interruption(longer, response_s, 30) + 1e-12
    assert chance <= any_notices(chances) + 1e-12
