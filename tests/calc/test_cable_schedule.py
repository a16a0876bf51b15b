"""One truth of every cable: what is entered wins, what is not is planned and called so; worked on a small house."""

from typing import Any

import pytest

from alarmlib.calc.electrical.cable_lengths import Length, planned, stop_length
from alarmlib.calc.electrical.cable_schedule import schedule
from alarmlib.calc.electrical.feeds import all_runs
from alarmlib.calc.electrical.home_loops import cable_ohm, length_of, loop_of
from alarmlib.calc.electrical.loops import expected_ohm
from alarmlib.model import Home
from alarmlib.model.conductor_sizes import cores_in

ROOM = {"id": "hall", "name": "Hall", "storey": "g", "ceiling_m": 2.5, "outline": [(0, 0), (6, 0), (6, 4), (0, 4)]}
UNIT = {"id": "unit", "name": "Unit", "kind": "control_unit", "room": "hall", "at": (0, 2), "height_m": 1.5}
LOOP = {"id": "loop", "name": "Door loop", "ending": "double", "end_resistor_ohm": 4700, "contact_resistor_ohm": 4700}


def contact(name: str, at: Any, **more: Any) -> dict[str, Any]:
    return {"id": name, "name": name.title(), "kind": "contact", "room": "hall", "at": at, "height_m": 2.0} | more


def home(*devices: dict[str, Any], runs: Any = (), **loop: Any) -> Home:
    """The contact at (3, 0) has a planned cable of 9 m: 6.5 m, a tenth and 1 m more, up to whole metres."""
    site = {"storeys": [{"id": "g", "name": "Ground"}], "rooms": [ROOM]}
    parts = {"site": site, "devices": [UNIT, *devices], "wiring": {"runs": list(runs)}}
    return Home.model_validate(parts | {"circuits": [LOOP | loop]})


DOOR = contact("door", (3, 0), circuit="loop")


def test_nothing_entered_is_planned_and_called_so() -> None:
    (cable,) = schedule(home(DOOR)).cables
    assert (cable.label, cable.length_m, cable.cores) == ("01 DOOR", 9, 4)
    assert (cable.of, cable.planned) == ("loop", ("label", "length", "cores"))


def test_what_is_entered_wins_each_by_itself() -> None:
    told = {"label": "FRONT", "length_m": 14, "cable": "Six-core, 0.22 mm²"}
    (cable,) = schedule(home(DOOR, **told)).cables
    assert (cable.label, cable.length_m, cable.cores, cable.planned) == ("FRONT", 14, 6, ())
    for field, left in (("label", "label"), ("length_m", "length"), ("cable", "cores")):
        (cable,) = schedule(home(DOOR, **{name: value for name, value in told.items() if name != field})).cables
        assert cable.planned == (left,)


def test_a_length_of_a_circuit_is_one_cable_for_all_its_devices() -> None:
    more = contact("window", (6, 2), circuit="loop")
    (cable,) = schedule(home(DOOR, more, length_m=20, label="FRONT")).cables
    assert (cable.devices, cable.length_m) == (("door", "window"), 20)
    two = schedule(home(DOOR, more, label="FRONT")).cables
    assert [(each.devices, each.label) for each in two] == [(("door",), "FRONT 1"), (("window",), "FRONT 2")]


def test_a_feed_is_a_cable_and_its_devices_are_not_planned_again() -> None:
    keypad = contact("pad", (6, 0), kind="keypad")
    run = {"id": "run", "name": "Feed", "pairs": 2, "stops": [{"device": "pad", "metres": 12}]}
    door, feed = schedule(home(DOOR, keypad, runs=[run])).cables
    assert door.devices == ("door",)
    assert (feed.of, feed.devices, feed.length_m, feed.cores, feed.planned) == ("run", ("pad",), 12, 4, ("label",))
    unmeasured = run | {"stops": [{"device": "pad"}]}
    assert [cable.of for cable in schedule(home(DOOR, keypad, runs=[unmeasured])).cables] == ["loop", ""]


