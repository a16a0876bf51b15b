"""From version 1 of the home file to version 2: names of our own, two functions fewer; every fact is kept."""

from collections.abc import Mapping
from typing import Any

from alarmlib.store.renamed import FIELDS, PLACES, VALUES

Document = dict[str, Any]
PlaceInFile = tuple[str, ...]

_INSIDE, _AT_EDGE = frozenset({"interior", "interior_delayed"}), frozenset({"perimeter", "final_door"})


def from_version_1(document: Document) -> Document:
    """The document with the names and values of version 2; the one given is not changed.

    Two pairs of functions became one each. What told them apart, whether people pass the zone's devices on the way
    out, is the zone's own fact now, said where it does not follow from the devices.
    """
    return dict(_renamed(_folded(document), ()))


def _renamed(value: Any, place: PlaceInFile) -> Any:
    if isinstance(value, Mapping):
        named = {FIELDS.get(name, name): inner for name, inner in value.items()}
        return {name: _renamed(inner, (*place, name)) for name, inner in named.items()}
    if isinstance(value, list):
        inner = [_renamed(each, (*place, "*")) for each in value]
        words = (*place, "*") in PLACES and all(isinstance(each, str) for each in inner)
        return list(dict.fromkeys(inner)) if words else inner
    return VALUES[PLACES[place]].get(value, value) if place in PLACES and isinstance(value, str) else value


# --- the functions that became one ---


def _folded(document: Document) -> Document:
    """The document with what told the functions apart said in the zones and part sets, names still the old ones."""
    unit = document.get("unit")
    if not isinstance(unit, Mapping):
        return document
    zones, devices = _parts(unit, "zones"), _parts(document, "devices")
    differing = [each for season in _parts(unit, "seasons") for each in _parts(season, "zones")]
    seasons = {_text(each, "zone"): each.get("function") for each in differing}
    delayed = {_text(zone, "id") for zone in zones if zone.get("function") == "interior_delayed"}
    said = {
        "zones": [_passed(zone, devices, seasons.get(_text(zone, "id"))) for zone in zones],
        "part_sets": [_with_delay(part, delayed) for part in _parts(unit, "part_sets")],
    }
    return document | {"unit": dict(unit) | {name: parts for name, parts in said.items() if name in unit}}


def _parts(part: Mapping[str, Any], name: str) -> list[Any]:
    """A list of parts; what is none is left for the model to refuse."""
    held = part.get(name)
    return held if isinstance(held, list) and all(isinstance(each, Mapping) for each in held) else []


def _text(part: Mapping[str, Any], name: str) -> str:
    """An id in a part; what is none is left for the model to refuse."""
    value = part.get(name)
    return value if isinstance(value, str) else ""


def _passed(zone: Mapping[str, Any], devices: list[Any], then: Any) -> Document:
    """The zone with `passed_leaving` where its old function says otherwise than its devices do.

    `then`: its function in a season, which decides where the ordinary one was neither of a pair.
    """
    said = (each for each in (zone.get("function"), then) if isinstance(each, str))
    told = next((each for each in said if each in _INSIDE | _AT_EDGE), None)
    mine = [d for d in devices if d.get("zone") == zone.get("id") and d.get("state") != "removed"]
    by_devices = bool(mine) and all(d.get("kind") == "motion" and not d.get("openings") for d in mine)
    if told is None or (told in _INSIDE) == by_devices:
        return dict(zone)
    return dict(zone) | {"passed_leaving": "yes" if told in _INSIDE else "no"}


def _with_delay(part: Mapping[str, Any], delayed: set[Any]) -> Document:
    """The part set with their delay for detectors inside that always gave it, whatever the part set had for them."""
    doors = _parts(part, "doors")
    if not any(_text(door, "zone") in delayed for door in doors):
        return dict(part)
    return dict(part) | {
        "doors": [dict(door) | {"delayed": True} if _text(door, "zone") in delayed else door for door in doors]
    }
