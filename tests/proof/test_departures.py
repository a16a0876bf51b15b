"""What setting the alarm leaves behind: how long each detector may still sleep, and what somebody reaches meanwhile."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from alarmlib.checks.settings.proof import kept_findings
from alarmlib.control.inputs import SET_FULL, Sees
from alarmlib.control.layout import A
from alarmlib.control.machine import step
from alarmlib.control.setup import Behaviour, OffRouteTrip, Setup
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, ZoneSetup
from alarmlib.model import Home
from alarmlib.model.words import Function
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.intruder.intrusions import Intruders
from alarmlib.proof.intruder.ways import set_state, with_spent
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.verdicts import ProofVerdict, Proved
from alarmlib.proof.search import loose
from alarmlib.proof.search.departures import Departures, left_when_set

Put = Callable[..., Home]


def unit(function: Function, sleep_s: int = 30, **facts: Any) -> Setup:
    """A door and a detector of that function; 10 s to leave, none when going to bed."""
    eye = ZoneSetup("eye", function, ("house",), (DeviceSetup("eye", lasting=False, sleep_s=sleep_s),))
    door = ZoneSetup("door", Function.ENTRY_EXIT, ("house",))
    area = AreaSetup("house", 10, 5, 9, parts=(PartSetup("night"),))
    return Setup((area,), (door, eye), behaviour=Behaviour(**({"recent_closing_s": 0} | facts)))


# By hand, setting begun in second 0, set in 10. Seen in the 10th second the detector still counts as tripped when the
# exit time ends, and sounds; seen in the 9th it has slept 1 s at the end of that, 2 s when the area is set.
@pytest.mark.parametrize(
    ("since_s", "left_s"),
    [(0, 28), (1, 28), (2, 28), (3, 27), (9, 21), (10, 20), (11, 19), (12, 18), (29, 1), (30, 0), (99, 0)],
)
def test_detector_on_the_way_out(since_s: int, left_s: int) -> None:
    setup = unit(Function.ENTRY_ROUTE)
    assert left_when_set(setup, ("house", SET_FULL), "eye", since_s, outside=False) == left_s


def test_detector_off_the_way_out_was_tripped_before_setting() -> None:
    """In the exit time it would have sounded: tripped in the second before, it has slept 11 s when the area is set."""
    setup = unit(Function.AT_ONCE)
    assert left_when_set(setup, ("house", SET_FULL), "eye", 0, outside=False) == 30 - 11
    refusing = unit(Function.AT_ONCE, off_route=OffRouteTrip.BLOCKS)
    assert left_when_set(refusing, ("house", SET_FULL), "eye", 0, outside=False) == 28  # shown, and setting goes on


def test_the_quickest_way_of_setting_counts() -> None:
    """Where it is set from outside nothing delays it; by a door that is closed at once behind one, 5 s after that.

    What is tripped in the very second of setting counts as open, and the unit refuses: a second before it isn't.
    """
    setup = unit(Function.AT_ONCE)
    assert left_when_set(setup, ("house", SET_FULL), "eye", 0, outside=True) == 29
    assert left_when_set(setup, ("house", SET_FULL), "eye", 4, outside=True) == 30 - 4
    by_door = unit(Function.AT_ONCE, exit_ends_by_door=True, exit_after_door_s=5)
    assert left_when_set(by_door, ("house", SET_FULL), "eye", 0, outside=False) == 30 - 8  # closed in 2, set in 7
    by_button = unit(Function.AT_ONCE, exit_ends_by_button=True)
    assert left_when_set(by_button, ("house", SET_FULL), "eye", 0, outside=False) == 30 - 2


def test_without_exit_time_it_may_be_tripped_as_the_keypad_is_keyed() -> None:
    """Gone to bed: the set begins in the second in which it is keyed, and a second before a trip holds up nothing."""
    setup = unit(Function.ENTRY_ROUTE)
    assert left_when_set(setup, ("house", "night"), "eye", 0, outside=False) == 29
    assert left_when_set(setup, ("house", "night"), "eye", 7, outside=False) == 23


# A lounge of 14 m by 14 m that a detector surely sees, its window 7 m from the middle. The way out is the lounge's own
# (`hall` False), or in a hall of 4 m by 4 m behind a door.
def square(x: float, y: float, side: float) -> list[list[float]]:
    return [[x, y], [x + side, y], [x + side, y + side], [x, y + side]]


def lounge(sleep_s: float, hall: bool = False, **more: Any) -> Home:
    rooms = [{"id": "lounge", "name": "Lounge", "storey": "ground", "outline": square(0, 0, 14)}]
    if hall:
        rooms.append({"id": "hall", "name": "Hall", "storey": "ground", "outline": square(-4.1, 5, 4)})
    out = {"room": "hall", "at": [-4.1, 7]} if hall else {"room": "lounge", "at": [0, 7]}
    front = {"id": "front", "name": "Front", "kind": "door", "reach": "ground", "entry_exit": True}
    window = {"id": "window", "name": "Window", "reach": "ground", "room": "lounge", "at": [14, 7]}
    zones = {"door": "entry_exit", "eye": "at_once" if hall else "entry_route"}
    eye = {"id": "lounge_eye", "name": "Lounge eye", "kind": "motion", "room": "lounge", "zone": "eye"}
    return Home.model_validate(
        {
            "site": {
                "storeys": [{"id": "ground", "name": "Ground"}],
                "rooms": rooms,
                "openings": [front | out, window],
                "passages": [{"id": "inner", "first": "hall", "second": "lounge", "at": [0, 7]}] if hall else [],
            },
            "household": {"people": [{"id": "owner", "role": "Owner", "speed_m_s": 1.3}]},
            "control_unit": {
                "areas": [{"id": "house", "name": "House"}],
                "zones": [
                    {"id": z, "label": z, "function": f, "areas": ["house"], "passed_leaving": "no"}
                    for z, f in zones.items()
                ],
                "times": {"entry_s": 20, "exit_s": 10, "siren_s": 90, "abort_s": 5},
                "part_sets": more.pop("part_sets", []),
            },
            "devices": [
                {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "lounge"},
                {"id": "siren", "name": "Siren", "kind": "inside_sounder", "room": "lounge"},
                {"id": "contact", "name": "Contact", "kind": "contact", "openings": ["front"], "zone": "door"},
                eye | {"sleep_s": sleep_s},
            ],
            "proof": {"tolerance_percent": 0, "sure_detectors": ["lounge_eye"]},
        }
    )


def of_set_full(home: Home) -> Proved:
    proved = prove(home, "none", None, Asked(("ways",))).properties
    return next(each for each in proved if each.id == "noticed_first/house/set_full")


def rests(home: Home, part: str = SET_FULL) -> dict[str, int]:
    setup = Intruders(home, faults_of(home, "none")).setups[0].setup
    return Departures(home).rests(setup, "house", part)


def test_walks_out_of_the_home_bound_the_rest() -> None:
    """From the lounge's door to the way out it is 4 m: at 1.3 m/s and 1.645 times a tenth of it more, 2.6 s.

    Off the way out the exit time of 10 s bounds it further; shorter sleep times are over when the alarm is set.
    """
    home = lounge(60, True)
    assert Departures(home).since_s("lounge_eye", SET_FULL) in (1, 2)
    assert rests(home) == {"lounge_eye": 60 - 11}
    assert rests(lounge(11, True)) == {}
    in_time = of_set_full(lounge(11, True))
    assert in_time.verdict is ProofVerdict.HOLDS
    late = of_set_full(home)
    assert (late.verdict, late.worst["for_up_to_s"]) == (ProofVerdict.BREACHED, "49")


def test_where_no_way_out_is_known_the_rest_is_free_and_said_to_be_so(put: Put) -> None:
    """The door between is walled up: anybody may have been in the lounge until the very second of setting."""
    home = put(lounge(60, True), {"site.passages": []})
    assert Departures(home).since_s("lounge_eye", SET_FULL) is None
    assert rests(home) == {"lounge_eye": 60}
    said = [each.sentence for each in prove(home, "none", None, Asked(("ways",))).assumptions]
    assert any("no walk out from where these look" in each and "Lounge eye" in each for each in said)
    assert not any("no walk out from where these look" in each for each in _said(lounge(60, True)))


def test_who_goes_over_into_another_area_is_out_as_well(put: Put) -> None:
    """A hall of 12 m takes 8 s at 1.3 m/s and 1.645 times a tenth of it more: 52 s of 60 are left.

    From the lounge straight into the annex, an area of its own, nobody needs any: 58 s, as far as the exit time lets.
    Seen before: only the doors of the home were taken for ways out, whoever could step into an area that stays unset.
    """
    hall = {"site.rooms.hall.outline": [[-12.1, 5], [-0.1, 5], [-0.1, 9], [-12.1, 9]],
            "site.openings.front.at": [-12.1, 7], "control_unit.zones.eye.function": "entry_route"}  # fmt: skip
    far = put(lounge(60, True), hall | {f"site.rooms.{room}.area": "house" for room in ("lounge", "hall")})
    assert Departures(far).since_s("lounge_eye", SET_FULL) == 8
    assert rests(far) == {"lounge_eye": 52}
    outline = [[14.1, 5], [18.1, 5], [18.1, 9], [14.1, 9]]
    joined = put(far, {
        "control_unit.areas.+": {"id": "flat", "name": "Flat"}, "site.openings.window": None,
        "site.rooms.+": {"id": "annex", "name": "Annex", "storey": "ground", "area": "flat", "outline": outline},
        "site.passages.+": {"id": "between", "first": "lounge", "second": "annex", "at": [14, 8]},
    })  # fmt: skip
    assert Departures(joined).since_s("lounge_eye", SET_FULL) == 0
    assert rests(joined) == {"lounge_eye": 58}


def _said(home: Home) -> list[str]:
    return [each.sentence for each in prove(home, "none", None, Asked(("ways",))).assumptions]


def test_every_set_says_how_long_a_detector_may_be_asleep() -> None:
    """Away by the walk out, at night by where people are then; a zone left out of a set is not named for it."""
    night = [{"id": "night", "name": "Night", "area": "house"}, {"id": "bed", "name": "Bed", "left_out": ["eye"]}]
    said = [each for each in _said(lounge(60, True, part_sets=night)) if "just after setting too" in each]
    assert len(said) == 2
    assert "House, set (nobody in)" in said[0]
    assert "Lounge eye (for up to 49 s)" in said[0]
    assert "House, Night" in said[1]


def test_how_long_it_may_be_asleep_is_told_of_the_worst_season_and_clock(put: Put) -> None:
    """Of 60 s, 49 are left after an exit time of 10 s; of a winter's 5 s, or of a clock a fifth fast, more.

    By hand: setting begins in second 0, seen the second before, so it has slept 6 s after 5, and 9 s after 8.
    Seen before: the ordinary set by a clock that is right was told alone, though a search had looked at the others.
    """
    home = lounge(60, True)
    winter = {"id": "winter", "name": "Winter", "months": [12], "exit_s": 5}
    for other, most_s in (
        ({"control_unit.seasons": [winter]}, 60 - 6),
        ({"control_unit.seasons": [winter | {"exit_s": 9}]}, 60 - 10),
        ({"proof.tolerance_percent": 20.0}, 60 - 9),
    ):
        (said,) = [each for each in _said(put(home, other)) if "just after setting too" in each]
        assert f"Lounge eye (for up to {most_s} s)" in said


# A search from a rest of which only the most is known finds what the searches from every rest together find.
@pytest.mark.parametrize("most_s", [0, 1, 2, 3, 4, 7, 20])
@pytest.mark.parametrize("restarts", [False, True])
def test_loose_rest_is_every_rest_at_once(most_s: int, restarts: bool, put: Put) -> None:
    home = put(lounge(20), {"devices.lounge_eye.movement_restarts_sleep": restarts})
    intruders = Intruders(home, faults_of(home, "none"))
    (part,), at = intruders.parts, intruders.setups[0]

    def reached(*numbers: int) -> set[tuple[str, str, int]]:
        from alarmlib.proof.intruder.search import Intrusion

        search = Intrusion(at.setup, part.cells, part.ways, intruders.masks, part.steps)
        plain = set_state(search.setup, {"house": SET_FULL})
        begin = {loose.put(search.setup, plain, {"lounge_eye": number}): 1 for number in numbers}
        goals = {"lounge": part.cells.goals["lounge"]}
        runs = [(way.opening, search.run(way, begin, goals, goals)) for way in part.ways]
        return {(way, found.rule, found.tick) for way, run in runs for found in run.reached}

    every = reached(*range(most_s + 1))
    assert reached(loose.loose(most_s, counted=True)) == every
    assert {each[:2] for each in every} <= {each[:2] for each in reached(loose.loose(99))}
    held = ("window", "noticed_first") in {each[:2] for each in every}
    # In the third and fourth second, the first being that of coming in, one is seen for sure; in the fourth one is in
    # the middle. So five seconds of sleep are needed; two where being seen in the first sends it to sleep again.
    assert held == (most_s >= (2 if restarts else 5))


def test_loose_rests_are_counted_down_or_held() -> None:
    """One that is over in the next second is over; sixty seconds and more stay as they are."""
    assert loose.loose(0) == loose.loose(1) == 0
    assert loose.canonical(loose.loose(5) - 1) == loose.loose(4)
    assert loose.canonical(loose.loose(2) - 1) == 0
    assert loose.canonical(loose.loose(60) - 1) == loose.loose(60) == loose.loose(150)
    assert loose.loose(150, counted=True) - 1 == loose.loose(149, counted=True)
    assert loose.canonical(150) == 150
    assert loose.ways_over(["b", "a"]) == [frozenset(), {"a"}, {"b"}, {"a", "b"}]


def test_the_canonical_form_keeps_what_a_loose_rest_may_still_do() -> None:
    """During an entry delay one that may outlast it has one value, still loose; a shorter one keeps its own."""
    assert loose.outlasting(loose.loose(9), 4, 30) == loose.loose(99)
    assert loose.outlasting(loose.loose(3), 4, 30) == loose.loose(3)
    assert loose.outlasting(9, 4, 30) == 30
    assert loose.outlasting(3, 4, 30) == 3


def test_a_fault_is_searched_with_all_awake() -> None:
    """The table of faults tells what a fault opens for good, whatever is asleep just after setting."""
    home = lounge(60, True)
    proof = prove(home, "single", None, Asked(("ways",)))
    dead = next(row for row in proof.faults if row.id == "dead/lounge_eye")
    assert any(hole.property == "noticed_first/house/set_full" for hole in dead.holes)
    assert any("asleep" in text for text in proof.not_covered)
    assert replace(proof, faults=()).holds is False


# Repeat-trip limits: after so many alarms in one set period a zone is no longer heard.
def limited(home: Home, put: Put, limit: int = 2) -> Home:
    return put(home, {"control_unit.behaviour.repeat_trip_limit": limit})


def test_limit_of_alarms_opens_a_hole_that_is_told(put: Put) -> None:
    """The lounge's only guard: once it has given its two alarms nobody is noticed by the window until it is unset."""
    proof = prove(limited(lounge(0), put), "single", None, Asked(("ways",)))
    row = next(row for row in proof.faults if row.id == "spent/eye")
    assert "2 alarms in one set period" in row.sentence
    assert (row.announced, row.after_s) == (True, 0)  # by those alarms themselves, before the hole opens
    assert any(hole.property == "noticed_first/house/set_full" and "Window" in hole.sentence for hole in row.holes)
    said = next(each for each in proof.assumptions if each.id == "limit_2")
    assert "door, eye" in said.sentence
    unlimited = put(lounge(0), {"rules.rule_set": "europe"})
    assert not any(row.id.startswith("spent/") for row in prove(unlimited, "single", None, Asked(("ways",))).faults)


