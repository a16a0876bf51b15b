# ruff: noqa: E501 - one home a line reads best
"""Every finding that must be fixed, on what it rests, and where it binds: collected from the checks, and kept as a list."""

import ast
import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from alarmlib.calc.electrical.battery import standby_of
from alarmlib.checks import finding as finding_module
from alarmlib.checks.assess import CHECKS, FULL_CHECKS
from alarmlib.checks.check import must, weigh
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model import Home
from alarmlib.model.wiring import StandbyRule
from alarmlib.model.words import RuleSet
from alarmlib.rules import ALL
from alarmlib.sources import Status, cite, every_source

TODAY = date(2026, 11, 25)
REVIEWED = Path(__file__).with_name("musts.txt")
CHECKED = Path(finding_module.__file__).parent
Put = Callable[[Home, dict[str, Any]], Home]
Edits = dict[str, Any]

_FREE = {
    "id": "extra",
    "name": "extra",
    "kind": "contact",
    "link": "wireless",
    "openings": ["living_window"],
    "room": "living",
    "zone": "living_window",
}
_EAR = {
    "id": "ear",
    "name": "ear",
    "kind": "glass_break",
    "room": "living",
    "at": [0, 0],
    "range_m": 2,
    "openings": ["living_window"],
}
_FED = {"quiet_current_a": 0.1, "alarm_current_a": 0.5}
_SUPPLY = {"standby_battery_ah": 20, "rated_over_h": 20}
_RUN = {"id": "run", "name": "run", "size": "24 AWG", "stops": [{"device": "siren", "metres": 200}]}
_LOOP = {
    "id": "loop",
    "name": "loop",
    "ending": "double",
    "end_resistor_ohm": 4700,
    "contact_resistor_ohm": 4700,
    "cable": "0.22 mm²",
    "length_m": 20,
}
_UNIT_READS = {"pull_up_ohm": 4700, "short_below": 0.15, "cut_above": 0.87, "tolerance": 1}
_HABIT = {
    "id": "h",
    "name": "late",
    "begins_in": "part_set",
    "part_set": "night",
    "steps": [{"id": "s", "deed": "unset"}],
}
_TEST = {"id": "t1", "on": "2026-10-01", "device": "smoke", "seen": "as_expected", "seen_zone": "fire"}
_WINTER = {
    "id": "winter",
    "name": "Winter",
    "months": [12],
    "zones": [{"zone": "living_motion", "function": "warn_unset"}],
}
_NO_ALARMS = {
    f"site.rooms.{room}.{kind}": "no"
    for room in ("hall", "living", "kitchen", "landing", "bedroom", "bath")
    for kind in ("smoke_alarm", "carbon_monoxide_alarm")
} | {"devices.smoke": None}
_CO = _NO_ALARMS | {"site.fuel_appliances": "yes", "hazards.permit_work": True}
_CO_ELSEWHERE = {"devices.+": {"id": "co", "name": "co", "kind": "carbon_monoxide", "link": "own", "room": "kitchen"}}
_CONTACTS = [
    {"id": f"c{n}", "name": f"c{n}", "kind": "contact", "room": "living", "zone": "living_window"} for n in range(11)
]


def _wireless(**facts: Any) -> Edits:
    return {"devices.+": _FREE | {"wireless": facts}}


def _on_loop(**unit: Any) -> Edits:
    return {
        "circuits": [_LOOP],
        "devices.living_window_contact.circuit": "loop",
        "wiring": {"loop": _UNIT_READS | unit},
    }


def _fed(**supply: Any) -> Edits:
    return {
        "devices.unit.quiet_current_a": 0.1,
        "devices.unit.alarm_current_a": 0.5,
        "wiring": {"supply": _SUPPLY | supply},
    }


def _tested(**test: Any) -> Edits:
    return {"devices.smoke.state": "fitted", "log.tests.+": _TEST | test}


