"""An edit until it is saved and quickly checked again, on a home of 25 rooms and 40 devices."""

import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from homes import grid_home
from measure import Effort, Line, percentile, seconds_of

from alarmlib.checks.assess import assess
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.store import Edit, Session


@dataclass(frozen=True)
class Kind:
    """A kind of edit: its field, and the n-th value typed there; after `moves_plan` all walks are computed again."""

    path: tuple[str, ...]
    value: Callable[[int], Any]
    moves_plan: bool = False


@dataclass(frozen=True)
class Taken:
    """What one edit took: seconds by the clock, and of the processor in this process."""

    kind: Kind
    seconds: float
    own_s: float


# One in ten moves a door, so that the 95th percentile holds an edit after which all walks are computed again.
KINDS = (
    Kind(("site", "rooms", "room_7", "name"), lambda n: f"Study {n}"),
    Kind(("site", "rooms", "room_3", "ceiling_m"), lambda n: 2.4 + n / 100),
    Kind(("site", "openings", "opening_6", "note"), lambda n: f"Looked at {n}"),
    Kind(("devices", "contact_6", "name"), lambda n: f"Contact {n}"),
    Kind(("devices", "motion_30", "range_m"), lambda n: 8.0 + n / 10),
    Kind(("control_unit", "zones", "zone_4", "label"), lambda n: f"zone 4 {n}"),
    Kind(("control_unit", "times", "entry_s"), lambda n: 30.0 + n),
    Kind(("household", "people", "person_1", "speed_m_s"), lambda n: 1.0 + n / 200),
    Kind(("rules", "siren_limit_s"), lambda n: 600.0 + n),
    Kind(("site", "passages", "way_5_6", "at"), lambda n: (4.0, 5.5 + n / 100), moves_plan=True),
)


def measured(effort: Effort) -> Iterator[Line]:
    """Seconds of each edit, with `Session.apply` and a quick assessment that goes on from the last one."""
    with tempfile.TemporaryDirectory() as folder:
        session = Session.new(Path(folder) / "home.json", grid_home())
        taken = timings(session, effort.edits)
    plain = [one for one in taken if not one.kind.moves_plan]
    moving = [one for one in taken if one.kind.moves_plan]
    figures = [f"95 of 100 within {_within(taken, 0.95)}", f"median {_within(taken, 0.5)}"]
    figures.append(f"without those that move the plan 95 of 100 within {_within(plain, 0.95)}")
    figures += [f"those that move the plan within {_within(moving, 1)}"] if moving else []
    what = "edit until saved and quickly checked again, 25 rooms, 40 devices"
    yield Line(what, "; ".join(figures), "under 100 ms, 95 of 100")


def _within(taken: list[Taken], share: float) -> str:
    """Milliseconds by the clock, and of this process alone, which a busy machine lengthens less."""
    clock_s = percentile([one.seconds for one in taken], share)
    own_s = percentile([one.own_s for one in taken], share)
    return f"{1000 * clock_s:.0f} ms ({1000 * own_s:.0f} ms of processor)"


def timings(session: Session, count: int) -> list[Taken]:
    """The time of each edit in turn; the first assessment of the home is not among them."""
    taken: list[Taken] = []
    facts = Facts(session.home)
    assess(facts)

    def edit(kind: Kind, number: int) -> None:
        before = _at(session.home, kind.path)
        facts.move(session.apply([Edit(kind.path, before, kind.value(number))]))
        assess(facts)

    for number in range(count):
        kind = KINDS[number % len(KINDS)]
        own_s = time.process_time()
        seconds = seconds_of(lambda kind=kind, number=number: edit(kind, number))
        taken.append(Taken(kind, seconds, time.process_time() - own_s))
    return taken


def _at(home: Home, path: tuple[str, ...]) -> Any:
    part: Any = home
    for name in path:
        part = next(item for item in part if item.id == name) if isinstance(part, tuple) else getattr(part, name)
    return part
