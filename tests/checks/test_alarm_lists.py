# ruff: noqa: E501 - one case a line reads best
"""Who is covered by which list, in homes that are not drawn, and rules that hold in one country alone."""

from typing import Any

import pytest

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.hazards import alarm_places, alarm_walks, british_alarms, carbon_monoxide, household_alarms
from alarmlib.model import Home

ROOMS = {
    "hall": "hall",
    "bed": "bedroom",
    "living": "living",
    "kitchen": "kitchen",
    "ensuite": "bath",
    "closet": "store",
}
WAYS = (("hall", "bed"), ("bed", "ensuite"), ("bed", "closet"), ("hall", "living"), ("hall", "kitchen"))


def home(
    devices: Any = (), rules: str = "us", ways: Any = WAYS, rooms: Any = None, hazards: Any = None, **site: Any
) -> Home:
    """A flat of rooms and doors alone: a bedroom with its own bath and closet; no room has an alarm by the survey."""
    answers = {"storey": "g", "smoke_alarm": "no", "carbon_monoxide_alarm": "no"}
    listed = [
        answers | {"id": r, "name": r, "use": use, "sleeps_here": r == "bed"} | (rooms or {}).get(r, {})
        for r, use in ROOMS.items()
    ]
    passages = [
        {"id": f"w{n}", "first": way[0], "second": way[1], "kind": [*way, "door"][2]} for n, way in enumerate(ways)
    ]
    whole = {"storeys": [{"id": "g", "name": "Ground"}], "rooms": listed, "passages": passages} | site
    return Home.model_validate(
        {"rules": {"rule_set": rules}, "hazards": hazards or {}, "site": whole, "devices": list(devices)}
    )


def alarm(name: str, room: str, kind: str = "smoke", link: str = "own", **facts: Any) -> dict[str, Any]:
    outer = {key: facts.pop(key) for key in ("mount", "height_m", "at") if key in facts}
    hazard = {"sounds_with_others": "yes"} | facts
    return {"id": name, "name": name, "kind": kind, "room": room, "link": link, "hazard": hazard} | outer


def said(check: Any, of: Home) -> list[Finding]:
    return [each for each in check.result(of) if isinstance(each, Finding)]


OUTSIDE = (household_alarms.outside_sleeping_areas, carbon_monoxide.outside_sleeping_areas)


@pytest.mark.parametrize(("check", "kind"), list(zip(OUTSIDE, ("smoke", "carbon_monoxide"), strict=True)))
def test_no_alarm_is_asked_for_in_the_bedrooms_own_bath_or_closet(check: Any, kind: str) -> None:
    fire = {"fuel_appliances": "yes"}
    assert said(check, home([alarm("a", "hall", kind)], **fire)) == []
    assert [found.subject for found in said(check, home([alarm("a", "living", kind)], **fire))] == ["hall"]


def test_an_alarm_in_an_open_bedroom_is_not_outside_it() -> None:
    """The bedroom has a curtain for a door: its own alarm is not mounted outside it, the hall's is."""
    open_bed = (("hall", "bed", "doorway"), ("hall", "living"))
    assert said(household_alarms.outside_sleeping_areas, home([alarm("a", "bed")], ways=open_bed))
    assert not said(household_alarms.outside_sleeping_areas, home([alarm("a", "hall")], ways=open_bed))


def test_in_new_work_an_alarm_that_sounds_alone_does_not_count() -> None:
    """In an old home it counts, with advice to link it; source: S21 of the reference, from memory for new work."""
    devices = [alarm("a", "hall"), alarm("b", "bed", sounds_with_others="no"), alarm("u", "bed", link="wired")]
    new = {"permit_work": True}
    assert said(household_alarms.in_every_bedroom, home(devices)) == []
    (found,) = said(household_alarms.in_every_bedroom, home(devices, hazards=new))
    assert found.verdict is Verdict.SHOULD
    assert "does not sound with the others" in found.message
    assert "check with" in found.remedy.casefold()


