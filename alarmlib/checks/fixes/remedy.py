"""What a finding's remedy comes to: the field that it is entered in, and the edits where they can be known."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from alarmlib.checks.finding import Finding
from alarmlib.model import Home
from alarmlib.model.references import items_at
from alarmlib.proof.repairs.changes import EditWay, RepairChange, RepairEdit

FieldPath = tuple[str, ...]
Maker = Callable[[Home, Finding], "Remedy | None"]
_LISTS = (
    "devices", "site.openings", "site.rooms", "site.storeys", "site.passages", "site.furniture", "household.people",
    "household.visitors", "household.pets", "household.habits", "control_unit.zones", "control_unit.part_sets",
    "control_unit.seasons", "messages.responders", "messages.messages", "messages.paths", "wiring.boxes", "wiring.runs",
    "circuits", "inherited.items", "device_types",
)  # fmt: skip


@dataclass(frozen=True)
class Remedy:
    """`at` is the path of the field; `done` says what is entered on a copy, as a noun phrase ("" where nothing is).

    Without `changes` nothing is known that could be entered: it is work on the house, or a choice of the owner's.
    """

    at: FieldPath
    done: str = ""
    changes: tuple[RepairChange, ...] = ()


def entered(at: FieldPath, done: str, *edits: RepairEdit) -> Remedy:
    """A remedy that is one change of these edits."""
    change = RepairChange(
        "/".join(at), EditWay.FUNCTION, sentence=done, price=0, edits=edits, about=frozenset(), slots=frozenset()
    )
    return Remedy(at, done, (change,))


def answered(value: Any, done: str, *path: str) -> Maker:
    """A field of the finding's subject is given this value; `*` in the path is the subject."""

    def made(_home: Home, finding: Finding) -> Remedy:
        at = tuple(finding.subject if step == "*" else step for step in path)
        return entered(at, done, RepairEdit(at, value))

    return made


def asked_at(*path: str) -> Maker:
    """Only the field is known; `*` in the path is the finding's subject."""
    return lambda _home, finding: Remedy(tuple(finding.subject if step == "*" else step for step in path))


def place_of(home: Home, subject: str) -> FieldPath:
    """Where a part of the home is entered, by its id; () where it is none."""
    lists = (path for path in _LISTS if any(getattr(item, "id", "") == subject for item in items_at(home, path)))
    found = next(lists, "")
    return (*found.split("."), subject) if found else ()


def unused(home: Home, names: Iterable[str]) -> str:
    """The first of these names that no zone and no device has as its id."""
    taken = {zone.id for zone in home.control_unit.zones} | {device.id for device in home.whole_devices}
    return next(name for name in names if name not in taken)
