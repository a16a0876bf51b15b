# ruff: noqa: E501 - one case a line reads best
"""Every rule on smoke, heat and CO alarms just inside, at and just outside its edge."""

from typing import Any

import pytest

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.hazards import alarm_places, alarm_walks, british_alarms, carbon_monoxide, household_alarms
from alarmlib.model import Home

FT, INCH = 0.3048, 0.0254


def rect(left: float, low: float, right: float, high: float) -> list[tuple[float, float]]:
    return [(left, low), (right, low), (right, high), (left, high)]


def alarm(name: str, room: str, at: Any = None, kind: str = "smoke", link: str = "own", **facts: Any) -> dict[str, Any]:
    own = {"id": name, "name": name, "kind": kind, "room": room, "link": link, "at": at}
    outer = {key: facts.pop(key) for key in ("mount", "height_m") if key in facts}
    return own | outer | {"hazard": {"sounds_with_others": "yes"} | facts}


def home(devices: Any = (), rules: str = "us", rooms: Any = None, **site: Any) -> Home:
    """A bungalow: hall, bedroom, living room with kitchen open to it, bathroom, garage; all drawn."""
    facts = {"ceiling_m": 2.5, "smoke_alarm": "no", "carbon_monoxide_alarm": "no"}
    drawn = [
        {"id": "hall", "use": "hall", "outline": rect(0, 0, 12, 2)},
        {"id": "bed", "use": "bedroom", "sleeps_here": True, "outline": rect(0, 2, 4, 6)},
        {"id": "living", "use": "living", "outline": rect(12, 0, 22, 6)},
        {"id": "kitchen", "use": "kitchen", "outline": rect(22, 0, 32, 6)},
        {"id": "bath", "use": "bath", "tub_or_shower": "yes", "outline": rect(4, 2, 7, 6)},
    ]
    listed = [facts | {"name": room["id"], "storey": "g"} | room | (rooms or {}).get(room["id"], {}) for room in drawn]
    passages = [
        {"id": "d1", "first": "hall", "second": "bed", "at": (2, 2)}, {"id": "d2", "first": "hall", "second": "bath", "at": (5.5, 2)},
        {"id": "d3", "first": "hall", "second": "living", "kind": "door", "at": (12, 1)},
        {"id": "d4", "first": "living", "second": "kitchen", "kind": "doorway", "at": (22, 3), "width_m": 2},
    ]  # fmt: skip
    hazards = site.pop("hazards", {})
    whole = {"storeys": [{"id": "g", "name": "Ground"}], "rooms": listed, "passages": passages} | site
    return Home.model_validate(
        {"rules": {"rule_set": rules}, "hazards": hazards, "site": whole, "devices": list(devices)}
    )


def said(check: Any, of: Home) -> list[Finding]:
    return [each for each in check.result(of) if isinstance(each, Finding)]


def speaks(check: Any, of: Home) -> bool:
    return bool(said(check, of))


DEEP = {"hall": {"outline": rect(0, -10, 12, 2)}}  # straight down from the bedroom's door there is room to walk
FULL = [alarm("a_hall", "hall", (2, 1)), alarm("a_bed", "bed", (2, 4)), alarm("a_living", "living", (13, 1))]


@pytest.mark.outside
@pytest.mark.parametrize(("feet", "found"), [(20.9, False), (21.0, False), (21.1, True)])
def test_bedroom_door_to_hall_alarm(feet: float, found: bool) -> None:
    """Source: the reference's row 1, NFPA 72 household chapter 2010/2013: 21 ft (6.4 m) walked."""
    metres = feet * FT if feet != 21.0 else 6.4
    far = [alarm("a_bed", "bed", (2, 4)), alarm("a_hall", "hall", (2, 2 - metres))]
    assert speaks(alarm_walks.smoke_alarm_near_bedrooms, home(far, rooms=DEEP)) is found


