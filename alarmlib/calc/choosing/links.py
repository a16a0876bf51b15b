"""Wired or wireless: what speaks for and against either, in the home as a whole or in one room."""

from collections.abc import Iterable, Iterator
from enum import StrEnum
from math import hypot
from typing import TYPE_CHECKING

from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.model.questions import by_id, present
from alarmlib.model.site import Room, Tenure
from alarmlib.model.words import DeviceKind, Link

if TYPE_CHECKING:
    from alarmlib.model.home import Home

LONG_RUN_M = 30.0  # our own line: from here on a cable is a day's work
FROST_C = 0.0


class Suits(StrEnum):
    """Whether something fits."""

    FITS = "fits"
    CARE = "with care"
    NOT = "does not fit"


FitReason = tuple[Suits, str]
"""How much a reason weighs, and its sentence."""
_WEIGHTS = tuple(Suits)


def worst(verdicts: Iterable[Suits]) -> Suits:
    """The heaviest of some verdicts; of none, that it fits."""
    return max(verdicts, key=_WEIGHTS.index, default=Suits.FITS)


def link_reasons(home: "Home", link: Link, room: Room | None = None) -> tuple[FitReason, ...]:
    """What speaks for and against a link, in a room or (None) in the home as a whole.

    Reference: the owner's answers and the unit's manual; frost and length of cable common practice, no source.
    """
    told = _wired(home, room) if link is Link.WIRED else _wireless(home, room)
    return (*told, *_zones(home))


def _wired(home: "Home", room: Room | None) -> Iterator[FitReason]:
    if home.site.tenure is not Tenure.OWNED:
        yield Suits.CARE, f"The home is {home.site.tenure.text}: ask before walls are drilled."
    if home.circuits:
        yield Suits.FITS, f"There are detector circuits already: {len(home.circuits)}."
    most = home.control_unit.limits.circuits
    if most is not None and len(home.circuits) >= most:
        yield (
            Suits.CARE,
            "The control unit has no terminals for another detector circuit, so the detector joins one that is there.",
        )
    run_m = None if room is None else run_to_unit_m(home, room)
    if run_m is not None:
        heavy = Suits.CARE if run_m >= LONG_RUN_M else Suits.FITS
        yield heavy, cable_reason(run_m)
    yield (
        Suits.FITS,
        "There are no batteries to change. The control unit notices a cut cable on a supervised detector circuit.",
    )


def _wireless(home: "Home", room: Room | None) -> Iterator[FitReason]:
    yield Suits.FITS, "There is no cable to lay, but there are batteries to change, and a signal to test in each place."
    slots = home.control_unit.limits.wireless_slots
    if slots is not None:
        used = sum(device.link is Link.WIRELESS for device in present(home))
        left = slots - used
        text = (
            f"The control unit has places left for wireless devices: {left}."
            if left > 0
            else "The control unit has no wireless place left."
        )
        yield Suits.FITS if left > 0 else Suits.NOT, text
    cold = [each.name for each in home.site.rooms if _freezes(each) and room in (None, each)]
    if cold:
        where = "here" if room else f"in {', '.join(f'“{name}”' for name in cold)}"
        yield Suits.CARE, f"Frost {where} shortens the life of batteries and may stop them."


def _freezes(room: Room) -> bool:
    return room.coldest_c is not None and room.coldest_c < FROST_C


def _zones(home: "Home") -> Iterator[FitReason]:
    most = home.control_unit.limits.zones
    if most is not None and len(home.control_unit.zones) >= most:
        yield Suits.CARE, "The control unit has no zone left, so one more detector would share one."


def cable_reason(run_m: float | None) -> str:
    """The sentence on the length of cable; "" where it isn't known.

    As `run_to_unit_m`.
    """
    if run_m is None:
        return ""
    return f"From the room's middle the cable to the control unit is {run_m:.0f} m long at least."


def run_to_unit_m(home: "Home", room: Room) -> float | None:
    """How far a room's middle is from the control unit, m, straight through the house; None where not drawn.

    Reference: textbook geometry; no cable is shorter.
    """
    rooms = by_id(home.site.rooms)
    unit = next((d for d in present(home, DeviceKind.CONTROL_UNIT) if d.at and d.room in rooms), None)
    if unit is None or unit.at is None or not room.outline:
        return None
    plan = plan_from_home(home)
    x, y = (sum(corner[axis] for corner in room.outline) / len(room.outline) for axis in (0, 1))
    return hypot(x - unit.at[0], y - unit.at[1], plan.floor_m(room.id) - plan.floor_m(unit.room))
