"""What must be covered and by what, on homes small enough to count by hand; and on the demo home."""

from typing import Any

import pytest

from alarmlib.calc.choosing.device_candidates import LEAST_SHARE, Candidate, candidates, needs, usual_motion
from alarmlib.calc.choosing.device_choice import DeviceChoice, choose, parts_list
from alarmlib.calc.choosing.needs import met_needs
from alarmlib.calc.coverage.areas import coverage_of
from alarmlib.calc.coverage.watched import rooms_seen
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.words import DeviceKind
from alarmlib.record.produce import demo_home

PRICE = {"contact": 10, "motion": 40, "shock": 25, "glass_break": 44}
PRICES = [{"id": kind, "kind": kind, "price": price} for kind, price in PRICE.items()]
SQUARE = [[0, 0], [5, 0], [5, 5], [0, 5]]


def home(**parts: Any) -> Home:
    """Two rooms in table form: a hall with a door, a living room with two windows of glass."""
    site = {
        "storeys": [{"id": "g", "name": "Ground"}],
        "rooms": [{"id": "hall", "name": "Hall", "storey": "g"}, {"id": "living", "name": "Living", "storey": "g"}],
        "openings": [
            {"id": "door", "name": "Door", "room": "hall", "kind": "door", "reach": "ground", "glass": "no"},
            {"id": "left", "name": "Left", "room": "living", "reach": "ground", "glass": "yes"},
            {"id": "right", "name": "Right", "room": "living", "reach": "ground", "glass": "yes"},
        ],
    }
    return Home.model_validate({"site": site | parts.pop("site", {}), "prices": PRICES} | parts)


def there(name: str, kind: str, room: str, *openings: str, **more: Any) -> dict[str, Any]:
    """A device at work."""
    return {"id": name, "name": name, "kind": kind, "room": room, "openings": openings, "state": "fitted"} | more


def eye(name: str, at: list[float], facing_deg: float | None, **more: Any) -> dict[str, Any]:
    """A motion detector drawn in the hall."""
    facts = {"at": at, "facing_deg": facing_deg, "height_m": 2.2, "range_m": 12, "angle_deg": 90}
    return there(name, "motion", "hall") | facts | more


def kinds(found: DeviceChoice, chosen: tuple[str, ...]) -> list[str]:
    """The kinds of a set, sorted."""
    return sorted(found.candidate(name).kind.value for name in chosen)


def test_what_must_be_covered() -> None:
    """Ways in within reach of guarded rooms, their glass, and those rooms."""
    found = choose(home())
    assert found.wanted == {
        "opening:door", "opening:left", "opening:right", "glass:left", "glass:right", "room:hall", "room:living",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("edits", "gone"),
    [
        ({"site.openings.left.reach": "not"}, {"opening:left", "glass:left"}),
        ({"site.openings.left.left_bare_because": "barred"}, {"opening:left", "glass:left"}),
        ({"site.openings.left.kind": "letterbox"}, {"opening:left", "glass:left"}),
        ({"site.openings.left.glass": "unknown"}, {"glass:left"}),
        ({"site.rooms.hall.guarded": False}, {"opening:door", "room:hall"}),
    ],
)
def test_what_need_not_be_covered(put: Any, edits: dict[str, Any], gone: set[str]) -> None:
    """Each fact takes away just what it speaks of."""
    assert choose(home()).wanted - choose(put(home(), edits)).wanted == gone


def test_the_fewest_counted_by_hand() -> None:
    """Three contacts, a motion detector in each room: five cover all seven targets, 110 in money, and no four do."""
    found = choose(home())
    assert kinds(found, found.fewest.chosen) == ["contact"] * 3 + ["motion"] * 2
    assert (found.fewest.cost, found.fewest.bound, found.fewest.proven, found.fewest.left) == (5, 5, True, frozenset())
    assert found.cheapest is not None
    assert (found.cheapest.cost, found.cheapest.bound, found.cheapest.proven) == (11000, 11000, True)
    assert found.most_by_count == ((1, 3), (2, 4), (3, 5), (4, 6), (5, 7))


def test_the_fewest_and_the_cheapest_may_differ(put: Any) -> None:
    """Where a climbing pet shuts motion out, one glass-break detector hears both panes at 44, two shocks cost less."""
    cat = {"id": "cat", "kind": "cat", "reaches_m": 1.5, "free_when_empty": ["living"]}
    dear = put(home(), {"household.pets.+": cat})
    found = choose(dear)
    assert kinds(found, found.fewest.chosen) == ["contact"] * 3 + ["glass_break", "motion"]
    assert found.fewest.left == {"room:living"}
    cheap = choose(put(dear, {"prices.shock.price": 20}))
    assert cheap.cheapest is not None
    assert kinds(cheap, cheap.cheapest.chosen) == ["contact"] * 3 + ["motion", "shock", "shock"]
    assert cheap.cheapest.cost == 3 * 1000 + 4000 + 2 * 2000
    assert cheap.fewest.cost == 5


