"""What a manual says is entered once: a device takes it from its type, and differs where its owner says so."""

from typing import Any

import pytest

from alarmlib.calc.choosing.device_candidates import USUAL_ANGLE_DEG, USUAL_RANGE_M
from alarmlib.checks.home.missing import missing
from alarmlib.model import Home
from alarmlib.model.devices import Device, DeviceEntry, DeviceType, HazardEntry, PlaceFacts, TypeFacts, WirelessEntry
from alarmlib.model.kind_facts import KINDS, belongs
from alarmlib.model.plain_types import PLAIN_TYPES, with_plain_type
from alarmlib.model.words import HAZARD_KINDS, DeviceKind, Link
from alarmlib.widgets.spec import fields_of

TYPE = {
    "id": "eyes", "name": "Hall detectors", "kind": "motion", "link": "wireless", "range_m": 11.0, "sleep_s": 150.0,
    "tamper": "yes", "wireless": {"battery": "lithium", "check_in_s": 1200.0}, "hazard": {"hush": "yes"},
}  # fmt: skip


def home(**device: Any) -> Home:
    entry = {"id": "eye", "name": "Eye", "type": "eyes", **device}
    return Home.model_validate({"device_types": [TYPE], "devices": [entry]})


def eye(**device: Any) -> Device:
    (only,) = home(**device).whole_devices
    return only


def test_a_device_has_the_facts_of_its_type() -> None:
    device = eye()
    assert (device.kind, device.link, device.range_m, device.sleep_s) == ("motion", "wireless", 11.0, 150.0)
    assert device.wireless is not None and (device.wireless.battery, device.wireless.check_in_s) == ("lithium", 1200.0)


def test_its_own_facts_stay_its_own() -> None:
    device = eye(room="", height_m=2.2, wireless={"slot": 7, "signal": 60.0})
    assert device.wireless is not None
    assert (device.height_m, device.wireless.slot, device.wireless.check_in_s) == (2.2, 7, 1200.0)


@pytest.mark.parametrize(
    ("field", "value"), [("range_m", 8.0), ("sleep_s", 0.0), ("tamper", "no"), ("tamper", "unknown")]
)
def test_it_differs_where_it_says_so(field: str, value: Any) -> None:
    """Nought, no and unknown are differences too; only silence is the type's."""
    assert getattr(eye(**{field: value}), field) == value
    assert getattr(eye(), field) != value


def test_a_device_that_is_wired_after_all_has_no_radio() -> None:
    """The fix “a wired detector in its place” says of the device alone that it is wired."""
    assert eye(link="wired").wireless is None


def test_facts_of_smoke_are_no_motion_detectors() -> None:
    assert eye().hazard is None


def test_without_a_type_every_fact_is_its_own() -> None:
    (device,) = Home.model_validate({"devices": [{"id": "a", "name": "A", "kind": "contact"}]}).whole_devices
    assert (device.kind, device.link, device.sleep_s, device.wireless) == ("contact", "wired", 0, None)


def test_it_needs_a_type_or_a_kind() -> None:
    with pytest.raises(ValueError, match="choose its type"):
        Home.model_validate({"devices": [{"id": "a", "name": "A"}]})


def test_a_type_that_is_not_there_is_reported() -> None:
    with pytest.raises(ValueError, match="no device type"):
        home(type="gone")


def test_a_copy_with_other_types_has_other_devices() -> None:
    """Regression: what was worked out once must not go along into a copy."""
    before = home()
    assert before.whole_devices[0].range_m == 11.0
    farther = DeviceType.model_validate(TYPE | {"range_m": 15.0})
    assert before.model_copy(update={"device_types": (farther,)}).whole_devices[0].range_m == 15.0


def test_what_does_not_differ_is_not_written() -> None:
    written = home(range_m=8.0).model_dump(mode="json")["devices"][0]
    assert "range_m" in written
    assert not {"sleep_s", "kind", "tamper"} & written.keys()


