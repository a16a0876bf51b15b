"""The devices of an older home get types: through its type each device has every value that it had."""

import json
import random
from copy import deepcopy
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.model.devices import Device, DeviceType
from alarmlib.store.upgrade_device_types import FEW, with_device_types

KINDS = ("contact", "motion", "smoke", "heat", "keypad", "fob")


def device(number: int, draw: random.Random) -> dict[str, Any]:
    """A device of before: every fact its own, most of them as its kind has them, some otherwise, some blank."""
    kind, link = draw.choice(KINDS), draw.choice(("wired", "wireless", "own"))
    facts: dict[str, Any] = {
        "id": f"d{number}",
        "name": f"Device {number}",
        "kind": kind,
        "link": link,
        "state": draw.choice(("planned", "fitted")),
        "height_m": draw.choice((None, 2.0, 2.2)),
        "sleep_s": draw.choice((0.0, 150.0)),
        "has_hold_up": draw.random() < 0.1,
        "range_m": draw.choice((None, 11.0, 12.0)),
        "tamper": draw.choice(("unknown", "yes", "no")),
        "movement_restarts_sleep": draw.random() < 0.1,
        "note": draw.choice(("", "By the window.")),
    }
    if draw.random() < 0.6:
        facts["wireless"] = {
            "slot": number,
            "battery": draw.choice(("unknown", "lithium")),
            "check_in_s": draw.choice((None, 1200.0)),
            "signal": draw.choice((None, 50.0)),
        }
    if draw.random() < 0.4:
        facts["hazard"] = {"hush": draw.choice(("unknown", "yes")), "from_wall_m": draw.choice((None, 0.5))}
    return {name: value for name, value in facts.items() if name in ("id", "name", "kind") or draw.random() < 0.9}


def values(home: Home) -> list[dict[str, Any]]:
    return [each.model_dump(mode="json", exclude={"type"}) for each in home.whole_devices]


@pytest.mark.parametrize("seed", range(60))
def test_each_device_has_the_values_it_had(seed: int) -> None:
    """Field by field, whatever is blank, alike or odd in it."""
    draw = random.Random(seed)
    old = {"devices": [device(n, draw) for n in range(draw.randint(0, 40))]}
    before, kept = Home.model_validate(old), deepcopy(old)
    after = Home.model_validate(with_device_types(old))
    assert old == kept
    assert values(after) == values(before)
    assert all(entry.type for entry in after.devices)


def test_devices_that_are_alike_share_a_type__one_that_differs_a_little_says_so() -> None:
    alike = [{"id": f"c{n}", "name": f"Contact {n}", "kind": "contact", "contact_gap_mm": 20.0} for n in range(5)]
    odd = {"id": "odd", "name": "Odd", "kind": "contact", "contact_gap_mm": 12.0}
    found = with_device_types({"devices": [*alike, odd]})
    assert [each["id"] for each in found["device_types"]] == ["contact_wired"]
    assert found["device_types"][0]["name"] == "Contact, wired"
    assert found["devices"][-1] == {"id": "odd", "name": "Odd", "type": "contact_wired", "contact_gap_mm": 12.0}
    assert found["devices"][0] == {"id": "c0", "name": "Contact 0", "type": "contact_wired"}


def test_what_differs_much_or_has_no_words_for_it_gets_a_type_of_its_own() -> None:
    """A blank cannot say that it is blank where the type has a value; and few differences are few."""
    eyes = [{"id": f"e{n}", "name": "E", "kind": "motion", "range_m": 11.0, "angle_deg": 90.0, "warm_up_s": 60.0,
             "slowest_m_s": 0.3} for n in range(3)]  # fmt: skip
    blank = {"id": "blank", "name": "B", "kind": "motion", "angle_deg": 90.0, "warm_up_s": 60.0, "slowest_m_s": 0.3}
    other = {"id": "other", "name": "O", "kind": "motion", "range_m": 8.0, "angle_deg": 80.0, "warm_up_s": 30.0,
             "slowest_m_s": 0.3}  # fmt: skip
    assert FEW == 2
    assert len(with_device_types({"devices": [*eyes, blank, other]})["device_types"]) == 3


@pytest.mark.parametrize(
    "devices", [None, "x", [1], [{"id": "a"}], [{"id": "a", "kind": 3}], [{"kind": "contact", "wireless": 4}]]
)
def test_what_is_no_device_is_left_to_those_who_say_so(devices: Any) -> None:
    found = with_device_types({"devices": devices})
    assert found["devices"] == devices


def test_the_step_names_every_fact_of_today() -> None:
    """What it takes as a device's own is just that: a field that moved between the two would be seen here."""
    every = json.loads(Device(id="a", name="A", kind="smoke", link="wireless").model_dump_json())  # type: ignore[arg-type]
    parts = {"wireless": Device.model_fields["wireless"], "hazard": Device.model_fields["hazard"]}
    every |= {name: {} for name in parts}
    found = with_device_types({"devices": [every | {"range_m": 5.0, "level_dba": 85.0}]})
    DeviceType.model_validate(found["device_types"][0])
    assert not set(found["device_types"][0]) - set(DeviceType.model_fields)