@pytest.mark.outside
@pytest.mark.parametrize(
    ("feet", "facts", "edition", "found"),
    [
        (9.9, {"sense": "ionisation"}, "from_2010", True),
        (15, {"sense": "ionisation"}, "from_2010", True),
        (20.1, {"sense": "ionisation"}, "from_2010", False),
        (15, {"sense": "photoelectric"}, "from_2010", False),
        (15, {"hush": "yes"}, "from_2010", False),
        (15, {"sense": "photoelectric", "resists_cooking": "no"}, "from_2016", True),
        (15, {"resists_cooking": "yes"}, "from_2016", False),
    ],
)
def test_cooker(feet: float, facts: Any, edition: str, found: bool) -> None:
    """Source: the reference's rows 3 and 4; NFPA 72 2013 by a trade journal, the amendment of 2022."""
    cooker = {"id": "c", "name": "Cooker", "room": "kitchen", "kind": "cooker", "at": (23, 3)}
    place = (23 + feet * FT, 3) if feet < 28 else None
    of = home([alarm("s", "kitchen", place, **facts)], fixtures=[cooker], hazards={"edition": edition})
    assert any(f.verdict is Verdict.SHOULD for f in said(alarm_walks.near_a_cooker, of)) is found


@pytest.mark.outside
@pytest.mark.parametrize(("feet", "verdict"), [(5.9, Verdict.SHOULD), (7, Verdict.NOTE), (9.9, Verdict.NOTE)])
def test_cooker_in_an_open_plan(feet: float, verdict: Verdict) -> None:
    """Source: the reference's row 4: 6 to 10 ft for a suitable kind where no door parts the rooms."""
    cooker = {"id": "c", "name": "Cooker", "room": "kitchen", "kind": "cooker", "at": (22.5, 3)}
    of = home(
        [alarm("s", "living", (22.5 - feet * FT, 3), sense="photoelectric")],
        fixtures=[cooker],
        hazards={"edition": "from_2010"},
    )
    assert [f.verdict for f in said(alarm_walks.near_a_cooker, of)] == [verdict]


@pytest.mark.outside
@pytest.mark.parametrize(("inches", "found"), [(35, True), (36, False), (37, False)])
def test_clearances_of_36_inches(inches: float, found: bool) -> None:
    """Source: the reference's row 5: fan tip, supply register, bathroom door, each 36 in."""
    far = inches * INCH
    fan = {"id": "f", "name": "Fan", "room": "living", "kind": "ceiling_fan", "at": (15, 3), "radius_m": 0.6}
    outlet = {"id": "o", "name": "Outlet", "room": "living", "kind": "air_outlet", "at": (15, 3)}
    assert speaks(alarm_places.in_moving_air, home([alarm("s", "living", (15.6 + far, 3))], fixtures=[fan])) is found
    assert speaks(alarm_places.in_moving_air, home([alarm("s", "living", (15 + far, 3))], fixtures=[outlet])) is found
    assert speaks(alarm_places.near_a_bathroom_door, home([alarm("s", "hall", (5.5 + far, 2))])) is found


@pytest.mark.outside
@pytest.mark.parametrize(
    ("down_in", "across_in", "found"), [(3, 20, True), (6, 30, False), (6, 36, False), (6, 40, True), (4, 30, False)]
)
def test_peak(down_in: float, across_in: float, found: bool) -> None:
    """Source: the reference's row 6, NFPA tips and Fig. A.29.8.3.1 of 2013: 4 in down, 36 in across."""
    device = alarm("s", "living", (15, 3), mount="ceiling", below_peak_m=down_in * INCH, from_peak_m=across_in * INCH)
    assert speaks(alarm_places.under_a_shaped_ceiling, home([device], rooms={"living": {"ceiling": "peaked"}})) is found


@pytest.mark.outside
@pytest.mark.parametrize(
    ("ceiling", "facts", "found"),
    [
        (
            "sloping",
            {"from_peak_m": 36 * INCH, "from_wall_m": 4 * INCH},
            False,
        ),  # from memory, check with the authority
        ("sloping", {"from_peak_m": 37 * INCH}, True),
        ("sloping", {"from_wall_m": 3 * INCH}, True),
        ("tray", {"below_peak_m": 12 * INCH}, False),
        ("tray", {"below_peak_m": 13 * INCH}, True),
        ("flat", {"from_peak_m": 5.0}, False),
    ],
)
def test_slopes_and_trays(ceiling: str, facts: Any, found: bool) -> None:
    """Source: S18 and S19 of the reference, from memory."""
    of = home([alarm("s", "living", (15, 3), mount="ceiling", **facts)], rooms={"living": {"ceiling": ceiling}})
    findings = said(alarm_places.under_a_shaped_ceiling, of)
    assert bool(findings) is found
    assert all("check with" in finding.remedy.casefold() for finding in findings)


