"""Stored values written out for people."""

import math

from alarmlib.units.kinds import AMPERE, INCH_M, KILOHM, MEGOHM, MM2, Kind, Unit, unit_of


def show(value: float, kind: Kind, system: str, figures: int | None = None) -> str:
    """The stored value with its unit, as a person reads it; `figures` rounds a computed value to so many.

    Without `figures` the text keeps all that a tape or meter can tell (1 mm, 1/16 in, 0.01 s), so that `read`
    gives the value back within half of that. `system` is "metric" or "us" (a `UnitSystem` fits).
    Raises ValueError for NaN and infinities, which no stored value is.
    """
    _finite(value)
    if kind is Kind.LENGTH and system == "us":
        return _feet_and_inches(value, 16 if figures is None else 1)
    if kind in {Kind.TIME, Kind.DURATION_H}:
        return _hours_minutes(_rounded(value, figures), kind)
    return _with_unit(value, _fitting(value, kind, system), figures)


def show_number(value: float, kind: Kind, system: str) -> str:
    """The stored value as a bare decimal number in the unit of `unit_label`, nine decimals at most."""
    _finite(value)
    return _decimal(unit_of(kind, system).shown(value), 9)


def rounded(value: float, figures: int = 3) -> str:
    """A computed number with so many significant figures, written out without an exponent.

    Raises ValueError for NaN and infinities, which are written in words.
    """
    _finite(value)
    number = _rounded(value, figures)
    decimals = figures - math.floor(math.log10(abs(number))) if number else 0
    return _decimal(number, max(0, decimals))


def _finite(value: float) -> None:
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be shown")


def _fitting(value: float, kind: Kind, system: str) -> Unit:
    """The unit that suits the size of the value."""
    size = abs(value)
    if kind is Kind.CURRENT and size >= 1:
        return AMPERE
    if kind is Kind.RESISTANCE and size >= 1e3:
        return MEGOHM if size >= 1e6 else KILOHM
    if kind is Kind.AREA and 1e-9 < size < 1e-3:
        return MM2
    return unit_of(kind, system)


def _with_unit(value: float, unit: Unit, figures: int | None) -> str:
    number = _rounded(unit.shown(value), figures)
    return f"{_decimal(number, unit.decimals if figures is None else 9)} {unit.label}".strip()


def _rounded(number: float, figures: int | None) -> float:
    if figures is None or not number:
        return number
    return round(number, figures - 1 - math.floor(math.log10(abs(number))))


def _decimal(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _feet_and_inches(value_m: float, parts: int) -> str:
    """8 ft 2 1/2 in: whole feet, whole inches and a fraction of 1/`parts` inch at most."""
    total = round(abs(value_m) / INCH_M * parts)
    feet, rest = divmod(total, 12 * parts)
    inches, part = divmod(rest, parts)
    divisor = math.gcd(part, parts)
    words = [f"{feet} ft"] if feet else []
    if inches or part or not feet:
        whole = [str(inches)] if inches or not part else []
        fraction = [f"{part // divisor}/{parts // divisor}"] if part else []
        words.append(" ".join([*whole, *fraction, "in"]))
    return ("-" if value_m < 0 and total else "") + " ".join(words)


def _hours_minutes(value: float, kind: Kind) -> str:
    """45 s, 2 min 30 s, 1 h 5 min; durations of hours keep to hours, however many."""
    hundredths = round(abs(value) * (3600 if kind is Kind.DURATION_H else 1) * 100)
    sign = "-" if value < 0 and hundredths else ""
    if hundredths < 12000:
        return f"{sign}{_decimal(hundredths / 100, 2)} s" if hundredths or kind is Kind.TIME else "0 h"
    minutes, rest = divmod(hundredths, 6000)
    hours, minutes = divmod(minutes, 60) if minutes >= 120 or kind is Kind.DURATION_H else (0, minutes)
    words = [f"{hours} h"] * bool(hours) + [f"{minutes} min"] * bool(minutes)
    return sign + " ".join(words + [f"{_decimal(rest / 100, 2)} s"] * bool(rest))
