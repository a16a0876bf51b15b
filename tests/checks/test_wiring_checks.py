# ruff: noqa: E501 - one case a line reads best
"""Every check on loops, radio, cable, battery, sound and fitting: a home it has nothing to say of, and one that draws it."""

from copy import deepcopy
from datetime import date
from typing import Any

import pytest

from alarmlib.calc.electrical.battery import USUAL_AH
from alarmlib.calc.electrical.home_loops import seen, thresholds
from alarmlib.calc.electrical.loop_reads import made_of, made_of_bands
from alarmlib.calc.electrical.loops import Made, states
from alarmlib.calc.electrical.power import usual_ah
from alarmlib.calc.figure import Figure
from alarmlib.checks.electrical import battery, cable, fitting, loops, radio
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.settings import sound
from alarmlib.model import Home
from alarmlib.model.circuits import Ending

TODAY = date(2026, 11, 27)
ROOMS = [
    {"id": "hall", "name": "Hall", "storey": "g", "use": "hall", "outline": [(0, 0), (8, 0), (8, 2), (0, 2)]},
    {
        "id": "bed",
        "name": "Bedroom",
        "storey": "g",
        "use": "bedroom",
        "sleeps_here": True,
        "outline": [(0, 2), (4, 2), (4, 6), (0, 6)],
    },
]
LOOP = {
    "id": "loop",
    "name": "Loop",
    "ending": "double",
    "end_resistor_ohm": 4700,
    "contact_resistor_ohm": 4700,
    "cable": "0.22 mm²",
    "length_m": 20,
}
DEVICES = {
    "unit": {"kind": "control_unit", "quiet_current_a": 0.1, "alarm_current_a": 0.1},
    "siren": {"kind": "inside_sounder", "room": "hall", "at": (2, 1), "level_dba": 110, "level_at_m": 1, "quiet_current_a": 0.0, "alarm_current_a": 0.4, "least_v": 9},
    "outside": {"kind": "outside_siren", "level_dba": 105, "level_at_m": 1, "quiet_current_a": 0.0},
    "contact": {"kind": "contact", "circuit": "loop", "quiet_current_a": 0.0},
    "free": {"kind": "motion", "link": "wireless", "room": "bed", "zone": "z",
             "wireless": {"signal": 60, "signal_asked": 40, "missing_after_s": 3600, "reports_low_battery": "yes", "battery": "lithium", "battery_lasts_years": 4}},
}  # fmt: skip
WIRING = {
    "loop": {"pull_up_ohm": 4700, "short_below": 0.15, "trip_above": 0.59, "cut_above": 0.87, "tolerance": 1},
    "supply": {"standby_battery_ah": 7, "rated_over_h": 20, "coldest_c": 15, "rule": "en_low", "charger_a": 0.5, "most_a": 1.5, "fitted_on": "2026-01-01", "lasts_years": 4},
    "boxes": [{"id": "router", "name": "Router", "draws_w": 8, "fed_by": "own_battery", "own_battery_wh": 900, "paths": ["net"]}],
    "runs": [{"id": "run", "name": "Run", "size": "18 AWG", "metal": "copper", "stops": [{"device": "siren", "metres": 20}]}],
}  # fmt: skip
SOUND = {"neighbour_m": 12, "boundary_m": 8, "limit_dba": 95, "doors": [{"passage": "door", "leaf": "hollow"}]}


def home(*changes: tuple[str, Any]) -> Home:
    """The quiet home, changed at dotted paths; a device or list element is found by its id."""
    document: Any = {
        "site": {"storeys": [{"id": "g", "name": "Ground"}], "rooms": [dict(room) for room in ROOMS], "passages": [{"id": "door", "first": "hall", "second": "bed", "at": (2, 2)}]},
        "devices": [{"id": name, "name": name.title(), **deepcopy(facts)} for name, facts in DEVICES.items()],
        "circuits": [dict(LOOP)], "control_unit": {"zones": [{"id": "z", "label": "Z"}], "times": {"siren_s": 300}},
        "wiring": {key: [dict(each) for each in part] if isinstance(part, list) else dict(part) for key, part in WIRING.items()},
        "sound": dict(SOUND), "rules": {"rule_set": "europe"},
        "messages": {"paths": [{"id": "net", "name": "Internet"}, {"id": "ear", "name": "By ear", "kind": "siren"}]},
    }  # fmt: skip
    for path, value in changes:
        *before, last = path.split(".")
        part = document
        for name in before:
            part = (
                next(each for each in part if each["id"] == name)
                if isinstance(part, list)
                else part.setdefault(name, {})
            )
        if isinstance(part, list):
            part.append(deepcopy(value))
        else:
            part[last] = deepcopy(value)
    return Home.model_validate(document)


