"""Home files of versions 0.1 to 0.4 (the demo home of each, from the project's history) are opened by this one.

Each leaf of an old file is looked for in the home that it became; one that has gone nowhere fails. The control unit
of these homes was played by the code of 0.4 with a seeded sequence of events (`played_by_0_4.json.gz`): what it gave
out in each second is what it gives out now, with the old words in place of the new ones.
"""

import gzip
import json
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from alarmlib.control import inputs
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.machine import step
from alarmlib.control.setup import start_state
from alarmlib.model import Home
from alarmlib.store.document import parsed
from alarmlib.store.upgrade import upgraded

EARLIER = Path(__file__).parent / "earlier"
VERSIONS = ("0_1", "0_2", "0_3", "0_4")
# Written by hand, apart from what the upgrade reads: what each field and each value is called now.
FIELDS = {
    "unit": "control_unit", "final_door": "entry_exit", "can_disarm": "can_unset", "free_when_away": "free_when_empty",
    "quiet_time_s": "sleep_s", "movement_restarts_quiet": "movement_restarts_sleep", "out_of_service": "out_of_use",
    "cross_zone_s": "confirmation_s", "open_at_arming": "open_at_setting", "panic_silent": "hold_up_silent",
    "has_panic": "has_hold_up", "looks_before_arming": "looks_before_setting", "wire_free": "wireless",
    "wire_free_slots": "wireless_slots", "tells_apart": "recognises", "partner": "confirmed_by",
    "battery_ah": "standby_battery_ah", "cell_mah": "battery_mah",
    "shut_ohm": "closed_ohm",
}  # fmt: skip
FUNCTIONS = {
    "final_door": "entry_exit", "interior_delayed": "entry_exit", "perimeter": "at_once", "interior": "at_once",
    "day": "warn_unset", "always_audible": "always_siren", "always_silent": "always_message", "panic": "hold_up",
    "cold": "low_temperature",
}  # fmt: skip
KINDS = {"panic_button": "hold_up", "cold": "low_temperature", "outside_sounder": "outside_siren",
         "message_sender": "communicator"}  # fmt: skip
VALUES = {
    "function": FUNCTIONS, "functions": FUNCTIONS, "link": {"wire_free": "wireless"},
    "fed_by": {"alarm_battery": "standby_battery"},
    "state": {"out_of_service": "out_of_use"}, "event": {"cold": "low_temperature", "trouble": "fault"},
    "begins_in": {"away": "set_full", "part": "part_set"}, "open_at_arming": {"bypass_once": "inhibit_once"},
    "deed": {"arm_away": "set_full", "arm_part": "set_part", "disarm": "unset", "fob_arm": "fob_set",
             "fob_disarm": "fob_unset", "bypass": "inhibit", "panic": "hold_up"},
}  # fmt: skip


def old_file(version: str) -> bytes:
    return gzip.decompress((EARLIER / f"home_of_{version}.json.gz").read_bytes())