@pytest.mark.outside
@pytest.mark.parametrize(("inches", "found"), [(11, False), (12, False), (13, True)])
def test_wall_mount(inches: float, found: bool) -> None:
    """Source: NFPA tips: top within 12 in of the ceiling; entered, or from ceiling and height."""
    typed = alarm("s", "living", (15, 3), mount="inside_wall", below_ceiling_m=inches * INCH)
    summed = alarm("s", "living", (15, 3), mount="inside_wall", height_m=2.5 - inches * INCH)
    assert speaks(alarm_places.too_low_on_a_wall, home([typed])) is found
    assert speaks(alarm_places.too_low_on_a_wall, home([summed])) is found


@pytest.mark.outside
@pytest.mark.parametrize(
    ("facts", "found"),
    [({"coldest_c": 4.0, "hottest_c": 38.0}, False), ({"coldest_c": 3.9}, True), ({"hottest_c": 38.1}, True)],
)
def test_cold_and_hot(facts: Any, found: bool) -> None:
    """Source: Vermont's page after NFPA 72: 40 °F (4 °C) and 100 °F (38 °C)."""
    assert speaks(alarm_places.too_cold_or_hot, home([alarm("s", "living")], rooms={"living": facts})) is found


def test_a_garage_whose_temperatures_are_not_known_is_no_place() -> None:
    assert speaks(alarm_places.too_cold_or_hot, home([alarm("s", "living")], rooms={"living": {"use": "garage"}}))


def test_cold_wall_and_stream() -> None:
    cold = [alarm("s", "living", mount="outside_wall")]
    assert speaks(alarm_places.on_a_cold_wall, home(cold, outside_walls_insulated="no"))
    assert not speaks(alarm_places.on_a_cold_wall, home(cold, outside_walls_insulated="yes"))
    assert speaks(alarm_places.in_moving_air, home([alarm("s", "living", in_air_stream="yes")]))


@pytest.mark.outside
@pytest.mark.parametrize(
    ("edition", "kind", "inches", "verdict"),
    [
        ("before_2010", "smoke", 3.7, Verdict.SHOULD), ("before_2010", "smoke", 4.0, None), ("from_2010", "smoke", 3.7, Verdict.NOTE),
        ("from_2016", "heat", 3.7, Verdict.SHOULD), ("from_2016", "heat", 4.0, None),
    ],
)  # fmt: skip
def test_dead_corner(edition: str, kind: str, inches: float, verdict: Verdict | None) -> None:
    """Source: older NFPA advice; dropped for smoke devices from 2010, kept for heat (from memory)."""
    of = home(
        [alarm("s", "living", kind=kind, mount="ceiling", from_wall_m=inches * INCH)], hazards={"edition": edition}
    )
    assert [f.verdict for f in said(alarm_places.in_a_dead_corner, of)] == ([verdict] if verdict else [])


@pytest.mark.outside
@pytest.mark.parametrize(("rating_c", "found"), [(48.9, True), (49.0, False), (57.0, False)])
def test_heat_rating(rating_c: float, found: bool) -> None:
    """Source: a trade journal on spacing: 20 °F (11 °C) above the hottest expected, here 38 °C."""
    of = home([alarm("h", "kitchen", kind="heat", rating_c=rating_c)], rooms={"kitchen": {"hottest_c": 38.0}})
    assert speaks(alarm_places.heat_detector_rating, of) is found


@pytest.mark.outside
@pytest.mark.parametrize(("spacing_m", "found"), [(8.4, False), (8.25, True)])
def test_heat_spacing(spacing_m: float, found: bool) -> None:
    """Source: NFPA 72 ch. 17, from memory: 0.7 of the listed spacing; the corner lies 5.831 m (√34) off."""
    of = home([alarm("h", "kitchen", (27, 3), kind="heat", listed_spacing_m=spacing_m)])
    assert speaks(alarm_places.heat_detector_spacing, of) is found


