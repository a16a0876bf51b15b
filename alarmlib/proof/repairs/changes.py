"""Changes that may fix a hole: what each does to a home, what it costs, what it bears on; a home changed by some."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import ValidationError

from alarmlib.model.home import Home
from alarmlib.model.questions import present
from alarmlib.model.words import DeviceKind, Link, Word

FieldPath = tuple[str, ...]


class EditWay(Word):
    """In which way a change changes a home."""

    CONTACT = "contact", "a contact on a way in"
    MOTION = "motion", "a motion detector in a room, taken as sure"
    FUNCTION = "function", "another function of a zone"
    PUT_BACK = "put_back", "a zone put back into a part set"
    LEAVE_OUT = "leave_out", "a zone left out of a part set"
    DOOR = "door", "an entry/exit door at once or delayed in a part set"
    ENTRY = "entry", "another entry delay"
    EXIT = "exit", "another exit delay"
    SIREN = "siren", "another siren time"
    REST = "rest", "a shorter sleep time"
    WIRED = "wired", "a wired detector in place of a wireless one"
    MOVED = "moved", "a keypad moved"
    KEYPAD = "keypad", "a keypad in another room"
    FOB = "fob", "a fob in place of a keypad"
    HABIT = "habit", "a habit given up"


@dataclass(frozen=True)
class RepairEdit:
    """One place of a home changed: a value put there, added to the list there, or dropped from it.

    `path`: field names and, within lists, elements by id, from the home down; values as in the home file.
    """

    path: FieldPath
    value: Any
    how: Literal["put", "add", "drop"] = "put"


@dataclass(frozen=True)
class RepairChange:
    """A change with its price; `assumed`: nobody typed that price.

    `about` are the ids it bears on: an opening, a room, a zone, habits; "" for the whole unit. Of changes that share
    one of `slots` one is enough. `if_seen` names a detector that only helps if a walk test shows what it sees.
    `value_s` and `longer` are of delays and sleep times alone. `because` says why it can help, as a clause.
    """

    id: str
    way: EditWay
    sentence: str
    price: float
    edits: tuple[RepairEdit, ...]
    about: frozenset[str]
    slots: frozenset[str]
    part: str = ""
    assumed: bool = False
    if_seen: str = ""
    value_s: float = 0
    longer: bool = False
    because: str = ""


def fit_together(changes: Iterable[RepairChange]) -> bool:
    """Whether no two of these change the same field."""
    slots = [slot for change in changes for slot in change.slots]
    return len(set(slots)) == len(slots)


def changed(home: Home, changes: Collection[RepairChange]) -> Home | None:
    """A copy of the home with these changes; None when that is no home, or more than its unit can hold.

    The home itself stays as it is.
    The home file's own rules (`alarmlib.model.home`).
    """
    if not fit_together(changes):
        return None
    whole = home.model_dump(mode="json")
    for change in changes:
        for edit in change.edits:
            _edit(whole, edit)
    try:
        made = Home.model_validate(whole)
    except ValidationError:
        return None
    return made if _can_be_held(home, made) else None


def _edit(whole: Any, edit: RepairEdit) -> None:
    *steps, last = edit.path if edit.how == "put" else (*edit.path, "")
    for step in steps:
        whole = whole[step] if isinstance(whole, dict) else next(each for each in whole if _named(each, step))
    if edit.how == "put":
        whole[last] = edit.value
    elif edit.how == "add":
        whole.append(edit.value)
    else:
        whole[:] = [each for each in whole if not _named(each, edit.value)]


def _named(element: Any, name: Any) -> bool:
    if not isinstance(element, dict):
        return bool(element == name)
    return name in (element.get("id"), element.get("zone") if "id" not in element else None)


def _can_be_held(home: Home, made: Home) -> bool:
    """Whether the unit has room for what was added."""
    limits = home.control_unit.limits
    circuits = len(home.circuits)
    counts = [
        (limits.zones, _zones(home), _zones(made)),
        (limits.keypads, _keypads(home), _keypads(made)),
        (limits.circuits, circuits, circuits + _newly_wired(home, made)),
    ]
    return all(most is None or after <= max(most, before) for most, before, after in counts)


def _newly_wired(home: Home, made: Home) -> int:
    """How many devices are wired in the copy that were not: each needs a circuit."""
    before = {device.id: device.link for device in home.whole_devices}
    return sum(d.link is Link.WIRED and before.get(d.id, d.link) is not Link.WIRED for d in made.whole_devices)


def _zones(home: Home) -> int:
    return len(home.control_unit.zones)


def _keypads(home: Home) -> int:
    return len(present(home, DeviceKind.KEYPAD))