def test_state_after_the_last_alarm_is_the_played_one() -> None:
    """Two alarms of the eye played to the end of the siren, against the state that the search begins in."""
    setup = unit(Function.AT_ONCE, 0)
    zones = tuple(replace(zone, repeat_limit=2) for zone in setup.zones)
    setup = replace(setup, zones=zones)
    begin = set_state(setup, {"house": SET_FULL})
    state = begin
    for second in range(60):
        state, _ = step(setup, state, (Sees("eye"),) if second in (0, 20) else ())
    sent = setup.layout.areas[0].base + A.SENT
    assert state[sent] == 1
    assert with_spent(setup, begin, ["eye"]) == (*state[:sent], 0, *state[sent + 1 :])


def test_claims_name_what_follows_a_return_of_power(put: Put) -> None:
    """Whether or not somebody may cut the mains; fire and CO are left out where the unit hears them at once."""

    def said(changes: dict[str, Any]) -> str:
        proof = prove(put(lounge(0), changes), "none", None, Asked(("ways",)))
        return next(each.sentence for each in proof.assumptions if each.id == "power_return")

    assert said({}) == said({"proof.cuts_mains": True})
    assert "For 60 s after its power returns" in said({})
    assert "fire and CO included" in said({})
    assert "except for fire and carbon monoxide" in said({"control_unit.behaviour.life_heard_after_power": True})
    assert "as soon as" in said({"control_unit.behaviour.ignores_after_power_s": 0})