def test_heat_never_counts_as_smoke() -> None:
    assert speaks(alarm_places.heat_in_place_of_smoke, home([alarm("h", "bed", kind="heat")]))
    assert not speaks(alarm_places.heat_in_place_of_smoke, home([alarm("h", "bed", kind="heat"), alarm("s", "bed")]))


def stairs(smoke: list[dict[str, Any]]) -> Home:
    of = home().model_dump()
    of["site"]["storeys"] = [*of["site"]["storeys"], {"id": "c", "name": "Cellar", "level": -1}]
    of["site"]["rooms"] = [*of["site"]["rooms"], {"id": "cellar", "name": "Cellar", "storey": "c", "use": "cellar"}]
    way = {"id": "st", "first": "hall", "second": "cellar", "kind": "stairs", "at": (9, 1)}
    of["site"]["passages"] = [*of["site"]["passages"], way]
    of["devices"] = smoke
    return Home.model_validate(of)


def test_stairs() -> None:
    assert len(said(alarm_places.at_the_stairs, stairs([]))) == 2
    assert len(said(alarm_places.at_the_stairs, stairs([alarm("s", "hall")]))) == 1
    assert not said(alarm_places.at_the_stairs, stairs([alarm("s", "hall"), alarm("t", "cellar")]))


# The two lists.


def test_a_full_household_list_has_no_gap() -> None:
    of = home(FULL)
    for check in (household_alarms.in_every_bedroom, household_alarms.outside_sleeping_areas, household_alarms.on_every_level,
                  household_alarms.on_both_sides_of_a_door):  # fmt: skip
        assert not speaks(check, of), check.id


@pytest.mark.parametrize(
    ("gone", "check"),
    [
        ("a_bed", household_alarms.in_every_bedroom),
        ("a_hall", household_alarms.outside_sleeping_areas),
        ("a_living", household_alarms.on_both_sides_of_a_door),
    ],
)
def test_the_units_detectors_never_fill_a_gap(gone: str, check: Any) -> None:
    left = [device for device in FULL if device["id"] != gone]
    on_unit = [{**device, "id": f"u_{device['id']}", "link": "wired"} for device in FULL]
    (bare,) = said(check, home(left))
    (filled,) = said(check, home([*left, *on_unit]))
    assert "does not count in place" not in bare.message
    assert "does not count in place" in filled.message
    assert bare.verdict is filled.verdict is Verdict.MUST  # United States, and every room's answer is known


def test_the_unit_alone_may_cover_and_is_to_be_confirmed() -> None:
    of = home([{**device, "link": "wired"} for device in FULL])
    assert not speaks(household_alarms.in_every_bedroom, of)
    assert not speaks(household_alarms.outside_sleeping_areas, of)
    assert [f.verdict for f in said(household_alarms.unit_alone, of)] == [Verdict.SHOULD]
    assert not speaks(household_alarms.unit_alone, home(FULL))


def test_a_surveyed_alarm_counts_for_its_room() -> None:
    of = home(
        [], rooms={"bed": {"smoke_alarm": "yes"}, "hall": {"smoke_alarm": "yes"}, "living": {"smoke_alarm": "yes"}}
    )
    assert not speaks(household_alarms.in_every_bedroom, of)
    assert speaks(household_alarms.places_unknown, of)


def test_elsewhere_it_is_advice() -> None:
    (found,) = said(household_alarms.in_every_bedroom, home([], rules="europe"))
    assert found.verdict is Verdict.SHOULD


@pytest.mark.parametrize(("linked", "found"), [("yes", 0), ("no", 1), ("unknown", 1)])
def test_all_sound_together(linked: str, found: int) -> None:
    of = home([alarm("a", "hall"), alarm("b", "bed", sounds_with_others=linked)])
    assert len(said(household_alarms.all_sound_together, of)) == found


