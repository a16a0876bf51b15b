"""The list of faults on small homes, worked out by hand; two at once; faults as bits."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.model import Home
from alarmlib.proof.faults.fault import NONE, Fault, FaultMasks, Outlets, both
from alarmlib.proof.faults.fault_cases import faults_of, pairs

Put = Callable[..., Home]


def _by_id(home: Home) -> dict[str, Fault]:
    return {fault.id: fault for fault in faults_of(home)}


def test_whole_list_of_a_small_home(cabin: Home) -> None:
    """Every kind of fault that the cabin can have, once, in a fixed order, and no other."""
    assert [fault.id for fault in faults_of(cabin)] == [
        "none", "dead/door", "dead/shed", "blind/shed", "keypad_dead/keypad", "sounder_dead/siren", "sounder_cut/siren",
        "sounder_dead/bell", "out_of_reach/shed", "out_of_reach/bell", "radio_blocked", "mains", "mains_and_battery",
        "path_down/net", "nobody_answers", "inhibited/door", "inhibited/shed", "spent/door",
        "spent/shed", "not_set/house",
    ]  # fmt: skip


def test_what_each_silences(cabin: Home) -> None:
    """Devices, keypads, sounders and messages are lost by what they are."""
    found = _by_id(cabin)
    assert found["none"] is NONE
    assert found["dead/door"].dead == {"door"}
    assert found["keypad_dead/keypad"].dead_keypads == {"keypad"}
    assert found["radio_blocked"].dead == {"shed"}
    assert found["radio_blocked"].dead_sounders == {"bell"}
    assert not found["radio_blocked"].no_siren, "the wired one is left"
    assert found["path_down/net"].no_message, "it is the last one; the siren is no message"
    assert found["nobody_answers"].no_message
    assert found["mains_and_battery"].unit_dead
    assert not found["mains"].unit_dead
    assert found["inhibited/shed"].inhibited == {"shed"}
    assert found["not_set/house"].not_set == {"house"}


def test_last_sounder_and_last_path(cabin: Home, put: Put) -> None:
    """Only the loss of the last sounder leaves no siren, and of the last path no message."""
    assert not _by_id(cabin)["sounder_dead/siren"].no_siren
    alone = put(cabin, {"devices.bell": None, "messages.paths.+": {"id": "mobile", "name": "Mobile"}})
    found = _by_id(alone)
    assert found["sounder_dead/siren"].no_siren
    assert not found["path_down/net"].no_message
    two = {fault.id: fault for fault in pairs(alone)}
    assert two["path_down/net+path_down/mobile"].no_message
    assert not two["dead/door+path_down/net"].no_message


def test_nobody_is_told_and_nothing_sounds(cabin: Home, put: Put) -> None:
    """Without a sounder, or with nobody told, that is so with no fault, in words and flags; and under each fault."""
    bare = put(cabin, {"devices.bell": None, "devices.siren": None, "messages.messages.burglary.to": []})
    first = faults_of(bare)[0]
    assert (first.id, first.no_siren, first.no_message) == ("none", True, True)
    assert first.sentence == (
        "Everything works, but no sounder is fitted, and no message about a burglary gets out to anybody."
    )
    assert all(fault.no_siren and fault.no_message for fault in faults_of(bare))
    assert "nobody_answers" not in _by_id(bare)


def test_path_that_was_not_entered(cabin: Home, put: Put) -> None:
    """Somebody is told but no path is entered: taken as one path that may be down."""
    found = _by_id(put(cabin, {"messages.paths": []}))
    assert not found["none"].no_message
    assert found["path_down"].no_message


def test_only_the_siren_as_a_path(cabin: Home, put: Put) -> None:
    """A siren heard next door is no message."""
    assert _by_id(put(cabin, {"messages.paths.net": None}))["none"].no_message


@pytest.mark.parametrize(
    ("ending", "ids"),
    [
        ("none", {"circuit_cut/loop", "circuit_short/loop"}),
        ("unknown", {"circuit_stuck/loop"}),
        ("single", {"circuit_cut/loop"}),
        ("double", {"circuit_cut/loop"}),
        ("open_fire", {"circuit_cut/loop", "circuit_feed/loop"}),
    ],
)
@pytest.mark.parametrize("named_by", ["devices.door.circuit", "control_unit.zones.door.circuit"])
def test_circuits(cabin: Home, put: Put, ending: str, ids: set[str], named_by: str) -> None:
    """A cut loop trips its zone and a short is noticed only by an end-of-line resistor; its end decides the rows."""
    loop = {"id": "loop", "name": "Loop", "ending": ending}
    found = {
        name: fault
        for name, fault in _by_id(put(cabin, {"circuits.+": loop, named_by: "loop"})).items()
        if name.startswith("circuit")
    }
    assert set(found) == ids
    assert all(fault.dead == {"door"} for fault in found.values())
    tripping = {name for name, fault in found.items() if fault.trips}
    assert tripping == (set() if ending in {"unknown", "open_fire"} else {"circuit_cut/loop"})
    assert ("is not known" in found[min(ids)].sentence) == (ending == "unknown")


@pytest.mark.parametrize(("fed", "own"), [("watched", False), ("by_pair", False), ("unwatched", True)])
def test_power_of_fire_detectors(cabin: Home, put: Put, fed: str, own: bool) -> None:
    """Their power is a fault of its own where nothing watches it; watched, it reads as a break."""
    loop = {"id": "loop", "name": "Loop", "ending": "open_fire", "detectors_fed": fed}
    found = _by_id(put(cabin, {"circuits.+": loop, "devices.door.circuit": "loop"}))
    assert ("circuit_feed/loop" in found) == own
    assert ("which is watched" in found["circuit_cut/loop"].sentence) == (fed == "watched")


def test_repeater_takes_all_that_is_wireless(cabin: Home, put: Put) -> None:
    """Which devices a repeater serves isn't in the home: all are taken as lost, and the sentence says so."""
    repeater = {"id": "rep", "name": "Repeater", "kind": "repeater", "link": "wireless", "wireless": {}}
    fob = {"id": "fob", "name": "Fob", "kind": "fob", "link": "wireless"}
    found = _by_id(put(cabin, {"devices.+": repeater, "devices.keypad.link": "wireless"}))["repeater_dead/rep"]
    assert (found.dead, found.dead_keypads, found.dead_sounders) == ({"shed"}, {"keypad"}, {"bell"})
    assert "all wireless ones count as lost" in found.sentence
    carried = _by_id(put(cabin, {"devices.+": fob}))["out_of_reach/fob"]
    assert carried.dead_keypads == {"fob"}


