"""The chosen sets mounted in the home: coverage itself finds each room watched and each way in guarded."""

from random import Random
from typing import Any

import pytest

from alarmlib.calc.choosing.device_candidates import LEAST_SHARE, planned_device
from alarmlib.calc.choosing.device_choice import DeviceChoice, choose
from alarmlib.calc.choosing.needs import Cover
from alarmlib.calc.coverage.watched import rooms_seen
from alarmlib.model import Home
from alarmlib.model.device_types import entry_of
from alarmlib.model.words import DeviceKind
from alarmlib.record.produce import demo_home

PRICES = [{"id": k, "kind": k, "price": p} for k, p in (("contact", 14.5), ("motion", 39.9), ("shock", 25.25))]


def drawn_home(seed: int) -> Home:
    """Rooms in a row, square or L-shaped, some hot, some joined by open doorways, some with furniture and detectors."""
    draw, parts = Random(seed), {"rooms": [], "openings": [], "passages": [], "furniture": [], "devices": []}
    for n in range(draw.randint(2, 6)):
        for kind, pieces in _room(draw, n, 7.0 * n).items():
            parts[kind] += pieces
    devices = parts.pop("devices")
    site = {"storeys": [{"id": "g", "name": "g"}]} | parts
    return Home.model_validate({"site": site, "devices": devices, "prices": PRICES})


def _room(draw: Random, n: int, x: float) -> dict[str, list[dict[str, Any]]]:
    square = [[x, 0], [x + 7, 0], [x + 7, 6.3], [x, 6.3]]
    angled = [[x, 0], [x + 7, 0], [x + 7, 3.1], [x + 3.3, 3.1], [x + 3.3, 6.3], [x, 6.3]]
    room = {"id": f"r{n}", "name": f"r{n}", "storey": "g", "outline": draw.choice((square, angled)),
            "hottest_c": draw.choice((None, 20, 40))}  # fmt: skip
    opening = {"id": f"o{n}", "name": "o", "room": room["id"], "reach": "ground", "glass": draw.choice(("yes", "no"))}
    way = {"id": f"p{n}", "first": f"r{n - 1}", "second": room["id"], "at": [x, 1.5], "width_m": 2.5,
           "kind": draw.choice(("door", "doorway"))}  # fmt: skip
    piece = {"id": f"f{n}", "name": "f", "room": room["id"], "height_m": draw.choice((0.7, 1.9)),
             "outline": [[x + 1, 0.5], [x + 2.2, 0.5], [x + 2.2, 1.1], [x + 1, 1.1]]}  # fmt: skip
    eye = {"id": f"d{n}", "name": "d", "kind": "motion", "room": room["id"], "at": [x + 0.1, 0.1], "facing_deg": 45,
           "range_m": draw.choice((6, 9, 12)), "angle_deg": 90, "height_m": 2.2, "state": "fitted"}  # fmt: skip
    return {"rooms": [room], "openings": [opening], "passages": [way] if n else [],
            "furniture": [piece][: draw.randint(0, 1)], "devices": [eye][: draw.randint(0, 1)]}  # fmt: skip


def mounted_in(home: Home, found: DeviceChoice, cover: Cover, keep: bool = False) -> Home:
    """The home with the detectors of a set in place of its own, or beside them."""
    new = [entry_of(planned_device(home, found.candidate(name))) for name in cover.chosen]
    kept = home.devices if keep else ()
    return home.model_copy(update={"devices": (*kept, *new)})


def check(home: Home, found: DeviceChoice, cover: Cover) -> None:
    """The set covers each room and way in that the result lists as covered, and none that it lists as left."""
    for seen in rooms_seen(home):
        target = f"room:{seen.room}"
        if target in found.wanted:
            assert (seen.share >= LEAST_SHARE - 1e-3) is (target not in cover.left), target
    contacts = {o for d in home.whole_devices if d.kind is DeviceKind.CONTACT for o in d.openings}
    assert {target for target in found.wanted if target.startswith("opening:")} - cover.left <= {
        f"opening:{opening}" for opening in contacts
    }
    assert choose(home).uncovered_now == cover.left


@pytest.mark.parametrize("seed", range(8))
def test_sets_cover_what_they_say_on_drawn_homes(seed: int) -> None:
    """The fewest, the cheapest and what is missing, each proven, each mounted and its coverage computed again."""
    home = drawn_home(seed)
    found = choose(home)
    assert found.cheapest is not None
    assert found.fewest.proven and found.cheapest.proven and found.missing.proven
    assert found.cheapest.left == found.fewest.left
    check(mounted_in(home, found, found.fewest), found, found.fewest)
    check(mounted_in(home, found, found.cheapest), found, found.fewest)
    check(mounted_in(home, found, found.missing, keep=True), found, found.fewest)


def test_the_fewest_cover_the_demo_home() -> None:
    """Every guarded room of the demo home is watched by half and every way in within reach has a contact."""
    home = demo_home()
    found = choose(home)
    check(mounted_in(home, found, found.fewest), found, found.fewest)
    check(mounted_in(home, found, found.missing, keep=True), found, found.fewest)
