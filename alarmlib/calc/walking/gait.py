"""Published walking, stair and keying figures, as data with the row's own source.

A row marked `cite="..."` names a key of `alarmlib.sources`; rows from memory cite a key whose status says so.
"""

import math
from dataclasses import dataclass
from typing import Literal

from alarmlib.errors import FieldProblem

FOOT_M = 0.3048


@dataclass(frozen=True)
class Spread:
    """A quantity that varies from one time to the next: mean and standard deviation, both in one unit."""

    mean: float
    sd: float = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.mean) and self.mean >= 0):
            raise FieldProblem("", "mean", str(self.mean), "a number of 0 or more is needed")
        if not (math.isfinite(self.sd) and self.sd >= 0):
            raise FieldProblem("", "standard deviation", str(self.sd), "a number of 0 or more is needed")

    def __add__(self, other: "Spread") -> "Spread":
        """The sum of two independent quantities."""
        return Spread(self.mean + other.mean, math.hypot(self.sd, other.sd))


@dataclass(frozen=True)
class GaitRow:
    """Walking speed over a measured course for one decade of age; m/s, mean and SD.

    Reference: four extreme means (`bohannon_1997`), the rest from memory (`bohannon_1997_rows`).
    """

    sex: Literal["m", "w"]
    age_from: int
    comfortable: Spread
    fastest: Spread
    cite: str = "bohannon_1997_rows"


# Bohannon, Age and Ageing 26:15-19 (1997), n = 230, 7.62 m course. The four extreme means are in the
# abstract and were seen (146.2, 127.2, 253.3, 174.9 cm/s); all other numbers are from memory.
BOHANNON_1997 = (
    GaitRow("m", 20, Spread(1.393, 0.153), Spread(2.533, 0.291)),
    GaitRow("m", 30, Spread(1.458, 0.094), Spread(2.456, 0.315)),
    GaitRow("m", 40, Spread(1.462, 0.164), Spread(2.462, 0.363)),
    GaitRow("m", 50, Spread(1.393, 0.229), Spread(2.069, 0.448)),
    GaitRow("m", 60, Spread(1.359, 0.205), Spread(1.933, 0.364)),
    GaitRow("m", 70, Spread(1.330, 0.196), Spread(2.079, 0.363)),
    GaitRow("w", 20, Spread(1.407, 0.175), Spread(2.467, 0.253)),
    GaitRow("w", 30, Spread(1.415, 0.127), Spread(2.342, 0.344)),
    GaitRow("w", 40, Spread(1.391, 0.158), Spread(2.123, 0.275)),
    GaitRow("w", 50, Spread(1.395, 0.151), Spread(2.010, 0.258)),
    GaitRow("w", 60, Spread(1.296, 0.213), Spread(1.774, 0.254)),
    GaitRow("w", 70, Spread(1.272, 0.211), Spread(1.749, 0.281)),
)

SLOW_M_S = 0.92

# Along the slope, m/s. Seen as quoted by a fire engineering forum from PD 7974-6 (Fruin).
FRUIN_DOWN_M_S = (0.595, 1.01)
FRUIN_UP_M_S = (0.485, 0.67)

# Keystroke-level model, seconds (Card, Moran and Newell, as printed on a university's page): seen.
KLM_HOME_S = 0.40
KLM_MENTAL_S = 1.35
KLM_KEY_S = {"random letters": 0.50, "complex codes": 0.75}

CARRYING_FACTOR = 0.85  # assumed: no source found for bags and children
# The spread of one person's speed, or time, from day to day as a share of it: assumed, since bags, light, doors and
# codes come on top of the walk. A usual 20 m walk repeats within 4.1 m/min (`gilbert_2021`), 5 % of 1.27 m/s.
OWN_SPREAD = 0.10
TURN_S = 1.5  # assumed: 1 to 2 s a door or turn, since gait courses leave out start and turns


def keying_s(digits: int = 4, key_s: float = KLM_KEY_S["complex codes"]) -> float:
    """Seconds to key a code of so many digits: hand to the keypad, think, one press a digit.

    Assumes an expert without errors; a retry doubles it.
    Reference: keystroke-level model, Card, Moran and Newell (`klm`).
    """
    return KLM_HOME_S + KLM_MENTAL_S + digits * key_s


def level_speed(age: int, *, slow: bool = False, carrying: bool = False) -> Spread:
    """Comfortable walking speed in m/s for an age, the slower of the two sexes' rows.

    `slow` takes the mean down to the 15th percentile of people over 60; `carrying` to 0.85 of it (assumed).
    Reference: Bohannon 1997, rows from memory but the extremes; under 20 the row of the 20s is taken. The 15th
    percentile is of `tcrp_2005`.
    """
    decade = min(max(age // 10 * 10, 20), 70)
    row = min((r for r in BOHANNON_1997 if r.age_from == decade), key=lambda r: r.comfortable.mean)
    mean = min(row.comfortable.mean, SLOW_M_S) if slow else row.comfortable.mean
    factor = (CARRYING_FACTOR if carrying else 1.0) * mean / row.comfortable.mean
    return Spread(row.comfortable.mean * factor, row.comfortable.sd * factor)