def old_document(version: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(old_file(version))
    return found


def leaves(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Every value of a document that holds no other, with its path; an empty list is one."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else None
    if not inner:
        yield path, value
    for name, each in inner or ():
        yield from leaves(each, (*path, name))


def now_called(path: tuple[Any, ...], value: Any) -> tuple[tuple[Any, ...], Any]:
    """Where an old leaf should be now, and what it should be."""
    where = tuple(FIELDS.get(name, name) if isinstance(name, str) else name for name in path)
    field = next((name for name in reversed(path) if isinstance(name, str)), "")
    words = VALUES.get(field, {})
    if path[0] in ("devices", "prices") and field == "kind":
        words = KINDS
    return where, words.get(value, value) if isinstance(value, str) else value


def as_whole(home: Home) -> dict[str, Any]:
    """The home as a document in which each device has every fact, those of its type too."""
    found: dict[str, Any] = json.loads(home.model_dump_json())
    found["devices"] = [json.loads(device.model_dump_json()) for device in home.whole_devices]
    return found


def gone(old: dict[str, Any], new: dict[str, Any]) -> list[str]:
    """The leaves of the old document that are nowhere in the new one, or are another value there."""
    lost = []
    for path, value in leaves(old):
        where, wanted = now_called(path, value)
        if where == ("schema_version",):
            continue
        if where[:3] == ("control_unit", "limits", "functions"):
            found = new["control_unit"]["limits"]["functions"]
            if value != [] and wanted not in found:
                lost.append(f"{path}: {value} is not among {found}")
            continue
        held: Any = new
        if where[-1] == "least_v":  # asked at each cable once, now the device's own
            ids = [each["id"] for each in old["devices"]]
            stop = old["wiring"]["runs"][path[2]]["stops"][path[4]]
            where = ("devices", ids.index(stop["device"]), "least_v")
        for name in where:
            held = held[name] if isinstance(held, list) else held.get(name, "nowhere") if held != "nowhere" else held
        if held != wanted:
            lost.append(f"{path}: {value!r} should be {wanted!r} at {where}, but is {held!r}")
    return lost


@pytest.mark.parametrize("version", VERSIONS)
def test_an_old_file_opens__each_fact_is_found_again(version: str) -> None:
    home = parsed(old_file(version), "home.json")
    assert len(list(leaves(old_document(version)))) > 4000
    assert gone(old_document(version), as_whole(home)) == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("devices", 3, "range_m"), 99.0),
        (("wiring", "runs", 0, "stops", 0, "least_v"), 8.0),
        (("household", "habits", 0, "steps", 0, "deed"), "panic"),
        (("name",), "x"),
    ],
)
def test_a_leaf_that_went_elsewhere_is_seen(path: tuple[Any, ...], value: Any) -> None:
    """The comparison can fail: one leaf changed after the upgrade is named."""
    old = old_document("0_4")
    new = as_whole(parsed(old_file("0_4"), "home.json"))
    held: Any = old
    for name in path[:-1]:
        held = held[name]
    held[path[-1]] = value
    assert len(gone(old, new)) == 1


def test_the_upgrade_leaves_the_old_document_as_it_was() -> None:
    old = old_document("0_4")
    before = deepcopy(old)
    upgraded(old, "home.json")
    assert old == before


RENAMED = (
    (("unit", "limits", "tells_apart"), "circuits", ("control_unit", "limits", "recognises")),
    (("short_path", "tells_apart"), "devices", ("short_path", "recognises")),
    (("unit", "zones", 0, "partner"), "hall_motion", ("control_unit", "zones", 0, "confirmed_by")),
    (("wiring", "supply", "battery_ah"), 17.0, ("wiring", "supply", "standby_battery_ah")),
    (("inherited", "items", 0, "shut_ohm"), 47.0, ("inherited", "items", 0, "closed_ohm")),
    (("devices", 0, "wire_free"), {"cell_mah": 1300.0}, ("devices", 0, "wireless", "battery_mah")),
)


@pytest.mark.parametrize(("place", "value", "now"), RENAMED)
def test_what_was_entered_under_an_old_name_is_at_the_new_one(
    place: tuple[Any, ...], value: Any, now: tuple[Any, ...]
) -> None:
    """Each renamed field with a value that no old file holds there."""
    old = old_document("0_4")
    held: Any = old
    for name in place[:-1]:
        held = held[name]
    held[place[-1]] = value
    found: Any = as_whole(parsed(json.dumps(old).encode(), "home.json"))
    for name in now:
        found = found[name]
    assert found == (value["cell_mah"] if isinstance(value, dict) else value)


def test_two_cables_that_said_two_voltages_of_a_device__the_higher_counts_and_the_other_is_noted() -> None:
    old = old_document("0_4")
    first = old["wiring"]["runs"][0]
    stop = first["stops"][0]
    old["wiring"]["runs"].append(first | {"id": "more", "name": "More", "stops": [stop | {"least_v": 9.6}]})
    home = parsed(json.dumps(old).encode(), "home.json")
    device = next(each for each in home.whole_devices if each.id == stop["device"])
    assert (device.least_v, device.note) == (
        9.6,
        f"Another cable gave its lowest voltage as {stop['least_v']:g} V.",
    )