def test_totals_keep_entered_and_planned_apart() -> None:
    found = schedule(home(DOOR, contact("other", (0, 0)), length_m=14))
    other = planned(home(DOOR, contact("other", (0, 0)))).routes["other"].cut_m
    assert (found.metres(of_planned=False), found.metres(of_planned=True)) == (14, other)


def test_what_has_no_wall_is_named_unless_entered() -> None:
    shed = contact("key", None, circuit="loop") | {"room": ""}
    apart = contact("key", (40, 1), circuit="loop", room="shed")
    document = home(shed).model_dump()
    document["site"]["rooms"] += (
        {"id": "shed", "name": "Shed", "storey": "g", "outline": [(40, 0), (42, 0), (42, 2), (40, 2)]},
    )
    document["devices"] = (document["devices"][0], apart)
    assert schedule(Home.model_validate(document)).without == ("key",)
    document["circuits"][0]["length_m"] = 48
    found = schedule(Home.model_validate(document))
    assert (found.without, found.cables[0].length_m) == ((), 48)
    assert schedule(home(shed)).cables == ()


def test_loops_take_the_entered_length_else_the_planned() -> None:
    """By hand: 9 m planned at 95 Ω/km are 1.71 Ω both ways; 14 m entered 2.66 Ω."""
    for entered, metres in ((None, 9), (14, 14)):
        of = home(DOOR, cable="0.22 mm²", length_m=entered)
        assert length_of(of, of.circuits[0]) == Length(metres, planned=entered is None)
        assert cable_ohm(of, of.circuits[0], worst=True) == pytest.approx(2 * metres * 0.095)
    of = home(contact("door", None, circuit="loop"), cable="0.22 mm²")
    assert length_of(of, of.circuits[0]) is None
    assert cable_ohm(of, of.circuits[0]) == 0


def test_two_planned_cables_of_a_loop_are_one_after_another() -> None:
    more = contact("window", (6, 2), circuit="loop")
    of = home(DOOR, more, cable="0.22 mm²")
    metres = sum(planned(of).routes[name].cut_m for name in ("door", "window"))
    assert length_of(of, of.circuits[0]) == Length(metres, planned=True)


def test_a_planned_length_draws_no_narrow_range_for_the_meter() -> None:
    """A reading of the bare resistor, and one with twice the planned cable, both fit; by hand 1.71 Ω and contacts."""
    of = home(DOOR, cable="0.22 mm²")
    loop = loop_of(of, of.circuits[0])
    assert loop is not None
    _, low, high = list(expected_ohm(loop))[1]
    assert (low, high) == (4700, pytest.approx(4700 + 2 * (1.71 + 0.2) + 10)) if loop.tolerance == 0 else low <= 4700


def test_volts_take_the_entered_length_else_the_planned() -> None:
    """By hand: 0.5 A over 9 m of 22 AWG at 20 °C, 2 x 9 x 0.05296 x 0.5 = 0.477 V; over 20 m 1.059 V."""
    pad = contact("pad", (3, 0), kind="keypad", alarm_current_a=0.5)
    for entered, drop in ((0, 0.477), (20, 1.059)):
        stops = [{"device": "pad", "metres": entered}]
        of = home(pad, runs=[{"id": "run", "name": "Feed", "size": "22 AWG", "warmest_c": 20, "stops": stops}])
        (found,) = all_runs(of)
        assert found.planned is (entered == 0)
        assert found.drop_v == pytest.approx(drop, abs=1e-3)
        assert stop_length(of, of.wiring.runs[0], 0).planned is (entered == 0)


@pytest.mark.parametrize(
    ("text", "cores"),
    [
        ("Six-core alarm cable, 0.22 mm²", 6),
        ("8 core 7/0.2", 8),
        ("4-core", 4),
        ("two cores", 2),
        ("4 x 0.22 mm²", 4),
        ("6×0.22 mm²", 6),
        ("22/4", 4),
        ("18/2 solid", 2),
        ("22 AWG, 4 conductor", 4),
        ("7/0.2", None),
        ("16/0.2", None),
        ("0.22 mm²", None),
        ("red", None),
        ("", None),
    ],
)
def test_cores_in_a_cables_name(text: str, cores: int | None) -> None:
    assert cores_in(text) == cores
