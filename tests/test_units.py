"""Units at the edge: what people type is understood, what is shown reads back, every factor is checked."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.errors import FieldProblem
from alarmlib.units import Kind, read, show, show_number, unit_label
from alarmlib.units.kinds import unit_of
from alarmlib.units.reading import spellings

NUMBERS = [kind for kind in Kind if kind is not Kind.DATE]
LENGTHS = {
    "2.5": 2.5,
    "2,5": 2.5,
    "2.5 m": 2.5,
    "250 cm": 2.5,
    "2 m 50 cm": 2.5,
    "2500mm": 2.5,
    "8 ft 2 1/2 in": 2.5019,
    "8' 2 1/2\"": 2.5019,
    "8'-2 1/2\"": 2.5019,
    "8'2-1/2\"": 2.5019,
    "8′ 2½″": 2.5019,
    "8’ 2 ½”": 2.5019,
    "8 feet 2.5 inches": 2.5019,
    "98 1/2 in": 2.5019,
    "8ft": 2.4384,
    "8' 2": 2.4892,
    "3/4 in": 0.01905,
    "¾ in": 0.01905,
    '¼"': 0.00635,
    "1.234,5": 1234.5,
    "1,234.5": 1234.5,
    "1\u2009234,5": 1234.5,
    "1\u00a0234.5 m": 1234.5,
    "1.234.567": 1234567.0,
    "0,125": 0.125,
    "1234,567": 1234.567,
    "2.125": 2.125,
    ",5": 0.5,
    "\u22122.5": -2.5,
    "-8 ft 6 in": -2.5908,
    "  2.5   m  ": 2.5,
    "２．５": 2.5,
}
OTHERS = [
    ("1 min 30 s", Kind.TIME, 90),
    ("1:30", Kind.TIME, 90),
    ("1:05:30", Kind.TIME, 3930),
    ("45", Kind.TIME, 45),
    ("1,5 min", Kind.TIME, 90),
    ("2 min 5", Kind.TIME, 125),
    ("1:30", Kind.DURATION_H, 1.5),
    ("2 days 6 h", Kind.DURATION_H, 54),
    ("90 min", Kind.DURATION_H, 1.5),
    ("2k2", Kind.RESISTANCE, 2200),
    ("4R7", Kind.RESISTANCE, 4.7),
    ("2.2 k", Kind.RESISTANCE, 2200),
    ("2200 ohm", Kind.RESISTANCE, 2200),
    ("2,2 kΩ", Kind.RESISTANCE, 2200),
    ("1 MΩ", Kind.RESISTANCE, 1e6),
    ("5 mΩ", Kind.RESISTANCE, 0.005),
    ("12 mA", Kind.CURRENT, 0.012),
    ("12", Kind.CURRENT, 0.012),
    ("1.5 A", Kind.CURRENT, 1.5),
    ("5 µA", Kind.CURRENT, 5e-6),
    ("13.8 V", Kind.VOLTAGE, 13.8),
    ("1200 mAh", Kind.CHARGE, 1.2),
    ("7 Ah", Kind.CHARGE, 7),
    ("85 dB(A)", Kind.LEVEL, 85),
    ("85 dBA", Kind.LEVEL, 85),
    ("68 °F", Kind.TEMPERATURE, 20),
    ("68F", Kind.TEMPERATURE, 20),
    ("-40 °F", Kind.TEMPERATURE, -40),
    ("−5 °C", Kind.TEMPERATURE, -5),
    ("26 lb 4 oz", Kind.MASS, 11.9067997125),
    ("10 %", Kind.PERCENT, 10),
    ("€ 12,50", Kind.MONEY, 12.5),
    ("3", Kind.COUNT, 3),
    ("12.5 m²", Kind.AREA, 12.5),
    ("0.22 mm²", Kind.AREA, 2.2e-7),
    ("134 sq ft", Kind.AREA, 12.44900736),
    ("3 mph", Kind.SPEED, 1.34112),
    ("4 km/h", Kind.SPEED, 4 / 3.6),
]
REFUSED = [
    ("", Kind.LENGTH),
    ("nan", Kind.LENGTH),
    ("inf", Kind.LENGTH),
    ("-Infinity", Kind.TEMPERATURE),
    ("1e3", Kind.LENGTH),
    ("1 2", Kind.LENGTH),
    ("2 in 3 ft", Kind.LENGTH),
    ("2 m 30", Kind.LENGTH),
    ("1/0 in", Kind.LENGTH),
    ("1/2/3", Kind.LENGTH),
    ("--2", Kind.LENGTH),
    ("1.2.3", Kind.LENGTH),
    ("1,23,4", Kind.LENGTH),
    ("5 kg", Kind.LENGTH),
    ("9" * 400, Kind.LENGTH),
    ("9" * 59, Kind.COUNT),
    ("1:75", Kind.TIME),
    ("2.5", Kind.COUNT),
    ("<b>2</b>", Kind.LENGTH),
    ("5 °C 3", Kind.TEMPERATURE),
    ("2026-03-01", Kind.DATE),
]


@pytest.mark.parametrize(("text", "metres"), LENGTHS.items())
def test_lengths_are_read_as_people_write_them(text: str, metres: float) -> None:
    """Metric, feet and inches, fractions, points and commas all come to the same stored metres."""
    assert read(text, Kind.LENGTH, "metric") == pytest.approx(metres, rel=1e-12)


@pytest.mark.parametrize(("text", "kind", "stored"), OTHERS)
def test_other_kinds_are_read(text: str, kind: Kind, stored: float) -> None:
    assert read(text, kind, "metric") == pytest.approx(stored, rel=1e-11)


@pytest.mark.parametrize(("text", "kind"), REFUSED)
def test_what_is_no_value_is_refused_in_a_sentence(text: str, kind: Kind) -> None:
    """A refused text gives one sentence with an example of what may be written; a blank one says that it is blank."""
    what = "is not allowed here" if text else "^nothing is written here"
    with pytest.raises(FieldProblem, match=rf"{what}; write .*\.$"):
        read(text, kind, "metric")


def test_a_comma_that_can_be_read_in_two_ways_is_asked_about() -> None:
    with pytest.raises(FieldProblem, match=r"write 1234 or 1\.234"):
        read("1,234", Kind.LENGTH, "metric")
    assert read("1,234", Kind.LENGTH, "metric", decimal=",") == 1.234
    assert read("1,234", Kind.LENGTH, "metric", decimal=".") == 1234


def test_a_bare_number_is_in_the_unit_beside_the_field() -> None:
    assert unit_label(Kind.LENGTH, "us") == "ft"
    assert read("8 1/2", Kind.LENGTH, "us") == pytest.approx(2.5908)
    assert read("68", Kind.TEMPERATURE, "us") == pytest.approx(20)


@pytest.mark.parametrize(
    ("value", "kind", "metric", "us"),
    [
        (2.5019, Kind.LENGTH, "2.502 m", "8 ft 2 1/2 in"),
        (0.01905, Kind.LENGTH, "0.019 m", "3/4 in"),
        (0.0, Kind.LENGTH, "0 m", "0 in"),
        (3.0479, Kind.LENGTH, "3.048 m", "10 ft"),
        (-0.3048, Kind.LENGTH, "-0.305 m", "-1 ft"),
        (20.0, Kind.TEMPERATURE, "20 °C", "68 °F"),
        (90.0, Kind.TIME, "90 s", "90 s"),
        (3900.0, Kind.TIME, "65 min", "65 min"),
        (9000.0, Kind.TIME, "2 h 30 min", "2 h 30 min"),
        (54.5, Kind.DURATION_H, "54 h 30 min", "54 h 30 min"),
        (0.012, Kind.CURRENT, "12 mA", "12 mA"),
        (1.5, Kind.CURRENT, "1.5 A", "1.5 A"),
        (2200.0, Kind.RESISTANCE, "2.2 kΩ", "2.2 kΩ"),
        (2.2e-7, Kind.AREA, "0.22 mm²", "0.22 mm²"),
        (12.0, Kind.COUNT, "12", "12"),
        (-1e-9, Kind.VOLTAGE, "0 V", "0 V"),
    ],
)
def test_values_are_shown_plainly(value: float, kind: Kind, metric: str, us: str) -> None:
    assert (show(value, kind, "metric"), show(value, kind, "us")) == (metric, us)


def test_computed_values_are_shown_with_three_figures() -> None:
    assert show(12.34567, Kind.LENGTH, "metric", figures=3) == "12.3 m"
    assert show(12.34567, Kind.LENGTH, "us", figures=3) == "40 ft 6 in"
    assert show(0.0123456, Kind.CURRENT, "metric", figures=3) == "12.3 mA"
    assert show(123456.0, Kind.RESISTANCE, "metric", figures=3) == "123 kΩ"
    assert show(3899.7, Kind.TIME, "metric", figures=3) == "65 min"
    assert show(0.0, Kind.LENGTH, "metric", figures=3) == "0 m"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_nan_and_infinity_are_never_shown(value: float) -> None:
    with pytest.raises(ValueError, match="cannot be shown"):
        show(value, Kind.LENGTH, "us")
    with pytest.raises(ValueError, match="cannot be shown"):
        show_number(value, Kind.LENGTH, "us")


def half_step(value: float, kind: Kind, system: str) -> float:
    """Half of the finest step that `show` writes for a value of this size, in the stored unit."""
    if kind is Kind.LENGTH and system == "us":
        return 0.0254 / 32
    if kind in {Kind.TIME, Kind.DURATION_H}:
        return 0.005 / (3600 if kind is Kind.DURATION_H else 1)
    steps = {Kind.CURRENT: 5e-4 if abs(value) >= 1 else 5e-8, Kind.RESISTANCE: max(5e-4, abs(value) * 5e-4)}
    unit = unit_of(kind, system)
    return steps.get(kind, 0.5 * 10**-unit.decimals * unit.factor)


@given(
    value=st.floats(-1e6, 1e6, allow_nan=False),
    kind=st.sampled_from(NUMBERS),
    system=st.sampled_from(["metric", "us"]),
)
def test_what_is_shown_is_read_back(value: float, kind: Kind, system: str) -> None:
    """read(show(x)) is x within half of the finest step shown, and showing it again gives the same text."""
    if kind is Kind.COUNT:
        value = round(value)
    text = show(value, kind, system)
    back = read(text, kind, system)
    assert abs(back - value) <= half_step(value, kind, system) * 1.001 + abs(value) * 2e-12
    assert show(back, kind, system) == text


@given(value=st.floats(-1e4, 1e4), kind=st.sampled_from(NUMBERS), system=st.sampled_from(["metric", "us"]))
def test_a_columns_number_is_read_back(value: float, kind: Kind, system: str) -> None:
    if kind is Kind.COUNT:
        value = round(value)
    back = read(show_number(value, kind, system), kind, system)
    assert back == pytest.approx(value, rel=2e-12, abs=1e-9 * unit_of(kind, system).factor)


@given(text=st.text(max_size=80), kind=st.sampled_from(NUMBERS))
def test_any_text_is_read_or_refused_and_nothing_else(text: str, kind: Kind) -> None:
    """Whatever is typed gives a finite number or a sentence."""
    try:
        assert math.isfinite(read(text, kind, "us"))
    except FieldProblem as problem:
        assert str(problem).endswith(".")


REGISTRY = pint.UnitRegistry()
PINT_KIND = {
    Kind.LENGTH: "m",
    Kind.AREA: "m**2",
    Kind.SPEED: "m/s",
    Kind.TIME: "s",
    Kind.DURATION_H: "hour",
    Kind.TEMPERATURE: "degC",
    Kind.VOLTAGE: "volt",
    Kind.CURRENT: "ampere",
    Kind.RESISTANCE: "ohm",
    Kind.CHARGE: "ampere*hour",
    Kind.MASS: "kg",
}
PINT_SPELLING = {
    "'": "ft", '"': "in", "ft.": "ft", "in.": "in",
    "ft2": "ft**2", "m2": "m**2", "cm2": "cm**2", "mm2": "mm**2",
    "in2": "in**2", "sq in": "in**2", "square inches": "in**2", "sqm": "m**2", "sq m": "m**2",
    "square metres": "m**2", "square meters": "m**2", "sq mm": "mm**2", "sqft": "ft**2", "sq ft": "ft**2",
    "sq. ft.": "ft**2", "square feet": "ft**2", "km/h": "km/hour", "kph": "km/hour", "kmh": "km/hour",
    "fps": "ft/s", "mi/h": "mile/hour", "secs": "s", "mins": "min", "hrs": "hour", "h": "hour", "d": "day",
    "°c": "degC", "c": "degC", "degc": "degC", "deg c": "degC", "celsius": "degC", "degrees c": "degC",
    "°f": "degF", "f": "degF", "degf": "degF", "deg f": "degF", "fahrenheit": "degF", "degrees f": "degF",
    "k": "kelvin", "v": "volt", "mv": "millivolt", "amp": "ampere", "amps": "ampere", "a": "ampere",
    "ma": "mA", "milliamps": "mA", "μA": "uA", "μa": "uA", "ua": "uA", "Ω": "ohm", "ω": "ohm", "R": "ohm",
    "r": "ohm", "K": "kohm", "kΩ": "kohm", "KΩ": "kohm", "kω": "kohm", "kohms": "kohm", "k ohm": "kohm",
    "k ohms": "kohm", "kilohm": "kohm", "kilohms": "kohm", "M": "Mohm", "MΩ": "Mohm", "Mω": "Mohm", "MOhm": "Mohm",
    "megohm": "Mohm", "megohms": "Mohm", "mΩ": "mohm", "mω": "mohm", "milliohm": "mohm", "milliohms": "mohm",
    "Ah": "ampere*hour", "ah": "ampere*hour", "amp hours": "ampere*hour", "amp-hours": "ampere*hour",
    "mAh": "mA*hour", "mah": "mA*hour", "kgs": "kg", "kilo": "kg", "kilos": "kg", "lbs": "lb",
}  # fmt: skip
RESISTANCE_K = {"k": "kohm"}


@pytest.mark.outside
@pytest.mark.parametrize(("kind", "spelling"), [(kind, spelling) for kind in PINT_KIND for spelling in spellings(kind)])
def test_every_unit_agrees_with_pint(kind: Kind, spelling: str) -> None:
    """Outside check: each spelling of each unit converts as in the independent library pint."""
    name = PINT_SPELLING.get(spelling, spelling)
    if kind is Kind.RESISTANCE:
        name = RESISTANCE_K.get(spelling, name)
    expected = REGISTRY.Quantity(7.25, name).to(PINT_KIND[kind]).magnitude
    assert read(f"7.25 {spelling}", kind, "metric") == pytest.approx(expected, rel=1e-11)


@pytest.mark.outside
@pytest.mark.parametrize("kind", PINT_KIND)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_shown_unit_agrees_with_pint(kind: Kind, system: str) -> None:
    """Outside check: a number written in the usual unit of either system is pint's, both ways."""
    label = unit_label(kind, system).replace("sq ft", "ft**2").replace("°", "deg").replace("Ω", "ohm")
    label = label.replace("m²", "m**2").replace("Ah", "ampere*hour").replace("h", "hour") if kind in {
        Kind.AREA, Kind.DURATION_H
    } else {"Ah": "ampere*hour"}.get(label, label)  # fmt: skip
    expected = REGISTRY.Quantity(7.25, PINT_KIND[kind]).to(label).magnitude
    assert float(show_number(7.25, kind, system)) == pytest.approx(expected, abs=1e-8)
