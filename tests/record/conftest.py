"""A small lived-in home with something in every part of the record, and its assessment."""

from typing import Any

import pytest

from alarmlib.calc.figure import Figure
from alarmlib.checks.finding import Assessment, Finding, Verdict
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.blocks import Record
from alarmlib.record.produce import FINISHED, demo_home, record_of

ROOMS = [
    {"id": "hall", "name": "Hall", "storey": "ground", "use": "hall", "outline": [[0, 0], [2, 0], [2, 6], [0, 6]]},
    {"id": "kitchen", "name": "Kitchen", "storey": "ground", "use": "kitchen", "smoke_alarm_made": 2019,
     "outline": [[2, 0], [6, 0], [6, 3], [2, 3]], "water_sources": ["dishwasher"]},
    {"id": "living", "name": "Living room", "storey": "ground", "use": "living",
     "outline": [[2, 3], [6, 3], [6, 6], [2, 6]]},
    {"id": "bedroom", "name": "Bedroom", "storey": "upper", "use": "bedroom", "sleeps_here": True},
]  # fmt: skip
OPENINGS = [
    {"id": "front", "name": "Front door", "room": "hall", "kind": "door", "at": [1, 0], "entry_exit": True,
     "reach": "ground", "lock": "needs_work", "to_do": "new strike plate"},
    {"id": "back", "name": "Kitchen door", "room": "kitchen", "kind": "door", "at": [4, 0], "entry_exit": True,
     "escape_way": True, "opens_without_key": "no"},
    {"id": "window", "name": "Living room window", "room": "living", "at": [6, 4.5], "reach": "ground"},
]  # fmt: skip
DEVICES = [
    {"id": "front_contact", "name": "Front door contact", "kind": "contact", "room": "hall", "openings": ["front"],
     "zone": "front", "at": [1, 0], "circuit": "loop_1"},
    {"id": "hall_motion", "name": "Hall detector", "kind": "motion", "link": "wireless", "room": "hall",
     "zone": "hall", "at": [0.2, 5.8], "facing_deg": -60, "sleep_s": 150, "state": "fitted",
     "wireless": {"slot": 4, "check_in_s": 900, "battery": "lithium", "battery_fitted_on": "2026-01-10"}},
    {"id": "smoke", "name": "Landing smoke detector", "kind": "smoke", "room": "bedroom", "zone": "smoke"},
    {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "hall", "at": [2, 1],
     "quiet_current_a": 0.03, "alarm_current_a": 0.08},
    {"id": "unit", "name": "Control unit", "kind": "control_unit", "room": "kitchen", "at": [4, 0]},
    {"id": "siren", "name": "Siren", "kind": "outside_siren", "level_dba": 100, "level_at_m": 1},
]  # fmt: skip
UNIT = {
    "times": {"entry_s": 35, "exit_s": 55, "siren_s": 290, "doors": [{"id": "b", "opening": "back", "entry_s": 25}]},
    "areas": [{"id": "house", "name": "House"}],
    "zones": [
        {"id": "front", "label": "Front door", "place": "10", "function": "entry_exit", "areas": ["house"],
         "circuit": "loop_1", "chime": True, "reason": "The family comes home by it"},
        {"id": "hall", "label": "Hall", "place": "2", "function": "entry_route", "areas": ["house"]},
        {"id": "smoke", "label": "Smoke", "place": "3", "function": "fire"},
    ],
    "part_sets": [{"id": "night", "name": "Night", "area": "house", "left_out": ["hall"],
                   "doors": [{"zone": "front", "delayed": False}]}],
    "seasons": [{"id": "winter", "name": "Winter", "months": [12, 1, 2], "entry_s": 45}],
}  # fmt: skip
HOUSEHOLD = {
    "people": [{"id": "grandparent", "role": "grandparent", "age": "older", "slow": True, "sleeps_in": "bedroom"}],
    "pets": [{"id": "dog", "kind": "dog", "mass_kg": 18, "free_in_day": ["hall", "kitchen"]}],
    "visitors": [{"id": "cleaner", "role": "cleaner", "door": "front", "can_unset": True}],
    "walks": [{"id": "w1", "person": "grandparent", "door": "front", "first_s": 19, "second_s": 22, "third_s": 21}],
    "habits": [{"id": "shopping", "name": "Home with shopping", "who": "grandparent",
                "steps": [{"id": "s1", "deed": "open", "place": "front", "seconds": 4},
                          {"id": "s2", "deed": "unset", "place": "keypad"}]}],
}  # fmt: skip
MESSAGES = {
    "paths": [{"id": "mobile", "name": "Mobile", "kind": "mobile"}],
    "responders": [{"id": "neighbour", "role": "neighbour", "minutes_away": 4, "holds_key": True}],
    "messages": [{"id": "m1", "event": "burglary", "to": ["neighbour"], "paths": ["mobile"], "wait_s": 90}],
}
LOG = {
    "tests": [
        {"id": "t1", "on": "2026-11-01", "device": "front_contact", "seen": "nothing", "cause": "magnet too far"},
        {"id": "t2", "on": "2026-11-02", "device": "front_contact", "seen": "as_expected", "retest_of": "t1"},
        {"id": "t3", "on": "2026-11-02", "device": "hall_motion", "seen": "other_zone", "seen_zone": "front"},
    ],
    "events": [{"id": "e1", "on": "2026-11-05", "zone": "hall", "cause": "balloon"}],
}


