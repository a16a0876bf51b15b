"""What people type, read into stored values."""

import math
import re
import unicodedata

from alarmlib.errors import FieldProblem
from alarmlib.units.kinds import CELSIUS, FAHRENHEIT, FOOT_M, INCH_M, POUND_KG, Kind, Unit, unit_of

# Spellings that are read; those that differ only by a capital letter (m, M) are written as they must be typed.
_SPELLINGS: dict[Kind, dict[str, float | Unit]] = {
    Kind.LENGTH: {
        "m|metre|metres|meter|meters": 1,
        "cm|centimetre|centimetres|centimeter|centimeters": 0.01,
        "mm|millimetre|millimetres|millimeter|millimeters": 0.001,
        "km|kilometre|kilometres|kilometer|kilometers": 1000,
        "ft|ft.|foot|feet|'": FOOT_M,
        'in|in.|inch|inches|"': INCH_M,
        "yd|yard|yards": 3 * FOOT_M,
    },
    Kind.AREA: {
        "m2|sqm|sq m|square metres|square meters": 1,
        "cm2": 1e-4,
        "mm2|sq mm": 1e-6,
        "ft2|sqft|sq ft|sq. ft.|square feet": FOOT_M**2,
        "in2|sq in|square inches": INCH_M**2,
    },
    Kind.SPEED: {
        "m/s": 1,
        "km/h|kph|kmh": 1 / 3.6,
        "ft/s|fps": FOOT_M,
        "mph|mi/h": 1609.344 / 3600,
    },
    Kind.TIME: {
        "s|sec|secs|second|seconds": 1,
        "ms": 1e-3,
        "min|mins|minute|minutes": 60,
        "h|hr|hrs|hour|hours": 3600,
        "d|day|days": 86400,
    },
    Kind.DURATION_H: {
        "h|hr|hrs|hour|hours": 1,
        "s|sec|second|seconds": 1 / 3600,
        "min|mins|minute|minutes": 1 / 60,
        "d|day|days": 24,
        "week|weeks": 168,
    },
    Kind.TEMPERATURE: {
        "°c|c|degc|deg c|celsius|degrees c": CELSIUS,
        "°f|f|degf|deg f|fahrenheit|degrees f": FAHRENHEIT,
        "k|kelvin": Unit("K", 1, 2, -273.15),
    },
    Kind.VOLTAGE: {"V|v|volt|volts": 1, "mV|mv|millivolts": 1e-3, "kV": 1e3},
    Kind.CURRENT: {"A|a|amp|amps|ampere|amperes": 1, "mA|ma|milliamps": 1e-3, "μA|μa|uA|ua": 1e-6},
    Kind.RESISTANCE: {
        "Ω|ω|ohm|ohms|R|r": 1,
        "k|K|kΩ|KΩ|kω|kohm|kohms|k ohm|k ohms|kilohm|kilohms": 1e3,
        "M|MΩ|Mω|Mohm|MOhm|megohm|megohms": 1e6,
        "mΩ|mω|milliohm|milliohms": 1e-3,
    },
    Kind.CHARGE: {"Ah|ah|amp hours|amp-hours": 1, "mAh|mah": 1e-3},
    Kind.LEVEL: {"db(a)|db|dba|db a|db (a)": 1},
    Kind.MASS: {
        "kg|kgs|kilogram|kilograms|kilo|kilos": 1,
        "g|gram|grams": 1e-3,
        "lb|lbs|pound|pounds": POUND_KG,
        "oz|ounce|ounces": POUND_KG / 16,
    },
    Kind.COUNT: {},
    Kind.PERCENT: {"%|percent|per cent": 1},
    Kind.MONEY: {"$|€|£|usd|eur|gbp": 1},
    Kind.PLAIN: {},
    Kind.DATE: {},
}
_UNITS: dict[Kind, dict[str, Unit]] = {
    kind: {
        spelling: unit if isinstance(unit, Unit) else Unit(spelling, unit)
        for spellings, unit in rows.items()
        for spelling in spellings.split("|")
    }
    for kind, rows in _SPELLINGS.items()
}
_EXAMPLES: dict[Kind, str] = {
    Kind.LENGTH: "a length such as 2.5 m, 250 cm or 8 ft 2 1/2 in",
    Kind.AREA: "an area such as 12.5 m² or 134 sq ft",
    Kind.SPEED: "a speed such as 1.2 m/s or 3.9 ft/s",
    Kind.TIME: "a time such as 45 s, 1 min 30 s or 1:30",
    Kind.DURATION_H: "a time such as 12 h, 2 days or 90 min",
    Kind.TEMPERATURE: "a temperature such as 20 °C or 68 °F",
    Kind.VOLTAGE: "a voltage such as 13.8 V",
    Kind.CURRENT: "a current such as 12 mA or 1.5 A",
    Kind.RESISTANCE: "a resistance such as 2.2 kΩ, 2k2 or 2200 ohm",
    Kind.CHARGE: "a battery size such as 7 Ah or 1200 mAh",
    Kind.LEVEL: "a sound level such as 85 dB(A)",
    Kind.MASS: "a weight such as 12 kg or 26 lb",
    Kind.COUNT: "a whole number such as 3",
    Kind.PERCENT: "a percentage such as 10 %",
    Kind.MONEY: "an amount such as 120 or 119.50",
    Kind.PLAIN: "a number such as 3 or 0.25",
    Kind.DATE: "a date such as 2026-03-01",
}


