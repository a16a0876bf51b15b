"""The setup of a home's control unit: what is entered in it, and the stated default where something is not known.

Defaults where the owner's manual says nothing: entry delay 30 s, exit delay 60 s, abort window 30 s (CP-01, from
memory), siren 300 s (satisfies every local limit on file), 60 s of ignoring after a power loss (CP-01 4.4.3), fire and
CO included, test mode 20 min, mains reported after 10 s, confirmation window 120 s (no source). The rules decide
the rest: Europe and Britain hold up setting for what is off the route or still open, and a person may override for one
set period; elsewhere an off-route trip alarms, an open door is an exit error, and what is open is left out by force.
"""

from alarmlib.calc.zoning.passed import passed_leaving
from alarmlib.control.setup import Behaviour, DoorAtEnd, OffRouteTrip, Override, Setup, ZoneAtEnd
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, WatchSetup, ZoneSetup
from alarmlib.control.system_faults import CONDITION_OF, must_prevent_setting
from alarmlib.model import unit_facts as unit_words
from alarmlib.model.control_unit import Area, DoorTimes, PartSet, Season, Zone
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.questions import at_work, by_id, is_at_work, present
from alarmlib.model.site import Yes
from alarmlib.model.words import DeviceKind, FaultKind, Link
from alarmlib.rules import rules_of

ENTRY_S, EXIT_S, ABORT_S, SIREN_S, CONFIRM_S, MAINS_HOLD_S = 30, 60, 30, 300, 120, 10
_ORDINARY = Season(id="ordinary", name="Ordinary")
_PASSING = frozenset(
    {DeviceKind.MOTION, DeviceKind.GLASS_BREAK, DeviceKind.SHOCK, DeviceKind.HOLD_UP, DeviceKind.KEY_SWITCH}
)
_SOUNDERS = frozenset({DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SIREN})
_ONE_AREA = Area(id="house", name="House")


def setup_from_home(home: Home, season: str = "") -> Setup:
    """The setup of that season (blank: the ordinary one).

    Devices taken out or out of use are not in it; a zone whose devices are all so is out of use.
    Raises `KeyError` when the home has no such season.
    Our own reading of the home file; defaults as the module states.
    """
    seasons = by_id(home.control_unit.seasons) | {"": _ORDINARY}
    now = seasons[season]
    areas = home.control_unit.areas or (_ONE_AREA,)
    return Setup(
        tuple(_area(home, area, areas, now) for area in areas),
        tuple(_zone(home, zone, areas, now) for zone in home.control_unit.zones),
        _watches(home, areas),
        behaviour_of(home),
    )


def behaviour_of(home: Home) -> Behaviour:
    """How the unit behaves: the owner's manual first, then the habit of the country's rules."""
    said, held_up = home.control_unit.behaviour, rules_of(home).setting.holds_up
    refuses = unit_words.OffRoute.REFUSES if held_up else unit_words.OffRoute.AT_ONCE
    at_end = unit_words.StillOpen.NOT_SET if held_up else unit_words.StillOpen.EXIT_ERROR
    not_set = (said.still_open_at_end or at_end) is unit_words.StillOpen.NOT_SET
    plain = Behaviour()
    return Behaviour(
        off_route=OffRouteTrip.BLOCKS
        if (said.off_route_in_exit or refuses) is unit_words.OffRoute.REFUSES
        else OffRouteTrip.ALARM,
        door_at_end=DoorAtEnd.NOT_SET if not_set else DoorAtEnd.EXIT_ERROR,
        zone_at_end=ZoneAtEnd.NOT_SET if not_set else ZoneAtEnd.ALARM,
        override=_override(home),
        exit_restarts_once=_said(said.exit_restarts_once, plain.exit_restarts_once),
        exit_ends_by_door=said.exit_ends_by is unit_words.ExitEnds.DOOR,
        exit_ends_by_button=said.exit_ends_by is unit_words.ExitEnds.BUTTON,
        exit_delay_from_outside=_said(said.remote_exit_delay, plain.exit_delay_from_outside),
        later_door_shortens=_said(said.later_door_shortens, plain.later_door_shortens),
        common_needs_all=_said(said.common_needs_all, plain.common_needs_all),
        hold_up_silent=_said(said.hold_up_silent, plain.hold_up_silent),
        tamper_outside_unset=_said(said.tamper_outside_when_unset, plain.tamper_outside_unset),
        wrong_code_limit=said.wrong_code_limit or 0,
        wrong_code_lock_s=_seconds(said.wrong_code_lock_s, 0),
        test_s=_seconds(said.test_ends_after_s, plain.test_s),
        ignore_after_power_s=_seconds(said.ignores_after_power_s, plain.ignore_after_power_s),
        life_heard_after_power=_said(said.life_heard_after_power, plain.life_heard_after_power),
        siren_cap_s=0 if said.stops_siren_in_hour is False else _seconds(home.rules.siren_limit_hour_s, 0),
    )


