"""Volts along the cables that feed devices, in alarm, from a battery that is nearly empty."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.cable_lengths import stop_length
from alarmlib.calc.electrical.conductors import ohm_per_km, sources_of, standard_sizes, warm
from alarmlib.calc.electrical.ladder import Rung, cable_ohms, longest_m, lumped_drop_v, voltages
from alarmlib.calc.electrical.power import device_draw
from alarmlib.calc.figure import Figure
from alarmlib.model.conductor_sizes import size_in
from alarmlib.model.questions import by_id, present
from alarmlib.model.wiring import PowerRun
from alarmlib.units import Kind, rounded, show

if TYPE_CHECKING:
    from alarmlib.model.home import Home


@dataclass(frozen=True)
class Fed:
    """One stop of a run: V there in alarm, by the exact ladder; what the device needs, if known."""

    device: str
    metres: float
    alarm_a: float
    volts: float
    least_v: float | None


@dataclass(frozen=True)
class FeedRun:
    """A run as computed: Ω/km of its pair, each stop, the drop at the end exact and lumped, V, its current, A.

    `planned` says that the length to its first stop is planned, not entered.
    """

    id: str
    ohm_per_km: float
    stops: tuple[Fed, ...]
    drop_v: float
    lumped_v: float
    current_a: float
    planned: bool = False


def run_of(home: "Home", run: PowerRun, ohm_km: float | None = None) -> FeedRun | None:
    """One run in alarm, from the battery's end voltage; `ohm_km` tries another conductor. None without stops.

    By `ladder.voltages`; conductor by `conductors.ohm_per_km` at the warmest place, two cores.
    """
    known = by_id(present(home))
    if not run.stops:
        return None
    per_km = run_ohm_per_km(run) if ohm_km is None else ohm_km
    fed = [known.get(stop.device) for stop in run.stops]
    currents = [0.0 if device is None else device_draw(device).alarm_a for device in fed]
    lengths = [stop_length(home, run, place) for place in range(len(run.stops))]
    ohms = cable_ohms([length.metres for length in lengths], per_km, run.pairs)
    rungs = [Rung(ohm, current) for ohm, current in zip(ohms, currents, strict=True)]
    source_v = home.wiring.supply.end_v
    volts = voltages(source_v, rungs)
    far = 0.0
    stops = []
    for place, (stop, device) in enumerate(zip(run.stops, fed, strict=True)):
        far += lengths[place].metres
        least_v = None if device is None else device.least_v
        stops.append(Fed(stop.device, far, currents[place], volts[place], least_v))
    drops = source_v - volts[-1], lumped_drop_v(rungs, source_v)
    return FeedRun(run.id, per_km, tuple(stops), *drops, sum(currents), lengths[0].planned)


def run_ohm_per_km(run: PowerRun) -> float:
    """Ω/km of one core of a run at its warmest: from its manual, else by size and metal.

    By `conductors.ohm_per_km`.
    """
    if run.ohm_per_km is not None:
        return run.ohm_per_km * warm(run.warmest_c)
    size = size_in(run.size)
    if size is None:  # the model lets none in
        raise ValueError(run.size)
    return ohm_per_km(size, run.metal, run.warmest_c)


def smallest_that_serves(home: "Home", run: PowerRun) -> str:
    """The thinnest usual copper conductor with which every stop has what it needs; "" when none does.

    The sizes of `conductors.standard_sizes`, tried in order.
    """
    for name, size in standard_sizes():
        tried = run_of(home, run, ohm_per_km(size, temperature_c=run.warmest_c))
        if tried and all(short_by(stop) <= 0 for stop in tried.stops):
            return name
    return ""


def short_by(stop: Fed) -> float:
    """How many volts a stop lacks; 0 or less when it has enough, or its need isn't known.

    Reference: the device's own manual.
    """
    return 0.0 if stop.least_v is None else stop.least_v - stop.volts


def all_runs(home: "Home") -> Iterator[FeedRun]:
    """Every run that feeds something.

    By `run_of`.
    """
    return (found for run in home.wiring.runs if (found := run_of(home, run)))


def longest_run_m(home: "Home", run: PowerRun, found: FeedRun) -> float | None:
    """How long a run may be with everything at its end, by what its devices need, m; None where that isn't known.

    By `ladder.longest_m`.
    """
    needs = [stop.least_v for stop in found.stops if stop.least_v is not None]
    spare_v = home.wiring.supply.end_v - max(needs, default=0.0)
    if not needs or not found.current_a or spare_v <= 0:
        return None
    return longest_m(spare_v, found.ohm_per_km / run.pairs, found.current_a)


def run_figures(home: "Home") -> Iterator[Figure]:
    """The drop along each run, what it would be with all at its end, and how long it may be so, to follow.

    By `ladder.voltages`, `ladder.lumped_drop_v`, `ladder.longest_m`.
    """
    for run in home.wiring.runs:
        found = run_of(home, run)
        if found is not None:
            yield from _figures(home, run, found)


def _figures(home: "Home", run: PowerRun, found: FeedRun) -> Iterator[Figure]:
    sources = ("voltage_drop", *_sources(run))
    conductor = (("r", _resistance(home, run, found)), ("n", f"{run.pairs}"))
    beyond, pieces, before_m = found.current_a, [], 0.0
    for stop in found.stops:
        length = show(stop.metres - before_m, Kind.LENGTH, home.units)
        length += " planned" if found.planned and stop is found.stops[0] else ""
        pieces.append(f"{length} × {rounded(beyond)} A")
        beyond, before_m = beyond - stop.alarm_a, stop.metres
    formula = "drop = 2 r / n × (length × current beyond it, added up over the pieces)"
    inputs = (*conductor, ("pieces", " + ".join(pieces)))
    yield Figure(f"drop.{run.id}", rounded(found.drop_v), "V", formula, inputs, sources)
    length, current = show(before_m, Kind.LENGTH, home.units), f"{rounded(found.current_a)} A"
    told = (*conductor, ("L", length), ("I", current))
    yield Figure(
        f"drop_at_end.{run.id}", rounded(found.lumped_v), "V", "2 r / n × L × I, all at the end", told, sources
    )
    longest = longest_run_m(home, run, found)
    if longest is not None:
        least = max(stop.least_v for stop in found.stops if stop.least_v is not None)
        volts = ("V", f"{home.wiring.supply.end_v:g} − {least:g} V")
        yield Figure(f"run_longest.{run.id}", show(longest, Kind.LENGTH, home.units, 3), "", "V n / (2 r I)",
                     (*conductor, volts, ("I", current)), sources)  # fmt: skip


def _resistance(home: "Home", run: PowerRun, found: FeedRun) -> str:
    """A core's resistance a length, as the home measures lengths, with its size and warmth."""
    us = home.units == "us"
    per = f"{rounded(found.ohm_per_km * 0.3048)} Ω/1000 ft" if us else f"{rounded(found.ohm_per_km)} Ω/km"
    size = "from its manual" if run.ohm_per_km is not None else f"{run.size} {run.metal.text}"
    return f"{per}, {size}, at {show(run.warmest_c, Kind.TEMPERATURE, home.units)}"


def _sources(run: PowerRun) -> tuple[str, ...]:
    """Where a run's resistance is from."""
    size = size_in(run.size)
    if run.ohm_per_km is not None or size is None:
        return ("owner", "iacs") if run.warmest_c != 20.0 else ("owner",)
    return sources_of(size, run.metal, run.warmest_c)