@pytest.fixture(scope="session")
def demo() -> Home:
    """The demo home."""
    return demo_home()


@pytest.fixture(scope="session")
def demo_records(demo: Home) -> dict[Share, Record]:
    """The demo home's record for each circle of readers, made once."""
    return {copy: record_of(demo, copy, "2026-11-25") for copy in Share}


@pytest.fixture(scope="session")
def finished_record() -> Record:
    """The owner's record of the finished demo home, as the first command writes it, but for its proof."""
    return record_of(demo_home(FINISHED), Share.OWNER, "2026-11-25")


@pytest.fixture
def facts() -> dict[str, Any]:
    """The home as a file holds it; tests may change it before they validate it."""
    site = {
        "storeys": [{"id": "ground", "name": "Ground floor"}, {"id": "upper", "name": "Upstairs", "level": 1}],
        "rooms": ROOMS,
        "openings": OPENINGS,
        "passages": [{"id": "p1", "first": "hall", "second": "kitchen", "at": [2, 1.5]}],
        "answers": [{"id": "lighting", "heading": "grounds", "found": "needs_work"}],
    }
    circuits = [{"id": "loop_1", "name": "Loop 1", "ending": "single", "end_resistor_ohm": 4700}]
    inherited = {"items": [{"id": "i1", "what": "old siren", "room": "hall"}]}
    parts = {"household": HOUSEHOLD, "messages": MESSAGES, "log": LOG, "circuits": circuits, "inherited": inherited}
    return {"name": "Brook Cottage", "site": site, "devices": DEVICES, "control_unit": UNIT, **parts}


@pytest.fixture
def home(facts: dict[str, Any]) -> Home:
    """The lived-in home."""
    return Home.model_validate(facts)


@pytest.fixture
def assessment() -> Assessment:
    """Two figures, a finding of each weight, a skipped fact."""
    figures = (
        Figure(
            "fitters_delay", 35.0, "s", "slowest walk × 1.5, up to the next 5 s", (("walk 1", "22 s"),), ("practice",)
        ),
        Figure("chance_in_time.grandparent", "too late about one evening in 50", "", "P = Φ(z)", (), ("computed",)),
        Figure("zones", 3.0, "", "one a function and room", (), ("computed",)),
    )
    findings = (
        Finding("f1", "back", Verdict.MUST, "The kitchen door has no contact.", "Fit one.", "owner"),
        Finding(
            "f2", "front", Verdict.SHOULD, "The entry delay is short.", "Set 40 s.", "practice", "35 s", "33 s", "2 s"
        ),
        Finding("f3", "window", Verdict.NOTE, "The window is seen from the street.", "", "practice"),
        Finding("f4", "smoke", Verdict.OK, "Smoke is always on.", "", "practice"),
    )
    return Assessment(figures, findings, ("How fast does the grandparent walk?",))
