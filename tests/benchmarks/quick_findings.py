"""An edit until all quick findings are there again, in the demo home: a hundred seeded edits over all its branches.

    python tests/benchmarks/quick_findings.py

lists each of them, with its time of the processor, as such and as a part of a cold assessment, and what ran.
"""

import random
import statistics
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from measure import DEMO, FULL, Effort, Line, percentile, seconds_of

from alarmlib.checks.assess import CHECKS, assess, outcome
from alarmlib.facts import Facts
from alarmlib.facts.facts import Query
from alarmlib.model import Home
from alarmlib.store import load
from alarmlib.store.edits import Edit, with_edits

SEED = 12


@dataclass(frozen=True)
class Kind:
    """A kind of edit: the list or part it is in, the field, and another value, drawn beside the present one."""

    where: tuple[str, ...]
    field: str
    value: Callable[[random.Random, Any], Any]


def _scaled(draw: random.Random, now: Any) -> float:
    return round((now or 10.0) * draw.choice((0.9, 0.95, 1.05, 1.1)), 3)


def _one_more(_draw: random.Random, now: Any) -> int:
    return int(now or 0) + 1


def _text(draw: random.Random, _now: Any) -> str:
    return f"Looked at {draw.randrange(10_000)}"


def _moved(draw: random.Random, now: Any) -> Any:
    """A place so many centimetres off."""
    return now and [round(each + draw.choice((-0.1, 0.1)), 3) for each in now]


def _wider(draw: random.Random, now: Any) -> Any:
    """An outline somewhat larger to the right and upwards."""
    by = draw.choice((1.002, 1.004))
    return [[round(each * by, 3) for each in corner] for corner in now]


def _other(*words: Any) -> Callable[[random.Random, Any], Any]:
    """Another one of these words."""
    return lambda draw, now: draw.choice([each for each in words if each != getattr(now, "value", now)])


KINDS = (
    Kind(("devices",), "at", _moved),
    Kind(("control_unit", "zones"), "label", lambda draw, _: f"zone {draw.randrange(10_000)}"),
    Kind(("control_unit", "times"), "entry_s", _scaled),
    Kind(("household", "habits"), "starts_at", lambda draw, _: f"{draw.randrange(24):02d}:30"),
    Kind(("site", "rooms"), "name", _text),
    Kind(("site", "openings"), "glass", _other("yes", "no", "unknown")),
    Kind(("site", "answers"), "found", _text),
    Kind(("circuits",), "length_m", _scaled),
    Kind(("log", "tests"), "cause", _text),
    Kind((), "note", _text),
    Kind(("devices",), "height_m", _scaled),
    Kind(("control_unit", "zones"), "function", _other("entry_exit", "at_once")),
    Kind(("control_unit", "times"), "siren_s", _scaled),
    Kind(("household", "people"), "speed_m_s", _scaled),
    Kind(("site", "rooms"), "ceiling_m", _scaled),
    Kind(("site", "openings"), "reach", _other("ground", "climbed", "no", "unknown")),
    Kind(("site", "furniture"), "height_m", _scaled),
    Kind(("circuits",), "measured_ohm", _scaled),
    Kind(("log", "tests"), "seen", _other("yes", "no")),
    Kind(("devices",), "note", _text),
    Kind(("devices",), "facing_deg", _scaled),
    Kind(("control_unit", "part_sets"), "exit_delay", _other(True, False)),
    Kind(("control_unit", "times", "doors"), "entry_s", _scaled),
    Kind(("household", "habits"), "times_a_week", _one_more),
    Kind(("site", "passages"), "width_m", _scaled),
    Kind(("site", "openings"), "width_m", _scaled),
    Kind(("wiring", "boxes"), "draws_w", _scaled),
    Kind(("device_types",), "range_m", _scaled),
    Kind(("site", "rooms"), "outline", _wider),
    Kind(("messages", "responders"), "minutes_away", _scaled),
    Kind(("devices",), "state", _other("planned", "fitted", "out_of_use")),
    Kind(("rules",), "siren_limit_s", lambda draw, _: 600 + draw.randrange(60)),
    Kind(("sound", "heard"), "level_dba", _scaled),
    Kind(("household", "walks"), "first_s", _scaled),
    Kind(("site", "rooms"), "sleeps_here", _other(True, False)),
    Kind(("prices",), "price", _scaled),
    Kind(("devices",), "name", _text),
    Kind(("site", "rooms"), "note", _text),
    Kind(("household", "people"), "age", _other("adult", "child", "elderly")),
    Kind(("inherited", "items"), "what", _text),
)