def test_what_is_not_known_is_named(cabin: Home, put: Put) -> None:
    """A missing time or a report that isn't known is named in the sentence, and no watch is named for the report."""
    found = _by_id(put(cabin, {"messages.paths.net.failure_reported": "unknown"}))
    assert "it is not known after how long" in found["out_of_reach/bell"].sentence
    assert "not known" not in found["out_of_reach/shed"].sentence
    assert "it is not known whether" in found["path_down/net"].sentence
    assert not found["path_down/net"].watches


@pytest.mark.parametrize(("works", "lost"), [("yes", False), ("no", True), ("unknown", True)])
def test_mains_and_router(cabin: Home, put: Put, works: str, lost: bool) -> None:
    """Without mains a path is lost unless it is known to work; then the router is a fault of its own."""
    found = _by_id(put(cabin, {"messages.paths.net.works_without_mains": works}))
    assert ("net" in found["mains"].lost_paths) == lost
    assert ("router_power" in found) == lost
    assert ("not known" in found["mains"].sentence) == (works == "unknown")


def test_box_of_a_path(cabin: Home, put: Put) -> None:
    """A box that a path needs takes the path along: dead, or without mains when it has no standby supply."""
    box = {"id": "sender", "name": "Sender", "kind": "communicator", "standby": "no"}
    found = _by_id(put(cabin, {"devices.+": box, "messages.paths.net.boxes": ["sender"]}))
    assert found["box_dead/sender"].no_message
    assert found["mains"].lost_paths == {"net"}


def test_device_without_standby_stops_with_the_mains(cabin: Home, put: Put) -> None:
    """What doesn't go on without mains is lost with it."""
    assert _by_id(put(cabin, {"devices.shed.standby": "no"}))["mains"].dead == {"shed"}


def test_intruder_who_cuts_the_mains(cabin: Home, put: Put) -> None:
    """Only when it is assumed, a flat battery lets an intruder stop and restart the unit."""
    assert "battery_flat" not in _by_id(cabin)
    found = _by_id(put(cabin, {"proof.cuts_mains": True}))
    assert "mains_and_battery" in found
    assert found["battery_flat"].restarts
    assert found["battery_flat"].unit_dead
    assert not found["mains_and_battery"].restarts