def _override(home: Home) -> Override:
    if home.control_unit.behaviour.open_at_setting is unit_words.OpenAtSetting.REFUSES:
        return Override.NOT_OFFERED
    return Override.ONE_SET_PERIOD if rules_of(home).setting.overrides_once else Override.INHIBITS_OPEN


def _said(value: bool | None, default: bool) -> bool:
    return default if value is None else value


def _seconds(value: float | None, default: int) -> int:
    return default if value is None else round(value)


def _area(home: Home, area: Area, areas: tuple[Area, ...], season: Season) -> AreaSetup:
    times = home.control_unit.times
    exit_s = _first_s(season.exit_s, times.exit_s, EXIT_S)
    exit_s = max([exit_s, *(round(door.exit_s) for door in _doors(home, season).values() if door.exit_s is not None)])
    siren_s = _seconds(times.siren_s, SIREN_S)
    parts = tuple(part for part in home.control_unit.part_sets if (part.area or areas[0].id) == area.id)
    nobody = home.control_unit.behaviour.nobody_left_part_set
    return AreaSetup(
        area.id,
        exit_s,
        entry_s=_first_s(season.entry_s, times.entry_s, ENTRY_S),
        siren_s=min(siren_s, _seconds(home.rules.siren_limit_s, siren_s)),
        abort_s=_seconds(times.abort_s, ABORT_S),
        parts=tuple(_part(part, exit_s) for part in parts),
        nobody_left=nobody if nobody in {part.id for part in parts} else "",
        follows=area.follows,
    )


def _first_s(first: float | None, second: float | None, default: int) -> int:
    return _seconds(first, _seconds(second, default))


def _part(part: PartSet, exit_s: int) -> PartSetup:
    at_once = frozenset(door.zone for door in part.doors if not door.delayed)
    return PartSetup(part.id, frozenset(part.left_out), at_once, exit_s if part.exit_delay else 0)


def _doors(home: Home, season: Season) -> dict[str, DoorTimes]:
    """The times of each entry/exit door by opening; those of the season win."""
    return {door.opening: door for door in (*home.control_unit.times.doors, *season.doors)}


def _zone(home: Home, zone: Zone, areas: tuple[Area, ...], season: Season) -> ZoneSetup:
    differs = {each.zone: each for each in season.zones}.get(zone.id)
    held = [device for device in present(home) if device.zone == zone.id]
    there = [device for device in held if is_at_work(device)]
    limit = home.control_unit.behaviour.repeat_trip_limit
    doors = [door for device in there for name, door in _doors(home, season).items() if name in device.openings]
    return ZoneSetup(
        zone.id,
        (differs and differs.function) or zone.function,
        zone.areas or (areas[0].id,),
        tuple(_device(device) for device in there) or _device_of_its_own(home, zone),
        entry_s=min((round(door.entry_s) for door in doors if door.entry_s is not None), default=None),
        exit_s=max((round(door.exit_s) for door in doors if door.exit_s is not None), default=None),
        chime=zone.chime,
        silent=zone.silent,
        repeat_limit=rules_of(home).setting.repeat_trips if limit is None else limit,
        partners=(zone.confirmed_by,) if zone.confirmed_by else (),
        confirm_s=_seconds(home.control_unit.behaviour.confirmation_s, CONFIRM_S) if zone.confirmed_by else 0,
        reports_each_device=len(there) > 1 and any(device.link is Link.WIRELESS for device in there),
        out_of_use=zone.out_of_use or (differs is not None and differs.out_of_use) or (bool(held) and not there),
        inside=passed_leaving(zone, home.whole_devices),
    )


