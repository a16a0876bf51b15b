# ruff: noqa: E501 - one case a line reads best
"""Conductors against ASTM B258, a wire maker's table, NEC chapter 9, IEC 60228 and pint."""

import itertools
from math import isclose

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.electrical.conductors import IEC_60228, area_mm2, awg_diameter_mm, ohm_per_km, standard_sizes, warm
from alarmlib.calc.electrical.ladder import drop_v
from alarmlib.model.conductor_sizes import Size, size_in
from alarmlib.model.wiring import Metal

FOOT_KM = 0.3048e-3


@pytest.mark.outside
@pytest.mark.parametrize(("gauge", "inches"), [(36, 0.0050), (-3, 0.4600), (24, 0.0201)])
def test_diameters(gauge: int, inches: float) -> None:
    """Source: ASTM B258, the two sizes that define it; Kuphaldt's reference table for 24, half a last digit."""
    assert awg_diameter_mm(gauge) / 25.4 == pytest.approx(inches, abs=5e-5)


@pytest.mark.outside
def test_area_in_circular_mils() -> None:
    """Source: Kuphaldt, Lessons in Electric Circuits, reference tables: 24 AWG has 404.0 circular mils."""
    assert (awg_diameter_mm(24) / 0.0254) ** 2 == pytest.approx(404.0, abs=0.05)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("gauge", "ohm_kft"), [(16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14), (24, 25.67), (26, 40.81)]
)
def test_copper_at_20(gauge: int, ohm_kft: float) -> None:
    """Source: a wire tester's calculator (cirris), IACS copper at 20 °C, four figures."""
    assert ohm_per_km(Size(awg=gauge)) * 1000 * FOOT_KM == pytest.approx(ohm_kft, rel=1e-3)


@pytest.mark.outside
@pytest.mark.parametrize(("gauge", "ohm_kft"), [(18, 7.77), (16, 4.89), (14, 3.07)])
def test_copper_at_75(gauge: int, ohm_kft: float) -> None:
    """Source: NEC chapter 9 table 8, solid uncoated, at 75 °C. Named trap: it is no table for 20 °C."""
    assert ohm_per_km(Size(awg=gauge), temperature_c=75) * 1000 * FOOT_KM == pytest.approx(ohm_kft, rel=2e-3)
    assert ohm_per_km(Size(awg=gauge)) < 0.83 * ohm_per_km(Size(awg=gauge), temperature_c=75)


@pytest.mark.outside
def test_warm_factor() -> None:
    """Source: α 0.00393; a voltage drop page's "about 82 %" of the table at 20 °C."""
    assert warm(75) == pytest.approx(1.2162, abs=5e-4)
    assert 1 / warm(75) == pytest.approx(0.8223, abs=5e-4)


@pytest.mark.outside
@pytest.mark.parametrize("area", IEC_60228)
def test_iec_rows(area: float) -> None:
    """Source: IEC 60228 greatest values at 20 °C, as three cable makers print them (0.5 to 2.5 mm²)."""
    printed = {0.5: (36.0, 36.7, 39.0, 40.1), 0.75: (24.5, 24.8, 26.0, 26.7), 1.0: (18.1, 18.2, 19.5, 20.0),
               1.5: (12.1, 12.2, 13.3, 13.7), 2.5: (7.41, 7.56, 7.98, 8.21)}  # fmt: skip
    size = Size(area_mm2=area)
    found = [ohm_per_km(size, metal, flexible=soft) for soft in (False, True) for metal in (Metal.COPPER, Metal.COATED)]
    assert tuple(found) == printed[area]


@pytest.mark.outside
@pytest.mark.parametrize(("area", "printed_mv"), [(1.0, 44), (1.5, 29), (2.5, 18)])
def test_drop_at_70(area: float, printed_mv: float) -> None:
    """Source: BS 7671 table 4D2B, mV/A/m at 70 °C, two cores; 2.5 mm² was seen, the others are from memory."""
    found = 1000 * drop_v(1, ohm_per_km(Size(area_mm2=area), temperature_c=70), 1)
    assert found == pytest.approx(printed_mv, abs=0.8)


@pytest.mark.outside
def test_alarm_core() -> None:
    """Source: geometry of 7/0.2 and IACS; printed 80 and 85 Ω/km for 0.22 mm² are the lengthened and the taken one."""
    size = Size(strands=7, strand_mm=0.2)
    assert area_mm2(size) == pytest.approx(0.2199, rel=1e-3)
    assert ohm_per_km(size) / 1.02 == pytest.approx(78.4, rel=1e-3)
    assert ohm_per_km(size) < ohm_per_km(Size(area_mm2=0.22)) == 85


@pytest.mark.outside
def test_pint_agrees_on_feet() -> None:
    """Source: pint, an independent unit library: 52.96 Ω/km over 1000 ft is 16.14 Ω."""
    units = pint.UnitRegistry()
    found = (ohm_per_km(Size(awg=22)) * units.ohm / units.km * 1000 * units.foot).to("ohm").magnitude
    assert found == pytest.approx(16.1422, rel=1e-3)


@pytest.mark.outside
def test_copper_clad_is_half_as_much_again() -> None:
    """Source: a laboratory page: copper-clad aluminium conducts 62 to 68 % of copper."""
    times = ohm_per_km(Size(awg=22), Metal.COPPER_CLAD) / ohm_per_km(Size(awg=22))
    assert 1 / 0.68 < times <= 1 / 0.62


def test_thicker_never_resists_more() -> None:
    values = [ohm_per_km(size) for _, size in standard_sizes()]
    assert all(later <= before * 1.15 for before, later in itertools.pairwise(values))
    gauges = [ohm_per_km(Size(awg=gauge)) for gauge in range(8, 31)]
    assert gauges == sorted(gauges)


@given(st.integers(8, 30), st.floats(-30, 90))
def test_warmer_resists_more(gauge: int, at: float) -> None:
    size = Size(awg=gauge)
    assert ohm_per_km(size, temperature_c=at + 1) > ohm_per_km(size, temperature_c=at)
    assert isclose(ohm_per_km(size, temperature_c=at), ohm_per_km(size) * (1 + 0.00393 * (at - 20)))


@pytest.mark.parametrize(("text", "said"), [
    ("Six-core alarm cable, 0.22 mm²", "0.22 mm²"), ("22AWG", "22 AWG"), ("awg 18, red", "18 AWG"), ("4/22 AWG", "22 AWG"),
    ("7/0,2", "7/0.2"), ("14/0.20 mm", "14/0.2"), ("1.5mm2", "1.5 mm²"), ("0,75 sq mm", "0.75 mm²"),
])  # fmt: skip
def test_sizes_are_read(text: str, said: str) -> None:
    size = size_in(text)
    assert size is not None
    assert size.text == said
    assert size_in(said) == size


@pytest.mark.parametrize("text", ["", "red", "cable 12", "0 mm²", "99 AWG", "400 mm²", "0/0.2", "3 m"])
def test_no_size(text: str) -> None:
    assert size_in(text) is None
