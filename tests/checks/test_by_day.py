"""What is heard while unset: for each check one home that draws it and a near one that does not."""

from typing import Any

from alarmlib.checks.people import by_day
from alarmlib.model import Home

HALL = {"storeys": [{"id": "s", "name": "Ground"}], "rooms": [{"id": "hall", "name": "Hall", "storey": "s"}]}


def says(check: str, **parts: Any) -> list[str]:
    """The verdicts of one check on a home of these parts."""
    (found,) = (each for each in by_day.GROUP.checks if each.id == f"by_day.{check}")
    return [each.verdict.value for each in found.result(Home.model_validate(parts))]  # type: ignore[union-attr]


def test_pet_rings_the_chime() -> None:
    """A dog that is free in the hall by day, and a motion detector there whose zone chimes or warns."""
    motion = {"id": "eye", "name": "Eye", "kind": "motion", "room": "hall", "zone": "z"}

    def told(zone: dict[str, Any], *rooms: str) -> list[str]:
        pets = {"pets": [{"id": "dog", "kind": "Dog", "free_in_day": list(rooms)}]}
        zones = {"zones": [{"id": "z", "label": "Hall"} | zone]}
        return says("pet_rings_the_chime", site=HALL, devices=[motion], control_unit=zones, household=pets)

    assert told({"function": "at_once", "chime": True}, "hall") == told({"function": "warn_unset"}, "hall") == ["note"]
    assert told({"function": "at_once", "chime": True}) == told({"function": "at_once"}, "hall") == []


def test_cover_unheard() -> None:
    """A cover switch on a circuit of one resistor; a tamper loop, two resistors, or none known draw nothing."""

    def told(tamper: str, **circuit: Any) -> list[str]:
        device = {"id": "eye", "name": "Eye", "kind": "motion", "link": "wired", "circuit": "c", "tamper": tamper}
        return says("cover_unheard", circuits=[{"id": "c", "name": "C"} | circuit], devices=[device])

    assert told("yes", ending="single") == told("yes", ending="none") == ["note"]
    assert told("yes", ending="single", tamper_loop=True) == told("yes", ending="double") == told("yes") == []
    assert told("no", ending="single") == []


def test_terminals_shared() -> None:
    """The same terminals twice, however they are spaced; blank ones are not the same."""

    def told(*terminals: str) -> list[str]:
        return says("terminals_shared", circuits=[{"id": f"c{n}", "name": f"C{n}", "terminals": each}
                                                  for n, each in enumerate(terminals)])  # fmt: skip

    assert told("Z1 C", "z1  c") == ["should"]
    assert told("Z1 C", "Z2 C") == told("", "") == []
