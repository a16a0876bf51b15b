"""From a home's devices to its zone chart: what each device should do, which share a zone, who listens when."""

from collections.abc import Iterable, Mapping

from alarmlib.calc.zoning.arrangement import ZonePlan, plan_zones
from alarmlib.calc.zoning.passed import is_entry_exit_door
from alarmlib.calc.zoning.proposals import PlacedDetector, Proposal, propose_functions
from alarmlib.calc.zoning.zone_types import ProposedZone, ZoneDevice, unit_limits
from alarmlib.checks.home.ways import rooms_between, route_rooms
from alarmlib.checks.people.part_sets import comes_home_late, for_the_night
from alarmlib.draft.lines import slug
from alarmlib.model.control_unit import Area, PartSet, PartSetDoor, Season, Zone
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.household import Habit, Household
from alarmlib.model.log import Log
from alarmlib.model.questions import by_id, present, sleeping_rooms, unset_rooms
from alarmlib.model.site import RoomUse
from alarmlib.model.words import DETECTORS, DeviceKind

_NIGHT_WALKS = frozenset({RoomUse.BATH, RoomUse.HALL})


def zone_plan(home: Home, time_limit_s: float = 10.0) -> ZonePlan:
    """The zones that suit the home's devices and the unit's limits best, with reasons and bound.

    See `alarmlib.calc.zoning.arrangement.plan_zones` and `alarmlib.calc.zoning.proposals.propose_functions`.
    """
    return plan_zones(zone_devices(home), unit_limits(home), time_limit_s=time_limit_s)


def with_zones(home: Home, time_limit_s: float = 10.0) -> Home:
    """The home with the zones of `zone_plan` put in, every detector in its zone, and the part sets filled.

    A zone goes on as the old zone of its first device, with that one's place, label and choices; zones without a
    detector stay; logs, seasons and habits that name a zone that is gone name the new zone of its first device.
    """
    plan = zone_plan(home, time_limit_s)
    zone_of = {device.id: device.zone for device in home.whole_devices if device.kind not in DETECTORS}
    held = {device.zone for device in _detectors(home)}
    zones = [zone for zone in home.control_unit.zones if zone.id in set(zone_of.values()) or zone.id not in held]
    areas = home.control_unit.areas or (Area(id="house", name="House"),)
    why = {proposal.device: proposal.reason for proposal in function_proposals(home)}
    quiet = {part.id: [zone.id for zone in zones if zone.id in part.left_out] for part in home.control_unit.part_sets}
    for proposed in plan.zones:
        zone = _zone(home, proposed, zones, areas[0].id, why[proposed.devices[0]])
        zone_of |= dict.fromkeys(proposed.devices, zone.id)
        zones.append(zone)
        for part_set in proposed.left_out:
            quiet[part_set].append(zone.id)
    kept = {zone.id for zone in zones}
    moved = {d.zone: zone_of.get(d.id, "") for d in reversed(_detectors(home)) if d.zone and d.zone not in kept}
    zones = [
        zone.model_copy(update={"confirmed_by": moved.get(zone.confirmed_by, zone.confirmed_by)}) for zone in zones
    ]
    part_sets = tuple(_filled(home, part_set, quiet[part_set.id], zones) for part_set in home.control_unit.part_sets)
    seasons = tuple(_season(season, moved) for season in home.control_unit.seasons)
    unit = {"areas": areas, "zones": tuple(zones), "part_sets": part_sets, "seasons": seasons}
    changed = {
        "control_unit": home.control_unit.model_copy(update=unit),
        "devices": tuple(d.model_copy(update={"zone": zone_of.get(d.id, "")}) for d in home.devices),
        "log": _log(home, moved),
        "household": _household(home, moved),
    }
    return Home.model_validate(home.model_copy(update=changed).model_dump())


def _zone(home: Home, proposed: ProposedZone, taken: list[Zone], area: str, why: str) -> Zone:
    """The proposed zone, as the old zone of its first device where that is still free."""
    ids = {zone.id for zone in taken}
    device = next(d for d in home.devices if d.id == proposed.devices[0])
    old = next((zone for zone in home.control_unit.zones if zone.id == device.zone and zone.id not in ids), None)
    reason = f"{_sentence(why)} {proposed.reason}"
    if old is not None:
        return old.model_copy(update={"function": proposed.function, "reason": old.reason or reason})
    areas = (proposed.area or area,)
    zone_id = slug(proposed.label, [*ids, *(zone.id for zone in home.control_unit.zones)])
    return Zone(id=zone_id, label=proposed.label, function=proposed.function, areas=areas, reason=reason)


def _season(season: Season, moved: Mapping[str, str]) -> Season:
    rows = (row.model_copy(update={"zone": moved.get(row.zone, row.zone)}) for row in season.zones)
    return season.model_copy(update={"zones": tuple({row.zone: row for row in rows if row.zone}.values())})


