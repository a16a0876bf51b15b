"""What the record says of a fault is what the simulated control unit does with it."""

from typing import Any

import pytest

from alarmlib.checks.assess import assess
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.inputs import FaultBegins, SetArea
from alarmlib.control.layout import SET_FULL_AT, A
from alarmlib.control.machine import run
from alarmlib.model import Home
from alarmlib.model.words import FaultKind, Share
from alarmlib.record.context import Context
from alarmlib.record.plain import plain_blocks
from alarmlib.record.sections.front.calculations import sources_used
from alarmlib.record.sections.settings.messages import system_faults


def home(rules: str, grade: int, open_at_setting: str | None) -> Home:
    """A siren with a tamper switch, a wireless contact that reports its battery, a message path."""
    radio = {"reports_low_battery": "yes", "missing_after_s": 60}
    devices: list[dict[str, Any]] = [
        {"id": "siren", "name": "Siren", "kind": "outside_siren", "tamper": "yes"},
        {"id": "other", "name": "Other siren", "kind": "inside_sounder"},
        {
            "id": "contact",
            "name": "Contact",
            "kind": "contact",
            "link": "wireless",
            "zone": "door",
            "wireless": radio,
        },
    ]
    unit: dict[str, Any] = {
        "areas": [{"id": "house", "name": "House"}],
        "zones": [{"id": "door", "label": "Door", "function": "at_once", "areas": ["house"]}],
        "behaviour": {"open_at_setting": open_at_setting},
    }
    messages = {"paths": [{"id": "mobile", "name": "Mobile", "kind": "mobile"}]}
    return Home.model_validate(
        {"rules": {"rule_set": rules, "grade": grade}, "devices": devices, "control_unit": unit, "messages": messages}
    )


def is_set(home: Home, kind: FaultKind, override: bool) -> bool:
    """Whether the unit sets with that fault after 30 minutes of it, played second by second."""
    setup = setup_from_home(home)
    watch = next(watch.id for watch in setup.watches if watch.kind is kind)
    played = run(setup, {1: [FaultBegins(watch)], 1800: [SetArea("house", override=override)]}, 1802)
    return played[-1].state[setup.layout.area_of["house"].base + A.SET] == SET_FULL_AT


def told(home: Home) -> dict[str, str]:
    table, _ = system_faults.build(Context(home, assess(home), Share.OWNER, "2026-11-25"))
    return {row[0]: row[-1] for row in table.rows}


@pytest.mark.parametrize("open_at_setting", [None, "refuses", "inhibit_once"])
@pytest.mark.parametrize(
    ("rules", "grade"), [("us", 2), ("europe", 1), ("europe", 2), ("britain", 2), ("australasia", 2)]
)
def test_each_fault_is_told_as_it_is_played(rules: str, grade: int, open_at_setting: str | None) -> None:
    """Seen before: "see the unit's manual" for clock and device battery, with which the unit refused to be set."""
    place = home(rules, grade, open_at_setting)
    for kind in FaultKind:
        text = told(place)[kind.text]
        assert is_set(place, kind, override=False) is text.startswith("No, it can be set"), kind
        assert is_set(place, kind, override=True) is ("No, it" in text or "unless a person overrides" in text), kind


def test_the_basis_is_named() -> None:
    text = plain_blocks(
        system_faults.build(Context(home("europe", 2, None), assess(Home()), Share.OWNER, "2026-11-25"))
    )
    assert "by EN 50131-1, table 4, at grade 2." in text
    assert "papers" not in text


def test_the_basis_is_among_the_sources() -> None:
    """Where the table says by which standard setting is refused, the record's list of sources has it, and how far seen.

    Seen before: the section named the standard and the list did not.
    """
    for rules, listed in (("europe", 1), ("britain", 1), ("us", 0)):
        text = plain_blocks(
            sources_used.build(Context(home(rules, 2, None), assess(Home()), Share.HELPER, "2026-11-25"))
        )
        assert text.count("8.3.4 to 8.3.6, table 4. How it is known: seen") == listed
