"""Cable that feeds devices: volts at each stop, the metal, what the manual doesn't say."""

from alarmlib.calc.electrical.cable_lengths import stop_length
from alarmlib.calc.electrical.conductors import ALARM_CORE_MM2, ALARM_CORE_OHM_KM, ALARM_CORE_WORST_OHM_KM, warm
from alarmlib.calc.electrical.feeds import Fed, all_runs, run_figures, run_of, short_by, smallest_that_serves
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.conductor_sizes import size_in
from alarmlib.model.questions import by_id
from alarmlib.model.wiring import Metal
from alarmlib.units import Kind, show


@check
def too_few_volts(home: Home) -> Said:
    """Every device on a run has the volts that it needs when the battery is nearly empty and all are in alarm."""
    runs, devices = by_id(home.wiring.runs), by_id(home.whole_devices)
    for run in all_runs(home):
        short = [stop for stop in run.stops if short_by(stop) > 0]
        if short:
            worst = max(short, key=short_by)
            names = ", ".join(said(devices[stop.device].name) for stop in short)
            serves = smallest_that_serves(home, runs[run.id])
            remedy = (
                f"The thinnest usual conductor that is enough is {serves}."
                if serves
                else ("No usual conductor is thick enough.")
            )
            numbers = {
                "figure": f"{worst.volts:.2f} V",
                "limit": f"{worst.least_v:g} V",
                "margin": f"{-short_by(worst):.2f} V",
            }
            message = (
                f"{said(runs[run.id].name)}: these devices get too few volts when the battery is nearly empty: {names}."
            )
            yield must(run.id, message, f"{remedy} Or feed fewer devices from it.", "owner", **numbers)


@check
def metal(home: Home) -> Said:
    """No copper-clad aluminium, and the metal is known."""
    for run in home.wiring.runs:
        if run.metal is Metal.COPPER_CLAD:
            message = (
                f"{said(run.name)} is copper-clad aluminium. It has about 1.6 times the resistance of copper, "
                "and it breaks easily."
            )
            yield should(run.id, message, "Use copper. Some codes forbid copper-clad aluminium.", "copper_clad")
        elif run.metal is Metal.UNKNOWN and run.stops and run.ohm_per_km is None:
            message = f"{said(run.name)}: it is not known whether it is copper all through; copper is assumed."
            yield note(run.id, message, "Scratch a core. If it is white inside, it is aluminium.", "copper_clad")


@check
def thin_core_decides(home: Home) -> Said:
    """Where 0.22 mm² just serves at 85 Ω/km, it still does at 95."""
    for run in home.wiring.runs:
        size = size_in(run.size)
        if run.ohm_per_km is not None or size is None or size.area_mm2 != ALARM_CORE_MM2:
            continue
        usual, worst = (
            run_of(home, run, ohm * warm(run.warmest_c)) for ohm in (ALARM_CORE_OHM_KM, ALARM_CORE_WORST_OHM_KM)
        )
        if usual and worst and _serves(usual.stops) and not _serves(worst.stops):
            message = (
                f"{said(run.name)} is thick enough at 85 Ω/km, but not at 95 Ω/km, which some cable of its size has."
            )
            yield should(
                run.id, message, "Look up its resistance in its manual, or measure a known length.", "practice"
            )


def _serves(stops: tuple[Fed, ...]) -> bool:
    return all(short_by(stop) <= 0 for stop in stops)


@check
def need_unknown(home: Home) -> Said:
    """What each device on a run works down to is known."""
    devices = by_id(home.whole_devices)
    for run in home.wiring.runs:
        bare = [said(devices[stop.device].name) for stop in run.stops if devices[stop.device].least_v is None]
        if bare:
            message = (
                f"{said(run.name)}: you have not entered the lowest voltage at which these devices work: "
                f"{', '.join(bare)}."
            )
            yield note(run.id, message, "Look in their manuals.", "owner")


@check
def length_unknown(home: Home) -> Said:
    """How long the cable before each stop is, is entered."""
    devices = by_id(home.whole_devices)
    for run in home.wiring.runs:
        for place, stop in enumerate(run.stops):
            if stop.metres or stop.device not in devices:
                continue
            length = stop_length(home, run, place)
            taken = show(length.metres, Kind.LENGTH, home.units) + (" as planned" if length.planned else "")
            where = f"{said(run.name)}: the cable to {said(devices[stop.device].name)}"
            message = f"{where} has no length entered, so {taken} is assumed."
            yield note(run.id, message, "Once the cable is in, enter its length from the device before.", "owner")


@check
def worked_out(home: Home) -> Said:
    """The drop along each run, to follow."""
    yield from run_figures(home)


GROUP = CheckGroup("cable", (too_few_volts, metal, thin_core_decides, need_unknown, length_unknown, worked_out))