def read(text: str, kind: Kind, system: str, decimal: str = "") -> float:
    """The stored value of what a person typed; a bare number is in the unit of `unit_label`.

    Reads either system's units, feet and inches, fractions, decimal point or comma, `1:30` and `2k2`. Where a
    comma may be a decimal or a thousands mark ("1,234") it asks, unless `decimal` ("," or ".") says.
    Raises FieldProblem.
    """
    plain = _plain_text(text)
    try:
        value = _read_coded(plain, kind)
        if value is None:
            value = _read_terms(plain, kind, unit_of(kind, system), decimal)
    except _UnreadableError as problem:
        raise FieldProblem("", "", text, str(problem) or f"write {_EXAMPLES[kind]}") from None
    whole = kind is Kind.COUNT and value != int(value)
    if kind is Kind.DATE or whole or abs(value) > _LARGEST:
        raise FieldProblem("", "", text, f"write {_EXAMPLES[kind]}")
    return float(f"{value:.12g}")


def spellings(kind: Kind) -> tuple[str, ...]:
    """Every unit spelling that is read for a kind."""
    return tuple(_UNITS[kind])


class _UnreadableError(Exception):
    """The text is no value of this kind; the argument is a better sentence than the usual one."""


_LONGEST = 60
_LARGEST = 1e15
_FRACTION = r"(?:\d+(?:[ -]+))?\d+ ?/ ?\d+"
_GROUPED = r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?(?!\d)"
_NUMBER = re.compile(rf"({_FRACTION}|{_GROUPED}|\d[\d.,]*|[.,]\d+)")
_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)(?::([0-5]\d))?")
_LETTER_CODE = re.compile(r"(\d+)([RKM])(\d+)(?: ?(?:Ω|ohm|ohms))?", re.IGNORECASE)
_NEXT_SMALLER = {"ft": "in", "'": '"', "h": "min", "min": "s"}
_USUAL_SIGNS = str.maketrans("−–⁄′’”", "--/''\"")
_COMPOUND = {Kind.LENGTH, Kind.TIME, Kind.DURATION_H, Kind.MASS}


def _plain_text(text: str) -> str:
    """The text with one kind of space, minus, prime and digit; ½ apart from the number before it."""
    if len(text) > _LONGEST:
        return ""
    apart = re.sub("([¼-¾⅐-⅞])", r" \1", text)
    plain = unicodedata.normalize("NFKC", apart).translate(_USUAL_SIGNS).replace("''", '"')
    return " ".join(plain.split())