def test_in_new_work_alarms_that_all_sound_alone_do_not_hand_over_to_the_unit() -> None:
    alone = [alarm("a", "hall", sounds_with_others="no"), alarm("b", "bed", sounds_with_others="no")]
    unit = [alarm("u", "hall", link="wired"), alarm("v", "bed", link="wired")]
    assert said(household_alarms.in_every_bedroom, home([*alone, *unit], hazards={"permit_work": True}))
    assert not said(household_alarms.unit_alone, home([*alone, *unit], hazards={"permit_work": True}))


def test_a_single_alarm_has_no_other_to_sound_with() -> None:
    only = home([alarm("a", "bed", sounds_with_others="no")], hazards={"permit_work": True})
    assert not said(household_alarms.in_every_bedroom, only)


@pytest.mark.parametrize(("kind", "answer"), [("smoke_alarm", "should"), ("carbon_monoxide_alarm", "must")])
def test_a_must_on_co_rests_on_the_answers_on_co(kind: str, answer: str) -> None:
    """One room's answer is open: on smoke alarms it says nothing of CO, on CO alarms it leaves no more than advice."""
    rooms = {"kitchen": {kind: "unknown"}}
    (smoke,) = said(household_alarms.in_every_bedroom, home([alarm("a", "hall")], rooms=rooms))
    assert smoke.verdict.value == answer
    new_work = {"permit_work": True}  # the model code on CO alarms is about new homes and permit work
    co = home([alarm("c", "living", "carbon_monoxide")], rooms=rooms, fuel_appliances="yes", hazards=new_work)
    (found,) = said(carbon_monoxide.outside_sleeping_areas, co)
    assert found.verdict.value == {"should": "must", "must": "should"}[answer]


def test_co_on_the_unit_alone_is_to_be_confirmed() -> None:
    unit = alarm("u", "hall", "carbon_monoxide", "wireless")
    (found,) = said(carbon_monoxide.unit_alone, home([unit], fuel_appliances="yes"))
    assert found.verdict is Verdict.SHOULD
    assert not said(carbon_monoxide.outside_sleeping_areas, home([unit], fuel_appliances="yes"))
    assert not said(carbon_monoxide.unit_alone, home([unit, alarm("c", "hall", "carbon_monoxide")]))


def test_co_on_every_level_says_when_the_unit_would_fill_the_gap() -> None:
    rooms = {"living": {"storey": "u"}}
    storeys = [{"id": "g", "name": "Ground"}, {"id": "u", "name": "Upstairs", "level": 1}]
    devices = [alarm("c", "hall", "carbon_monoxide"), alarm("u", "living", "carbon_monoxide", "wired")]
    (found,) = said(carbon_monoxide.on_every_level, home(devices, rooms=rooms, storeys=storeys, fuel_appliances="yes"))
    assert found.subject == "u"
    assert "does not count in place" in found.message
    shed = {"living": {"storey": "u", "use": "workshop"}}  # a workshop alone is no level
    assert not said(carbon_monoxide.on_every_level, home(devices, rooms=shed, storeys=storeys, fuel_appliances="yes"))


@pytest.mark.parametrize(
    ("ways", "rules", "found"),
    [
        ((("hall", "bed"), ("hall", "living")), "us", 1),
        ((("hall", "bed"), ("hall", "living", "doorway")), "us", 0),
        ((("hall", "bed"), ("hall", "kitchen"), ("kitchen", "living", "doorway")), "us", 1),
        ((("hall", "bed"), ("hall", "kitchen"), ("kitchen", "living")), "us", 0),
        ((("hall", "bed"), ("hall", "living", "outside")), "us", 0),
        ((("hall", "bed"), ("hall", "living")), "europe", 0),
    ],
)
def test_a_door_between_hall_and_living_area(ways: Any, rules: str, found: int) -> None:
    """Source: S4 of the reference: a door that parts the two, one alarm on each side; a yard is no door."""
    of = home([alarm("a", "hall"), alarm("b", "bed")], rules, ways)
    assert len(said(household_alarms.on_both_sides_of_a_door, of)) == found


