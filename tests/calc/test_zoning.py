"""Zones: limits, what may share, names, reasons, and what does not fit."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.zoning.arrangement import ZonePlan, plan_zones
from alarmlib.calc.zoning.functions import substitute
from alarmlib.calc.zoning.zone_labels import distinct, fit
from alarmlib.calc.zoning.zone_types import ZoneDevice, ZoningLimits
from alarmlib.model.words import LIFE_SAFETY, DeviceKind, Function, Link

K, F = DeviceKind, Function


def contact(room: str, number: int = 1, function: Function = F.AT_ONCE, **more: object) -> ZoneDevice:
    """A window contact in a room of the ground floor."""
    name = f"{room} window {number}"
    facts = {"room": room, "room_name": room, "floor": "ground floor", "place": name} | more
    return ZoneDevice(f"{room}_{number}", f"the {name} contact", K.CONTACT, function, **facts)  # type: ignore[arg-type]


def motion(room: str, function: Function = F.AT_ONCE, **more: object) -> ZoneDevice:
    """A motion detector in a room."""
    facts = {"room": room, "room_name": room, "floor": "ground floor"} | more
    return ZoneDevice(f"{room}_motion", f"the {room} motion detector", K.MOTION, function, **facts)  # type: ignore[arg-type]


def zones_of(plan: ZonePlan) -> list[set[str]]:
    """The devices of each zone."""
    return [set(zone.devices) for zone in plan.zones]


def test_windows_of_a_room_share_a_zone_and_rooms_do_not() -> None:
    """With zones to spare each room has its own; the sentence names both windows."""
    plan = plan_zones([contact("hall", 1), contact("hall", 2), contact("study")])
    assert zones_of(plan) == [{"hall_1", "hall_2"}, {"study_1"}]
    assert plan.zones[0].reason.startswith(
        "The hall window 1 contact and the hall window 2 contact share a zone because they are in one room"
    )
    assert plan.quality == "proven best"


def test_too_few_zones_mix_rooms_of_one_floor_first() -> None:
    """Two zones for three rooms: the two on one floor share, and the reason says what is lost."""
    upstairs = contact("attic", floor="upstairs")
    plan = plan_zones([contact("hall"), upstairs, contact("study")], ZoningLimits(zones=2))
    assert zones_of(plan) == [{"hall_1", "study_1"}, {"attic_1"}]
    assert "has only 2 zones" in plan.zones[0].reason
    assert "hall or study" in plan.zones[0].reason


@pytest.mark.outside
def test_ten_plain_contacts_to_one_indication() -> None:
    """CLC/TS 50131-7 (seen): ten plain contacts share one zone, the eleventh needs a second."""
    assert len(plan_zones([contact("hall", n) for n in range(10)]).zones) == 1
    eleven = plan_zones([contact("hall", n) for n in range(11)])
    assert sorted(len(zone.devices) for zone in eleven.zones) == [1, 10]


@pytest.mark.outside
def test_each_processing_detector_has_its_own_zone_while_zones_last() -> None:
    """CLC/TS 50131-7 (seen): a processing detector has its own indication; a small unit makes them share."""
    pair = [motion("hall"), motion("study")]
    assert len(plan_zones(pair).zones) == 2
    assert zones_of(plan_zones(pair, ZoningLimits(zones=1))) == [{"hall_motion", "study_motion"}]


def test_life_safety_shares_with_nothing() -> None:
    """Smoke, CO and burglary never share, even where one function must serve all three."""
    smoke = ZoneDevice("smoke", "the smoke detector", K.SMOKE, F.FIRE, "hall")
    gas = ZoneDevice("gas", "the CO detector", K.CARBON_MONOXIDE, F.CARBON_MONOXIDE, "hall")
    siren = ZoneDevice("glass", "the glass detector", K.GLASS_BREAK, F.ALWAYS_SIREN, "hall")
    plan = plan_zones([smoke, gas, siren], ZoningLimits(zones=2, functions=frozenset({F.ALWAYS_SIREN})))
    assert sorted(map(sorted, zones_of(plan))) == [["gas"], ["smoke"]]
    assert plan.not_fitting[0].devices == ("glass",)
    assert {rule.wanted for rule in plan.substitutes} == LIFE_SAFETY


def test_what_part_sets_treat_differently_is_kept_apart() -> None:
    """A window that the night set leaves out, and one that it does not, never share."""
    airing = contact("hall", 2, left_out=frozenset({"night"}))
    assert len(plan_zones([contact("hall", 1), airing]).zones) == 2
    one_zone = plan_zones([contact("hall", 1), airing], ZoningLimits(zones=1))
    assert len(one_zone.zones) == 1
    assert len(one_zone.not_fitting) == 1


def test_areas_and_links_are_kept_apart() -> None:
    """The workshop's contact and a wireless one do not share with a wired one of the house."""
    plan = plan_zones([contact("a"), contact("a", 2, area="workshop"), contact("a", 3, link=Link.WIRELESS)])
    assert len(plan.zones) == 3