# --- two functions that became one: the unit does what it did ---

OTHERWISE = {"landing_motion": "interior_delayed", "living_motion": "perimeter", "dining_window": "interior",
             "pass_door": "final_door", "study_window": "interior_delayed"}  # fmt: skip


def otherwise(document: dict[str, Any]) -> dict[str, Any]:
    """The old home with functions that do not follow from where the devices are, and a delay entered for one inside."""
    for zone in document["unit"]["zones"]:
        if zone["id"] in OTHERWISE:
            zone |= {"function": OTHERWISE[zone["id"]], "chime": False}
    night = next(part for part in document["unit"]["part_sets"] if part["id"] == "night")
    night["left_out"] = [name for name in night["left_out"] if name != "landing_motion"]
    night["doors"].append({"zone": "landing_motion", "delayed": False})
    return document


EVENTS = {
    "Arm": "SetArea", "Disarm": "UnsetArea", "Bypass": "Inhibit", "OutOfService": "OutOfUse", "Panic": "HoldUpPressed",
    "TroubleBegins": "FaultBegins", "TroubleEnds": "FaultEnds",
}  # fmt: skip
SAID = {"bypassed": "inhibited", "trouble": "fault", "trouble_over": "fault_over", "cold": "low_temperature",
        "day": "warn_unset"}  # fmt: skip
PLAYED = json.loads(gzip.decompress((EARLIER / "played_by_0_4.json.gz").read_bytes()))


def said_now(token: str) -> str:
    """An old token in today's words; ids keep theirs."""
    kind, *words = token.split(" ")
    at = {0, 1} if kind != "log" or words[0] in {"refused", "message"} else {0}
    found = [SAID.get(word, word) if n in at else word for n, word in enumerate(words)]
    return " ".join((kind, *found))


def tokens(out: Any) -> list[str]:
    """What is given out in a second, as the recorder of 0.4 wrote it."""
    found = {f"siren {x.area} {x.pattern} {'i' * x.inside}{'o' * x.outside}" for x in out.sirens}
    found |= {f"tone {x.area} {x.tone}" for x in out.tones}
    found |= {" ".join(w for w in ("message", x.area, x.kind, *x.about, *x.marks) if w) for x in out.messages}
    found |= {" ".join(w for w in ("shown", x.area, x.notice, *x.about) if w) for x in out.shown}
    found |= {" ".join(w for w in ("refused", x.area, x.reason, x.about) if w) for x in out.refusals}
    found |= {" ".join(w for w in ("log", x.event, x.about) if w) for x in out.log}
    return sorted(found)


@pytest.mark.parametrize(
    "played", PLAYED, ids=[f"{p['home']}-{p['season'] or 'ordinary'}-{p['changed']}" for p in PLAYED]
)
def test_the_control_unit_does_what_it_did(played: dict[str, Any]) -> None:
    """Second by second what the code of 0.4 gave out, from the same home and the same events."""
    document = old_document(played["home"])
    document = otherwise(document) if played["changed"] else document
    home = parsed(json.dumps(document).encode(), "home.json")
    setup = setup_from_home(home, played["season"])
    happens, told = dict(played["inputs"]), dict(played["outputs"])
    state = start_state(setup)
    for second in range(played["seconds"]):
        events = tuple(getattr(inputs, EVENTS.get(kind, kind))(**given) for kind, given in happens.get(second, ()))
        state, out = step(setup, state, events)
        assert tokens(out) == sorted(map(said_now, told.get(second, ()))), second


def test_folded_functions_keep_their_difference_where_the_devices_do_not_show_it() -> None:
    home = parsed(json.dumps(otherwise(old_document("0_4"))).encode(), "home.json")
    said = {zone.id: zone.passed_leaving for zone in home.control_unit.zones if zone.passed_leaving != "unknown"}
    assert said == {"living_motion": "no", "dining_window": "yes", "study_window": "yes"}
    assert not [zone for zone in parsed(old_file("0_4"), "x").control_unit.zones if zone.passed_leaving != "unknown"]