def test_stairs_are_judged_by_the_required_list_alone() -> None:
    storeys = [{"id": "g", "name": "Ground"}, {"id": "c", "name": "Cellar", "level": -1}]
    site: dict[str, Any] = {"storeys": storeys, "ways": (("hall", "closet", "stairs"), ("hall", "bed"))}
    rooms = {"closet": {"storey": "c", "use": "cellar"}}
    own, unit = alarm("a", "hall"), alarm("u", "closet", link="wired")
    (found,) = said(alarm_places.at_the_stairs, home([own, unit], rooms=rooms, **site))
    assert (found.subject, found.verdict) == ("closet", Verdict.SHOULD)
    assert "does not count in place" in found.message
    assert not said(alarm_places.at_the_stairs, home([own, alarm("b", "closet")], rooms=rooms, **site))
    loft = [{"id": "g", "name": "Ground"}, {"id": "c", "name": "Loft", "level": 1}]
    attic = home([own], rooms={"closet": {"storey": "c", "use": "attic"}}, **(site | {"storeys": loft}))
    assert not said(alarm_places.at_the_stairs, attic)  # an attic may get too hot and cold for a smoke device


def test_heat_where_somebody_sleeps_counts_people_too() -> None:
    of = home([alarm("h", "living", "heat")]).model_dump()
    of["household"]["people"] = [{"id": "p", "role": "adult", "sleeps_in": "living"}]
    assert said(alarm_places.heat_in_place_of_smoke, Home.model_validate(of))
    assert not said(alarm_places.heat_in_place_of_smoke, home([alarm("h", "living", "heat")]))


SQUARE = {"living": {"outline": [(0, 0), (20, 0), (20, 4), (0, 4)]}}


@pytest.mark.outside
@pytest.mark.parametrize(("spacing_m", "found"), [(11.5, False), (11.4, True)])
def test_heat_spacing_midway_between_two(spacing_m: float, found: bool) -> None:
    """Source: NFPA 72 ch. 17, from memory, 0.7 of the listed spacing. Midway on the wall lies √(7.75² + 2²) = 8.004 m off, the
    corners √(2.25² + 2²) = 3.010 m; so 11.434 m of spacing is the least."""
    two = [alarm(n, "living", "heat", listed_spacing_m=spacing_m, at=(x, 2)) for n, x in (("h", 2.25), ("i", 17.75))]
    assert bool(said(alarm_places.heat_detector_spacing, home(two, rooms=SQUARE))) is found


def test_one_heat_detector_that_reaches_all_is_enough() -> None:
    far = alarm("h", "living", "heat", listed_spacing_m=15, at=(10, 2))  # 10.5 m; the corner lies 10.2 m off
    near = alarm("i", "living", "heat", listed_spacing_m=5, at=(1, 1))
    assert not said(alarm_places.heat_detector_spacing, home([far, near], rooms=SQUARE))


@pytest.mark.parametrize(
    ("facts", "edition", "verdict"),
    [
        ({}, "from_2010", "note"), ({"sense": "both"}, "from_2010", "should"), ({"sense": "ionisation", "hush": "yes"}, "from_2010", None),
        ({"sense": "photoelectric"}, "from_2016", "note"), ({"sense": "ionisation"}, "from_2016", "should"), ({}, "from_2016", "note"),
        ({"sense": "ionisation", "resists_cooking": "yes"}, "from_2016", None), ({"resists_cooking": "no"}, "from_2016", "should"),
    ],
)  # fmt: skip
def test_what_is_not_known_of_a_device_by_the_cooker_is_a_note(facts: Any, edition: str, verdict: str | None) -> None:
    cooker = {"id": "c", "name": "Cooker", "room": "living", "kind": "cooker", "at": (1, 2)}
    device = alarm("s", "living", at=(6, 2), **facts)
    of = home([device], rooms=SQUARE, fixtures=[cooker], hazards={"edition": edition})
    assert [found.verdict.value for found in said(alarm_walks.near_a_cooker, of)] == ([verdict] if verdict else [])


def test_alarms_without_a_place_are_said_once() -> None:
    placed, bare = alarm("s", "living", at=(6, 2)), alarm("t", "living")
    (found,) = said(household_alarms.places_unknown, home([placed, bare], rooms=SQUARE))
    assert "“t”" in found.message
    assert "“s”" not in found.message
    assert not said(household_alarms.places_unknown, home([placed, alarm("t", "hall")], rooms=SQUARE))
    surveyed = {"living": SQUARE["living"], "kitchen": {"carbon_monoxide_alarm": "yes"}}
    on_unit = alarm("u", "kitchen", "carbon_monoxide", "wired")
    assert len(said(household_alarms.places_unknown, home([placed, on_unit], rooms=surveyed))) == 1


