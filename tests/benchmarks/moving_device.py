"""A motion detector moved on the plan until what it sees is drawn again: 25 rooms, 40 devices, half of them such."""

import random
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from homes import SIDE_M, grid_home
from measure import Effort, Line, percentile, seconds_of

from alarmlib.calc.coverage.areas import fan, motion_detectors
from alarmlib.calc.coverage.view_lines import blocks_of, visible
from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.model import Home
from alarmlib.store import Session
from alarmlib.widgets.plan_editor import PlanEditor

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "calc"))
from shadow_subtraction import sector, seen_past, walls_of

MOTION = 20


def home() -> Home:
    """The home of the benchmarks, half of its devices motion detectors that have their place."""
    made = grid_home().model_dump()
    rooms = {room["id"]: room["outline"] for room in made["site"]["rooms"]}
    others = [d for d in made["devices"] if d["kind"] in ("keypad", "control_unit", "outside_siren")]
    detectors = [d for d in made["devices"] if d not in others]
    for number, device in enumerate(detectors[:MOTION]):
        x, y = rooms[device["room"]][0]
        device |= {"kind": "motion", "openings": (), "at": (x + 0.1, y + 0.1), "height_m": 2.2, "facing_deg": 45.0}
        device |= {"range_m": 11.0, "angle_deg": 90.0, "name": f"Motion {number}"}
    return Home.model_validate(made | {"devices": [*detectors, *others]})


def measured(effort: Effort) -> Iterator[Line]:
    """The editor's whole answer to a move, saved; and one view beside the same by shapely's shadow subtraction."""
    draw = random.Random(1)
    with tempfile.TemporaryDirectory() as folder:
        session = Session.new(Path(folder) / "home.json", home())
        editor = PlanEditor(session, coverage=True, raising=True)
        detectors = [device.id for device in motion_detectors(session.home) if device.at]
        taken, looked = [], []
        for number in range(effort.edits):
            name = detectors[number % len(detectors)]
            by = [draw.choice((-0.1, 0.1)), draw.choice((-0.1, 0.1))]
            asked = {"kind": "move", "thing": f"device:{name}", "by": by, "exact": True}
            at = [draw.uniform(0.2, SIDE_M), draw.uniform(0.2, SIDE_M)]
            looking = {"kind": "look", "thing": f"device:{detectors[0]}", "at": at, "facing": draw.uniform(0, 360)}
            taken.append(seconds_of(lambda asked=asked: _answered(editor, asked)))
            looked.append(seconds_of(lambda looking=looking: _answered(editor, looking)))
    within = ", ".join(f"{1000 * percentile(times, 0.95):.0f} ms" for times in (taken, looked))
    figures = f"95 of 100 within {within} (saved and drawn; while it is dragged)"
    what = f"moving a device redraws coverage, 25 rooms, 40 devices, {len(detectors)} of them motion detectors"
    yield Line(what, figures, "under 100 ms, 95 of 100")
    ours, theirs, apart_m2 = _compared(max(3, effort.edits // 4))
    figures = f"{theirs / ours:.1f} times as fast ({1000 * ours:.1f} ms a view); areas at most {apart_m2:.0e} m² apart"
    yield Line("a view past walls against shapely's shadow subtraction", figures, "")


def _answered(editor: PlanEditor, asked: dict[str, Any]) -> None:
    answer = editor._asked(asked)
    if "areas" not in answer and "say" not in answer:
        raise AssertionError(answer)


def _compared(count: int) -> tuple[float, float, float]:
    """Seconds a view by rays, and by shadow subtraction, and the most m² by which their areas differ."""
    draw, plan = random.Random(2), plan_from_home(home())
    walls, strokes = blocks_of(plan, "ground", doors_open=True).walls, walls_of(plan, "ground", doors_open=True)
    places = [(draw.uniform(0.2, 5 * SIDE_M - 0.2), draw.uniform(0.2, 3 * SIDE_M - 0.2)) for _ in range(count)]
    ours: list[Any] = []
    theirs: list[Any] = []
    by_rays = seconds_of(lambda: ours.extend(visible(at, walls, 11).intersection(fan(at, 45, 90, 11)) for at in places))
    by_shadows = seconds_of(
        lambda: theirs.extend(seen_past(at, strokes).intersection(sector(at, 45, 90, 11, 90)) for at in places)
    )
    apart = [one.symmetric_difference(other).area for one, other in zip(ours, theirs, strict=True)]
    return by_rays / count, by_shadows / count, max(apart)