def test_wireless_devices_with_names_of_their_own_get_a_zone_each() -> None:
    """One zone each if the unit has a place for each wireless device, else as wired ones."""
    pair = [contact("a", n, link=Link.WIRELESS) for n in (1, 2)]
    assert len(plan_zones(pair, ZoningLimits(tells_wireless_apart=True)).zones) == 2
    assert len(plan_zones(pair, ZoningLimits(tells_wireless_apart=False)).zones) == 1


def test_slots_and_circuits_limit_each_their_own() -> None:
    """One slot and one circuit: one wireless and one wired device stay without, in words."""
    wireless = [motion(room, link=Link.WIRELESS) for room in "ab"]
    wired = [contact("c"), contact("c", 2, function=F.ENTRY_EXIT)]
    plan = plan_zones([*wireless, *wired], ZoningLimits(zones=9, slots=1, circuits=1))
    assert len(plan.zones) == 2
    reasons = {item.devices: item.reason for item in plan.not_fitting}
    assert "has 1 place for wireless devices" in reasons[("b_motion",)] + reasons.get(("a_motion",), "")
    assert "has 1 detector circuit, and all" in reasons[("c_1",)]  # the entry/exit door matters more and stays


def test_devices_to_be_kept_apart_are() -> None:
    """Partners that must confirm one another are in two zones."""
    pair = [contact("hall", 1), contact("hall", 2)]
    plan = plan_zones(pair, apart=frozenset({frozenset({"hall_1", "hall_2"})}))
    assert len(plan.zones) == 2


def test_a_function_the_unit_lacks_gets_the_nearest_named() -> None:
    """Windows that warned when unset become ones that alarm at once and share with them; the result tells the loss."""
    offered = frozenset({F.AT_ONCE})
    plan = plan_zones([contact("hall", 1, F.WARN_UNSET), contact("hall", 2)], ZoningLimits(functions=offered))
    assert zones_of(plan) == [{"hall_1", "hall_2"}]
    assert plan.substitutes[0].lost == "nothing is shown for it while the alarm is unset"


def test_a_function_that_nothing_replaces_is_reported() -> None:
    """A key switch on a unit without that function finds no zone."""
    key = ZoneDevice("key", "the key switch", K.KEY_SWITCH, F.KEY_SWITCH)
    plan = plan_zones([key], ZoningLimits(functions=frozenset({F.AT_ONCE})))
    assert not plan.zones
    assert "no function “key switch”" in plan.not_fitting[0].reason