# One home a line: the house of `conftest`, in which nothing must be fixed, and what draws a finding that must be.
DRAWS: tuple[Edits, ...] = (
    {"site.openings.front_door.escape_way": True, "site.openings.front_door.opens_without_key": "no"},
    {"devices.unit.room": "kitchen", "devices.kitchen_window_contact": None},
    {"site.openings.living_window.gap_mm": 30, "devices.living_window_contact.contact_gap_mm": 20},
    {"control_unit.zones.fire.function": "unused"},
    {"control_unit.zones.fire.function": "at_once"},
    {"control_unit.limits.functions": ["entry_exit", "entry_route", "fire", "hold_up"]},
    {"devices": [{"id": "unit", "name": "unit", "kind": "control_unit", "room": "living"}, *_CONTACTS]},
    {"control_unit.zones.front_door.function": "at_once"},
    {"control_unit.zones.fire.label": "x" * 17},
    {"circuits": [{"id": "a", "name": "a"}, {"id": "b", "name": "b"}], "devices.smoke.circuit": "a", "control_unit.zones.fire.circuit": "b"},
    {"control_unit.limits.zones": 6},
    _wireless(slot=3) | {"devices.smoke.wireless": {"slot": 3}},
    {"control_unit.part_sets.night.doors": [{"zone": "front_door", "delayed": False}], "household.habits.+": _HABIT},
    {"control_unit.seasons.+": _WINTER, "control_unit.limits.functions": ["entry_exit", "at_once", "entry_route", "fire", "hold_up"]},
    {"control_unit.limits.entry": {"low_s": 10, "high_s": 60, "step_s": 10}},
    {"household.walks.+": {"id": "w", "person": "one", "door": "front_door", "first_s": 36}},
    {"control_unit.times.siren_s": 601},
    {"rules.siren_limit_hour_s": 600},
    {"control_unit.behaviour.repeat_trip_limit": 7},
    {"control_unit.zones.living_motion.confirmed_by": "living_motion"},
    _wireless(check_in_s=7200, missing_after_s=3600),
    _wireless(signal=39, signal_asked=40),
    _wireless(battery_fitted_on="2020-01-01", battery_lasts_years=2),
    {"control_unit.zones.hold_up.function": "at_once"},
    {"site.rooms.living.outline": [[0, 0], [5, 0], [5, 4], [0, 4]], "site.openings.living_window.at": [5, 2], "devices.+": _EAR},
    {"messages.paths": [{"id": "net", "name": "net", "works_without_mains": "no"}], **{f"messages.messages.{e}.paths": ["net"] for e in ("burglary", "fire", "hold_up")}},
    _tested(seen="nothing"),
    _tested(seen_zone="hold_up"),
    _NO_ALARMS,
    _CO,
    _CO | _CO_ELSEWHERE,
    _CO | _CO_ELSEWHERE | {"site.rooms.bedroom.fuel_appliance": True},
    _CO | _CO_ELSEWHERE | {"hazards.carbon_monoxide_in_bedrooms": True, "hazards.permit_work": False},
    _NO_ALARMS | {"site.passages.+": {"id": "beside", "first": "landing", "second": "living", "kind": "door"}},
    _on_loop(trip_above=0.67),
    _on_loop(trip_above=0.5),
    {"circuits": [_LOOP | {"measured_ohm": 0.3}], "devices.living_window_contact.circuit": "loop", "wiring": {"loop": _UNIT_READS | {"trip_above": 0.59}}},
    _fed(most_a=0.3),
    _fed(fitted_on="2018-01-01", lasts_years=4),
    _fed(rule="own", quiet_h=12) | {"wiring.supply.standby_battery_ah": 1},
    _fed(standby_battery_ah=1) | {"control_unit.behaviour.mains_hold_s": 86400},
    {"devices.siren.alarm_current_a": 1, "devices.siren.least_v": 10, "wiring": {"runs": [_RUN]}},
    {"devices.siren.level_dba": 120, "devices.siren.level_at_m": 1, "sound.boundary_m": 2, "sound.limit_dba": 70},
)  # fmt: skip


def _beyond_each_limit() -> Iterator[Edits]:
    """A delay one second outside each bound of the tables."""
    for rules in ALL.values():
        for name, limits in (("entry_s", rules.entry), ("exit_s", rules.exit)):
            for bound, step_s in ((limits.least, -1), (limits.most, 1)):
                if bound is not None:
                    yield {f"control_unit.times.{name}": bound.value_s + step_s}


def _by_each_rule() -> Iterator[Edits]:
    """A battery far too small, by each standby rule there is."""
    for rule in StandbyRule:
        if standby_of(rule):
            yield _fed(rule=rule.value, standby_battery_ah=0.2)


def homes(house: Home, put: Put) -> list[Home]:
    """Every home that draws something that must be fixed, under every country's rules."""
    edits = (*DRAWS, *_beyond_each_limit(), *_by_each_rule())
    return [put(house, each | {"rules.rule_set": rules.value}) for each in edits for rules in RuleSet]


def found_in(home: Home) -> Iterator[Finding]:
    """What must be fixed in a home."""
    for check in (*CHECKS, *FULL_CHECKS):
        for each in check.result(home, TODAY):
            if isinstance(each, Finding) and each.verdict is Verdict.MUST:
                yield each


def kind_of_subject(home: Home, found: Finding) -> str:
    """What the finding is about: the list of the home that holds its subject, or its own word.

    The house gives a zone the id of its opening or detector; which of them is meant, the sentence says.
    """
    lists = {
        "opening": home.site.openings, "device": home.whole_devices, "zone": home.control_unit.zones, "room": home.site.rooms,
        "storey": home.site.storeys, "part set": home.control_unit.part_sets, "season": home.control_unit.seasons, "circuit": home.circuits,
        "person": home.household.people, "run of cable": home.wiring.runs, "message path": home.messages.paths,
    }  # fmt: skip
    held = [kind for kind, items in lists.items() if any(item.id == found.subject for item in items)]
    if "zone" in held and (found.id.startswith("zones.") or found.message.startswith("Zone")):
        return "zone"
    return "control unit" if found.subject == "unit" else held[0] if held else found.subject


