"""Sound levels: distance, levels together, partitions, air, and how long an ear may hear them. dB, m, Hz, °C."""

from collections.abc import Iterable, Mapping, Sequence
from math import exp, log10, sqrt

from alarmlib.errors import AlarmProblem

OCTAVES_HZ = (125, 250, 500, 1000, 2000, 4000)
# Loss of laboratory partitions by octave, dB.
PARTITIONS: dict[str, tuple[int, ...]] = {
    "hollow wooden door": (14, 19, 23, 18, 17, 21),
    "solid wooden door": (29, 31, 31, 31, 39, 43),
    "drywall on wood studs": (17, 31, 33, 40, 38, 36),
    "drywall with insulation": (15, 30, 34, 44, 46, 41),
    "stucco outside wall": (21, 33, 41, 46, 47, 51),
    "4 in brick": (32, 34, 40, 47, 55, 61),
    "single glass": (18, 21, 26, 31, 33, 22),
    "two panes": (13, 25, 35, 44, 49, 43),
    "wood joist floor": (23, 32, 36, 45, 49, 56),
}
NIOSH_DBA, NIOSH_S, NIOSH_EXCHANGE_DB = 85.0, 8 * 3600.0, 3.0
MOST_DBA = 110.0


def at_distance(level_db: float, level_at_m: float | None, metres: float) -> float:
    """The level at another distance in the open, dB. AlarmProblem for a level without its distance.

    Reference: point source, textbook: L2 = L1 - 20 log10(r2 / r1).
    """
    if level_at_m is None or level_at_m <= 0:
        raise AlarmProblem("A level means nothing without the distance at which it was measured, above 0 m.")
    if metres <= 0:
        raise AlarmProblem(f"The distance is {metres:g} m; more than 0 is allowed.")
    return level_db - 20 * log10(metres / level_at_m)


def added(levels_db: Iterable[float]) -> float:
    """Several levels together, dB.

    Reference: energy sum, textbook: L = 10 log10 of the sum of 10^(Li / 10).
    """
    total: float = sum(10 ** (level / 10) for level in levels_db)
    return 10 * log10(total) if total > 0 else float("-inf")


def added_unsure_db(parts: Sequence[tuple[float, Mapping[str, float]]]) -> float:
    """By how much several levels together may be off, dB: each a level and what makes it unsure, dB by its cause.

    One cause moves all levels that it touches the same way, so its shares add up; causes are independent, so their
    squares do. A level's share is its part of the sound power. First order: where parts are unsure by several dB,
    sampling gives up to a tenth more. Raises AlarmProblem for no level at all.
    Reference: JCGM 100 (GUM), 5.1.2, equations 10 and 13, first order, of L = 10 log10 of the sum of 10^(Li / 10).
    """
    if not parts:
        raise AlarmProblem("No level is given; one or more are needed.")
    loudest = max(level for level, _ in parts)
    powers = [10 ** ((level - loudest) / 10) for level, _ in parts]
    moved: dict[str, float] = {}
    for power, (_, causes) in zip(powers, parts, strict=True):
        for cause, unsure in causes.items():
            moved[cause] = moved.get(cause, 0.0) + power / sum(powers) * unsure
    return sqrt(sum(each**2 for each in moved.values()))


def composite_db(parts: Sequence[tuple[float, float]]) -> float:
    """Loss of a partition of parts, each (m², dB).

    Reference: composite partition, textbook: TL = -10 log10(sum of Si 10^(-TLi / 10) / S).
    """
    whole = sum(area for area, _ in parts)
    if whole <= 0 or any(area < 0 for area, _ in parts):
        raise AlarmProblem("A partition needs parts of more than 0 m².")
    passed: float = sum(area * 10 ** (-loss / 10) for area, loss in parts)
    return -10 * log10(passed / whole)


def partition_db(name: str, hz: float) -> float:
    """Loss of a known partition in the octave nearest to a tone, dB; sealed, as in a laboratory.

    Reference: Introduction to Acoustics, chapter 11, table 11.4.
    """
    octave = min(range(len(OCTAVES_HZ)), key=lambda n: abs(log10(OCTAVES_HZ[n] / hz)))
    return float(PARTITIONS[name][octave])


def air_db_per_km(
    hz: float, temperature_c: float = 20.0, humidity: float = 70.0, pressure_kpa: float = 101.325
) -> float:
    """Absorption by air, dB/km, at a relative humidity in per cent.

    Reference: ISO 9613-1, equations 3 to 5; stated accuracy 10 %. Indoors it is nothing; for outside sounders only.
    """
    kelvin, pressure = temperature_c + 273.15, pressure_kpa / 101.325
    warm = kelvin / 293.15
    saturated = 10 ** (-6.8346 * (273.16 / kelvin) ** 1.261 + 4.6151)
    water = humidity * saturated / pressure
    oxygen = pressure * (24 + 4.04e4 * water * (0.02 + water) / (0.391 + water))
    nitrogen = pressure * warm**-0.5 * (9 + 280 * water * exp(-4.170 * (warm ** (-1 / 3) - 1)))
    relaxed = 0.01275 * exp(-2239.1 / kelvin) / (oxygen + hz**2 / oxygen)
    relaxed += 0.1068 * exp(-3352.0 / kelvin) / (nitrogen + hz**2 / nitrogen)
    return float(8.686e3 * hz**2 * (1.84e-11 / pressure * sqrt(warm) + warm**-2.5 * relaxed))


def bearable_s(level_dba: float) -> float:
    """How long a day ears bear a level, s.

    Reference: NIOSH recommended exposure limit, 85 dBA for 8 h, 3 dB exchange.
    """
    return float(NIOSH_S / 2 ** ((level_dba - NIOSH_DBA) / NIOSH_EXCHANGE_DB))


def pillow_target_dba(ambient_dba: float, loudest_dba: float | None = None) -> float:
    """What is asked at a pillow: usual level + 15, loudest minute + 5, or 75, whichever is most, dBA.

    Reference: NFPA 72, household chapter, 75 dBA at the pillow (`nfpa72_pillow`); + 15 and + 5 as 18.4.6.1 of later
    editions has them for other buildings.
    """
    return max(ambient_dba + 15, 75.0, *(() if loudest_dba is None else (loudest_dba + 5,)))