@pytest.mark.parametrize("ticked", [False, True])
def test_looking_before_setting_is_named_first_when_ticked(ticked: bool, put: Put) -> None:
    """It is unticked by default; ticked it comes before every other assumption, since so much depends on it."""
    home = put(lounge(0), {"proof.looks_before_setting": True}) if ticked else lounge(0)
    found = prove(home, "none", None, Asked(("ways",))).assumptions
    looks = next(each for each in found if each.id == "looks")
    assert (found[0] is looks) == ticked
    assert looks.sentence.startswith("Nobody sets" if ticked else "Somebody may set")


def test_detector_of_another_area_may_be_asleep_too(put: Put) -> None:
    """The lounge's detector belongs to an area of its own that is set with the house: it may sleep for the house too.

    Set by itself the house has no detector that could sleep; whoever comes in by the window is noticed by nothing.
    """
    home = put(
        lounge(60),
        {"control_unit.areas.+": {"id": "annexe", "name": "Annexe"}, "control_unit.zones.eye.areas": ["annexe"],
         "control_unit.zones.door.areas": ["house", "annexe"]},
    )  # fmt: skip
    setup = Intruders(home, faults_of(home, "none")).setups[0].setup
    departures = Departures(home)
    assert departures.rests(setup, "house", SET_FULL) == {}
    assert (
        departures.rests_in(setup, {"house": SET_FULL, "annexe": SET_FULL})
        == departures.rests(setup, "annexe", SET_FULL)
        != {}
    )


def test_hole_of_the_first_minute_is_a_finding_with_its_length() -> None:
    """The record's findings say for how long."""
    home = lounge(150)
    proof = prove(home, "none", None, Asked(("ways",)))
    found = [each for each in kept_findings(home, KeptProof(proof, True)) if each.id == "proof.breached"]
    assert len(found) == 1
    assert "It fails only for up to 2 min 28 s after the alarm is set" in found[0].message
