"""Everything that is fitted in the invented home, its circuits and what each kind cost."""

from alarmlib.model.base import Point
from alarmlib.model.circuits import Circuit, DetectorFeed, Ending
from alarmlib.model.devices import BatteryKind, Device, DeviceState, Wireless
from alarmlib.model.hazards import HazardFacts, Mount, SmokeSense
from alarmlib.model.home import Price
from alarmlib.model.site import Yes
from alarmlib.model.words import HAZARD_KINDS, Link
from alarmlib.model.words import DeviceKind as K

YES, NO = Yes.YES, Yes.NO

# id, name, kind, room, openings or passages guarded, at, height m, zone, circuit
Wired = tuple[str, str, K, str, tuple[str, ...], Point, float, str, str]
_WIRED: tuple[Wired, ...] = (
    ("studio_key_switch", "Studio key switch", K.KEY_SWITCH, "studio", (), (23.5, 8.6), 1.3, "studio_key",
     "studio_key_loop"),
    ("cellar_light_contact", "Cellar light contact", K.CONTACT, "store_cellar", ("cellar_light",), (0.0, 3.0), 1.8,
     "cellar_light", "cellar_loop"),
    ("cellar_motion", "Cellar motion detector", K.MOTION, "store_cellar", (), (0.1, 0.1), 2.0, "cellar_motion",
     "cellar_motion_loop"),
    ("cellar_water", "Cellar water detector", K.WATER, "boiler_room", (), (11.5, 0.5), 0.0, "cellar_water",
     "water_loop"),
    ("cellar_smoke", "Cellar smoke detector", K.SMOKE, "store_cellar", (), (5.0, 3.0), 2.1, "smoke", "smoke_loop"),
    ("front_door_contact", "Front door contact", K.CONTACT, "hall", ("front_door",), (6.1, 0.0), 2.0, "front_door",
     "front_door_loop"),
    ("hall_motion", "Hall motion detector", K.MOTION, "hall", (), (7.1, 5.9), 2.2, "hall_motion", "hall_loop"),
    ("living_front_contact", "Living room front contact", K.CONTACT, "living", ("living_front_window",), (2.5, 0.0),
     1.9, "living_windows", "living_loop"),
    ("living_side_contact", "Living room side contact", K.CONTACT, "living", ("living_side_window",), (0.0, 2.5), 1.9,
     "living_windows", "living_loop"),
    ("living_motion", "Living room motion detector", K.MOTION, "living", (), (0.1, 0.1), 2.2, "living_motion",
     "living_motion_loop"),
    ("study_contact", "Study window contact", K.CONTACT, "study", ("study_window",), (9.6, 0.0), 1.9, "study_window",
     "study_loop"),
    ("hall_smoke", "Hall smoke detector", K.SMOKE, "hall", (), (6.1, 3.0), 2.5, "smoke", "smoke_loop"),
    ("landing_smoke", "Landing smoke detector", K.SMOKE, "landing", (), (6.1, 3.0), 2.4, "smoke", "smoke_loop"),
    ("kitchen_heat", "Kitchen heat detector", K.HEAT, "kitchen", (), (7.0, 7.5), 2.5, "kitchen_heat", "heat_loop"),
    ("outside_siren", "Outside siren", K.OUTSIDE_SIREN, "main_bedroom", (), (1.0, 0.0), 2.3, "sounder_tamper",
     "sounder_tamper_loop"),
    ("inside_sounder", "Inside sounder", K.INSIDE_SOUNDER, "hall", (), (7.1, 2.6), 2.3, "", ""),
    ("hall_keypad", "Hall keypad", K.KEYPAD, "hall", (), (7.1, 3.6), 1.4, "", ""),
    ("control_unit", "Control unit", K.CONTROL_UNIT, "box_room", (), (11.9, 8.0), 1.6, "", ""),
    ("power_supply", "Power supply", K.POWER_SUPPLY, "box_room", (), (11.9, 8.6), 1.6, "", ""),
    ("communicator", "Communicator", K.COMMUNICATOR, "box_room", (), (11.9, 7.2), 1.6, "", ""),
)  # fmt: skip