def test_large_level_and_great_room_and_level_without_bedrooms() -> None:
    big = {"living": {"outline": rect(12, 0, 30, 6)}, "kitchen": {"outline": rect(30, 0, 40, 6)}}
    passages = [{"id": "w", "first": "living", "second": "kitchen", "kind": "doorway", "at": (30, 3)}]
    assert speaks(alarm_walks.enough_for_a_large_level, home(FULL, rooms=big, passages=passages))
    assert not speaks(alarm_walks.enough_for_a_large_level, home(FULL, "europe", rooms=big, passages=passages))
    assert speaks(household_alarms.open_to_above, home(rooms={"living": {"open_to_above": True}}))
    study = {"bed": {"sleeps_here": False, "use": "study"}}
    of = home([alarm("k", "kitchen")], rooms=study)
    assert speaks(household_alarms.level_without_bedrooms, of)
    assert not speaks(household_alarms.level_without_bedrooms, home([alarm("k", "living")], rooms=study))


@pytest.mark.outside
@pytest.mark.parametrize(("past_m", "found"), [(-0.01, False), (0.0, False), (0.02, True)])
def test_large_level_within_30_ft(past_m: float, found: bool) -> None:
    """Source: the reference's row S5 (from memory): every ceiling point within 30 ft of a device, or one each 500 ft²."""
    wide_m = ((30 * FT + past_m) ** 2 - 4**2) ** 0.5  # the corners away from the alarm's wall are this far from it
    plan = {"living": {"outline": rect(12, 0, 12 + wide_m, 8)}, "kitchen": {"use": "garage"}}
    alarms = [alarm("l", "living", (12, 4)), alarm("h", "hall", (6, 1))]
    assert speaks(alarm_walks.enough_for_a_large_level, home(alarms, rooms=plan)) is found


def test_detached_building_is_no_part_of_its_level() -> None:
    rooms = {"living": {"outline": rect(12, 0, 20, 6)}, "kitchen": {"outline": rect(40, 0, 60, 6), "use": "workshop"}}
    yard = [
        {"id": "y", "first": "living", "second": "kitchen", "kind": "outside"},
        {"id": "d", "first": "hall", "second": "bed"},
    ]
    joined = [{**yard[0], "kind": "door"}, yard[1]]
    assert not speaks(alarm_walks.enough_for_a_large_level, home(rooms=rooms, passages=yard))
    assert speaks(alarm_walks.enough_for_a_large_level, home(rooms=rooms, passages=joined))


def test_bedroom_kept_for_a_guest_is_asked_for_an_alarm() -> None:
    of = home([alarm("a_hall", "hall", (2, 1))], rooms={"bed": {"sleeps_here": False}})
    assert ["a bedroom" in each.message for each in said(household_alarms.in_every_bedroom, of)] == [True]


# Carbon monoxide.

FIRE = {"fuel_appliances": "yes"}


def co(name: str, room: str, at: Any = None, **facts: Any) -> dict[str, Any]:
    return alarm(name, room, at, kind="carbon_monoxide", **facts)


@pytest.mark.outside
def test_co_is_asked_for_where_something_burns_or_a_garage_is_joined() -> None:
    """Source: IRC R315.2: a fuel-fired appliance or an attached garage."""
    assert not speaks(carbon_monoxide.alarm_at_all, home())
    assert speaks(carbon_monoxide.alarm_at_all, home(**FIRE))
    assert speaks(carbon_monoxide.alarm_at_all, home(attached_garage="yes"))
    assert not speaks(carbon_monoxide.alarm_at_all, home([co("c", "hall")], **FIRE))
    (found,) = said(carbon_monoxide.alarm_at_all, home(**FIRE, hazards={"permit_work": True}))
    assert found.verdict is Verdict.MUST
    (found,) = said(carbon_monoxide.alarm_at_all, home(**FIRE))
    assert found.verdict is Verdict.SHOULD  # the model code is about new homes and work that needs a permit


@pytest.mark.outside
def test_co_outside_bedrooms_and_in_those_with_fire() -> None:
    """Source: IRC R315.3."""
    assert speaks(carbon_monoxide.outside_sleeping_areas, home([co("c", "kitchen")], **FIRE))
    assert not speaks(carbon_monoxide.outside_sleeping_areas, home([co("c", "hall")], **FIRE))
    burning = {"bed": {"fuel_appliance": True}}
    assert speaks(carbon_monoxide.in_bedrooms_with_fire, home([co("c", "hall")], rooms=burning))
    assert not speaks(carbon_monoxide.in_bedrooms_with_fire, home([co("c", "bed")], rooms=burning))
    both = home([co("c", "kitchen"), {**co("u", "hall"), "link": "wired"}], **FIRE)
    assert "does not count in place" in said(carbon_monoxide.outside_sleeping_areas, both)[0].message


