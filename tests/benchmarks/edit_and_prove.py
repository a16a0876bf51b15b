"""One fact edited, then proved again: how much of a cold proof that costs, over 30 different edits of the demo home.

    python tests/benchmarks/edit_and_prove.py

prints, for each edit, its share of a cold proof, how many pieces of the proof were worked out again, how many quick
checks ran again, and how many sections of the record say something else. Each proof is made in a process of its own,
as a page makes it, so that nothing but the kept pieces is known from before.
"""

import json
import multiprocessing
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from statistics import median
from typing import Any

from measure import DEMO, TINY, Effort, Line

from alarmlib.checks.assess import CHECKS, assess, outcome
from alarmlib.facts import Facts
from alarmlib.facts.facts import Query
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.proof.pieces.pieces import Pieces
from alarmlib.proof.prove import QUICK, Asked, prove
from alarmlib.record.context import Context
from alarmlib.record.sections import LONG

DATE = "2026-11-25"
Path = tuple[str | int, ...]
"""Where a value is in the document of a home; a text names an element of a list by its id."""

# Some of each page, in the order of the pages: what forms ask, whether a proof reads it or not.
EDITS: tuple[tuple[Path, Any], ...] = (
    (("name",), "Another home"),
    (("units",), "us"),
    (("rules", "siren_limit_s"), 240.0),
    (("site", "rooms", "study", "name"), "Library"),
    (("site", "rooms", "kitchen", "note"), "Tiled in spring."),
    (("site", "rooms", "box_room", "guarded"), False),
    (("site", "passages", "hall_kitchen", "width_m"), 0.9),
    (("site", "openings", "living_side_window", "lock"), "needs_work"),
    (("site", "openings", "study_window", "width_m"), 1.1),
    (("site", "furniture", "sofa", "height_m"), 0.7),
    (("household", "people", "teenager", "speed_m_s"), 1.5),
    (("household", "people", "grandparent", "role"), "Grandfather"),
    (("household", "habits", "shopping", "steps", "step_1", "seconds"), 8.0),
    (("household", "habits", "early_riser", "steps", "step_2", "seconds"), 4.0),
    (("devices", "hall_motion", "facing_deg"), 240.0),
    (("devices", "kitchen_motion", "price"), 45.0),
    (("devices", "outside_siren", "made_on"), "2026-02-11"),
    (("devices", "study_contact", "name"), "Contact in the library"),
    (("control_unit", "times", "siren_s"), 150.0),
    (("control_unit", "times", "doors", "back", "entry_s"), 38.0),
    (("control_unit", "zones", "kitchen_motion", "label"), "Kitchen, moving"),
    (("control_unit", "zones", "pantry_window", "chime"), True),
    (("control_unit", "behaviour", "wrong_code_limit"), 5),
    (("circuits", "living_loop", "measured_ohm"), 4715.0),
    (("circuits", "study_loop", "length_m"), 21.0),
    (("wiring", "supply", "standby_battery_ah"), 7.2),
    (("sound", "neighbour_m"), 17.0),
    (("messages", "paths", "mobile", "works_without_mains"), "no"),
    (("messages", "responders", "neighbour", "minutes_away"), 4.0),
    (("proof", "intruder_m_s"), 2.4),
)


@dataclass(frozen=True)
class Again:
    """What one edit brought about: the share of a cold proof, pieces, checks run, sections that say something else."""

    path: Path
    share: float
    redone: int
    pieces: int
    checks: int
    sections: int

    @property
    def row(self) -> str:
        """As a row of the table."""
        what = ", ".join(str(name).replace("_", " ") for name in self.path)
        return f"| {what} | {self.share:.1%} | {self.redone} of {self.pieces} | {self.checks} | {self.sections} |"


def measured(effort: Effort) -> Iterator[Line]:
    """The median and the slowest of the edits, as a share of a cold proof."""
    runs = QUICK if effort is not TINY else ("left_out", "siren")
    done = list(each_edit(EDITS if effort is not TINY else EDITS[:2], runs, proofs_alone=True))
    slowest = max(done, key=lambda again: again.share)
    read = [again.share for again in done if again.redone]
    figures = [f"median {median(again.share for again in done):.1%} of a cold proof"]
    figures += [f"of those {len(read)} that the proof reads {median(read):.1%}"] if read else []
    figures += [f"slowest {slowest.share:.1%} ({', '.join(map(str, slowest.path))})"]
    yield Line(f"one fact edited, then proved again, demo home, {len(done)} edits", "; ".join(figures), "median 10 %")


def each_edit(
    edits: tuple[tuple[Path, Any], ...], runs: tuple[str, ...], proofs_alone: bool = False
) -> Iterator[Again]:
    """What each edit brings about, one after another, each of the demo home as it is shipped.

    `proofs_alone`: neither checks nor sections are counted.
    """
    document = json.loads(DEMO.read_text(encoding="utf-8"))
    home = Home.model_validate(document)
    with ProcessPoolExecutor(1, multiprocessing.get_context("spawn"), max_tasks_per_child=1) as workers:
        cold_s, _, _, kept = workers.submit(proved, home.model_dump_json(), runs, None).result()
        before = () if proofs_alone else sections(home)
        for path, value in edits:
            other = changed(document, path, value)
            took_s, redone, pieces, _ = workers.submit(proved, other.model_dump_json(), runs, kept).result()
            counts = (0, 0) if proofs_alone else (checks_run(home, other), sections_moved(before, other))
            yield Again(path, took_s / cold_s, redone, pieces, *counts)


def proved(home_json: str, runs: tuple[str, ...], kept: Any) -> tuple[float, int, int, Any]:
    """In a process of its own: seconds of the processor, pieces worked out, of how many, and what is to be kept."""
    home, begun = Home.model_validate_json(home_json), time.process_time()
    pieces = Pieces(kept)
    basis = prove(home, "single", None, Asked(runs), pieces).basis
    assert basis is not None
    return time.process_time() - begun, basis.redone, basis.pieces, pieces.document()


def changed(document: dict[str, Any], path: Path, value: Any) -> Home:
    """The home with another value there."""
    other = json.loads(json.dumps(document))
    part: Any = other
    for name in path[:-1]:
        part = next(each for each in part if each["id"] == name) if isinstance(part, list) else part[name]
    assert part[path[-1]] != value
    part[path[-1]] = value
    return Home.model_validate(other)


class Counting(Facts):
    """Facts that count the checks they run."""

    ran = 0

    def _work_out(self, asked: Query, known: Any) -> Any:
        self.ran += asked[0] is outcome and asked[1][0] in CHECKS
        return super()._work_out(asked, known)


def checks_run(home: Home, other: Home) -> int:
    """How many quick checks run after the edit."""
    facts = Counting(home)
    assess(facts)
    before = facts.ran
    facts.move(other)
    assess(facts)
    return facts.ran - before


def sections_moved(before: tuple[object, ...], other: Home) -> int:
    """How many sections of the owner's long record say something else after the edit."""
    return sum(one != two for one, two in zip(before, sections(other), strict=True))


def sections(home: Home) -> tuple[object, ...]:
    """What each section of the owner's long record says."""
    context = Context(home, assess(home), Share.OWNER, DATE)
    return tuple(section.text(context) for section in LONG)


if __name__ == "__main__":
    sys.stdout.write("| edited | share of a cold proof | pieces again | checks run | sections that change |\n")
    sys.stdout.write("|---|---|---|---|---|\n")
    for again in each_edit(EDITS, QUICK):
        sys.stdout.write(f"{again.row}\n")
        sys.stdout.flush()