# id, name, kind, room, openings or passages guarded, at, height m, zone, slot, signal
Free = tuple[str, str, K, str, tuple[str, ...], Point | None, float | None, str, int, float]
_FREE: tuple[Free, ...] = (
    ("dining_contact", "Dining room contact", K.CONTACT, "dining", ("dining_window",), (0.0, 7.0), 1.9,
     "dining_window", 1, 74),
    ("conservatory_contact", "Conservatory door contact", K.CONTACT, "conservatory", ("conservatory_door",),
     (0.0, 10.5), 2.0, "conservatory_door", 2, 58),
    ("back_door_contact", "Back door contact", K.CONTACT, "kitchen", ("back_door",), (6.4, 9.0), 2.0, "back_door", 3,
     71),
    ("kitchen_window_contact", "Kitchen window contact", K.CONTACT, "kitchen", ("kitchen_window",), (8.6, 9.0), 2.0,
     "kitchen_window", 4, 69),
    ("pantry_contact", "Pantry window contact", K.CONTACT, "pantry", ("pantry_window",), (12.0, 7.5), 2.2,
     "pantry_window", 5, 66),
    ("kitchen_motion", "Kitchen motion detector", K.MOTION, "kitchen", (), (5.1, 8.9), 2.2, "kitchen_motion", 6, 72),
    ("utility_motion", "Utility room motion detector", K.MOTION, "utility", (), (8.7, 3.1), 2.2, "utility_motion", 7,
     70),
    ("pass_door_contact", "Pass door contact", K.CONTACT, "utility", ("pass_door",), (12.0, 4.5), 2.0, "pass_door", 8,
     64),
    ("garage_door_contact", "Garage door contact", K.CONTACT, "garage", ("garage_door",), (15.0, 0.0), 0.2,
     "garage_door", 9, 47),
    ("garage_motion", "Garage motion detector", K.MOTION, "garage", (), (17.9, 5.9), 2.2, "garage_motion", 10, 49),
    ("garage_shock", "Garage window shock detector", K.SHOCK, "garage", ("garage_window",), (18.0, 3.0), 1.8,
     "garage_window", 11, 46),
    ("living_glass", "Living room glass-break detector", K.GLASS_BREAK, "living", (), (4.9, 4.6), 2.3, "living_glass",
     12, 73),
    ("landing_motion", "Landing motion detector", K.MOTION, "landing", (), (5.1, 0.1), 2.1, "landing_motion", 13, 82),
    ("spare_contact", "Spare room contact", K.CONTACT, "spare_room", ("spare_room_window",), (2.5, 9.0), 1.8,
     "spare_window", 14, 76),
    ("teen_contact", "Teenager's window contact", K.CONTACT, "teen_room", ("teen_room_window",), (12.0, 1.2), 1.8,
     "teen_window", 15, 80),
    ("older_contact", "Grandparent's window contact", K.CONTACT, "older_room", ("older_room_window",), (12.0, 4.2),
     1.8, "older_window", 16, 84),
    ("box_contact", "Box room contact", K.CONTACT, "box_room", ("box_room_window",), (10.0, 9.0), 1.8, "box_window", 34,
     88),
    ("bedroom_hold_up", "Bedside hold-up button", K.HOLD_UP, "main_bedroom", (), (0.4, 2.0), 0.7, "hold_up", 17, 78),
    ("boiler_co", "Boiler room CO detector", K.CARBON_MONOXIDE, "boiler_room", (), (9.6, 4.5), 1.7, "co", 18, 44),
    ("landing_co", "Landing CO detector", K.CARBON_MONOXIDE, "landing", (), (7.0, 2.4), 1.6, "co", 19, 81),
    ("utility_frost", "Utility room frost sensor", K.LOW_TEMPERATURE, "utility", (), (11.8, 3.2), 0.5, "frost", 20, 68),
    ("studio_contact", "Studio door contact", K.CONTACT, "studio", ("studio_door",), (23.5, 9.5), 2.0,
     "studio_door", 21, 49),
    ("studio_window_contact", "Studio window contact", K.CONTACT, "studio", ("studio_window",), (25.0, 7.0),
     1.9, "studio_window", 22, 47),
    ("studio_motion", "Studio motion detector", K.MOTION, "studio", (), (27.9, 7.1), 2.3, "studio_motion", 23,
     48),
    ("studio_heat", "Studio heat detector", K.HEAT, "studio", (), (25.0, 9.5), 3.2, "studio_heat", 24, 46),
    ("studio_cold", "Studio frost sensor", K.LOW_TEMPERATURE, "studio", (), (27.5, 11.5), 0.5, "studio_frost",
     25, 45),
    ("utility_keypad", "Utility room keypad", K.KEYPAD, "utility", (), (11.9, 5.6), 1.4, "", 26, 67),
    ("landing_keypad", "Landing keypad", K.KEYPAD, "landing", (), (5.1, 2.2), 1.4, "", 27, 83),
    ("studio_keypad", "Studio keypad", K.KEYPAD, "studio", (), (23.6, 10.8), 1.4, "", 33, 51),
    ("landing_sounder", "Landing sounder", K.INSIDE_SOUNDER, "landing", (), (9.8, 5.9), 2.2, "", 28, 82),
    ("repeater", "Repeater", K.REPEATER, "garage", (), (17.8, 1.0), 2.2, "", 29, 55),
    ("parent_fob", "First parent's fob", K.FOB, "", (), None, None, "", 30, 60),
    ("teen_fob", "Teenager's fob", K.FOB, "", (), None, None, "", 31, 60),
    ("older_fob", "Grandparent's fob", K.FOB, "", (), None, None, "", 32, 60),
)  # fmt: skip

