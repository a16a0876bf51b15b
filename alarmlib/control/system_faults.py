"""Faults of the system: which ones stop setting, by the standard and in this unit."""

from alarmlib.control.layout import AreaAt, WatchAt
from alarmlib.control.signals import Reason
from alarmlib.control.tick import Tick
from alarmlib.model.words import FaultKind, Word

# A watch is one number: 0 right, 1 faulty, 2 right again but kept until reset, 2 + n: faulty for n more
# seconds before it is raised.
RIGHT, RAISED, KEPT = 0, 1, 2
Obstacle = tuple[Reason, str]


class Condition(Word):
    """What may prevent setting (EN 50131-1, table 4)."""

    DETECTOR_ACTIVE = "detector_active", "intrusion detector active"
    HOLD_UP_ACTIVE = "hold_up_active", "hold-up device active"
    MASKED = "masked", "movement detector masked"
    RANGE_REDUCED = "range_reduced", "movement detector range reduced"
    DETECTOR_FAULT = "detector_fault", "detector fault"
    TAMPER = "tamper", "tamper"
    INTERCONNECTION = "interconnection", "interconnection fault"
    MAINS = "mains", "mains fault"
    STANDBY = "standby", "standby supply fault"
    TRANSMISSION = "transmission", "transmission fault"
    SOUNDER = "sounder", "sounder fault"
    OTHER = "other", "other fault"
    NO_NOTIFICATION = "no_notification", "all notification lost"


# EN 50131-1, table 4: the lowest grade from which the condition must prevent setting; below it the standard
# leaves it to the maker.
MUST_PREVENT_FROM_GRADE = {
    Condition.DETECTOR_ACTIVE: 1,
    Condition.HOLD_UP_ACTIVE: 1,
    Condition.MASKED: 3,
    Condition.RANGE_REDUCED: 4,
    Condition.DETECTOR_FAULT: 2,
    Condition.TAMPER: 2,
    Condition.INTERCONNECTION: 2,
    Condition.MAINS: 2,
    Condition.STANDBY: 2,
    Condition.TRANSMISSION: 2,
    Condition.SOUNDER: 2,
    Condition.OTHER: 2,
    Condition.NO_NOTIFICATION: 1,
}
CONDITION_OF = {
    FaultKind.MAINS: Condition.MAINS,
    FaultKind.STANDBY_BATTERY: Condition.STANDBY,
    FaultKind.DEVICE_MISSING: Condition.INTERCONNECTION,
    FaultKind.LOW_BATTERY: Condition.OTHER,
    FaultKind.TAMPER: Condition.TAMPER,
    FaultKind.TRANSMISSION_PATH: Condition.TRANSMISSION,
    FaultKind.SIREN_LINE: Condition.SOUNDER,
    FaultKind.CLOCK: Condition.OTHER,
}
NOTIFICATION = frozenset({FaultKind.TRANSMISSION_PATH, FaultKind.SIREN_LINE})


def must_prevent_setting(condition: Condition, grade: int) -> bool:
    """Whether this condition must prevent setting at that grade (1 to 4).

    Reference: EN 50131-1, table 4.
    """
    return grade >= MUST_PREVENT_FROM_GRADE[condition]


def raised(t: Tick, watch: WatchAt) -> bool:
    """Faulty now, after its hold time."""
    return t.s[watch.slot] == RAISED


def faulty_zones(t: Tick) -> frozenset[str]:
    """The zones of which a device has a fault."""
    return frozenset(zone for watch in t.lay.watches if raised(t, watch) for zone in watch.setup.zones)


def obstacles(t: Tick, area: AreaAt) -> list[Obstacle]:
    """The faults that stop this area from being set, and whether nothing could be notified.

    Reference: EN 50131-1, table 4.
    """
    stopping = [watch for watch in t.lay.watches if watch.setup.stops_setting and t.s[watch.slot] in (RAISED, KEPT)]
    found = [(Reason.FAULT, watch.setup.id) for watch in stopping if not watch.areas or area.place in watch.areas]
    notifying = [watch for watch in t.lay.watches if watch.setup.kind in NOTIFICATION]
    if t.facts.notification_lost_stops and notifying and all(raised(t, watch) for watch in notifying):
        found.append((Reason.NO_NOTIFICATION, ""))
    return found
