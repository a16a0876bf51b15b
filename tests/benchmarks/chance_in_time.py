"""The chance in time by drawing walks at once, against the same evenings played in SimPy."""

from collections.abc import Iterator
from statistics import median
from typing import Any

from measure import Effort, Line, seconds_of, test_module

from alarmlib.calc.times.chance import chance_by_sampling, chance_in_time

DELAY_S = 32.0
WALKS = 100_000  # as many as the library draws when nobody asks for another number


def measured(effort: Effort) -> Iterator[Line]:
    """Walks a second of both, after a warm-up, and how far they lie apart."""
    model: Any = test_module("calc/test_times.py")
    found: dict[str, float] = {}

    def sample(count: int) -> None:
        found["sampled"] = chance_by_sampling(model.WIDE, DELAY_S, count, seed=1)[0]

    def play(count: int) -> None:
        found["played"] = model.simulate_evenings(model.WIDE, DELAY_S, count, seed=1)

    sample(WALKS)
    play(min(1000, effort.evenings))
    sampled_s = median(seconds_of(lambda: sample(WALKS)) for _ in range(effort.samplings)) / WALKS
    played_s = seconds_of(lambda: play(effort.evenings)) / effort.evenings
    figures = (
        f"{played_s / sampled_s:.0f} times faster ({1e9 * sampled_s:.0f} ns a walk against {1e6 * played_s:.0f} µs); "
        f"{found['sampled']:.4f}, SimPy {found['played']:.4f}, quadrature {chance_in_time(model.WIDE, DELAY_S):.4f}"
    )
    yield Line("chance in time by sampling, against the same model in SimPy", figures, "100 times faster")
