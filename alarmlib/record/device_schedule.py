"""The device schedule to take along or hand on: one row a device, as CSV (RFC 4180), read only."""

import csv
import io
from typing import Any

from alarmlib.calc.coverage.areas import coverages
from alarmlib.calc.coverage.device_places import share_seen
from alarmlib.model import Home
from alarmlib.model.devices import Device, Wireless
from alarmlib.model.questions import present
from alarmlib.record.floor_plan import marks
from alarmlib.rules import say_of
from alarmlib.store.columns import Column, cell, columns_of, harmless

_BEFORE = ("name", "kind", "link", "state")
_PLACED = ("height_m", "mount", "at", "facing_deg")
_BATTERY = ("battery", "battery_fitted_on", "battery_lasts_years")
_SEEN = "Part of its room computed to be seen, %"


def schedule_csv(home: Home) -> str:
    """Every device that is not taken out, in the order of the home: mark on the plan, what, where, guards, zone.

    Numbers are in the home's units; the last share is of the room's floor, by four steps any way, where computed.
    """
    own = _columns(Device, home)
    cells = _columns(Wireless, home)
    out = io.StringIO()
    writer = csv.writer(out)
    say = say_of(home)
    writer.writerow(map(say, _header(own, cells)))
    names, mark, shares = _names(home), marks(home), _shares(home)
    for device in present(home):
        zone = next((zone.label for zone in home.control_unit.zones if zone.id == device.zone), "")
        room = next((room for room in home.site.rooms if room.id == device.room), None)
        guards = (*device.openings, *device.passages)
        writer.writerow(
            (
                mark["device", device.id],
                *(cell(own[name], getattr(device, name), say) for name in _BEFORE),
                harmless(room.name) if room else "",
                harmless(names[room.storey]) if room else "",
                *(cell(own[name], getattr(device, name), say) for name in _PLACED),
                harmless("; ".join(names[guarded] for guarded in guards)),
                harmless(zone),
                shares.get(device.id, ""),
                *(cell(cells[name], getattr(device.wireless, name, None), say) for name in _BATTERY),
                cell(own["price"], device.price),
            )
        )
    return out.getvalue()


def _columns(model: Any, home: Home) -> dict[str, Column]:
    """The columns of a part's own fields by name."""
    return {column.path[0]: column for column in columns_of(model, home.units) if len(column.path) == 1}


def _header(own: dict[str, Column], cells: dict[str, Column]) -> tuple[str, ...]:
    return (
        "Mark",
        *(own[name].header for name in _BEFORE),
        "Room",
        "Storey",
        *(own[name].header for name in _PLACED),
        "Guards",
        "Zone",
        _SEEN,
        *(cells[name].header for name in _BATTERY),
        own["price"].header,
    )


def _names(home: Home) -> dict[str, str]:
    """What storeys, openings and inside doors are called; an inside door by the rooms it joins."""
    rooms, say = {room.id: room.name for room in home.site.rooms}, say_of(home)
    called = {storey.id: storey.name for storey in home.site.storeys}
    called |= {p.id: f"{say(p.kind.text)} between {rooms[p.first]} and {rooms[p.second]}" for p in home.site.passages}
    return called | {opening.id: opening.name for opening in home.site.openings}


def _shares(home: Home) -> dict[str, str]:
    """The share of its own room that each motion detector surely sees, in per cent, where it can be computed."""
    outlines = {room.id: room.outline for room in home.site.rooms}
    return {
        seen.device: f"{100 * share_seen(seen, outlines[seen.room], _pieces(home, seen.room)):.0f}"
        for seen in coverages(home)
    }


def _pieces(home: Home, room: str) -> list[tuple[tuple[float, float], ...]]:
    return [piece.outline for piece in home.site.furniture if piece.room == room and piece.outline]