def table_text(house: Home, put: Put) -> str:
    """The list: check, subject, source, edition, clause, what it was written for, status, rules that drew it."""
    drawn: dict[tuple[str, str, str], set[str]] = {}
    for home in homes(house, put):
        for each in found_in(home):
            row = (each.id, kind_of_subject(home, each), each.source)
            drawn.setdefault(row, set()).add(home.rules.rule_set.value)
    lines = [
        "# Every finding that must be fixed. A new line here is to be reviewed: was its source seen, is it about homes?"
    ]
    for (check, subject, key), rule_sets in sorted(drawn.items()):
        source = cite(key)
        where = " ".join(rules.value for rules in RuleSet if rules.value in rule_sets)
        lines.append(
            f"{check} | {subject} | {key} | {source.cited} | {source.scope or 'any home'} | {source.status.value} | {where}"
        )
    return "\n".join([*lines, ""])


def test_the_house_itself_draws_none(house: Home, put: Put) -> None:
    """The home beside all of them: nothing in it must be fixed, under any country's rules."""
    for rules in RuleSet:
        assert list(found_in(put(house, {"rules.rule_set": rules.value}))) == []


def test_the_list_is_as_reviewed(house: Home, put: Put) -> None:
    """A new or moved one fails here until somebody has looked at it: write the list again with ALARM_REVIEWED=1."""
    text = table_text(house, put)
    if os.environ.get("ALARM_REVIEWED") == "1":
        REVIEWED.write_text(text, encoding="utf-8", newline="\n")
    assert text == REVIEWED.read_text(encoding="utf-8")


class Site(NamedTuple):
    """One place in the checks that may say that something must be fixed."""

    module: str
    function: str
    first: int
    last: int


# They call `gap` or `weigh` and can never say "must": a British rule, advice that doesn't bind, a source from memory.
NEVER = {
    ("british_alarms", "rooms_of_the_category"), ("alarm_places", "at_the_stairs"), ("carbon_monoxide", "on_every_level"),
}  # fmt: skip
MAKERS = {"must", "weigh", "gap"}


def _sites() -> Iterator[Site]:
    for path in sorted(CHECKED.rglob("*.py")):
        for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(function, ast.FunctionDef) and path.stem != "check":
                for node in ast.walk(function):
                    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in MAKERS:
                        yield Site(path.stem, function.name, node.lineno, node.end_lineno or node.lineno)


def test_every_place_that_can_say_must_is_in_the_list(house: Home, put: Put, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each call of `must`, `weigh` and `gap` in the checks is one of those that a home above has drawn."""
    reached: set[tuple[str, int]] = set()
    real = Finding.__post_init__

    def noted(self: Finding) -> None:
        real(self)
        frame = sys._getframe(1) if self.verdict is Verdict.MUST else None
        while frame is not None:
            path = Path(frame.f_code.co_filename)
            if CHECKED in path.parents:
                reached.add((path.stem, frame.f_lineno))
            frame = frame.f_back

    monkeypatch.setattr(Finding, "__post_init__", noted)
    for home in homes(house, put):
        list(found_in(home))
    sites = set(_sites())
    assert len(sites) > 40
    silent = {
        site for site in sites if not any(m == site.module and site.first <= line <= site.last for m, line in reached)
    }
    assert {(site.module, site.function) for site in silent} == NEVER, sorted(silent)


def test_makers_of_a_must_are_called_by_name_only() -> None:
    """No check hands `must` on under another name, where the test above would not see it."""
    for path in sorted(CHECKED.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        called = {id(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
        brought = {alias.name for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for alias in node.names}
        names = [node for node in ast.walk(tree) if isinstance(node, ast.Name) and node.id in MAKERS & brought]
        loose = [node.lineno for node in names if id(node) not in called]
        assert path.stem == "check" or loose == [], (path.name, loose)
        made = [n for n in ast.walk(tree) if isinstance(n, ast.Call) and ast.unparse(n.func) in {"Finding", "replace"}]
        raw = [node.lineno for node in made if "Verdict.MUST" in ast.unparse(node)]
        assert path.stem == "check" or raw == [], (path.name, raw)


@pytest.mark.parametrize("source", [source.key for source in every_source()])
def test_a_must_rests_on_what_was_seen_and_is_about_homes(source: str) -> None:
    """In one place, the finding itself, however it is made; a rule elsewhere weighs as "should"."""
    good = cite(source).status in {Status.SEEN, Status.OWNER} and not cite(source).elsewhere
    if good:
        assert must("hall", "M.", "R.", source).verdict is Verdict.MUST
        assert weigh(True, "hall", "M.", "R.", source).verdict is Verdict.MUST
        assert weigh(False, "hall", "M.", "R.", source).verdict is Verdict.SHOULD
        return
    assert weigh(True, "hall", "M.", "R.", source).verdict is Verdict.SHOULD
    with pytest.raises(ValueError, match="should"):
        must("hall", "M.", "R.", source)
    with pytest.raises(ValueError, match="should"):
        replace(must("hall", "M.", "R.", "owner"), source=source)
