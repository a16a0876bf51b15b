"""What numbers measure, the unit each is stored in, and the units it is written in.

Reference: NIST Special Publication 811 (2008), appendix B.8, for the factors (from memory; pint agrees).
"""

from enum import StrEnum
from typing import NamedTuple


class Kind(StrEnum):
    """What a number measures; each kind has one stored unit."""

    LENGTH = "length"
    AREA = "area"
    SPEED = "speed"
    TIME = "time"
    DURATION_H = "duration_h"
    TEMPERATURE = "temperature"
    VOLTAGE = "voltage"
    CURRENT = "current"
    RESISTANCE = "resistance"
    CHARGE = "charge"
    LEVEL = "level"
    MASS = "mass"
    COUNT = "count"
    PERCENT = "percent"
    MONEY = "money"
    PLAIN = "plain"
    DATE = "date"  # stored as text, year-month-day; `read` and `show` have nothing to do with it


class Unit(NamedTuple):
    """A unit on paper: stored value = shown value × factor + offset; shown to `decimals` at most."""

    label: str
    factor: float = 1.0
    decimals: int = 2
    offset: float = 0.0

    def stored(self, shown: float) -> float:
        """The stored value of a number written in this unit."""
        return shown * self.factor + self.offset

    def shown(self, stored: float) -> float:
        """The number to write in this unit for a stored value."""
        return (stored - self.offset) / self.factor


INCH_M = 0.0254
FOOT_M = 0.3048
POUND_KG = 0.45359237
_METRE, _FOOT = Unit("m", 1, 3), Unit("ft", FOOT_M, 3)
MM2 = Unit("mm²", 1e-6, 3)
AMPERE, MILLIAMPERE = Unit("A", 1, 3), Unit("mA", 1e-3, 4)
OHM, KILOHM, MEGOHM = Unit("Ω", 1, 3), Unit("kΩ", 1e3, 3), Unit("MΩ", 1e6, 3)
CELSIUS, FAHRENHEIT = Unit("°C", 1, 2), Unit("°F", 5 / 9, 1, -160 / 9)
_PLAIN = Unit("", 1, 6)

_METRIC: dict[Kind, Unit] = {
    Kind.LENGTH: _METRE,
    Kind.AREA: Unit("m²", 1, 2),
    Kind.SPEED: Unit("m/s", 1, 3),
    Kind.TIME: Unit("s", 1, 2),
    Kind.DURATION_H: Unit("h", 1, 2),
    Kind.TEMPERATURE: CELSIUS,
    Kind.VOLTAGE: Unit("V", 1, 3),
    Kind.CURRENT: MILLIAMPERE,
    Kind.RESISTANCE: OHM,
    Kind.CHARGE: Unit("Ah", 1, 3),
    Kind.LEVEL: Unit("dB(A)", 1, 1),
    Kind.MASS: Unit("kg", 1, 2),
    Kind.COUNT: Unit("", 1, 0),
    Kind.PERCENT: Unit("%", 1, 2),
    Kind.MONEY: _PLAIN._replace(decimals=2),
    Kind.PLAIN: _PLAIN,
    Kind.DATE: _PLAIN,
}
_US: dict[Kind, Unit] = _METRIC | {
    Kind.LENGTH: _FOOT,
    Kind.AREA: Unit("sq ft", FOOT_M**2, 1),
    Kind.SPEED: Unit("ft/s", FOOT_M, 3),
    Kind.TEMPERATURE: FAHRENHEIT,
    Kind.MASS: Unit("lb", POUND_KG, 2),
}


def unit_of(kind: Kind, system: str) -> Unit:
    """The usual unit of a kind; `system` is "metric" or "us" (a `UnitSystem` fits)."""
    return (_US if system == "us" else _METRIC)[kind]


def unit_label(kind: Kind, system: str) -> str:
    """The unit that a bare number is read in, e.g. "m" or "ft"; "" for counts, money and plain numbers."""
    return unit_of(kind, system).label