def test_wrong_set(cabin: Home, put: Put) -> None:
    """Each set of an area that has several may be chosen by mistake; an area with one set has no wrong one."""
    assert not any(fault.wrong_set for fault in faults_of(cabin))
    found = _by_id(put(cabin, {"control_unit.part_sets": [{"id": "night", "name": "Night"}]}))
    assert [fault.wrong_set for fault in found.values() if fault.wrong_set] == [("house/set_full",), ("house/night",)]


def test_what_is_absent_or_depends_on_nothing_cannot_fail(cabin: Home, put: Put) -> None:
    """A device taken out, out of use or not joined to the unit, and a zone out of use, have no rows."""
    for change in ({"devices.door.state": "removed"}, {"devices.door.state": "out_of_use"},
                   {"devices.door.link": "own"}):  # fmt: skip
        assert "dead/door" not in _by_id(put(cabin, change))
    assert "inhibited/door" not in _by_id(put(cabin, {"control_unit.zones.door.out_of_use": True}))


def test_count_of_pairs(cabin: Home) -> None:
    """n singles make n(n-1)/2 pairs, each two different ones, the same each time, after none and the singles."""
    singles = faults_of(cabin)[1:]
    n = len(singles)
    found = list(pairs(cabin))
    assert len(found) == n * (n - 1) // 2
    assert len({frozenset(fault.id.split("+")) for fault in found}) == len(found)
    assert faults_of(cabin, "pairs") == (NONE, *singles, *found)
    assert faults_of(cabin, "none") == (NONE,)


def test_pair_is_both(cabin: Home) -> None:
    """A pair silences what either does, and keeps its parts."""
    found = {fault.id: fault for fault in pairs(cabin)}["dead/door+radio_blocked"]
    assert found.dead == {"door", "shed"}
    assert [part.id for part in found.parts] == ["dead/door", "radio_blocked"]
    assert found.sentence == "Nothing arrives from “door” any more. The radio is blocked: no wireless device is heard."


def test_wrong_sets_of_one_area_are_not_combined() -> None:
    """The set chosen last counts, and an area that isn't set has none."""
    away, night = Fault("a", "A.", wrong_set=("house/set_full",)), Fault("n", "N.", wrong_set=("house/night",))
    shed, forgot = Fault("s", "S.", wrong_set=("shed/set_full",)), Fault("f", "F.", not_set=frozenset({"house"}))
    assert both(away, night, Outlets()).wrong_set == ("house/night",)
    assert both(away, shed, Outlets()).wrong_set == ("house/set_full", "shed/set_full")
    assert both(forgot, away, Outlets()).wrong_set == ()


_NAMES = st.frozensets(st.sampled_from("abc"), max_size=3)
_FAULT = st.builds(
    Fault, st.just("f"), st.just("F."), _NAMES, _NAMES, _NAMES, _NAMES, st.booleans(), st.booleans(), st.booleans(),
    st.booleans(), _NAMES, _NAMES, spent=_NAMES,
)  # fmt: skip


@given(st.lists(_FAULT, max_size=70))
def test_masks_say_what_the_faults_say(faults: list[Fault]) -> None:
    """Bit i of each mask is set exactly when fault i says so, beyond 64 faults too."""
    masks = FaultMasks.of(faults)
    assert masks.all == 2 ** len(faults) - 1
    for place, fault in enumerate(faults):
        bit = 1 << place
        flags = (masks.no_siren, masks.no_message, masks.unit_dead, masks.restarts)
        assert [bool(mask & bit) for mask in flags] == [
            fault.no_siren, fault.no_message, fault.unit_dead, fault.restarts,
        ]  # fmt: skip
        for mapping, names in ((masks.dead_of, fault.dead), (masks.dead_keypad_of, fault.dead_keypads),
                               (masks.inhibited_of, fault.inhibited), (masks.not_set_of, fault.not_set),
                               (masks.spent_of, fault.spent)):  # fmt: skip
            assert {name for name, mask in mapping.items() if mask & bit} == names


def test_masks_of_a_home(cabin: Home) -> None:
    """The masks of the cabin, read back by hand."""
    faults = faults_of(cabin)
    masks = FaultMasks.of(faults)
    at = {fault.id: 1 << place for place, fault in enumerate(faults)}
    assert at["none"] == 1
    assert masks.dead_of["shed"] == at["dead/shed"] | at["blind/shed"] | at["out_of_reach/shed"] | at["radio_blocked"]
    assert masks.spent_of == {"door": at["spent/door"], "shed": at["spent/shed"]}
    assert masks.no_message == at["path_down/net"] | at["nobody_answers"]
    assert masks.unit_dead == at["mains_and_battery"]
    assert masks.not_set_of == {"house": at["not_set/house"]}