def test_without_a_price_the_kind_is_named_and_left_out() -> None:
    """A kind without a price is in no cheapest set; where it is needed there is none."""
    no_shock = choose(home(prices=[each for each in PRICES if each["id"] != "shock"]))
    assert no_shock.unpriced == (DeviceKind.SHOCK,)
    assert no_shock.cheapest is not None
    assert no_shock.cheapest.cost == 11000
    no_contact = choose(home(prices=[each for each in PRICES if each["id"] != "contact"]))
    assert no_contact.cheapest is None
    assert no_contact.fewest.cost == 5
    assert kinds(no_contact, no_contact.missing.chosen) == ["contact"] * 3 + ["motion"] * 2


def test_what_is_there_is_kept_and_only_the_rest_is_missing() -> None:
    """A contact on both windows and a motion detector: the door's contact and the hall's detector are missing."""
    devices = [there("both", "contact", "living", "left", "right"), there("eye", "motion", "living")]
    found = choose(home(devices=devices))
    assert found.uncovered_now == {"opening:door", "room:hall"}
    assert kinds(found, found.missing.chosen) == ["contact", "motion"]
    assert found.missing.cost == 5000
    assert {"there_both", "there_eye"} <= set(found.fewest.chosen)
    assert found.fewest.cost == 4
    assert found.alone == {
        "there_both": {"opening:left", "opening:right"},
        "there_eye": {"room:living", "glass:left", "glass:right"},
    }


def test_shock_and_sound_do_not_tell_that_something_is_opened() -> None:
    """UL 1641 15.4.1 (excerpt, seen): a contact is still missing where a shock detector is mounted."""
    found = choose(home(devices=[there("shock", "shock", "living", "left"), there("ear", "glass_break", "living")]))
    assert {"opening:left", "opening:right"} <= found.uncovered_now
    assert not {"glass:left", "glass:right"} & found.uncovered_now
    assert found.alone == {"there_shock": frozenset(), "there_ear": {"glass:right"}}


@pytest.mark.parametrize(("x_m", "heard"), [(6.0, True), (6.1, False)])
def test_a_glass_break_detector_hears_as_far_as_stated(put: Any, x_m: float, heard: bool) -> None:
    """A pane 6 m away counts as heard, one farther does not; one that it guards by the owner's word always does."""
    ear = there("ear", "glass_break", "living", at=[0, 0])
    it = put(home(devices=[ear]), {"site.openings.left.at": [x_m, 0.0]})
    assert ("glass:left" not in choose(it).uncovered_now) is heard
    assert "glass:left" not in choose(put(it, {"devices.ear.openings": ["left"]})).uncovered_now


@pytest.mark.parametrize("state", ["out_of_use", "removed"])
def test_what_is_not_at_work_covers_nothing(state: str) -> None:
    """A device out of use or taken out is as if it were not there."""
    idle = home(devices=[there("c", "contact", "hall", "door", state=state)])
    assert choose(idle).uncovered_now == choose(home()).wanted


def drawn(*eyes: dict[str, Any], **room: Any) -> Home:
    """The hall alone, drawn 5 m by 5 m, without ways in."""
    hall = {"id": "hall", "name": "Hall", "storey": "g", "outline": SQUARE} | room
    return home(site={"rooms": [hall], "openings": []}, devices=list(eyes))


def test_a_drawn_room_is_watched_from_half_of_its_floor() -> None:
    """What coverage says is surely seen decides, at the stated share and at any other."""
    it = drawn(eye("one", [0, 0], 45, range_m=8))
    (seen,) = rooms_seen(it)
    assert 0 < seen.share < 1
    assert LEAST_SHARE == 0.5
    for share, covered in ((seen.share - 1e-3, True), (seen.share + 1e-3, False)):
        assert ("room:hall" not in choose(it, share).uncovered_now) is covered


def test_two_detectors_watch_a_room_together() -> None:
    """Two in opposite corners, each short of half: together they reach it, and neither can be done without."""
    pair = drawn(eye("one", [0, 0], 45, range_m=8), eye("two", [5, 5], 225, range_m=8))
    single = drawn(eye("one", [0, 0], 45, range_m=8))
    assert rooms_seen(single)[0].share < LEAST_SHARE <= rooms_seen(pair)[0].share
    assert choose(single).uncovered_now == {"room:hall"}
    found = choose(pair)
    assert found.uncovered_now == frozenset()
    assert found.alone == {"there_one": {"room:hall"}, "there_two": {"room:hall"}}
    assert not found.candidate("there_one").covers
    assert found.added("there_one", ("there_one", "there_two")) == {"room:hall"}
    assert found.takes_part("there_one") == {"room:hall"}


