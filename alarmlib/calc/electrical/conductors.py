"""Resistance of a conductor from its size, metal and temperature. Lengths in m, sizes in mm², Ω/km, °C."""

from math import pi

from alarmlib.model.conductor_sizes import Size
from alarmlib.model.wiring import Metal

COPPER_OHM_MM2_M = 1 / 58  # IACS 100 %: 58 MS/m at 20 °C
COPPER_PER_C = 0.00393  # at 20 °C
CLAD_SHARE = 0.62  # copper-clad aluminium conducts 62 to 68 % as well; the worse end
COATED_SHARE = 0.98  # tinned strands; IEC 60228 rows differ by about 2 %
LAY = 1.02  # strands are longer than the cable
# IEC 60228, most Ω/km at 20 °C: class 1 plain, class 1 and 2 coated, class 5 plain, class 5 coated.
IEC_60228 = {
    0.5: (36.0, 36.7, 39.0, 40.1),
    0.75: (24.5, 24.8, 26.0, 26.7),
    1.0: (18.1, 18.2, 19.5, 20.0),
    1.5: (12.1, 12.2, 13.3, 13.7),
    2.5: (7.41, 7.56, 7.98, 8.21),
}
ALARM_CORE_MM2, ALARM_CORE_OHM_KM = 0.22, 85.0  # seven strands of 0.2 mm; 80 and 85 are printed, 95 is heard of
ALARM_CORE_WORST_OHM_KM = 95.0


def awg_diameter_mm(gauge: int) -> float:
    """Diameter of a solid conductor of an AWG number, mm; 0000 is -3.

    Reference: ASTM B258, ratio of neighbours the 39th root of 92 (`astm_b258`).
    """
    return float(0.127 * 92 ** ((36 - gauge) / 39))


def area_mm2(size: Size) -> float:
    """Area of the metal, mm².

    Reference: ASTM B258 for gauges; geometry for strands.
    """
    if size.awg is not None:
        return pi / 4 * awg_diameter_mm(size.awg) ** 2
    if size.strands is not None and size.strand_mm is not None:
        return size.strands * pi / 4 * size.strand_mm**2
    return size.area_mm2 or 0.0


def ohm_per_km(size: Size, metal: Metal = Metal.COPPER, temperature_c: float = 20.0, flexible: bool = False) -> float:
    """Resistance of one core, Ω/km.

    Metric sizes of IEC 60228 give its greatest value, 0.22 mm² gives 85; gauges are taken as solid copper and
    strands 2 % longer than the cable. Metal not known is taken as plain copper.
    Reference: IACS 100 % and 0.00393 a °C (`iacs`); ASTM B258 (`astm_b258`); IEC 60228, greatest values at 20 °C
    (`iec60228`).
    """
    base = _copper_ohm_km(size, metal is Metal.COATED, flexible)
    if metal is Metal.COPPER_CLAD:
        base /= CLAD_SHARE
    return base * warm(temperature_c)


def _copper_ohm_km(size: Size, coated: bool, flexible: bool) -> float:
    if size.area_mm2 in IEC_60228:
        return IEC_60228[size.area_mm2][2 * flexible + coated]
    if size.area_mm2 == ALARM_CORE_MM2:
        return ALARM_CORE_OHM_KM
    plain = 1000 * COPPER_OHM_MM2_M / area_mm2(size) * (LAY if size.strands else 1.0)
    return plain / (COATED_SHARE if coated else 1.0)


def sources_of(size: Size, metal: Metal = Metal.COPPER, temperature_c: float = 20.0) -> tuple[str, ...]:
    """Where `ohm_per_km` takes a conductor's resistance from: keys of `alarmlib.sources`.

    The branches of `ohm_per_km`.
    """
    if size.area_mm2 in IEC_60228:
        base: tuple[str, ...] = ("iec60228",)
    elif size.area_mm2 == ALARM_CORE_MM2:
        base = ("alarm_core",)
    else:
        base = ("astm_b258", "iacs") if size.awg is not None else ("iacs", "practice") if size.strands else ("iacs",)
    clad = ("copper_clad",) if metal is Metal.COPPER_CLAD else ()
    heated = ("iacs",) if temperature_c != 20.0 else ()
    return tuple(dict.fromkeys((*base, *clad, *heated)))


def warm(temperature_c: float) -> float:
    """How many times its resistance at 20 °C copper has at another temperature.

    Reference: 0.00393 a °C at 20 °C (IEC 60028).
    """
    return 1 + COPPER_PER_C * (temperature_c - 20)


def standard_sizes() -> tuple[tuple[str, Size], ...]:
    """The sizes that an alarm is wired with, thinnest first, as people name them.

    Reference: common practice, no source.
    """
    gauges = [(f"{n} AWG", Size(awg=n)) for n in (24, 22, 20, 18, 16, 14)]
    metric = [(f"{a:g} mm²", Size(area_mm2=a)) for a in (ALARM_CORE_MM2, *IEC_60228)]
    return tuple(sorted((*gauges, *metric), key=lambda each: area_mm2(each[1])))