_PASSAGE_IDS = {"pass_door", "landing_box"}
_FACING = {
    "hall_motion": 245.0, "living_motion": 45.0, "cellar_motion": 45.0, "kitchen_motion": 315.0,
    "utility_motion": 45.0, "garage_motion": 225.0, "garage_corner_motion": 300.0,
    "landing_motion": 65.0, "studio_motion": 135.0,
}  # fmt: skip
_LEVEL = {"outside_siren": 104.0, "inside_sounder": 100.0, "landing_sounder": 95.0}
_ALARM_A = {"outside_siren": 0.32, "inside_sounder": 0.18, "hall_keypad": 0.09, "communicator": 0.25}
_QUIET_A = {"control_unit": 0.11, "communicator": 0.06, "hall_keypad": 0.035, "outside_siren": 0.008}
PRICES = {
    K.CONTACT: 14.0, K.MOTION: 39.0, K.SHOCK: 34.0, K.GLASS_BREAK: 44.0, K.SMOKE: 42.0, K.HEAT: 40.0,
    K.CARBON_MONOXIDE: 49.0, K.WATER: 28.0, K.LOW_TEMPERATURE: 26.0, K.HOLD_UP: 25.0, K.KEY_SWITCH: 38.0,
    K.KEYPAD: 79.0, K.FOB: 22.0, K.INSIDE_SOUNDER: 36.0, K.OUTSIDE_SIREN: 88.0, K.REPEATER: 65.0, K.CONTROL_UNIT: 240.0,
    K.POWER_SUPPLY: 72.0, K.COMMUNICATOR: 110.0,
}  # fmt: skip


def _facts(id_: str, kind: K) -> dict[str, object]:
    motion, fob = kind is K.MOTION, kind is K.FOB
    level = _LEVEL.get(id_)
    return {
        "state": DeviceState.FITTED,
        "facing_deg": _FACING.get(id_),
        "range_m": 11.0 if motion else None,
        "angle_deg": 88.0 if motion else None,
        "slowest_m_s": 0.3 if motion else None,
        "ignores_pets_kg": 18.0 if motion else None,
        "straight_range_m": 8.0 if motion else None,
        "looks_down_deg": 84.0 if motion else None,
        "warm_up_s": 60.0 if motion else 0.0,
        "tamper": NO if fob else YES,
        "contact_gap_mm": 22.0 if kind is K.CONTACT else None,
        "level_dba": level,
        "level_at_m": 1.0 if level else None,
        "has_hold_up": id_ in {"older_fob", "hall_keypad"},
        "standby": YES,
        "made_on": "2026-02-10",
        "fitted_on": "2026-09-19",
        "price": PRICES[kind],
    }


