"""Fixes of findings on people, messages, part sets and times: an answer, somebody who is told, who listens."""

from alarmlib.calc.zoning.passed import is_entry_exit_door
from alarmlib.checks.cautions import CAUTIONS
from alarmlib.checks.finding import Finding
from alarmlib.checks.fixes.remedy import Maker, Remedy, answered, asked_at, entered
from alarmlib.checks.lookup import listening, said, zones
from alarmlib.checks.people.part_sets import NEVER_LEFT_OUT, stirred
from alarmlib.model import Home
from alarmlib.model.control_unit import PartSet
from alarmlib.model.questions import by_id
from alarmlib.model.words import EventKind
from alarmlib.proof.repairs.changes import RepairEdit

ANY_DAY = "2000-01-01"  # on a copy only whether there is a day counts


def _shown(who: str, home: Home, finding: Finding) -> Remedy | None:
    """They can unset and were shown how."""
    people = by_id(getattr(home.household, who))
    person = people.get(finding.subject)
    if person is None:
        return None
    at = ("household", who, finding.subject)
    edits = (RepairEdit((*at, "can_unset"), True), RepairEdit((*at, "trained_on"), ANY_DAY))
    done = f"{said(person.role)} shown how" if person.can_unset else f"a user place for {said(person.role)}"
    return entered((*at, "trained_on" if person.can_unset else "can_unset"), done, *edits)


def _told(home: Home, finding: Finding) -> Remedy | None:
    """A message on the event to everybody who is entered."""
    at = ("messages", "messages")
    everybody = [each.id for each in home.messages.responders]
    if not everybody:
        return Remedy(("messages", "responders"))
    event, ids = EventKind(finding.subject), {message.id for message in home.messages.messages}
    name = next(n for k in range(1, len(ids) + 2) if (n := f"{event.value}_{k}") not in ids)
    message = {"id": name, "event": event.value, "to": everybody}
    return entered(at, f"a message on {event.text} to everybody you entered", RepairEdit(at, message, "add"))


def _part(home: Home, finding: Finding) -> PartSet | None:
    return by_id(home.control_unit.part_sets).get(finding.subject)


def _counts_again(home: Home, finding: Finding) -> Remedy | None:
    """What counts in every state is no longer left out."""
    part, known = _part(home, finding), zones(home)
    if part is None:
        return None
    at = ("control_unit", "part_sets", part.id, "left_out")
    kept = [name for name in part.left_out if name not in known or known[name].function not in NEVER_LEFT_OUT]
    return entered(at, f"what counts always put back into {said(part.name)}", RepairEdit(at, kept))


def _left_out(home: Home, finding: Finding) -> Remedy | None:
    """The zones of detectors where people sleep or walk are left out of the part set."""
    part = _part(home, finding)
    if part is None:
        return None
    at = ("control_unit", "part_sets", part.id, "left_out")
    more = dict.fromkeys(device.zone for device, _ in stirred(home, part))
    edit = RepairEdit(at, [*part.left_out, *more])
    return entered(at, f"those zones left out of {said(part.name)}", edit)


def _delayed(home: Home, finding: Finding) -> Remedy | None:
    """The first entry/exit door of the part set has its delay."""
    part = _part(home, finding)
    if part is None:
        return None
    doors = [zone for zone in listening(home, part) if is_entry_exit_door(zone, home.whole_devices)]
    at_once = {door.zone for door in part.doors if not door.delayed}
    door = next((zone for zone in doors if zone.id in at_once), None)
    if door is None:
        return None
    at = ("control_unit", "part_sets", part.id, "doors", door.id, "delayed")
    return entered(at, f"a delay of {said(door.label)} in {said(part.name)}", RepairEdit(at, True))


def _siren(home: Home, _finding: Finding) -> Remedy | None:
    """The siren as long as your city or council allows."""
    limit_s, at = home.rules.siren_limit_s, ("control_unit", "times", "siren_s")
    if limit_s is None:
        return Remedy(at)
    return entered(at, "the siren time that your city or council allows", RepairEdit(at, limit_s))


def _ticked(_home: Home, _finding: Finding) -> Remedy:
    every = [advice.id for advice in CAUTIONS]
    return entered(("cautions_read",), "every caution read and ticked", RepairEdit(("cautions_read",), every))


def _permit(_home: Home, finding: Finding) -> Remedy:
    if finding.subject == "rules":
        at = ("rules", "permit_asked")
        return entered(at, "the question asked", RepairEdit(at, True))
    at = ("messages", "calls_emergency_by_itself")
    return entered(at, "a person called first", RepairEdit(at, False))


def _old_access(home: Home, _finding: Finding) -> Remedy:
    fields = ("contract_ended", "users_removed", "factory_access_changed")
    first = next((name for name in fields if not getattr(home.inherited, name)), fields[0])
    edits = (RepairEdit(("inherited", name), True) for name in fields)
    return entered(("inherited", first), "the old access ended", *edits)


SETTINGS: dict[str, Maker] = {
    "people.person_cannot_unset": lambda home, finding: _shown("people", home, finding),
    "people.visitor_cannot_unset": lambda home, finding: _shown("visitors", home, finding),
    "messages.nobody_is_told": _told,
    "messages.nobody_can_come": asked_at("messages", "responders"),
    "messages.not_agreed": answered("yes", "their agreement", "messages", "responders", "*", "agreed"),
    "messages.emergency_calls": _permit,
    "part_sets.leaves_out_what_counts_always": _counts_again,
    "part_sets.listens_where_people_are": _left_out,
    "part_sets.nobody_can_come_home_late": _delayed,
    "times.siren_time": _siren,
    "battery.boxes_without_standby": answered(
        "standby_battery", "the box on the alarm's standby battery", "wiring", "boxes", "*", "fed_by"
    ),
    "battery.too_small": asked_at("wiring", "supply", "standby_battery_ah"),
    "battery.runs_out": asked_at("wiring", "supply", "standby_battery_ah"),
    "readiness.cautions_unread": _ticked,
    "readiness.no_detectors": asked_at("devices"),
    "inherited.old_access": _old_access,
    "inherited.undecided": asked_at("inherited", "items", "*", "fate"),
    "short_path.siren_unanswered": asked_at("messages", "messages"),
    "short_path.rooms_not_joined": asked_at("site", "passages"),
    "short_path.no_window_listed": asked_at("site", "openings"),
    "short_path.nobody_sleeps": asked_at("site", "rooms"),
}
