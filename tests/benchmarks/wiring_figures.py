"""All figures on wiring, power, radio and sound of the demo home; a ladder ten times as long; both beside numpy."""

from collections.abc import Iterator

from measure import Effort, Line, percentile, seconds_of

from alarmlib.calc.electrical.cable_routes import routes
from alarmlib.calc.electrical.ladder import Rung, voltages
from alarmlib.checks.electrical import battery, cable, fitting, loops, radio
from alarmlib.checks.settings import sound
from alarmlib.model import Home
from alarmlib.record.produce import demo_home

_MODULES = (loops, radio, cable, battery, sound, fitting)


def _all_figures(home: Home) -> None:
    copied = home.model_copy()  # a copy begins with nothing kept
    for module in _MODULES:
        for check in module.GROUP.checks:
            check.result(copied)


def _dense(rungs: list[Rung]) -> float:
    """The same ladder as a full matrix, solved by numpy."""
    import numpy as np

    size = len(rungs)
    matrix, right = np.zeros((size, size)), np.zeros(size)
    for n, rung in enumerate(rungs):
        g = 1 / rung.cable_ohm
        matrix[n, n] += g
        right[n] -= rung.current_a
        if n:
            matrix[n - 1, n - 1] += g
            matrix[n, n - 1] -= g
            matrix[n - 1, n] -= g
        else:
            right[n] += g * 12
    return float(np.linalg.solve(matrix, right)[-1])


def measured(effort: Effort) -> Iterator[Line]:
    """Figures and findings of the demo home, again and again; its cable schedule; ladders of 1,000 and 10,000 loads."""
    home = demo_home()
    taken = [seconds_of(lambda: _all_figures(home)) for _ in range(effort.edits)]
    figures = f"95 of 100 within {1000 * percentile(taken, 0.95):.1f} ms, median {1000 * percentile(taken, 0.5):.1f} ms"
    yield Line("all sums and findings on wiring, power, radio, sound, fitting, demo home", figures, "under 50 ms")
    first = seconds_of(lambda: routes(home))
    again = min(seconds_of(lambda: routes(home.model_copy())) for _ in range(3))
    figures = f"{1000 * again:.0f} ms; {1000 * first:.0f} ms the first time, with what it imports"
    yield Line("its cable schedule along the walls", figures, "under 50 ms, with the sums above")
    thousand = [Rung(0.05, 1e-5)] * 1000
    longer = thousand * 10
    once = min(seconds_of(lambda: voltages(12, thousand)) for _ in range(20))
    tenfold = min(seconds_of(lambda: voltages(12, longer)) for _ in range(20))
    dense = min(seconds_of(lambda: _dense(thousand)) for _ in range(2))
    figures = f"{1000 * once:.2f} ms; ten times as many take {tenfold / once:.1f} times as long; "
    yield Line(
        "a ladder of 1,000 loads", f"{figures}a full matrix by numpy {dense / once:.0f} times", "linear: ten times"
    )
