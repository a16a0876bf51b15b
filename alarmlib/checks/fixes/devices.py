"""Fixes of findings on detectors and ways in: a contact where none is, a shorter sleep time, a zone of one's own."""

from collections.abc import Iterator

from alarmlib.checks.finding import Finding
from alarmlib.checks.fixes.remedy import Maker, Remedy, answered, asked_at, entered, unused
from alarmlib.checks.lookup import said, zones
from alarmlib.model import Home
from alarmlib.model.control_unit import Zone
from alarmlib.model.devices import Device
from alarmlib.model.questions import device_of, fitted, guards, of_zones
from alarmlib.model.words import DeviceKind
from alarmlib.proof.repairs.candidates import candidates
from alarmlib.proof.repairs.changes import RepairChange, RepairEdit

DECIDING = frozenset(DeviceKind) - {DeviceKind.CONTACT}


def _tried(home: Home) -> dict[str, RepairChange]:
    """The changes that the search for fixes tries, by their id."""
    return {change.id: change for change in candidates(home)}


def _contact(home: Home, finding: Finding) -> Remedy | None:
    """A contact on the way in, as the search for fixes would fit it."""
    return _contacts(home, (finding.subject,))


def _contact_beside(home: Home, finding: Finding) -> Remedy | None:
    """A contact on each way in of the finding's detector that has none."""
    device = device_of(home, finding.subject)
    return _contacts(home, device.openings if device else ())


def _contacts(home: Home, openings: tuple[str, ...]) -> Remedy | None:
    bare = [o for o in openings if all(guard.kind is not DeviceKind.CONTACT for guard in guards(home, o))]
    changes = tuple(change for o in bare if (change := home.ask(_tried).get(f"contact/{o}")) is not None)
    names = {opening.id: said(opening.name) for opening in home.site.openings}
    done = f"a contact on {' and '.join(names[change.id.partition('/')[2]] for change in changes)}"
    return Remedy(("devices",), done, changes) if changes else None


def _without_sleep(home: Home, finding: Finding) -> Remedy | None:
    """A sleep time of none: whether the detector offers one is for its manual to say."""
    if device_of(home, finding.subject) is None:
        return None
    at = ("devices", finding.subject, "sleep_s")
    return entered(at, "no sleep time, if its manual offers that", RepairEdit(at, 0))


def _apart(home: Home, finding: Finding) -> Remedy | None:
    """A zone of its own, alike but for its label, for each detector that decides for itself; the first one keeps it."""
    zone = zones(home).get(finding.subject)
    held = of_zones(home).get(finding.subject, ())
    deciding = [device for device in held if device.kind in DECIDING]
    if zone is None or not deciding:
        return None
    moved = deciding if len(deciding) < len(held) else deciding[1:]
    edits = tuple(edit for device in moved for edit in _own_zone(home, zone, device))
    return entered(("control_unit", "zones"), f"a zone for each detector of {said(zone.label)}", *edits)


def _own_zone(home: Home, zone: Zone, device: Device) -> Iterator[RepairEdit]:
    name = unused(home, (f"{device.id[:40]}_zone", *(f"{device.id[:40]}_zone_{n}" for n in range(2, 100))))
    label = _free_label(home, device.name)
    copied = zone.model_dump(mode="json") | {"id": name, "label": label, "place": ""}
    yield RepairEdit(("control_unit", "zones"), copied, "add")
    yield RepairEdit(("devices", device.id, "zone"), name)
    for part in home.control_unit.part_sets:
        if zone.id in part.left_out:
            yield RepairEdit(("control_unit", "part_sets", part.id, "left_out"), name, "add")


def _free_label(home: Home, wanted: str) -> str:
    letters = home.control_unit.limits.label_length or 80
    taken = {zone.label for zone in home.control_unit.zones}
    names = (wanted[:letters], *(f"{wanted[: letters - len(str(n)) - 1]} {n}" for n in range(2, 100)))
    return next(name for name in names if name not in taken)


def _tested(home: Home, finding: Finding) -> Remedy | None:
    """A test in the log that showed what was expected."""
    device = next((each for each in fitted(home) if each.id == finding.subject), None)
    if device is None:
        return None
    ids = {test.id for test in home.log.tests}
    name = next(n for k in range(1, len(ids) + 2) if (n := f"{device.id[:40]}_test_{k}") not in ids)
    test = {"id": name, "device": device.id, "seen": "as_expected", "seen_zone": device.zone}
    return entered(
        ("log", "tests"), "a test of each that shows what is expected", RepairEdit(("log", "tests"), test, "add")
    )


DEVICES: dict[str, Maker] = {
    "site.way_in_without_detector": _contact,
    "choice.left_uncovered": _contact,
    "coverage.way_in_by_motion_alone": _contact,
    "site.shock_without_contact": _contact_beside,
    "site.locked_in": answered("yes", "a lock that opens without a key", "site", "openings", "*", "opens_without_key"),
    "site.loose_latch": answered("ok", "a latch that holds in wind", "site", "openings", "*", "latches_in_wind"),
    "site.no_entry_exit_door": asked_at("site", "openings"),
    "site.unit_at_the_entry": asked_at("devices", "*", "room"),
    "detectors.rests_after_a_trip": _without_sleep,
    "detectors.pet_trips_motion": asked_at("devices", "*", "ignores_pets_kg"),
    "detectors.no_place": asked_at("devices", "*", "room"),
    "zones.detectors_sharing": _apart,
    "zones.entry_exit_door_without_contact": _contact,
    "test_walk.not_tested": _tested,
}
