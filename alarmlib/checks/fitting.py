"""The day of fitting: a reading outside its band stops the line."""

from alarmlib.calc.fitting_day import Reading, readings, stands_at
from alarmlib.checks.check import Findings, check, must, note
from alarmlib.checks.lookup import by_id, said
from alarmlib.model import Home

_READS = ("circuits", "devices", "wiring.done", "wiring.loop", "unit.zones")


@check(*_READS)
def reading_outside(home: Home) -> Findings:
    """Every pair reads as was computed."""
    names = by_id(home.circuits)
    for reading in readings(home):
        if reading.faults:
            where = f"{said(names[reading.circuit].name)}, read {reading.state}"
            message = f"{where}: {'; or '.join(reading.faults)}."
            yield must(reading.circuit, message, "Find it before the pair is joined.", "owner", **_numbers(reading))


def _numbers(reading: Reading) -> dict[str, str]:
    if reading.high_ohm == float("inf"):
        return {"figure": f"{reading.read_ohm:.4g} Ω", "limit": f"over {reading.low_ohm:.4g} Ω"}
    return {"figure": f"{reading.read_ohm:.4g} Ω", "limit": f"{reading.low_ohm:.4g} to {reading.high_ohm:.4g} Ω"}


@check(*_READS)
def line_stopped(home: Home) -> Findings:
    """Once the day has begun, the next step is known, and nothing was joined unread."""
    halt = stands_at(home)
    if home.wiring.done and halt.step is not None and halt.why:
        message = f"The day of fitting stops here: {halt.why}"
        yield note("wiring", message, "Mend it, read again, then go on.", "computed")


CHECKS = (reading_outside, line_stopped)