def test_no_reader_can_read_a_difference_alone() -> None:
    """To the type checker an entry has only what is its own: none of the facts that a type may say.

    A reader that took a fact from an entry would not pass mypy; `Device` alone has both.
    """
    assert not set(PlaceFacts.model_fields) & set(TypeFacts.model_fields)
    assert set(DeviceEntry.model_fields) == set(Device.model_fields)


def test_a_blank_choice_of_a_device_says_that_its_type_decides() -> None:
    """And a choice that is the device's own does not."""
    tamper, state = fields_of(DeviceEntry, ("tamper", "state"))
    assert dict(tamper.choices_in(home()))[""] == "as its type says"
    assert "" not in dict(state.choices_in(home()))


# --- fields asked ---


def asked(kind: DeviceKind, link: Link) -> list[str]:
    """What is asked of each device of a kind, its type's facts being entered."""
    of = DeviceType(id="t", name="t", kind=kind, link=link)
    own = [name for name in PlaceFacts.model_fields if belongs(of, (name,))]
    if link is Link.WIRELESS:
        own += ["slot", "battery_fitted_on", "signal", "repeater", "trips_a_day"]
    return own


def test_fewer_facts_are_asked_of_a_device() -> None:
    """Version 0.4 asked 62 facts of each device, its id among them; of its own it now has 18 at most, wired 14.

    One more is a type's now: down to which voltage it works was asked at each cable.
    """
    parts = (DeviceEntry, WirelessEntry, HazardEntry)
    assert sum(len(part.model_fields) for part in parts) == 62 + 1 + 2 + 1  # the two parts themselves, and the type
    assert max(len(asked(kind, Link.WIRELESS)) for kind in DeviceKind) == 18
    assert max(len(asked(kind, Link.WIRED)) for kind in DeviceKind) == 14
    assert len(asked(DeviceKind.FOB, Link.WIRELESS)) < len(asked(DeviceKind.MOTION, Link.WIRELESS))


def test_a_row_has_only_what_belongs_to_its_kind() -> None:
    contact = DeviceType(id="c", name="c", kind=DeviceKind.CONTACT)
    for name in ("angle_deg", "slowest_m_s", "level_dba", "hazard", "wireless"):
        assert not belongs(contact, (name,)), name
    assert belongs(contact, ("contact_gap_mm",))
    assert not belongs(contact, ("hazard", "sense"))
    assert not belongs(contact, ("wireless", "battery"))


def test_nothing_that_was_entered_is_hidden() -> None:
    odd = DeviceType(id="c", name="c", kind=DeviceKind.CONTACT, angle_deg=90)
    assert belongs(odd, ("angle_deg",))


def test_every_fact_with_kinds_is_a_fact() -> None:
    for path in KINDS:
        part = {"hazard": HazardEntry, "wireless": WirelessEntry}.get(path.partition(".")[0], DeviceEntry)
        name = path.partition(".")[2] or path
        assert name in part.model_fields or path in DeviceEntry.model_fields


# --- plain types ---


def test_plain_types_are_named_as_assumed() -> None:
    """Their values are those of common practice that the choice of detectors uses; the record tells of them."""
    motion = next(each for each in PLAIN_TYPES if each.id == "plain_motion_wireless")
    assert (motion.range_m, motion.angle_deg, motion.assumed) == (USUAL_RANGE_M, USUAL_ANGLE_DEG, True)
    bare = with_plain_type(Home(), motion)
    assert not [line for line in missing(bare) if motion.name in line]
    used = Home.model_validate(bare.model_dump() | {"devices": [{"id": "a", "name": "A", "type": motion.id}]})
    (line,) = (line for line in missing(used) if motion.name in line)
    assert "range 12 m" in line
    assert "no source" in line
    known = motion.model_copy(update={"assumed": False})
    assert not [line for line in missing(used.model_copy(update={"device_types": (known,)})) if motion.name in line]


def test_a_plain_type_is_taken_once() -> None:
    once = with_plain_type(Home(), PLAIN_TYPES[0])
    assert with_plain_type(once, PLAIN_TYPES[0]) == once
    assert all(each.hazard is not None and each.wireless is not None for each in PLAIN_TYPES)
    assert {each.kind for each in PLAIN_TYPES} & HAZARD_KINDS