@pytest.mark.outside
@pytest.mark.parametrize(("feet", "found"), [(14.9, False), (15.0, False), (15.1, True)])
def test_co_within_the_citys_distance(feet: float, found: bool) -> None:
    """Source: the Illinois act's 15 ft (4.57 m) of every bedroom."""
    place = (2, 2 - feet * FT)
    of = home([co("c", "hall", place)], rooms=DEEP, hazards={"carbon_monoxide_within_m": 15 * FT}, **FIRE)
    assert speaks(alarm_walks.carbon_monoxide_alarm_near_bedrooms, of) is found
    assert not speaks(
        alarm_walks.carbon_monoxide_alarm_near_bedrooms, home([co("c", "hall", place)], rooms=DEEP, **FIRE)
    )


@pytest.mark.outside
@pytest.mark.parametrize(
    ("rules", "kind", "metres", "found"),
    [
        ("us", "cooker", 5 * FT - 0.02, True), ("us", "cooker", 5 * FT, False), ("us", "fuel_appliance", 15 * FT - 0.02, True),
        ("us", "fuel_appliance", 15 * FT, False), ("britain", "fuel_appliance", 0.98, True), ("britain", "fuel_appliance", 1.0, False),
        ("britain", "fuel_appliance", 3.0, False), ("europe", "fuel_appliance", 3.02, True),
    ],
)  # fmt: skip
def test_co_distance_to_what_burns(rules: str, kind: str, metres: float, found: bool) -> None:
    """Source: the inspectors' guide (5 ft, 15 ft); EN 50292 from memory (1 to 3 m)."""
    thing = {"id": "f", "name": "Fire", "room": "kitchen", "kind": kind, "at": (23, 3)}
    of = home([co("c", "kitchen", (23 + metres, 3))], rules=rules, fixtures=[thing])
    assert speaks(carbon_monoxide.distance_to_appliances, of) is found


@pytest.mark.outside
@pytest.mark.parametrize(
    ("mount", "facts", "found"),
    [
        ("ceiling", {"from_wall_m": 0.29}, True), ("ceiling", {"from_wall_m": 0.30}, False),
        ("inside_wall", {"below_ceiling_m": 0.14}, True), ("inside_wall", {"below_ceiling_m": 0.15}, False),
        ("inside_wall", {"height_m": 2.4}, True), ("inside_wall", {"height_m": 2.35}, False),
    ],
)  # fmt: skip
def test_co_height_in_europe(mount: str, facts: Any, found: bool) -> None:
    """Source: EN 50292, from memory: 300 mm from walls on the ceiling, 150 mm below it on a wall."""
    of = home([co("c", "hall", mount=mount, **facts)], rules="europe")
    assert speaks(carbon_monoxide.height_by_en50292, of) is found
    assert not speaks(carbon_monoxide.height_by_en50292, home([co("c", "hall", mount=mount, **facts)], rules="us"))


def test_co_keeps_off() -> None:
    assert speaks(carbon_monoxide.where_it_should_not_be, home([co("c", "kitchen")]))
    assert speaks(carbon_monoxide.where_it_should_not_be, home([co("c", "hall", in_air_stream="yes")]))
    assert not speaks(carbon_monoxide.where_it_should_not_be, home([co("c", "hall")]))


def test_co_on_every_level() -> None:
    of = stairs([co("c", "hall")]).model_dump()
    of["site"]["fuel_appliances"] = "yes"
    assert len(said(carbon_monoxide.on_every_level, Home.model_validate(of))) == 1


# Britain.


@pytest.mark.outside
@pytest.mark.parametrize(
    ("room", "metres", "found"),
    [("living", 7.4, False), ("living", 7.6, True), ("bed", 2.9, False), ("bed", 3.1, True)],
)
def test_british_distances(room: str, metres: float, found: bool) -> None:
    """Source: Approved Document B 1.11 to 1.15, 7.5 m; a practice page of 2010, 3 m from bedroom doors."""
    door = {"living": (12, 1), "bed": (2, 2)}[room]
    place = (door[0] - metres, 1) if room == "living" else (2, 2 - metres)
    of = home([alarm("s", "hall", place)], rules="britain", rooms=DEEP)
    spoken = {f.subject for f in said(alarm_walks.within_reach_of_habitable_rooms, of)}
    assert (room in spoken) is found
    assert not said(alarm_walks.within_reach_of_habitable_rooms, home([alarm("s", "hall", place)]))