def said(check: Any, of: Home) -> list[Finding]:
    return [each for each in check.result(of, TODAY) if isinstance(each, Finding)]


CHECKS = {check.id: check for module in (loops, radio, cable, battery, sound, fitting) for check in module.GROUP.checks}
MORE = [{"id": f"c{n}", "name": f"C{n}", "kind": "contact", "circuit": "loop"} for n in range(5)]
FIRE_LOOP = [
    ("circuits.+", {"id": "fire", "name": "Fire", "ending": "open_fire", "end_resistor_ohm": 4700}),
    ("devices.+", {"id": "s", "name": "S", "kind": "smoke", "circuit": "fire"}),
]
US_FIRE = [("wiring.supply.rule", "fire_us"), ("rules.rule_set", "us")]
CASES: list[tuple[str, list[tuple[str, Any]], str, str]] = [
    ("loops.states_touch", [("wiring.loop.tolerance", 20)], "should", "may not tell “secure” from"),
    ("loops.states_touch", [("wiring.loop.tolerance", 8), ("devices.+", MORE[0]), ("devices.+", MORE[1])], "note", "2 contacts open"),
    ("loops.misread", [("wiring.loop.trip_above", 0.67)], "must", "may read an open contact as secure"),
    ("loops.misread", [("wiring.loop.trip_above", 0.5)], "must", "may read it as tripped while it is quiet"),
    ("loops.short_and_cut", [("wiring.loop.short_below", 0.497)], "should", "may read a quiet circuit as short"),
    ("loops.short_and_cut", [("wiring.loop.short_below", 0.002)], "should", "may read a short as a quiet circuit"),
    ("loops.short_and_cut", [("wiring.loop.cut_above", 0.66)], "should", "may read an open contact as cut"),
    ("loops.short_and_cut", [("wiring.loop.leak_ohm", 20000), ("wiring.loop.cut_above", 0.87)], "should", "may read a cut as an open contact"),
    ("loops.many_contacts", [("devices.+", MORE[0])], "note", "2 contacts"),
    ("loops.many_contacts", [("devices.+", each) for each in MORE], "should", "From 6 open contacts on it may be read as cut"),
    ("loops.many_contacts", [*(("devices.+", each) for each in MORE), ("wiring.loop.cut_above", 0.76)], "should", "From 3 open contacts on"),
    ("loops.many_contacts", [("devices.+", MORE[0]), ("wiring.loop.cut_above", 0.66)], "should", "Even one open contact"),
    ("loops.many_contacts", [*(("devices.+", each) for each in MORE[:3]), ("wiring.loop.cut_above", None)], "should", "not known how many open contacts read as cut"),
    ("loops.many_contacts", [("devices.+", each) for each in MORE[:4]], "note", "Any number of open contacts reads as tripped"),
    ("loops.fire_circuits", [("devices.+", {"id": "s", "name": "S", "kind": "smoke", "circuit": "loop"})], "should", "shared with"),
    ("loops.fire_circuits", [("devices.+", {"id": "g", "name": "G", "kind": "carbon_monoxide", "circuit": "loop"})], "should", "fault contact in series"),
    ("loops.quiet_though_dead", [*FIRE_LOOP, ("circuits.fire.detectors_fed", "unwatched")], "should", "power fails"),
    ("loops.quiet_though_dead", FIRE_LOOP, "note", "may still read quiet"),
    ("loops.quiet_though_dead", [*FIRE_LOOP, ("circuits.fire.detectors_fed", "watched"), ("devices.s.kind", "carbon_monoxide"), ("devices.s.hazard", {"fault_contact": "no"})], "should", "sensor of S fails"),
    ("loops.short_and_cut", [*FIRE_LOOP, ("circuits.fire.detectors_fed", "watched"), ("wiring.loop.leak_ohm", 20000), ("wiring.loop.cut_above", 0.87)], "should", "may read a cut as quiet"),
    ("loops.cable_of_loop", [("circuits.loop.cable", "red")], "note", "no size"),
    ("loops.cable_of_loop", [("circuits.loop.length_m", 600)], "should", "adds more"),
    ("loops.damp", [("wiring.loop.leak_ohm", 5000)], "should", "damp"),
    ("loops.thresholds_unknown", [("wiring.loop.trip_above", None)], "note", "are not entered"),
    ("radio.unannounced_hole", [("devices.free.wireless", {"signal": 60, "signal_asked": 40})], "should", "nothing is known to announce that"),
    ("radio.unannounced_hole", [("devices.free.wireless.missing_after_s", 40000)], "note", "11.1 h"),
    ("radio.cell_ends_sooner", [("devices.free.wireless.battery_mah", 500), ("devices.free.wireless.rests_at_ua", 20), ("devices.free.wireless.report_mas", 20), ("devices.free.wireless.check_in_s", 600)], "should", "last less long than its manual says"),
    ("radio.signal_unread", [("devices.free.wireless.signal", None)], "note", "Signal: you have not entered it, or the least"),
    ("cable.too_few_volts", [("wiring.runs.run.size", "24 AWG"), ("wiring.runs.run.stops", [{"device": "siren", "metres": 30}])], "must", "too few volts"),
    ("cable.metal", [("wiring.runs.run.metal", "copper_clad")], "should", "copper-clad"),
    ("cable.metal", [("wiring.runs.run.metal", "unknown")], "note", "copper is assumed"),
    ("cable.thin_core_decides", [("wiring.runs.run.size", "0.22 mm²"), ("wiring.runs.run.stops", [{"device": "siren", "metres": 20}]), ("devices.siren.least_v", 9.04)], "should", "not at 95"),
    ("cable.need_unknown", [("devices.siren.least_v", None)], "note", "not entered the lowest voltage"),
    ("battery.too_small", [("wiring.supply.standby_battery_ah", 1.2)], "should", "smaller than"),
    ("battery.too_small", [*US_FIRE, ("wiring.supply.standby_battery_ah", 2.4)], "must", "smaller than the chosen rule"),
    ("battery.too_small", [*US_FIRE, ("wiring.supply.standby_battery_ah", 2.5)], "should", "once it has aged"),
    ("battery.too_small", [("wiring.supply.rule", "own"), ("wiring.supply.quiet_h", 12), ("wiring.supply.standby_battery_ah", 1.1)], "must", "smaller than the chosen rule"),
    ("battery.too_small", [("wiring.supply.standby_battery_ah", 1.6), ("wiring.supply.coldest_c", -15)], "should", "in the cold"),
    ("cable.length_unknown", [("wiring.runs.run.stops", [{"device": "siren"}])], "note", "has no length entered, so 0 m is assumed"),
    ("cable.length_unknown", [("devices.unit.room", "hall"), ("devices.unit.at", (8, 1)), ("wiring.runs.run.stops", [{"device": "siren"}])], "note", "m as planned is assumed"),
    ("loops.cable_of_loop", [("circuits.loop.length_m", None)], "note", "counts as no resistance at all"),
    ("loops.cable_of_loop", [("circuits.loop.length_m", None), ("devices.unit.room", "hall"), ("devices.unit.at", (8, 1)), ("devices.contact.room", "hall"), ("devices.contact.at", (0, 1))], "note", "as planned along the walls"),
    ("battery.too_small", [("wiring.supply.standby_battery_ah", None)], "note", "No standby battery"),
    ("battery.battery_undated", [("wiring.supply.fitted_on", "")], "note", "not entered the day it was fitted."),
    ("battery.battery_undated", [("wiring.supply.lasts_years", None)], "note", "not entered how long it lasts."),
    ("battery.runs_out", [("wiring.supply.standby_battery_ah", 1.4)], "should", "empty before"),
    ("battery.facts_missing", [("wiring.supply.rule", "unknown")], "note", "not chosen the rule"),
    ("battery.facts_missing", [("wiring.supply.rated_over_h", None)], "should", "not entered over how many hours it is rated"),
    ("battery.facts_missing", [("devices.contact.quiet_current_a", None)], "note", "counts as nothing"),
    ("battery.supply_overloaded", [("wiring.supply.most_a", 0.3)], "must", "more current"),
    ("battery.slow_to_charge", [("wiring.supply.charger_a", 0.1)], "should", "slow"),
    ("battery.boxes_without_standby", [("wiring.boxes.router.fed_by", "mains")], "should", "stops when the mains fails"),
    ("battery.boxes_without_standby", [("wiring.boxes.router.fed_by", "unknown")], "note", "not entered how long it goes on without mains"),
    ("battery.boxes_without_standby", [("wiring.boxes.router.own_battery_wh", 40)], "should", "before the alarm does"),
    ("battery.told_too_late", [("control_unit.behaviour.mains_hold_s", 86400), ("wiring.supply.standby_battery_ah", 5)], "should", "reported so late"),
    ("battery.told_too_late", [("control_unit.behaviour.mains_hold_s", 86400), ("wiring.supply.standby_battery_ah", 1.4)], "must", "reported so late"),
    ("battery.battery_due", [("wiring.supply.lasts_years", 1)], "should", "due soon"),
    ("battery.battery_due", [("wiring.supply.fitted_on", "2020-01-01")], "must", "past its time"),
    ("sound.at_the_pillow", [("sound.doors", [{"passage": "door", "leaf": "sealed"}]), ("devices.siren.level_dba", 95)], "should", "loud enough"),
    ("sound.at_the_pillow", [("devices.siren.level_dba", 100)], "should", "only a meter can tell"),
    ("sound.at_the_pillow", [("devices.siren.room", "bed"), ("devices.siren.at", (2, 4)), ("devices.siren.level_dba", 112)], "should", "can hurt ears"),
    ("sound.at_the_pillow", [("devices.siren.at", None)], "note", "cannot be computed"),
    ("sound.at_the_pillow", [("devices.siren.level_dba", 90), ("devices.+", {"id": "a", "name": "A", "kind": "smoke", "link": "own", "room": "bed", "at": (2, 5), "level_dba": 85, "level_at_m": 3})], "note", "household's own alarms are computed to reach the level"),
    ("sound.level_without_distance", [("devices.siren.level_at_m", None)], "should", "without its distance"),
    ("sound.level_without_distance", [("devices.siren.level_dba", None)], "note", "not entered how loud"),
    ("sound.readings_differ", [("sound.heard", [{"id": "h", "sounder": "siren", "room": "bed", "level_dba": 60}])], "note", "far from the calculated level"),
    ("sound.next_door", [("sound.limit_dba", 80)], "must", "louder at the boundary"),
    ("sound.next_door", [("sound.limit_dba", 88)], "should", "is near the limit"),
    ("sound.next_door", [("sound.neighbour_m", 400)], "should", "may not be heard"),
    ("fitting.reading_outside", [("circuits.loop.measured_ohm", 0.3)], "must", "reads short"),
    ("fitting.reading_outside", [("circuits.loop.earth_ohm", 20000)], "must", "touches metal"),
    ("fitting.reading_outside", [("circuits.loop.measured_ohm", 4900)], "should", "still reads it as quiet"),
    ("fitting.reading_outside", [("circuits.loop.measured_ohm", 4900), ("wiring.loop.pull_up_ohm", None)], "must", "more than it should"),
    ("fitting.reading_outside", [("circuits.loop.open_ohm", 9410), ("wiring.loop.cut_above", 0.65)], "must", "would read it as cut"),
    ("fitting.line_stopped", [("wiring.done", ["place", "cables", "devices", "resistors", "pair_loop"])], "note", "stops here"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("check", "changes", "verdict", "part"), CASES, ids=[f"{case[0]}-{n}" for n, case in enumerate(CASES)]
)
def test_a_check_speaks_when_it_should(check: str, changes: list[tuple[str, Any]], verdict: str, part: str) -> None:
    found = said(CHECKS[check], home(*changes))
    assert [f for f in found if f.verdict is Verdict(verdict) and part in f.message], [f.message for f in found]
    assert all(f.id == check for f in found)


FIGURES_ONLY = {f"{module}.worked_out" for module in ("loops", "battery", "cable", "radio", "sound")}
QUIET = sorted(set(CHECKS) - {"sound.ears_beside_it"})


@pytest.mark.parametrize("check", QUIET)
def test_and_keeps_still_on_a_good_home_and_a_blank_one(check: str) -> None:
    assert said(CHECKS[check], home()) == []
    assert said(CHECKS[check], Home()) == []


def test_every_check_has_a_case() -> None:
    assert {case[0] for case in CASES} | {"sound.ears_beside_it"} | FIGURES_ONLY == set(CHECKS)


@pytest.mark.parametrize("check", sorted(FIGURES_ONLY))
def test_what_is_worked_out_says_no_verdict(check: str) -> None:
    """Figures to follow, and nothing but figures; none of a blank home."""
    cell = {"battery_mah": 500, "rests_at_ua": 20, "report_mas": 20, "check_in_s": 600, "battery": "lithium"}
    found = list(CHECKS[check].result(home(("devices.free.wireless", cell)), TODAY))
    assert found
    assert all(isinstance(each, Figure) for each in found)
    assert list(CHECKS[check].result(Home(), TODAY)) == []


def test_ears_beside_a_sounder() -> None:
    """By NIOSH a person may hear 110 dB(A) for 89 s a day."""
    (found,) = said(CHECKS["sound.ears_beside_it"], home())
    assert "89 s" in found.message
    (softer,) = said(CHECKS["sound.ears_beside_it"], home(("devices.siren.level_dba", 94)))
    assert "60 min" in softer.message


@pytest.mark.parametrize(("spare_v", "short"), [(0.02, False), (-0.02, True)])
def test_volts_just_inside_and_outside(spare_v: float, short: bool) -> None:
    """20 m of 18 AWG at 30 °C carry 0.4 A: by hand 2 x 20 x 0.020949 x 1.0393 x 0.4 = 0.348 V of 10.5."""
    least_v = 10.5 - 2 * 20 * 0.020949 * 1.0393 * 0.4 - spare_v
    of = home(("devices.siren.least_v", least_v))
    assert bool(said(CHECKS["cable.too_few_volts"], of)) is short


def test_a_deliberately_bad_home_draws_its_findings() -> None:
    """Thin long cable, six contacts in one double loop, a damp joint, a small cold battery, router on the mains, one siren."""
    bad = home(
        ("wiring.runs.run.size", "24 AWG"), ("wiring.runs.run.stops", [{"device": "siren", "metres": 60}]),
        *(("devices.+", each) for each in MORE), ("circuits.loop.measured_ohm", 3900), ("wiring.loop.leak_ohm", 6000),
        ("wiring.supply.standby_battery_ah", 1.2), ("wiring.supply.coldest_c", -5), ("wiring.boxes.router.fed_by", "mains"),
        ("sound.doors", [{"passage": "door", "leaf": "sealed"}]), ("devices.siren.level_dba", 95),
    )  # fmt: skip
    found = {finding.id: finding for check in CHECKS.values() for finding in said(check, bad)}
    for name, part in {
        "cable.too_few_volts": "too few volts", "loops.many_contacts": "6 contacts", "loops.damp": "hide an open contact", "fitting.reading_outside": "damp in a joint",
        "battery.too_small": "smaller", "battery.runs_out": "empty before", "battery.boxes_without_standby": "stops when the mains fails", "sound.at_the_pillow": "loud enough",
    }.items():  # fmt: skip
        assert part in found[name].message, name


def _with_the_remedy(bad: Home) -> Home:
    """What `loops.many_contacts` says to do, done: one resistor across the whole row of contacts."""
    return Home.model_validate(bad.model_dump() | {"circuits": [LOOP | {"resistor_across_all": True}]})


def test_the_remedy_for_many_contacts_works() -> None:
    """Done in the model: the finding is gone, and every state is read as what it is, however many contacts are open."""
    bad = home(*(("devices.+", each) for each in MORE))
    check = CHECKS["loops.many_contacts"]
    (finding,) = said(check, bad)
    assert "one such resistor across them all" in finding.remedy
    good = _with_the_remedy(bad)
    assert said(check, good) == []
    for name in ("loops.short_and_cut", "loops.misread", "loops.states_touch"):
        assert said(CHECKS[name], good) == []
    loop = seen(good, good.circuits[0])
    assert loop is not None
    told = zip(states(loop.loop), made_of_bands(loop.loop, loop.bands, thresholds(good)), strict=True)
    assert {state.name: made for state, made in told} == {
        "short": (Made.SHORT,), "secure": (Made.QUIET,), "one or more contacts open": (Made.TRIPPED,), "cut": (Made.CUT,),
    }  # fmt: skip


def test_row_of_contacts_with_one_resistor_by_hand() -> None:
    """Solved apart from the library: six contacts in a row, one resistor across the row, the end resistor in series."""
    for opened in range(7):
        row = 4700.0 if opened else 6 * 0.2  # any open contact sends the current through the resistor across the row
        loop_share = (row + 4700) / (row + 4700 + 4700)
        assert made_of(loop_share, Ending.DOUBLE, thresholds(home())) is (Made.TRIPPED if opened else Made.QUIET)


def test_a_circuit_of_its_own_for_each_contact_is_a_remedy_too() -> None:
    bad = home(*(("devices.+", each) for each in MORE))
    ids = [device.id for device in bad.whole_devices if device.kind == "contact"]
    circuits = [LOOP | {"id": f"loop_{name}", "name": name} for name in ids]
    devices = [d.model_dump() | ({"circuit": f"loop_{d.id}"} if d.id in ids else {}) for d in bad.devices]
    good = Home.model_validate(bad.model_dump() | {"circuits": circuits, "devices": devices})
    assert said(CHECKS["loops.many_contacts"], good) == []
    assert said(CHECKS["loops.short_and_cut"], good) == []


def test_no_verdict_by_a_guessed_pull_up() -> None:
    """Thresholds are shares of the unit's own divider: without its pull-up none of them is held against a loop."""
    of = home(("wiring.loop.pull_up_ohm", None), ("wiring.loop.trip_above", 0.5))
    assert said(CHECKS["loops.misread"], of) == []
    assert "are not entered" in said(CHECKS["loops.thresholds_unknown"], of)[0].message


def test_a_reading_that_is_off_but_read_right_stops_no_line() -> None:
    done = ["place", "cables", "devices", "resistors", "pair_loop"]
    of = home(("wiring.done", done), ("circuits.loop.measured_ohm", 4900))
    assert said(CHECKS["fitting.line_stopped"], of) == []
    unknown = home(("wiring.done", done), ("circuits.loop.measured_ohm", 4900), ("wiring.loop.trip_above", None))
    assert "more than it should" in said(CHECKS["fitting.line_stopped"], unknown)[0].message


@pytest.mark.parametrize(("ah", "cold"), [(1.2, 15), (1.6, -15), (1.4, 15)])
def test_the_battery_that_is_named_serves(ah: float, cold: float) -> None:
    """The next usual size, put in, leaves no finding on its size or its course; the size below it does not serve."""
    of = home(("wiring.supply.standby_battery_ah", ah), ("wiring.supply.coldest_c", cold))
    found = [f for name in ("too_small", "runs_out") for f in said(CHECKS[f"battery.{name}"], of)]
    assert found
    size = usual_ah(of)
    assert size is not None
    assert all(f"The next usual size that is enough is {size:g} Ah." in f.remedy for f in found)
    smaller = [each for each in USUAL_AH if each < size][-1]
    for battery_ah, serves in ((size, True), (smaller, False)):
        tried = home(("wiring.supply.standby_battery_ah", battery_ah), ("wiring.supply.coldest_c", cold))
        assert serves is not any(said(CHECKS[f"battery.{name}"], tried) for name in ("too_small", "runs_out"))


def test_a_larger_battery_says_when_the_charger_is_too_weak() -> None:
    weak = home(("wiring.supply.standby_battery_ah", 1.2), ("wiring.supply.charger_a", 0.02))
    assert (
        "Your charger would take 124 h to fill it; your rules ask for 72 h."
        in said(CHECKS["battery.too_small"], weak)[0].remedy
    )
    hungry = home(("wiring.supply.standby_battery_ah", 7), ("devices.unit.quiet_current_a", 9))
    assert "No usual battery is large enough" in said(CHECKS["battery.too_small"], hungry)[0].remedy


def test_factor_and_cold_have_sources_of_their_own() -> None:
    """1.25 is practice, 20 % is NFPA's from memory, the British 1.25 is in its own formula; so is the cold's part."""
    for rule, source in (
        ("en_low", "battery_factor"),
        ("fire_us", "nfpa72_margin"),
        ("premises_britain", "bs5839_1_battery"),
    ):
        (figure,) = (
            f for f in CHECKS["battery.too_small"].result(home(("wiring.supply.rule", rule))) if isinstance(f, Figure)
        )
        assert source in figure.sources
        assert {"battery_cold", "battery_cold_factor"} <= set(figure.sources)


def test_battery_is_judged_by_the_day() -> None:
    """By hand: fitted on 2026-01-01 for 4 years: fine until 2029-10-03, soon until 2030-01-01, past after it."""
    check = CHECKS["battery.battery_due"]
    days = ((2029, 10, 2, ""), (2029, 10, 4, "due soon"), (2030, 1, 1, "due soon"), (2030, 1, 2, "past its time"))
    for year, month, day, part in days:
        found = [f.message for f in check.result(home(), date(year, month, day)) if isinstance(f, Finding)]
        assert [part in each for each in found] == ([True] if part else [])
    assert list(check.result(home(), None)) == []