def test_parts_of_the_floor_add_up_to_what_coverage_sees(put: Any) -> None:
    """The parts seen by anybody there weigh what the coverage of all together is, furniture left out in both."""
    table = {"id": "t", "name": "t", "room": "hall", "height_m": 0.7, "outline": [[1, 2], [3, 2], [3, 3], [1, 3]]}
    it = drawn(eye("one", [0, 0], 45), eye("two", [5, 0], 120, range_m=6))
    it = put(it, {"site.furniture.+": table})
    (need,) = needs(it, candidates(it))
    (seen,) = rooms_seen(it)
    assert need.weight(("there_one", "there_two")) == pytest.approx(seen.straight_m2, abs=0.02)
    assert need.least == pytest.approx(LEAST_SHARE * seen.area_m2)


def test_a_detector_whose_area_cannot_be_computed_covers_nothing_of_a_drawn_room() -> None:
    """Without its direction it is no candidate there; in an undrawn room it covers its room, as assumed."""
    lost = eye("one", [0, 0], None)
    assert choose(drawn(lost)).uncovered_now == {"room:hall"}
    assert choose(drawn(lost, outline=[])).uncovered_now == frozenset()


def corners(it: Home) -> list[Candidate]:
    """The motion detectors that could be."""
    return [each for each in candidates(it) if each.kind is DeviceKind.MOTION and not each.device]


def test_a_motion_detector_could_be_mounted_in_each_corner() -> None:
    """Four corners of a square, each sees as much as the others by symmetry, and what coverage says of it."""
    found = corners(drawn())
    assert [list(each.at or ()) for each in found] == SQUARE
    areas = {round(needs(drawn(), (each,))[0].weight((each.id,)), 2) for each in found}
    assert len(areas) == 1
    same = drawn(eye("one", [0, 0], 45))
    seen = coverage_of(same, same.whole_devices[0])
    assert seen is not None
    assert needs(same, tuple(candidates(same)))[0].weight(("there_one",)) == pytest.approx(areas.pop(), abs=0.02)


def test_no_motion_detector_where_it_does_not_fit() -> None:
    """A climbing pet that is free there while nobody is in leaves the room without candidates."""
    cat = {"id": "cat", "kind": "cat", "reaches_m": 1.5, "free_when_empty": ["hall"]}
    it = Home.model_validate(drawn().model_dump(mode="json") | {"household": {"pets": [cat]}})
    assert corners(it) == []
    assert choose(it).fewest.left == {"room:hall"}


def test_the_usual_detector_is_as_most_of_the_owners_own() -> None:
    """Two of 9 m against one of 15 m; with none, 12 m and 90° as stated."""
    own = [eye(n, [0, 0], 45, range_m=r) for n, r in (("a", 15), ("b", 9), ("c", 9))]
    assert usual_motion(drawn(*own)).range_m == 9
    plain = usual_motion(drawn())
    assert (plain.range_m, plain.angle_deg, plain.height_m) == (12, 90, 2.2)


def test_nothing_entered_needs_nothing() -> None:
    """A blank home: nothing to cover, an empty set, proven."""
    found = choose(Home())
    assert (found.wanted, found.fewest.chosen, found.fewest.proven) == (frozenset(), (), True)


def test_parts_and_what_they_cost() -> None:
    """Two contacts at 10 and a keypad without a price: the price that is missing is not taken as nought."""
    listed = parts_list(home(), [_bought("keypad"), _bought("contact"), _bought("contact")])
    assert listed == ((DeviceKind.CONTACT, 2, 20.0), (DeviceKind.KEYPAD, 1, None))


def test_what_a_device_itself_cost_comes_before_the_price_of_its_kind() -> None:
    """One contact that cost 13.5 beside one at the kind's 10; a keypad whose own price alone is known."""
    listed = parts_list(home(), [_bought("contact", 13.5), _bought("contact"), _bought("keypad", 80.0)])
    assert listed == ((DeviceKind.CONTACT, 2, 23.5), (DeviceKind.KEYPAD, 1, 80.0))


def _bought(kind: str, price: float | None = None) -> Device:
    return Device.model_validate({"id": kind, "name": kind, "kind": kind, "price": price})


def test_the_demo_home_is_covered_by_a_proven_set() -> None:
    """Each set covers what it says, at a bound that has met it; taking any one out of the fewest leaves something."""
    found = choose(demo_home())
    for cover in (found.fewest, found.cheapest):
        assert cover is not None
        assert (cover.proven, cover.gap, cover.left) == (True, 0, frozenset())
        assert met_needs(found.needs, cover.chosen) == found.wanted
    assert all(found.wanted - met_needs(found.needs, set(found.fewest.chosen) - {one}) for one in found.fewest.chosen)
    there_now = [each.id for each in found.candidates if each.device]
    assert met_needs(found.needs, (*there_now, *found.missing.chosen)) == found.wanted
    assert [count for count, _ in found.most_by_count] == list(range(1, found.fewest.cost + 1))
    assert found.most_by_count[-1][1] == len(found.wanted)