@pytest.mark.outside
@pytest.mark.parametrize(
    ("category", "wanted"),
    [("ld3", {"hall"}), ("ld2", {"hall", "living", "kitchen"}), ("ld1", {"hall", "living", "kitchen", "bed"})],
)
def test_british_categories(category: str, wanted: set[str]) -> None:
    """Source: a trade journal of 2019: LD3 escape routes, LD2 and rooms of high risk, LD1 all but bath and toilet."""
    of = home([], rules="britain", hazards={"category": category})
    assert {f.subject for f in said(british_alarms.rooms_of_the_category, of)} == wanted


@pytest.mark.outside
@pytest.mark.parametrize(
    ("kind", "facts", "found"),
    [
        ("smoke", {"mount": "ceiling", "from_wall_m": 0.29}, True), ("smoke", {"mount": "ceiling", "from_wall_m": 0.30}, False),
        ("smoke", {"below_ceiling_m": 0.60}, False), ("smoke", {"below_ceiling_m": 0.61}, True),
        ("heat", {"below_ceiling_m": 0.15}, False), ("heat", {"below_ceiling_m": 0.16}, True),
        ("smoke", {"mount": "inside_wall", "below_ceiling_m": 0.01}, True),
    ],
)  # fmt: skip
def test_british_places(kind: str, facts: Any, found: bool) -> None:
    """Source: Approved Document B: 300 mm from walls, sensor 25 to 600 mm below the ceiling, heat 25 to 150 mm."""
    assert (
        speaks(british_alarms.place_on_ceiling_or_wall, home([alarm("s", "hall", kind=kind, **facts)], rules="britain"))
        is found
    )


@pytest.mark.outside
def test_british_lights_heaters_kitchen_and_slope() -> None:
    """Source: Approved Document B: 300 mm from light fittings, off heaters; heat alarm where a kitchen is open to stairs;
    a practice page: 900 mm across and 600 mm down from the apex."""
    light = {"id": "l", "name": "Light", "room": "hall", "kind": "light", "at": (5, 1)}
    near, far = ([alarm("s", "hall", (5 + d, 1))] for d in (0.29, 0.31))
    assert speaks(british_alarms.place_on_ceiling_or_wall, home(near, rules="britain", fixtures=[light]))
    assert not speaks(british_alarms.place_on_ceiling_or_wall, home(far, rules="britain", fixtures=[light]))
    assert speaks(british_alarms.near_heaters, home(near, rules="britain", fixtures=[light | {"kind": "heater"}]))
    slope = {"hall": {"ceiling": "sloping"}}
    for facts, found in (({"from_peak_m": 0.9}, False), ({"from_peak_m": 0.91}, True), ({"below_peak_m": 0.61}, True)):
        assert (
            speaks(british_alarms.under_a_slope, home([alarm("s", "hall", **facts)], rules="britain", rooms=slope))
            is found
        )
    passages = [
        {"id": "w", "first": "hall", "second": "kitchen", "kind": "doorway"},
        {"id": "s", "first": "hall", "second": "bed", "kind": "stairs"},
    ]
    assert speaks(british_alarms.kitchen_open_to_the_stairs, home(rules="britain", passages=passages))
    linked = [alarm("h", "kitchen", kind="heat")]
    assert not speaks(british_alarms.kitchen_open_to_the_stairs, home(linked, rules="britain", passages=passages))


@pytest.mark.outside
@pytest.mark.parametrize(("x", "found"), [(28.5, False), (29.0, True)])
def test_british_reach_in_a_room(x: float, found: bool) -> None:
    """Source: BS 5839-1 figures, from memory: 7.5 m for smoke; the corner (22, 0) lies √((x−22)² + 9) m off."""
    assert (
        speaks(british_alarms.within_reach_in_the_room, home([alarm("s", "kitchen", (x, 3))], rules="britain")) is found
    )