def _read_coded(text: str, kind: Kind) -> float | None:
    """1:30 for times, and 2k2 (the letter is the decimal point, IEC 60062) for resistances; else None."""
    if kind in {Kind.TIME, Kind.DURATION_H} and (clock := _CLOCK.fullmatch(text)):
        first, second, third = clock.groups()
        value = int(first) + int(second) / 60 + int(third or 0) / 3600
        if kind is Kind.DURATION_H:
            return value
        return round(value * (60 if third is None else 3600))
    if kind is Kind.RESISTANCE and (code := _LETTER_CODE.fullmatch(text)):
        whole, letter, part = code.groups()
        return float(f"{whole}.{part}") * {"R": 1.0, "K": 1e3, "M": 1e6}[letter.upper()]
    return None


def _read_terms(text: str, kind: Kind, bare: Unit, decimal: str) -> float:
    """Number and unit, or several of them from large to small; the sign before the first holds for all."""
    negative, text = text.startswith("-"), text.removeprefix("-").removeprefix("+").lstrip()
    if kind is Kind.MONEY:
        text = text.lstrip("$€£ ")
    pieces = _NUMBER.split(text, maxsplit=0 if kind in _COMPOUND else 1)
    if pieces[0].strip() or len(pieces) < 3:
        raise _UnreadableError
    numbers, spellings = pieces[1::2], [piece.strip(" ,-") for piece in pieces[2::2]]
    value, last = 0.0, math.inf
    for place, (number, spelling) in enumerate(zip(numbers, spellings, strict=True)):
        unit = _unit_spelt(spelling or _implied(spellings, place), kind, bare)
        if unit.factor >= last:
            raise _UnreadableError
        last = unit.factor
        value += unit.stored(_number(number, decimal) * (-1 if negative else 1))
    return value


def _implied(spellings: list[str], place: int) -> str:
    """The unit of a number that has none: the next smaller after feet, hours and minutes."""
    if place == 0:
        return ""
    implied = _NEXT_SMALLER.get(spellings[place - 1].lower())
    if implied is None:
        raise _UnreadableError
    return implied


def _unit_spelt(spelling: str, kind: Kind, bare: Unit) -> Unit:
    if not spelling:
        return bare
    known = _UNITS[kind]
    unit = known.get(spelling) or known.get(spelling.lower())
    if unit is None:
        raise _UnreadableError
    return unit


def _number(text: str, decimal: str) -> float:
    """A whole number, a decimal with point or comma, with thousands apart or not, or a fraction."""
    if "/" in text:
        *whole, above, below = re.split(r" ?/ ?|[ -]+", text)
        if int(below) == 0:
            raise _UnreadableError
        return int(whole[0] if whole else 0) + int(above) / int(below)
    text = text.replace(" ", "")
    marks = [sign for sign in text if sign in ".,"]
    mark = decimal or _decimal_mark(text, marks)
    other = "," if mark == "." else "."
    whole_part, _, part = text.partition(mark)
    groups = whole_part.split(other)
    in_threes = all(len(group) == 3 for group in groups[1:]) and 0 < len(groups[0]) <= 3
    if other in part or mark in part or (len(groups) > 1 and not in_threes):
        raise _UnreadableError
    return float(f"{''.join(groups) or '0'}.{part or '0'}")


def _decimal_mark(text: str, marks: list[str]) -> str:
    """Which of point and comma is the decimal mark; a lone point always is, since `show` writes one."""
    if len(set(marks)) == 2:
        return marks[-1]
    if len(marks) > 1:
        return "," if marks[0] == "." else "."
    if marks == [","] and re.fullmatch(r"[1-9]\d{0,2},\d{3}", text):
        whole = text.replace(",", "")
        point = text.replace(",", ".")
        raise _UnreadableError(f"write {whole} or {point}, as this comma can be read in two ways")
    return marks[0] if marks else "."
