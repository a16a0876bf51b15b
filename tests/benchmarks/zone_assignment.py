"""Zones proven best: the demo home, and random homes of 40 devices with the gap that is left at the time limit."""

import statistics
from collections.abc import Iterator
from typing import Any

from measure import Effort, Line, seconds_of, test_module

from alarmlib.calc.zoning.arrangement import ZonePlan, plan_zones
from alarmlib.calc.zoning.zone_types import ZoningLimits
from alarmlib.draft.zones import zone_plan
from alarmlib.record.produce import demo_home

ZONES = (12, 20, 40)


def measured(effort: Effort) -> Iterator[Line]:
    """Seconds on the demo home after a warm-up; median and worst of the random homes."""
    home = demo_home()
    plans: list[ZonePlan] = [zone_plan(home, effort.limit_s)]
    seconds = seconds_of(lambda: plans.append(zone_plan(home, effort.limit_s)))
    yield Line("zones of the demo home", f"{plans[-1].quality} in {seconds:.2f} s", "proven under 1 s")
    yield Line(f"zones of {effort.random_homes} random homes of 40 devices", _random_homes(effort), "told as it is")


def _random_homes(effort: Effort) -> str:
    model: Any = test_module("calc/test_zoning.py")
    plans: list[ZonePlan] = []
    taken: list[float] = []
    for seed in range(effort.random_homes):
        zones, apart = ZONES[seed % len(ZONES)], seed % 2 == 0
        unit = ZoningLimits(zones=zones, circuits=12, slots=20, label_length=14, tells_wireless_apart=apart)
        devices = model.random_home(seed)
        taken.append(seconds_of(lambda d=devices, u=unit: plans.append(plan_zones(d, u, time_limit_s=effort.limit_s))))
    proven = sum(plan.proven for plan in plans)
    gap = max(plan.gap for plan in plans)
    return (
        f"median {statistics.median(taken):.2f} s, worst {max(taken):.2f} s; {proven} of {len(plans)} proven, "
        f"gap {100 * gap:.1f} % at most at {effort.limit_s:g} s"
    )