@dataclass(frozen=True)
class Taken:
    """What one edit took: its path, s until all findings were there, s of this thread's own, and what ran."""

    path: str
    seconds: float
    own_s: float
    ran: tuple[Query, ...]

    @property
    def checks(self) -> int:
        """How many of the quick checks ran."""
        return sum(query is outcome for query, _ in self.ran)


class Counting(Facts):
    """Facts that tell what they worked out."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.ran: list[Query] = []

    def _work_out(self, asked: Query, known: Any) -> Any:
        self.ran.append(asked)
        return super()._work_out(asked, known)


def edits(home: Home, count: int) -> Iterator[tuple[str, Home]]:
    """So many states of the home, each one edit after the one before: what was edited, by path."""
    draw = random.Random(SEED)
    document = home.model_dump(mode="json")
    tried = found = 0
    while found < count:
        kind = KINDS[tried % len(KINDS)]
        tried += 1
        edit = _drawn(home, kind, draw)
        try:
            changed = with_edits(document, [edit])
            other = Home.model_validate(changed)
        except ValueError:  # what this home may not hold
            continue
        if other != home:
            home, document, found = other, changed, found + 1
            yield ".".join(edit.path), home


def _drawn(home: Home, kind: Kind, draw: random.Random) -> Edit:
    part: Any = home
    for name in kind.where:
        part = getattr(part, name)
    path = kind.where
    if isinstance(part, tuple):
        part = draw.choice([each for each in part if getattr(each, kind.field) not in (None, ())] or part)
        path = (*path, part.id)
    now = getattr(part, kind.field)
    return Edit((*path, kind.field), now, kind.value(draw, now))


def timings(count: int) -> tuple[Taken, list[Taken]]:
    """What the first assessment took, and each edit."""
    home = load(DEMO)
    facts = Counting(home)

    def taken(path: str, other: Home) -> Taken:
        facts.ran, own_s = [], time.thread_time()
        seconds = seconds_of(lambda: (facts.move(other), assess(facts)))
        return Taken(path, seconds, time.thread_time() - own_s, tuple(facts.ran))

    return taken("", home), [taken(*edit) for edit in edits(home, count)]


def measured(effort: Effort) -> Iterator[Line]:
    """Milliseconds by the clock and of the processor, as a part of a cold assessment; how many checks ran."""
    cold, taken = timings(effort.edits)
    figures = [_figure("median", cold, taken, 0.5), _figure("95 of 100", cold, taken, 0.95)]
    figures.append(_figure("slowest", cold, taken, 1))
    ran = sorted(each.checks for each in taken)
    figures.append(f"checks run: median {statistics.median(ran):g}, most {ran[-1]}, of {len(CHECKS)}")
    yield Line("an edit of the demo home until all quick findings", "; ".join(figures), "under 50 ms, 95 of 100")


def _figure(what: str, cold: Taken, taken: Sequence[Taken], share: float) -> str:
    clock_s = percentile([each.seconds for each in taken], share)
    own_s = percentile([each.own_s for each in taken], share)
    told = f"{1000 * own_s:.0f} ms of processor, {own_s / cold.own_s:.2f} of a cold one"
    return f"{what} {1000 * clock_s:.0f} ms ({told})"


def main(words: Sequence[str]) -> int:
    """Print a row for each edit, the slowest first."""
    cold, taken = timings(int(words[0]) if words else FULL.edits)
    for each in sorted(taken, key=lambda one: -one.own_s):
        ran = f"{each.checks:3} checks, {len(each.ran) - each.checks:3} other queries"
        sys.stdout.write(f"{1000 * each.own_s:7.1f} ms {each.own_s / cold.own_s:6.2f}  {ran}  {each.path}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
