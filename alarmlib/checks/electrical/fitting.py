"""The day of fitting: a reading that the unit would misread stops the line."""

from alarmlib.calc.electrical.fitting_day import Reading, halted_at, readings, why_stopped
from alarmlib.calc.electrical.meter import OVER_RANGE_OHM
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.questions import by_id
from alarmlib.units import rounded


@check
def reading_outside(home: Home) -> Said:
    """Every pair reads as was computed, and the unit makes of it what it should."""
    names = by_id(home.circuits)
    for reading in readings(home):
        where = f"{said(names[reading.circuit].name)}, read {reading.state}"
        if reading.stops:
            message = f"{where}: {why_stopped(reading)}."
            yield must(
                reading.circuit, message, "Find the cause before you join the pair.", "owner", **_numbers(reading)
            )
        elif reading.faults:
            message = f"{where}: {'; or '.join(reading.faults)}. Your control unit still reads it as {reading.made[0]}."
            remedy = "Look for the cause: what is a little off today may be misread later."
            yield should(reading.circuit, message, remedy, "owner", **_numbers(reading))


def _numbers(reading: Reading) -> dict[str, str]:
    read, low, high = map(_ohm, (reading.read_ohm, reading.low_ohm, reading.high_ohm))
    return {"figure": read, "limit": low if low == high else f"{low} to {high}"}


def _ohm(ohm: float) -> str:
    """A reading as a meter shows it."""
    return "over range" if ohm >= OVER_RANGE_OHM else f"{rounded(ohm, 4)} Ω"


@check
def line_stopped(home: Home) -> Said:
    """Once the day has begun, the next step is known, and nothing was joined unread."""
    halt = halted_at(home)
    if home.wiring.done and halt.step is not None and halt.why:
        message = f"The day of fitting stops here: {halt.why}"
        yield note("wiring", message, "Fix it, measure again, then go on.", "computed")


GROUP = CheckGroup("fitting", (reading_outside, line_stopped))