def _guarded(ids: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    return {"passages": ids} if set(ids) & _PASSAGE_IDS else {"openings": ids}


def _wired(row: Wired) -> Device:
    id_, name, kind, room, guarded, at, height_m, zone, circuit = row
    quiet = _QUIET_A.get(id_, 0.0 if kind in {K.CONTACT, K.KEY_SWITCH, K.POWER_SUPPLY} else 0.012)
    facts = _facts(id_, kind) | _guarded(guarded)
    facts |= {"quiet_current_a": quiet, "alarm_current_a": _ALARM_A.get(id_, quiet)}
    if id_ == "outside_siren":
        facts["note"] = "Mounted outside, beside the window of this room."
    return Device.model_validate(
        dict(id=id_, name=name, kind=kind, link=Link.WIRED, room=room, at=at, height_m=height_m, zone=zone,
             circuit=circuit, **facts)
    )  # fmt: skip


_COIN = {K.FOB, K.HOLD_UP}
_ALKALINE = {K.KEYPAD, K.INSIDE_SOUNDER}


def _battery(kind: K) -> BatteryKind:
    if kind is K.REPEATER:
        return BatteryKind.MAINS
    if kind in _COIN:
        return BatteryKind.COIN
    return BatteryKind.ALKALINE if kind in _ALKALINE else BatteryKind.LITHIUM


def free(row: Free) -> Device:
    """A wireless device, from its row."""
    id_, name, kind, room, guarded, at, height_m, zone, slot, signal = row
    motion, carried = kind is K.MOTION, kind is K.FOB
    facts = _facts(id_, kind) | _guarded(guarded)
    facts |= {"sleep_s": 150.0 if motion else 0.0, "movement_restarts_sleep": id_ == "landing_motion"}
    free = Wireless(
        slot=slot,
        check_in_s=None if carried else 1200.0,
        missing_after_s=None if carried else 7200.0,
        battery=_battery(kind),
        battery_fitted_on="2026-09-19",
        battery_lasts_years={BatteryKind.COIN: 2.0, BatteryKind.ALKALINE: 1.5}.get(_battery(kind), 4.0),
        reports_low_battery=YES,
        signal=signal,
        signal_asked=40.0,
    )
    return Device.model_validate(
        dict(id=id_, name=name, kind=kind, link=Link.WIRELESS, room=room, at=at, height_m=height_m, zone=zone,
             wireless=free, **facts)
    )  # fmt: skip


# id, name, kind, room, at, height m, made on, from the wall m
Household = tuple[str, str, K, str, Point, float, str, float]
_HOUSEHOLD: tuple[Household, ...] = (
    ("hall_alarm", "Hall smoke alarm", K.SMOKE, "hall", (6.1, 2.4), 2.5, "2024-03-12", 1.0),
    ("landing_alarm", "Landing smoke alarm", K.SMOKE, "landing", (6.1, 2.4), 2.4, "2024-03-12", 1.0),
    ("cellar_alarm", "Store cellar smoke alarm", K.SMOKE, "store_cellar", (6.4, 2.9), 2.1, "2024-03-12", 0.7),
    ("main_alarm", "Main bedroom smoke alarm", K.SMOKE, "main_bedroom", (2.5, 2.0), 2.4, "2019-05-02", 1.9),
    ("teen_alarm", "Teenager's smoke alarm", K.SMOKE, "teen_room", (9.6, 1.2), 2.4, "2024-03-12", 1.1),
    ("older_alarm", "Grandparent's smoke alarm", K.SMOKE, "older_room", (10.8, 4.0), 2.4, "2024-03-12", 1.1),
    ("landing_co_alarm", "Landing CO alarm", K.CARBON_MONOXIDE, "landing", (6.4, 0.1), 1.6, "2024-03-12", 0.0),
    ("boiler_co_alarm", "Boiler room CO alarm", K.CARBON_MONOXIDE, "boiler_room", (9.4, 5.9), 1.6, "2024-03-12", 0.0),
)
_CEILING_KINDS = {K.SMOKE, K.HEAT}


def household_alarm(row: Household) -> Device:
    """One of the household's own alarms, from its row."""
    id_, name, kind, room, at, height_m, made_on, from_wall_m = row
    return Device(
        id=id_, name=name, kind=kind, link=Link.OWN, state=DeviceState.FITTED, room=room, at=at, height_m=height_m,
        mount=Mount.CEILING if kind in _CEILING_KINDS else Mount.INSIDE_WALL, made_on=made_on,
        level_dba=85.0, level_at_m=3.0,
        hazard=HazardFacts(
            sense=SmokeSense.PHOTOELECTRIC if kind is K.SMOKE else SmokeSense.UNKNOWN,
            hush=YES, sounds_with_others=NO if id_ == "cellar_alarm" else YES, from_wall_m=from_wall_m,
            below_ceiling_m=0.0 if kind is K.SMOKE else 0.8, in_air_stream=NO,
        ),
    )  # fmt: skip


def devices() -> tuple[Device, ...]:
    """Every device, the wired ones first, the household's own alarms last."""
    fitted = (*(_wired(row) for row in _WIRED), *(free(row) for row in _FREE))
    return (*(_with_hazard(device) for device in fitted), *(household_alarm(row) for row in _HOUSEHOLD))


def _with_hazard(device: Device) -> Device:
    """The unit's own smoke, heat and CO detectors, with what their manuals say."""
    if device.kind not in HAZARD_KINDS:
        return device
    heat, smoke = device.kind is K.HEAT, device.kind is K.SMOKE
    facts = HazardFacts(
        sense=SmokeSense.PHOTOELECTRIC if smoke else SmokeSense.UNKNOWN,
        rating_c=58.0 if heat else None,
        listed_spacing_m=15.2 if heat else None,
        below_ceiling_m=0.0 if heat or smoke else None,
    )
    mount = Mount.CEILING if heat or smoke else Mount.INSIDE_WALL
    return device.model_copy(update={"hazard": facts, "mount": mount})


BURIED = "Outdoor cable in a buried duct, 0.22 mm²"  # across the garden to the studio

# id, name, terminals, cable length m, measured ohm
_CIRCUITS = (
    ("studio_key_loop", "Studio key circuit", "Pair one", 48.0, 4709.0),
    ("cellar_loop", "Cellar light circuit", "Pair two", 31.0, 4706.0),
    ("cellar_motion_loop", "Cellar motion circuit", "Pair three", 29.0, 4706.0),
    ("water_loop", "Cellar water circuit", "Pair four", 26.0, 4705.0),
    ("smoke_loop", "Smoke detector circuit", "Pair five", 34.0, 4706.0),
    ("heat_loop", "Kitchen heat circuit", "Pair six", 16.0, 4703.0),
    ("living_loop", "Living room windows circuit", "Pair seven", 27.0, 4705.0),
    ("living_motion_loop", "Living room motion circuit", "Pair eight", 22.0, 4704.0),
    ("study_loop", "Study circuit", "Pair nine", 19.0, 4703.0),
    ("hall_loop", "Hall motion circuit", "Pair ten", 14.0, 4702.0),
    ("front_door_loop", "Front door circuit", "Pair eleven", 18.0, 4703.0),
    ("sounder_tamper_loop", "Sounder tamper circuit", "Tamper pair", 15.0, 3.0),
)


def circuits() -> tuple[Circuit, ...]:
    """Every wired loop with its ends."""
    fire, tamper = {"smoke_loop", "heat_loop"}, {"sounder_tamper_loop"}
    return tuple(
        Circuit(
            id=i,
            name=name,
            terminals=terminals,
            ending=Ending.OPEN_FIRE if i in fire else Ending.NONE if i in tamper else Ending.DOUBLE,
            end_resistor_ohm=None if i in tamper else 4700.0,
            contact_resistor_ohm=None if i in fire | tamper else 4700.0,
            detectors_fed=DetectorFeed.WATCHED if i in fire else DetectorFeed.UNKNOWN,
            cable=BURIED if i == "studio_key_loop" else "Six-core alarm cable, 0.22 mm²",
            length_m=length_m,
            measured_ohm=measured_ohm,
            tamper_loop=i in tamper,
            label=name.replace(" circuit", "").upper(),
        )
        for i, name, terminals, length_m, measured_ohm in _CIRCUITS
    )


def prices() -> tuple[Price, ...]:
    """What one of each kind cost, invented."""
    return tuple(Price(id=kind.value, kind=kind, price=price) for kind, price in PRICES.items())
