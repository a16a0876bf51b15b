"""Published walking, stair and keying figures, and what is made of them for a person."""

import pytest

from alarmlib.calc.times.chance import chance_in_time
from alarmlib.calc.walking.gait import (
    BOHANNON_1997,
    FOOT_M,
    FRUIN_DOWN_M_S,
    FRUIN_UP_M_S,
    KLM_KEY_S,
    SLOW_M_S,
    Spread,
    keying_s,
    level_speed,
)
from alarmlib.calc.walking.walkers import UNLOCK_S, coming_home, going_out, walker_of
from alarmlib.model.household import AgeBand, Person
from alarmlib.sources import cite


@pytest.mark.outside
@pytest.mark.parametrize(
    ("sex", "age", "speed", "cm_s"),
    [("m", 40, "comfortable", 146.2), ("w", 70, "comfortable", 127.2), ("m", 20, "fastest", 253.3),
     ("w", 70, "fastest", 174.9)],
)  # fmt: skip
def test_extremes_of_bohannon(sex, age, speed, cm_s):
    """Bohannon 1997, abstract (PMID 9143432), seen: the extremes of the table in cm/s, one decimal."""
    (row,) = (row for row in BOHANNON_1997 if (row.sex, row.age_from) == (sex, age))
    assert getattr(row, speed).mean * 100 == pytest.approx(cm_s, abs=0.05)
    extreme = max if (speed, sex) in (("comfortable", "m"), ("fastest", "m")) else min
    assert getattr(row, speed).mean == extreme(getattr(row, speed).mean for row in BOHANNON_1997)


@pytest.mark.outside
def test_a_slow_walk():
    """TCRP-NCHRP 2005, seen: the 15th percentile over 60 is 3.03 ft/s, printed as 0.92 m/s; the foot by pint."""
    import pint

    feet = pint.UnitRegistry().Quantity(1, "foot").to("metre").magnitude
    assert pytest.approx(feet, abs=1e-12) == FOOT_M
    assert pytest.approx(3.03 * FOOT_M, abs=0.005) == SLOW_M_S == 0.92


@pytest.mark.outside
def test_stairs():
    """Fruin's ends, as quoted from PD 7974-6, seen."""
    assert (FRUIN_DOWN_M_S, FRUIN_UP_M_S) == ((0.595, 1.01), (0.485, 0.67))


@pytest.mark.outside
@pytest.mark.parametrize(("kind", "seconds"), [("random letters", 3.75), ("complex codes", 4.75)])
def test_keying_four_digits(kind, seconds):
    """Keystroke-level model, seen: H 0.40 + M 1.35 + 4 K = 3.75 s (K 0.50) and 4.75 s (K 0.75)."""
    assert keying_s(4, KLM_KEY_S[kind]) == pytest.approx(seconds, abs=1e-9)


def test_every_row_names_a_source_that_is_written_down():
    keys = {row.cite for row in BOHANNON_1997}
    assert all(cite(key).title for key in (*keys, "klm", "fruin_stairs", "tcrp_2005", "ada_door"))


def test_slow_and_carrying_never_walk_faster():
    for age in range(5, 100, 5):
        plain, slow, carrying = level_speed(age), level_speed(age, slow=True), level_speed(age, carrying=True)
        assert slow.mean <= 0.92 + 1e-9 <= plain.mean
        assert carrying.mean < plain.mean
        assert all(speed.sd <= speed.mean / 3 for speed in (plain, slow, carrying))


def test_spreads_add_as_independent():
    assert Spread(3, 3) + Spread(5, 4) == Spread(8, 5)


def test_unlocking_triangle():
    """Mean and spread of the assumed triangle 3, 6, 12 s, against drawing it."""
    import random

    draw = random.Random(1)
    drawn = [draw.triangular(3, 12, 6) for _ in range(100_000)]
    mean = sum(drawn) / len(drawn)
    assert pytest.approx(mean, abs=0.03) == UNLOCK_S.mean
    assert pytest.approx((sum((x - mean) ** 2 for x in drawn) / len(drawn)) ** 0.5, abs=0.03) == UNLOCK_S.sd


@pytest.mark.parametrize("age", list(AgeBand))
@pytest.mark.parametrize("slow", [False, True])
def test_a_walker_for_every_kind_of_person(age, slow):
    walker = walker_of(Person(id="one", role="one", age=age, slow=slow, carries=True))
    assert 0.3 < walker.speed_m_s.mean < 1.5
    assert walker.up_m_s < walker.down_m_s


def test_measured_facts_win():
    person = Person(id="one", role="one", speed_m_s=1.1, keying_s=6, unlock_s=4)
    walker = walker_of(person)
    home = coming_home(10, 2, walker, person)
    assert walker.speed_m_s.mean == 1.1
    assert (home.keying_s, home.start_s.mean) == (6, 4 + 2 * walker.door_s)


def test_slow_person_is_in_time_less_often():
    def chance(slow):
        person = Person(id="one", role="one", slow=slow)
        return chance_in_time(coming_home(15, 1, walker_of(person), person), 32)

    assert chance(True) < chance(False)


def test_going_out_takes_the_door_in():
    """ADA 2010 404.2.8, from memory: a closer takes 5 s at least."""
    walker = walker_of(Person(id="one", role="one"))
    assert going_out(10, 0, walker).start_s.mean == pytest.approx(walker.door_s + 5)
    assert going_out(10, 0, walker, shut_s=1.5).start_s.mean == pytest.approx(walker.door_s + 1.5)
