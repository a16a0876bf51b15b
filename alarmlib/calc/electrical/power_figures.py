"""What is worked out of the standby battery and of boxes, as figures to follow: course, quiet hours, shedding."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.battery import END_OF_LIFE, cold_share, share_left
from alarmlib.calc.electrical.power import asked_hours, box_lasts_h, coldest_c, course, exponent, lasts_h, load, shed
from alarmlib.calc.figure import Figure
from alarmlib.model.wiring import FedBy, Supply
from alarmlib.units import Kind, rounded, show

if TYPE_CHECKING:
    from alarmlib.model.home import Home

_T = "t(I) = s H (C / (I H))^k, at most s C / I"
_SOURCES = ("peukert", "battery_share", "battery_80", "battery_cold", "owner")
Inputs = tuple[tuple[str, str], ...]


def power_figures(home: "Home") -> Iterator[Figure]:
    """All that is worked out of how long the system goes on without mains.

    By `power.course`, `power.lasts_h`, `power.shed`, `power.box_lasts_h`.
    """
    points, hours, quiet_h, load_a = course(home), asked_hours(home), lasts_h(home), load(home)
    if points and hours is not None:
        alarm_h = hours.alarm_h or 0.0
        rest_h = max(0.0, points[-1].hours - hours.quiet_h - alarm_h)
        left = ", ".join(f"{point.left:.0%} after {rounded(point.hours)} h" for point in points[1:])
        told = (
            *_battery(home),
            ("quiet", f"{rounded(load_a.quiet_a)} A × {rounded(hours.quiet_h)} h"),
            ("alarm", f"{rounded(load_a.alarm_a)} A × {rounded(alarm_h)} h"),
            ("rest, quiet", f"{rounded(rest_h)} h"),
        )
        formula = f"left = 1 − (hours / t(I), added up over what has passed); {_T}"
        yield Figure("battery_course", left, "", formula, told, (*_SOURCES, hours.source))
    if quiet_h is not None:
        inputs = (*_battery(home), ("I", f"{rounded(load_a.quiet_a)} A"))
        yield Figure("battery_quiet", rounded(quiet_h), "h", _T, inputs, _SOURCES)
        for draw, gain in shed(home):
            less = (*inputs, ("i", f"{rounded(draw.quiet_a)} A"))
            formula = f"adds = t(I − i) − t(I); {_T}"
            yield Figure(f"load_shed.{draw.id}", rounded(gain), "h", formula, less, _SOURCES)
    yield from _boxes(home)


def _battery(home: "Home") -> Inputs:
    supply, cold_c = home.wiring.supply, coldest_c(home)
    share = f"{END_OF_LIFE:g} × {rounded(cold_share(cold_c))} at {show(cold_c, Kind.TEMPERATURE, home.units)}"
    return (
        ("C", f"{supply.standby_battery_ah or 0:g} Ah"),
        ("H", f"{supply.rated_over_h or 0:g} h"),
        ("k", _exponent(supply)),
        ("s", f"{share} = {rounded(share_left(cold_c))}"),
    )


def _exponent(supply: Supply) -> str:
    found = rounded(exponent(supply))
    if found == rounded(supply.peukert):
        return found
    return f"{found}, from {supply.second_ah or 0:g} Ah over {supply.second_over_h or 0:g} h"


def _boxes(home: "Home") -> Iterator[Figure]:
    for box in home.wiring.boxes:
        hours = box_lasts_h(home, box)
        if box.fed_by is FedBy.OWN_BATTERY and hours is not None:
            inputs = (("battery", f"{box.own_battery_wh or 0:g} Wh"), ("draws", f"{box.draws_w or 0:g} W"))
            formula = f"{END_OF_LIFE:g} × battery / draws"
            yield Figure(f"box_lasts.{box.id}", rounded(hours), "h", formula, inputs, ("battery_80", "owner"))