def _device_of_its_own(home: Home, zone: Zone) -> tuple[DeviceSetup, ...]:
    """A zone without devices has one of its own, under a name no device of the home has."""
    taken = {device.id for device in home.whole_devices}
    return (DeviceSetup(f"{zone.id}_zone" if zone.id in taken else zone.id),)


def _device(device: Device) -> DeviceSetup:
    return DeviceSetup(device.id, device.kind not in _PASSING, round(device.sleep_s), device.movement_restarts_sleep)


def _watches(home: Home, areas: tuple[Area, ...]) -> tuple[WatchSetup, ...]:
    """The unit's own faults, each message path, and each device's tamper, battery, absence and siren line."""
    everywhere = tuple(area.id for area in areas)
    mains_s = _seconds(home.control_unit.behaviour.mains_hold_s, MAINS_HOLD_S)
    watches = [
        _watch(home, "mains", FaultKind.MAINS, everywhere, mains_s),
        _watch(home, "battery", FaultKind.STANDBY_BATTERY, everywhere),
        _watch(home, "clock", FaultKind.CLOCK, everywhere),
    ]
    watches += [
        _watch(home, f"transmission_path_{path.id}", FaultKind.TRANSMISSION_PATH, everywhere)
        for path in home.messages.paths
    ]
    for device in at_work(home):
        if device.link is not Link.OWN:
            watches += _device_watches(home, device, everywhere)
    return tuple(watches)


def _device_watches(home: Home, device: Device, everywhere: tuple[str, ...]) -> list[WatchSetup]:
    zone_areas = {zone.id: zone.areas for zone in home.control_unit.zones}.get(device.zone, ())
    areas = zone_areas or everywhere[:1]
    zones = (device.zone,) if device.zone else ()
    found = []
    if device.tamper is Yes.YES:
        found.append(_watch(home, f"tamper_{device.id}", FaultKind.TAMPER, areas, zones=zones))
    if device.kind in _SOUNDERS:
        found.append(_watch(home, f"siren_line_{device.id}", FaultKind.SIREN_LINE, everywhere))
    if device.wireless is not None:
        missing_s = device.wireless.missing_after_s
        if missing_s is not None:
            found.append(_watch(home, f"missing_{device.id}", FaultKind.DEVICE_MISSING, areas, round(missing_s), zones))
        if device.wireless.reports_low_battery is Yes.YES:
            found.append(_watch(home, f"low_battery_{device.id}", FaultKind.LOW_BATTERY, areas))
    return found


def _watch(
    home: Home, name: str, kind: FaultKind, areas: tuple[str, ...], hold_s: int = 0, zones: tuple[str, ...] = ()
) -> WatchSetup:
    return WatchSetup(
        name,
        kind,
        hold_s=hold_s,
        stops_setting=stops_setting(home, kind),
        latches=kind is FaultKind.TAMPER,
        areas=areas,
        zones=zones,
    )


def stops_setting(home: Home, kind: FaultKind) -> bool:
    """Whether the unit, as simulated, refuses to be set while this fault lasts and nobody overrides it.

    Reference: EN 50131-1, table 4, in Europe and Britain; elsewhere no rule that was seen asks for it.
    """
    return bool(rules_of(home).setting.faults_prevent) and must_prevent_setting(CONDITION_OF[kind], home.rules.grade)
