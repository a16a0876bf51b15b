"""What each action of the function table sets going in an area."""

from collections.abc import Callable

from alarmlib.control import area_part, exiting, setting
from alarmlib.control.functions import Action
from alarmlib.control.inputs import SetArea, UnsetArea, Way
from alarmlib.control.signals import Notice, Tone
from alarmlib.control.tick import Tick, Trip

ONCE = frozenset({Action.IGNORE, Action.CHIME, Action.LEAVE, Action.SHOW, Action.SET, Action.UNSET})
"""Done when a zone trips, not again while it stays open."""
WAITING = frozenset({Action.ENTRY, Action.LATER, Action.WAIT})
"""The zone waits for the entry delay."""
_BURGLARY = frozenset({Action.ALARM, Action.ALWAYS, Action.SILENT})
_TAMPER = frozenset({Action.TAMPER_UNSET, Action.TAMPER_SETTING, Action.TAMPER_SET})
_HOUSE = frozenset({Action.WATER, Action.LOW_TEMPERATURE})
ALARMING = _BURGLARY | _TAMPER | _HOUSE | {Action.FIRE, Action.CARBON_MONOXIDE, Action.HOLD_UP}
"""The zone is in alarm: remembered, and counted towards its repeat-trip limit."""
COUNTED = _BURGLARY | _TAMPER | _HOUSE | WAITING
"""Held back once the repeat-trip limit is reached."""
CONFIRMABLE = frozenset({Action.ALARM, Action.ALWAYS, Action.FIRE})
"""May need a second detector."""
ACTED = ALARMING | WAITING | {Action.WARN}
"""The trip has been acted upon and stays so until the zone is normal."""


def _ignore(t: Tick, trip: Trip) -> None:
    """Logged as a trip, nothing else."""


def _chime(t: Tick, trip: Trip) -> None:
    if trip.zone.setup.chime:
        t.tone(trip.area.id, Tone.CHIME)


def _leave(t: Tick, trip: Trip) -> None:
    exiting.door_opens(t, trip.area)


def _blocks(t: Tick, trip: Trip) -> None:
    t.tone(trip.area.id, Tone.REFUSED)
    t.show(Notice.BLOCKS, trip.area.id, trip.zone.id)


def _warn(t: Tick, trip: Trip) -> None:
    t.tone(trip.area.id, Tone.FAULT)
    t.show(Notice.WARN_UNSET, trip.area.id, trip.zone.id)


def _tamper(t: Tick, trip: Trip) -> None:
    exiting.tampered(t, trip.area, trip.zone.id, trip.action)


def _show(t: Tick, trip: Trip) -> None:
    t.show(Notice.SEEN_IN_TEST, trip.area.id, trip.zone.id)


def _set_area(t: Tick, trip: Trip) -> None:
    setting.set_area(t, SetArea(trip.area.id, way=Way.KEY_SWITCH, outside=True))


def _unset_area(t: Tick, trip: Trip) -> None:
    setting.unset_area(t, UnsetArea(trip.area.id, Way.KEY_SWITCH))


def _hold_up_pressed(t: Tick, trip: Trip) -> None:
    area_part.hold_up_pressed(t, trip.area, trip.zone.id, trip.zone.setup.silent)


ACT: dict[Action, Callable[[Tick, Trip], None]] = {
    Action.IGNORE: _ignore,
    Action.CHIME: _chime,
    Action.LEAVE: _leave,
    Action.OFF_ROUTE: _blocks,
    Action.ENTRY: area_part.enter,
    Action.LATER: area_part.later_door,
    Action.WAIT: _ignore,
    Action.ALARM: area_part.burglary,
    Action.ALWAYS: area_part.always,
    Action.SILENT: area_part.silent,
    Action.HOLD_UP: _hold_up_pressed,
    Action.WARN: _warn,
    Action.TAMPER_UNSET: _tamper,
    Action.TAMPER_SETTING: _tamper,
    Action.TAMPER_SET: _tamper,
    Action.FIRE: area_part.life,
    Action.CARBON_MONOXIDE: area_part.life,
    Action.WATER: area_part.house,
    Action.LOW_TEMPERATURE: area_part.house,
    Action.SHOW: _show,
    Action.SET: _set_area,
    Action.UNSET: _unset_area,
}