def _log(home: Home, moved: Mapping[str, str]) -> Log:
    tests = tuple(t.model_copy(update={"seen_zone": moved.get(t.seen_zone, t.seen_zone)}) for t in home.log.tests)
    events = tuple(e.model_copy(update={"zone": moved.get(e.zone, e.zone)}) for e in home.log.events)
    return home.log.model_copy(update={"tests": tests, "events": events})


def _household(home: Home, moved: Mapping[str, str]) -> Household:
    def habit(old: Habit) -> Habit:
        steps = tuple(s.model_copy(update={"place": moved.get(s.place, s.place)}) for s in old.steps)
        return old.model_copy(update={"steps": steps})

    return home.household.model_copy(update={"habits": tuple(map(habit, home.household.habits))})


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def _filled(home: Home, part_set: PartSet, left_out: list[str], zones: Iterable[Zone]) -> PartSet:
    """The part set with what it leaves out; a door that is new to it gets its delay, but not while people sleep.

    With a delay somebody could be in a bedroom before the siren; who has a habit of coming home then keeps theirs.
    """
    doors_home = [zone.id for zone in zones if is_entry_exit_door(zone, home.whole_devices)]
    kept = {door.zone: door for door in part_set.doors}
    asleep = for_the_night(part_set) and bool(sleeping_rooms(home)) and not comes_home_late(home, part_set)
    doors = tuple(kept.get(zone, PartSetDoor(zone=zone, delayed=not asleep)) for zone in doors_home)
    return part_set.model_copy(update={"left_out": tuple(left_out), "doors": doors})


def zone_devices(home: Home) -> tuple[ZoneDevice, ...]:
    """The home's detectors as the arrangement of zones wants them."""
    site = home.site
    rooms = by_id(site.rooms)
    floors = {storey.id: storey.name for storey in site.storeys}
    openings = {opening.id: opening.name for opening in site.openings}
    given = {proposal.device: proposal for proposal in function_proposals(home)}
    chosen = {zone.id: zone.function for zone in home.control_unit.zones}
    part_sets = home.control_unit.part_sets
    found = []
    for device in _detectors(home):
        room = rooms.get(device.room)
        proposal = given[device.id]
        found.append(
            ZoneDevice(
                id=device.id,
                name=device.name,
                kind=device.kind,
                function=chosen.get(device.zone, proposal.function),
                room=device.room,
                room_name=room.name if room else "",
                floor=floors.get(room.storey, "") if room else "",
                area=room.area if room else "",
                link=device.link,
                left_out=frozenset(part.id for part in part_sets if _left_out(device, part, proposal)),
                place=openings.get(device.openings[0], "") if len(device.openings) == 1 else "",
            )
        )
    return tuple(found)


def _left_out(device: Device, part_set: PartSet, proposal: Proposal) -> bool:
    if device.zone and (part_set.left_out or part_set.doors):
        return device.zone in part_set.left_out
    return not proposal.listens_at_night


def function_proposals(home: Home) -> tuple[Proposal, ...]:
    """What each detector of the home should do, with the reason.

    See `alarmlib.calc.zoning.proposals.propose_functions`.
    """
    route = route_rooms(home)
    doors_home = {opening.id for opening in home.site.openings if opening.entry_exit}
    night = _moved_in_at_night(home)
    pets = {room for pet in home.household.pets for room in pet.free_when_empty}
    passages = {p.id: {p.first, p.second} for p in home.site.passages}
    placed = []
    for device in _detectors(home):
        passed = any(passages[passage] <= route for passage in device.passages)
        placed.append(
            PlacedDetector(
                id=device.id,
                kind=device.kind,
                room=device.room,
                on_route=passed or (device.kind is DeviceKind.MOTION and device.room in route),
                entry_exit=bool(doors_home & set(device.openings)),
                moved_at_night=device.room in night,
                pet_trips_it=device.room in pets and not device.ignores_pets_kg,
            )
        )
    return propose_functions(placed)


def _moved_in_at_night(home: Home) -> frozenset[str]:
    """Where somebody sleeps, walks to a bathroom or to where the alarm is unset, or a pet runs free at night.

    Halls and bathrooms on a storey with bedrooms count too, since not every walk is the quickest.
    """
    sleeping = sleeping_rooms(home)
    storeys = {room.storey for room in home.site.rooms if room.id in sleeping}
    near = {room.id for room in home.site.rooms if room.storey in storeys and room.use in _NIGHT_WALKS}
    baths = [room.id for room in home.site.rooms if room.use is RoomUse.BATH]
    unsetting = unset_rooms(home) if sleeping else frozenset[str]()
    walks = (rooms_between(home, bed, goals) for bed in sorted(sleeping) for goals in (baths, sorted(unsetting)))
    pets = {room for pet in home.household.pets for room in pet.free_in_night}
    return frozenset(sleeping | near | unsetting | pets).union(*walks)


def _detectors(home: Home) -> list[Device]:
    return list(present(home, *DETECTORS))