# One country's rules are not another's.


def test_britain_has_its_own_measures_of_walls_and_slopes() -> None:
    low = alarm("s", "living", mount="inside_wall", below_ceiling_m=0.5)
    far = alarm("s", "living", mount="ceiling", from_peak_m=0.95)
    peaked = {"living": {"ceiling": "peaked"}}
    assert said(alarm_places.too_low_on_a_wall, home([low]))
    assert not said(alarm_places.too_low_on_a_wall, home([low], "britain"))
    assert said(alarm_places.under_a_shaped_ceiling, home([far], rooms=peaked))
    assert not said(alarm_places.under_a_shaped_ceiling, home([far], "britain", rooms=peaked))
    assert said(british_alarms.under_a_slope, home([far], "britain", rooms=peaked))
    assert not said(british_alarms.under_a_slope, home([far], rooms=peaked))


@pytest.mark.outside
@pytest.mark.parametrize(("height_m", "found"), [(1.91, False), (1.89, True)])
def test_british_height_from_both_heights(height_m: float, found: bool) -> None:
    """Source: Approved Document B: 600 mm below the ceiling at most, here of 2.5 m."""
    device = alarm("s", "living", mount="inside_wall", height_m=height_m)
    of = home([device], "britain", rooms={"living": {"ceiling_m": 2.5}})
    assert bool(said(british_alarms.place_on_ceiling_or_wall, of)) is found


def test_a_heat_alarm_covers_no_escape_route_and_the_unit_no_gap() -> None:
    check, ld2 = british_alarms.rooms_of_the_category, {"category": "ld2"}
    kitchen = [alarm("s", "hall"), alarm("t", "living"), alarm("h", "kitchen", "heat")]
    assert said(check, home(kitchen, "britain", hazards=ld2)) == []
    hall = [alarm("h", "hall", "heat"), alarm("t", "living"), alarm("k", "kitchen", "heat")]
    assert [found.subject for found in said(check, home(hall, "britain", hazards=ld2))] == ["hall"]
    unit = [*kitchen[:2], alarm("u", "kitchen", "heat", "wired")]
    (found,) = said(check, home(unit, "britain", hazards=ld2))
    assert "does not count in place" in found.message


def test_british_bedrooms_are_advice_of_the_common_core() -> None:
    (found,) = said(household_alarms.in_every_bedroom, home([alarm("a", "hall")], "britain"))
    assert (found.verdict, found.source) == (Verdict.SHOULD, "smoke_core")


@pytest.mark.parametrize(("rules", "found"), [("us", 1), ("britain", 0), ("europe", 0), ("australasia", 0)])
def test_a_co_alarm_in_a_kitchen_with_a_boiler(rules: str, found: int) -> None:
    """European practice wants it in the appliance's room (EN 50292, from memory); elsewhere a kitchen is no place."""
    device = alarm("c", "kitchen", "carbon_monoxide")
    of = home([device], rules, rooms={"kitchen": {"fuel_appliance": True}})
    assert len(said(carbon_monoxide.where_it_should_not_be, of)) == found
    assert len(said(carbon_monoxide.where_it_should_not_be, home([device], rules))) == 1


def test_australasia_follows_en_50292_for_co() -> None:
    thing = {"id": "f", "name": "Fire", "room": "living", "kind": "fuel_appliance", "at": (1, 2)}
    for x, found in ((3.9, 0), (4.1, 1)):
        of = home([alarm("c", "living", "carbon_monoxide", at=(x, 2))], "australasia", rooms=SQUARE, fixtures=[thing])
        assert len(said(carbon_monoxide.distance_to_appliances, of)) == found


def test_the_source_of_a_co_gap_is_that_of_the_country() -> None:
    for rules, source in (("us", "irc_r315"), ("europe", "co_core")):
        (found,) = said(carbon_monoxide.alarm_at_all, home([], rules, fuel_appliances="yes"))
        assert found.source == source