@pytest.mark.parametrize("wanted", sorted(set(F) - {F.KEY_SWITCH, F.UNUSED}))
def test_substitutes_never_put_a_delay_before_an_always_function(wanted: Function) -> None:
    """Whatever single function is missing, another one replaces it, and an always-one stays so."""
    always = {F.FIRE, F.CARBON_MONOXIDE, F.ALWAYS_SIREN, F.ALWAYS_MESSAGE, F.HOLD_UP, F.WATER, F.LOW_TEMPERATURE}
    rule = substitute(wanted, frozenset(F) - {wanted})
    assert rule.given not in {None, wanted}
    assert rule.lost
    assert wanted not in always or rule.given in always | {F.TAMPER}


def test_unused_devices_get_no_zone_and_no_devices_no_plan() -> None:
    """Nothing to zone is proven best."""
    assert plan_zones([contact("a", function=F.UNUSED)]).zones == ()
    assert plan_zones([]).proven


@given(st.lists(st.text("abcde windows", min_size=1, max_size=30), max_size=8), st.integers(4, 20))
def test_labels_fit_and_differ(names: list[str], most: int) -> None:
    """Every label is within the unit's length and no two are the same."""
    labels = distinct(names, most)
    assert all(len(label) <= most for label in labels)
    assert len({label.casefold() for label in labels}) == len(labels)


def test_labels_stay_readable() -> None:
    """Known words are shortened before letters are cut (common practice, no source)."""
    assert fit("Kitchen windows", 16) == "Kitchen windows"
    assert fit("Kitchen windows", 12) == "Kitch wins"
    assert distinct(["Hall window", "Hall window"], None) == ("Hall window", "Hall window 2")


def random_home(seed: int, count: int = 40) -> list[ZoneDevice]:
    """A home of 14 rooms on three floors with devices of every kind and link."""
    draw = random.Random(seed)
    devices = []
    for number in range(count):
        room = draw.randrange(14)
        kind = draw.choice((K.CONTACT, K.CONTACT, K.CONTACT, K.MOTION, K.GLASS_BREAK, K.SMOKE))
        function = {K.MOTION: draw.choice((F.AT_ONCE, F.ENTRY_ROUTE)), K.SMOKE: F.FIRE}.get(kind, F.AT_ONCE)
        devices.append(
            ZoneDevice(
                f"d{number}", f"device {number}", kind, function,
                f"r{room}", f"room {room}", f"floor {room // 5}",
                draw.choice(("house", "house", "workshop")), draw.choice((Link.WIRED, Link.WIRELESS)),
                frozenset({"night"}) if kind is K.MOTION and draw.random() < 0.5 else frozenset(),
            )
        )  # fmt: skip
    return devices


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("zones", [12, 20, 40])
def test_forty_devices_get_zones_and_every_rule_is_kept(seed: int, zones: int) -> None:
    """Random homes of 40 devices: proven within the time, nobody twice, no limit and no rule broken."""
    home = random_home(seed)
    unit = ZoningLimits(zones=zones, circuits=12, slots=20, label_length=14, tells_wireless_apart=seed % 2 == 0)
    plan = plan_zones(home, unit, time_limit_s=10)
    assert plan.proven
    placed = [name for zone in plan.zones for name in zone.devices]
    lost = [name for item in plan.not_fitting for name in item.devices]
    assert sorted(placed + lost) == sorted(device.id for device in home)
    by_id = {device.id: device for device in home}
    assert len(plan.zones) <= zones
    assert sum(zone.link is Link.WIRED for zone in plan.zones) <= 12
    assert sum(by_id[name].link is Link.WIRELESS for name in placed) <= 20
    for zone in plan.zones:
        members = [by_id[name] for name in zone.devices]
        assert len({(d.function, d.area, d.link, d.left_out) for d in members}) == 1
        assert sum(d.kind is K.CONTACT for d in members) <= 10
        assert len(zone.label) <= 14


def test_the_figure_says_what_it_rests_on() -> None:
    """The count of zones with points and bound."""
    figure = plan_zones([contact("hall")]).figure()
    assert (figure.value, dict(figure.inputs)["points of this plan"]) == (1, "10")
