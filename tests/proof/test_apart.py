"""Areas that share nothing, proved apart: which share something, which sets are begun with, the same verdicts."""

import os
from collections.abc import Collection, Iterator
from itertools import product
from random import Random
from typing import Any

import pytest
from wing_homes import wing_home

from alarmlib.control.from_home import setup_from_home
from alarmlib.control.inputs import SET_FULL
from alarmlib.control.setup import Behaviour, Setup
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, ZoneSetup
from alarmlib.model import Home
from alarmlib.model.words import Function
from alarmlib.proof.habits import habit_begin
from alarmlib.proof.intruder import cases, intrusions
from alarmlib.proof.intruder.ways import sets_of
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.report.verdicts import Proof
from alarmlib.proof.search.apart import groups_of, louder_unset, sets_apart, sets_beside

HOMES = 60 if os.environ.get("ALARM_WHOLE") == "1" else 4
AREAS = (
    AreaSetup("house", exit_s=4, entry_s=3, siren_s=9, parts=(PartSetup("night", exit_s=4),)),
    AreaSetup("yard", exit_s=4, entry_s=3, siren_s=9, parts=(PartSetup("party"), PartSetup("dusk"))),
    AreaSetup("flat", exit_s=4, entry_s=3, siren_s=9),
)


def three(*zones: ZoneSetup, areas: tuple[AreaSetup, ...] = AREAS, **more: Any) -> Setup:
    """A unit of three areas with a door each."""
    doors = tuple(ZoneSetup(f"{area.id}_door", Function.ENTRY_EXIT, (area.id,)) for area in areas)
    return Setup(areas, (*doors, *zones), **more)


def of(*areas: str) -> frozenset[str]:
    """A group."""
    return frozenset(areas)


def test_each_area_of_a_unit_that_shares_nothing_is_a_group() -> None:
    """Zones of one area each, no confirmation, no shared delay."""
    assert groups_of(three()) == (of("house"), of("yard"), of("flat"))


@pytest.mark.parametrize(
    "shares",
    [
        three(ZoneSetup("gate", Function.AT_ONCE, ("house", "flat"))),
        three(
            ZoneSetup("one", Function.AT_ONCE, ("house",), partners=("other",), confirm_s=9),
            ZoneSetup("other", Function.AT_ONCE, ("flat",)),
        ),
        three(areas=(*AREAS[:2], AreaSetup("flat", exit_s=4, entry_s=3, siren_s=9, follows="house"))),
    ],
    ids=["a zone of both", "a zone confirms the other's", "an entry delay is taken over"],
)
def test_what_two_areas_share_makes_them_one_group(shares: Setup) -> None:
    """House and flat together, the yard by itself."""
    assert set(groups_of(shares)) == {of("house", "flat"), of("yard")}


def test_a_limit_on_the_siren_in_an_hour_is_shared_by_all() -> None:
    """One count of seconds for the whole unit."""
    assert groups_of(three(behaviour=Behaviour(siren_cap_s=900))) == (of("house", "yard", "flat"),)


def test_one_other_group_at_a_time() -> None:
    """Beside the house: all unset, each set of the yard, each set of the flat; never yard and flat."""
    found = list(sets_beside(three(), "house", {"house", "yard", "flat"}))
    assert found == [{}, {"yard": SET_FULL}, {"yard": "party"}, {"yard": "dusk"}, {"flat": SET_FULL}]
    assert list(sets_beside(three(), "house", {"house"})) == [{}]
    assert sets_of(three(), "yard") == (SET_FULL, "party", "dusk")


def test_a_group_is_taken_in_every_combination() -> None:
    """Yard and flat share a zone: 4 by 2 of them beside the house, which has 3 sets with unset beside them."""
    both = three(ZoneSetup("gate", Function.AT_ONCE, ("yard", "flat")))
    assert len(list(sets_beside(both, "house", {"yard", "flat"}))) == 8
    assert [each for each in sets_beside(both, "flat", {"house", "yard"}) if "house" not in each] == [
        {}, {"yard": SET_FULL}, {"yard": "party"}, {"yard": "dusk"},
    ]  # fmt: skip
    assert len(list(sets_apart(both, {"flat"}, {"house", "yard", "flat"}))) == 8 * 3


