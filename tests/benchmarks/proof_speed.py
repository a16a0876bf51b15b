"""The proof of the demo home with every single fault in one sweep, and how it grows with rooms, movers and delays.

python tests/benchmarks/proof_speed.py FOLDER    writes growth.csv and growth.svg there as well
"""

import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from homes import grid_home
from measure import FULL, TINY, Effort, Line, seconds_of, whole_process
from two_movers import ByRows, TwoMovers

from alarmlib.model import Home
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.habits.household import habits_proved
from alarmlib.proof.intruder.intrusions import Intruders
from alarmlib.proof.unit.alone import alone_proved
from alarmlib.record.picture import Anchor, Circle, Drawing, Fill, Ink, Label, Shape, svg
from alarmlib.record.picture import Line as Stroke
from alarmlib.record.produce import demo_home

IN_A_PROCESS = f"import sys; sys.path.insert(0, {str(Path(__file__).parent)!r}); import proof_speed; proof_speed."


@dataclass(frozen=True)
class Grown:
    """One point of a curve: what grew to how much, states met, seconds of the processor in this process."""

    what: str
    size: int
    states: int
    seconds: float


def measured(effort: Effort) -> Iterator[Line]:
    """Seconds of the three runs after imports, most memory of a process that does no more, and the curves."""
    home = demo_home() if effort is not TINY else grid_home(rooms=10, devices=16)
    own = [0.0] * len(RUNS)

    def all_in_turn() -> None:
        own[:] = [own_seconds_of(lambda one=one: one(home)) for one in RUNS.values()]

    seconds = seconds_of(all_in_turn)
    peak_mb = whole_process(["-c", f"{IN_A_PROCESS}all_runs({effort is TINY})"]).peak_mb
    each = ", ".join(f"{name} {took:.1f}" for name, took in zip(RUNS, own, strict=True))
    memory = f"{peak_mb:.0f} MB" if peak_mb is not None else "memory not told by this system"
    what = f"proof of the demo home, runs (a) to (c), {len(faults_of(home))} faults in one sweep"
    yield Line(what, f"{seconds:.1f} s ({sum(own):.1f} s of processor: {each}); {memory}", "under 2 s, under 500 MB")
    for name, points in growth(effort).items():
        told = "; ".join(f"{each.size}: {each.states:,} in {each.seconds:.2f} s" for each in points)
        yield Line(f"states and seconds of processor by {name}", told, "told as it is")


def by_ways(home: Home, how: str = "single") -> int:
    """Run (b): states of an intruder by every way in, in every set, under every single fault."""
    faults = faults_of(home) if how == "single" else faults_of(home, "none")
    return sum({(each.area, each.part): each.states for each in Intruders(home, faults).search()}.values())


RUNS: dict[str, Callable[[Home], object]] = {
    "(a) the unit alone": alone_proved,
    "(b) ways in": by_ways,
    "(c) habits": lambda home: habits_proved(home, faults_of(home)),
}


def all_runs(tiny: bool) -> None:
    """What the memory is measured of."""
    home = grid_home(rooms=10, devices=16) if tiny else demo_home()
    for run in RUNS.values():
        run(home)


def growth(effort: Effort) -> dict[str, list[Grown]]:
    """The three curves; a tiny effort takes the first point of each."""
    sizes = {
        "rooms": (10, 15, 20, 25),
        "entry delay, s": (15, 30, 60, 120, 240),
        "places of a second mover": (5, 10, 20, 40),
    }
    curves = zip(sizes.items(), (with_rooms, with_delay, with_second_mover), strict=True)
    return {
        name: [grown(name, size, search) for size in (many[:1] if effort is TINY else many)]
        for (name, many), search in curves
    }


def grown(name: str, size: int, search: Callable[[int], int]) -> Grown:
    """One point."""
    states = 0

    def once() -> None:
        nonlocal states
        states = search(size)

    seconds = own_seconds_of(once)
    return Grown(name, size, states, seconds)


def own_seconds_of(call: Callable[[], object]) -> float:
    """Seconds of the processor that one call takes in this process, which a busy machine lengthens less."""
    begun = time.process_time()
    call()
    return time.process_time() - begun


def with_rooms(rooms: int) -> int:
    """An intruder in a home of so many rooms, each with a way in and a contact, every single fault."""
    return by_ways(grid_home(rooms, 8 * rooms // 5))


def with_delay(entry_s: int) -> int:
    """An intruder in the demo home with that entry delay, without a fault, every door alike."""
    home = demo_home()
    times = home.control_unit.times.model_copy(update={"entry_s": float(entry_s), "doors": ()})
    return by_ways(
        home.model_copy(update={"control_unit": home.control_unit.model_copy(update={"times": times})}), "none"
    )


def with_second_mover(places: int) -> int:
    """A first mover on 480 cells beside a second one on a route of so many places."""
    return ByRows(TwoMovers(24, 20, places)).search()


WIDE, HIGH, EDGE = 260.0, 200.0, 50.0


def drawn(curves: dict[str, list[Grown]]) -> str:
    """One panel a curve, seconds of the processor upwards from 0; the table holds the same numbers."""
    shapes = [
        shape for place, points in enumerate(curves.values()) for shape in _panel(points, place * (WIDE + EDGE) + EDGE)
    ]
    drawing = Drawing(len(curves) * (WIDE + EDGE) + EDGE, HIGH + 2 * EDGE, tuple(shapes))
    return svg(
        drawing, "growth", "How the proof grows", "Seconds by rooms, by delay, by places of a second mover.", True
    )


def _panel(points: Sequence[Grown], left: float) -> Iterator[Shape]:
    most, longest = max(each.size for each in points), max(each.seconds for each in points)
    bottom = EDGE + HIGH
    spots = [(left + WIDE * each.size / most, bottom - HIGH * each.seconds / longest) for each in points]
    yield Stroke((left, bottom), (left + WIDE, bottom))
    yield Stroke((left, EDGE), (left, bottom))
    yield Label((left + WIDE / 2, EDGE - 24), points[0].what, bold=True)
    yield Label((left + 4, EDGE - 6), f"{longest:.2f} s", anchor=Anchor.START)
    for before, after in pairwise(spots):
        yield Stroke(before, after, Ink.FINE)
    told = 0
    for place, (each, (x, y)) in enumerate(zip(points, spots, strict=True)):
        yield Circle((x, y), 3, Ink.NONE, Fill.SOLID)
        yield Label((x, bottom + 18), f"{each.size}", 11)
        if each.states == told:
            continue
        told = each.states
        yield Label(
            (x - 6, y + (14 if place % 2 else -8)),
            f"{told:,} states",
            10,
            Anchor.END if x > left + WIDE / 2 else Anchor.START,
        )


def write(folder: Path, effort: Effort = FULL) -> None:
    """The table and the picture of the curves."""
    curves = growth(effort)
    rows = [
        f'"{each.what}",{each.size},{each.states},{each.seconds:.3f}' for points in curves.values() for each in points
    ]
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "growth.csv").write_text("\n".join(["what,size,states,seconds", *rows, ""]), encoding="utf-8")
    (folder / "growth.svg").write_text(drawn(curves), encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]))
