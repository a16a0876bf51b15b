"""The facts that nobody has entered yet and that would make the results better, in words."""

from collections.abc import Iterator

from alarmlib.checks.lookup import entry_exit_doors
from alarmlib.model import Home
from alarmlib.model.devices import DeviceType, TypeFacts
from alarmlib.model.messages import PathKind
from alarmlib.model.questions import detectors, present
from alarmlib.model.site import Reach, Yes
from alarmlib.model.unit_facts import Recognises
from alarmlib.model.words import DeviceKind, Link, UnitSystem
from alarmlib.units import Kind as UnitKind
from alarmlib.units import show


def missing(home: Home) -> tuple[str, ...]:
    """What is not known yet and what it would improve, a sentence each."""
    return tuple(
        line for part in (_site, _people, _unit, _types, _devices, _power, _siren_limit) for line in part(home)
    )


def _site(home: Home) -> Iterator[str]:
    site = home.site
    if not site.rooms:
        yield "The rooms: without them there is no way in, no walk and no zone to compute."
        return
    unknown = sum(opening.reach is Reach.UNKNOWN and opening.sill_m is None for opening in site.openings)
    if unknown:
        yield (
            f"Whether {_count(unknown, 'way in', 'ways in')} can be reached from outside: until then within reach "
            "is assumed."
        )
    if not site.passages and len(site.rooms) > 1:
        yield "Which door leads where: walks and entry routes need it."
    stopped = {walk.door for walk in home.household.walks}
    if any(door.id not in stopped for door in entry_exit_doors(home)) and not any(r.outline for r in site.rooms):
        yield (
            "Stopwatch walks from each entry/exit door to the keypad, or a plan: the entry and exit delays "
            "depend on them."
        )
    if site.fuel_appliances is Yes.UNKNOWN or site.attached_garage is Yes.UNKNOWN:
        yield "Whether there is a fuel-burning appliance or an attached garage: it decides where you need CO alarms."


def _types(home: Home) -> Iterator[str]:
    """The types whose values nobody read in a manual, while a device is of them."""
    used = {entry.type for entry in home.devices}
    for each in home.device_types:
        if each.assumed and each.id in used:
            told = ", ".join(assumed_values(each, home.units)) or "nothing beyond its kind and its connection"
            yield f"The manual of the type “{each.name}”: until then this is assumed, with no source: {told}."


def assumed_values(of: DeviceType, system: UnitSystem) -> Iterator[str]:
    """Each number that a type says, with its label, in the units of the home."""
    for name, info in TypeFacts.model_fields.items():
        value, extra = getattr(of, name), info.json_schema_extra
        if isinstance(value, float) and value != info.default and isinstance(extra, dict):
            label = (info.title or name).lower()
            yield f"{label} {show(value, UnitKind(str(extra['kind'])), system)}"


def _people(home: Home) -> Iterator[str]:
    if not home.household.people:
        yield "Who lives here, by role: delays, part sets and waking depend on it."
    elif not any(person.sleeps_in for person in home.household.people):
        yield "Who sleeps where: it decides what a night set leaves out."
    if any(pet.mass_kg is None for pet in home.household.pets):
        yield "What each pet weighs: it decides whether a detector can ignore it."


def _unit(home: Home) -> Iterator[str]:
    limits, behaviour, times = home.control_unit.limits, home.control_unit.behaviour, home.control_unit.times
    facts = (
        (limits.zones, "How many zones your control unit has: until then as many as you need are assumed."),
        (limits.functions, "Which functions your control unit offers: until then all are assumed."),
        (
            limits.label_length,
            "How many letters your control unit shows of a label: until then labels are not shortened.",
        ),
        (times.entry_s, "The entry delay to be set: it decides whether you reach the keypad in time."),
        (times.exit_s, "The exit delay to be set: it decides whether you get out in time."),
        (times.siren_s, "The siren time to be set: your city or council may limit it."),
        (behaviour.repeat_trip_limit, "How often one zone may alarm in a set period: until then two is assumed."),
    )
    yield from (text for value, text in facts if not value)
    if limits.recognises is Recognises.UNKNOWN:
        yield (
            "Whether your control unit recognises each device or only each detector circuit: "
            "it decides what may share a zone."
        )


def _devices(home: Home) -> Iterator[str]:
    devices = present(home)
    if devices and not present(home, DeviceKind.CONTROL_UNIT):
        yield "Where the control unit is mounted: it should be guarded, and away from the entry."
    if devices and not present(home, DeviceKind.KEYPAD, DeviceKind.FOB, DeviceKind.KEY_SWITCH):
        yield "How you set and unset (keypad, fob or key switch) and where: the entry route depends on it."
    wireless = [d for d in detectors(home) if d.link is Link.WIRELESS]
    bare = sum(d.wireless is None or d.wireless.check_in_s is None for d in wireless)
    if bare:
        yield f"How often {_count(bare, 'wireless device reports', 'wireless devices report')}: from their manuals."
    undated = sum(d.wireless is None or not d.wireless.battery_fitted_on for d in wireless)
    if undated:
        yield f"When the battery of {_count(undated, 'device', 'devices')} was fitted: it tells when to change it."


def _power(home: Home) -> Iterator[str]:
    wired = [device for device in present(home) if device.link is Link.WIRED]
    supply = home.wiring.supply
    if wired and (supply.standby_battery_ah is None or supply.rated_over_h is None):
        yield "The standby battery's size and the hours it is rated over: how long it lasts depends on them."
    internet = [path for path in home.messages.paths if path.kind is PathKind.INTERNET]
    if internet and not home.wiring.boxes:
        yield (
            "What the router and the other boxes on a message's way do when the mains fails: whether you are told "
            "depends on it."
        )
    silent = [d for d in present(home, DeviceKind.INSIDE_SOUNDER) if d.level_dba is None or d.level_at_m is None]
    if silent:
        yield (
            f"How loud {_count(len(silent), 'sounder is', 'sounders are')}, and at which distance: how loud it is "
            "at each pillow depends on it."
        )


def _siren_limit(home: Home) -> Iterator[str]:
    if home.rules.siren_limit_s is None:
        yield "How long your city or council lets a siren sound: your siren time depends on it."


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