@pytest.mark.parametrize(
    ("zone", "louder"),
    [
        (ZoneSetup("eye", Function.AT_ONCE, ("yard",)), False),
        (ZoneSetup("safe", Function.ALWAYS_SIREN, ("yard",)), False),
        (ZoneSetup("safe", Function.ALWAYS_SIREN, ("yard",), partners=("yard_door",), confirm_s=9), True),
        (ZoneSetup("safe", Function.ALWAYS_SIREN, ("yard",), devices=(DeviceSetup("eye", False, sleep_s=99),)), True),
        (ZoneSetup("key", Function.KEY_SWITCH, ("yard",)), True),
    ],
    ids=["listens only when set", "always", "needs no second zone when unset", "rests only when set", "sets it"],
)
def test_areas_that_may_do_more_when_unset(zone: ZoneSetup, louder: bool) -> None:
    """Such an area is taken in every combination with any other's own sets."""
    assert (louder_unset(three(zone)) == {"yard"}) is louder
    beside = list(sets_beside(three(zone), "house", {"yard", "flat"}))
    assert any(len(each) == 2 for each in beside) is louder


@pytest.mark.parametrize("seed", range(HOMES))
def test_the_same_verdicts_as_with_every_combination(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ways in, habits and pairs of small random homes of three wings that share something or nothing, every fault."""
    home, how = small_home(Random(seed)), "none" if seed % 3 else "single"
    apart = prove(home, how, None, Asked(("ways", "habits", "pairs")))
    every_combination(monkeypatch)
    together = prove(home, how, None, Asked(("ways", "habits", "pairs")))
    assert said(apart) == said(together)
    assert apart.faults == together.faults
    unit = setup_from_home(home)
    assert (apart.states < together.states) is (len(groups_of(unit)) == 3 and len(louder_unset(unit)) < 2)


def every_combination(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every set of each area with every set of each other, as if all areas shared something."""

    def sets(setup: Setup, _own: Collection[str], areas: Collection[str]) -> Iterator[dict[str, str]]:
        free = [area.id for area in setup.areas if area.id in areas]
        for chosen in product(*((None, *sets_of(setup, area)) for area in free)):
            yield {area: part for area, part in zip(free, chosen, strict=True) if part is not None}

    def beside(setup: Setup, area: str, areas: Collection[str]) -> Iterator[dict[str, str]]:
        return sets(setup, (), frozenset(areas) - {area})

    monkeypatch.setattr(cases, "sets_beside", beside)
    monkeypatch.setattr(intrusions, "sets_beside", beside)
    monkeypatch.setattr(habit_begin, "sets_apart", sets)


def said(proof: Proof) -> dict[str, tuple[object, ...]]:
    """What a proof says of each property, but for how much was searched, how it fails, and which of equals is named."""
    return {
        each.id: (each.verdict, each.sentence, {**each.worst, "slowest": ""}, each.why) for each in proof.properties
    }


def small_home(random: Random) -> Home:
    """Three wings of two rooms, and now and then something that two of them share or do when unset."""
    home = wing_home(3, 6, random.randint(1, 2), random.randrange(1000), habits=1)
    unit = home.control_unit
    zones = [_changed(random, zone) for zone in unit.zones]
    areas = [area.model_copy(update={"follows": "wing_0"}) if random.random() < 0.2 and area.id != "wing_0" else area
             for area in unit.areas]  # fmt: skip
    return Home.model_validate(
        home.model_dump(mode="json")
        | {"control_unit": unit.model_dump(mode="json") | {
            "areas": [area.model_dump(mode="json") for area in areas],
            "zones": [zone.model_dump(mode="json") for zone in zones],
        }, "proof": {"tolerance_percent": random.choice([0, 0, 20])}}
    )  # fmt: skip


_DOOR = "contact_zone_0_0"


def _changed(random: Random, zone: Any) -> Any:
    kind = random.random()
    if kind < 0.05:
        return zone.model_copy(update={"function": Function.ALWAYS_SIREN})
    if kind < 0.08:
        return zone.model_copy(update={"areas": ("wing_0", "wing_2")})
    if kind < 0.12:
        return zone.model_copy(update={"function": Function.ALWAYS_SIREN, "confirmed_by": _DOOR})
    return zone
