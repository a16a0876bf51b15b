"""A small invented home with a drawn plan: two storeys, six rooms, and a fact of each kind that needs a place."""

from alarmlib.model import Home
from alarmlib.model.base import Point

WHOLE = {"range_m": 9.0, "angle_deg": 90.0, "straight_range_m": 6.0, "looks_down_deg": 80.0, "slowest_m_s": 0.3}
CELL = {"battery_mah": 1200.0, "rests_at_ua": 10.0, "report_mas": 20.0, "trips_a_day": 30.0, "check_in_s": 1200.0}


def drawn_home() -> Home:
    """The home; nearly all is in order, so that a change of one fact may break something."""
    return Home.model_validate({
        "name": "Drawn home",
        "rules": {"permit_asked": True, "siren_limit_s": 900.0},
        "site": _site(),
        "household": _household(),
        "control_unit": _unit(),
        "devices": _devices(),
        "circuits": _circuits(),
        "wiring": _wiring(),
        "sound": {
            "neighbour_m": 14.0,
            "doors": [{"passage": "landing_bedroom", "leaf": "solid"}, {"passage": "landing_bath", "loss_db": 18.0}],
            "heard": [{"id": "read", "sounder": "siren", "room": "bedroom", "level_dba": 50.0}],
        },
        "log": _log(),
        "accepted": [{"id": "draught", "words": "“Hall” is draughty.", "reason": "We like it.", "by": "Parent",
                      "on": "2026-03-01"}],
        "cautions_read": ["mains"],
        "messages": {"responders": [{"id": "friend", "role": "Friend", "minutes_away": 5.0, "agreed": "yes"}]},
        "hazards": {"edition": "before_2010"},
        "prices": [{"id": "eye", "kind": "motion", "price": 40.0}],
    })  # fmt: skip


def _box(left: float, low: float, right: float, high: float) -> list[Point]:
    return [(left, low), (right, low), (right, high), (left, high)]


def _site() -> dict[str, object]:
    return {
        "fuel_appliances": "yes",
        "storeys": [{"id": "ground", "name": "Ground floor"}, {"id": "upper", "name": "Upstairs", "level": 1}],
        "rooms": _rooms(),
        "openings": _openings(),
        "passages": [
            {"id": "hall_living", "first": "hall", "second": "living", "at": (2, 1.5), "shut_at_night": "yes"},
            {"id": "hall_kitchen", "first": "hall", "second": "kitchen", "kind": "doorway", "at": (2, 5)},
            {"id": "stairs", "first": "hall", "second": "landing", "kind": "stairs", "at": (0.5, 4.5),
             "at_second": (0.5, 3), "slope_m": 3.6},
            {"id": "landing_bedroom", "first": "landing", "second": "bedroom", "at": (2, 2)},
            {"id": "landing_bath", "first": "landing", "second": "bath", "at": (2, 5)},
        ],
        "furniture": [
            {"id": "shelf", "name": "Shelf", "room": "living", "outline": _box(4, 1.4, 4.6, 2.6), "height_m": 2.0},
            {"id": "desk", "name": "Desk", "room": "bedroom", "outline": _box(5.5, 2, 8.0, 3)},
        ],
        "fixtures": [
            {"id": "cooker", "name": "Cooker", "room": "kitchen", "kind": "cooker", "at": (2.8, 6.6)},
            {"id": "heater", "name": "Heater", "room": "living", "kind": "heater", "at": (4.4, 0.2), "radius_m": 0.3},
            {"id": "outlet", "name": "Air outlet", "room": "landing", "kind": "air_outlet", "at": (1, 4.4)},
        ],
        "answers": [
            {"id": "hedges", "heading": "grounds", "found": "needs_work", "left": "not_looked_at"},
            {"id": "own", "heading": "rooms", "point": "The cat flap shuts", "found": "needs_work"},
            {"id": "lighting", "heading": "grounds", "found": "ok", "in_the_dark": "needs_work", "left": "ok"},
            {"id": "gates", "heading": "grounds", "found": "ok", "in_the_dark": "needs_work"},
        ],
    }  # fmt: skip


def _rooms() -> list[dict[str, object]]:
    plain = (("hall", "Hall", "ground", "hall", _box(0, 0, 2, 7)), ("living", "Living room", "ground", "living",
             _box(2, 0, 6.5, 4)), ("kitchen", "Kitchen", "ground", "kitchen", _box(2, 4, 6.5, 7)),
             ("landing", "Landing", "upper", "hall", _box(0, 0, 2, 6)),
             ("bedroom", "Bedroom", "upper", "bedroom", _box(2, 0, 6.5, 4)),
             ("bath", "Bathroom", "upper", "bath", _box(2, 4, 4.5, 6)))  # fmt: skip
    more: dict[str, dict[str, object]] = {
        "kitchen": {"hottest_c": 45.0},
        "living": {"smoke_alarm": "yes"},
        "landing": {"ceiling": "peaked"},
        "bedroom": {"sleeps_here": True, "door_shut_at_night": "yes", "smoke_alarm": "yes"},
        "bath": {"tub_or_shower": "yes", "guarded": False},
    }
    return [
        {"id": id_, "name": name, "storey": storey, "use": use, "outline": outline, "ceiling_m": 2.5, "area": "house"}
        | more.get(id_, {})
        for id_, name, storey, use, outline in plain
    ]


def _openings() -> list[dict[str, object]]:
    return [
        {"id": "front_door", "name": "Front door", "room": "hall", "kind": "door", "at": (1, 0), "width_m": 0.9,
         "sill_m": 0.1, "reach": "ground", "entry_exit": True, "gap_mm": 12.0, "escape_way": True,
         "opens_without_key": "yes", "seen_by_others": "yes"},
        {"id": "living_window", "name": "Living room window", "room": "living", "at": (6.5, 2), "width_m": 1.5,
         "sill_m": 0.9, "reach": "ground", "glass": "yes", "opens_without_key": "no", "seen_by_others": "no"},
        {"id": "back_door", "name": "Back door", "room": "kitchen", "kind": "door", "at": (6.5, 5.5), "width_m": 0.9,
         "reach": "ground", "escape_way": True, "opens_without_key": "no"},
        {"id": "bed_window", "name": "Bedroom window", "room": "bedroom", "at": (4, 0), "width_m": 1.2,
         "sill_m": 4.5, "ledge_width_m": 1.5, "ledge_below_m": 2.0},
    ]  # fmt: skip


def _device(id_: str, kind: str, room: str, at: Point | None, **more: object) -> dict[str, object]:
    name = id_.replace("_", " ").capitalize()
    return {"id": id_, "name": name, "kind": kind, "room": room, "at": at, "state": "fitted"} | more


def _devices() -> list[dict[str, object]]:
    free = {"slot": 1, "battery": "lithium", **CELL}
    return [
        _device("front_contact", "contact", "hall", (1, 0), openings=["front_door"], zone="front_door",
                circuit="front", contact_gap_mm=20.0, quiet_current_a=0.02, alarm_current_a=0.2),
        _device("living_contact", "contact", "living", (6.5, 2), openings=["living_window"], zone="living_window",
                link="wireless", wireless={"slot": 2, "battery": "coin", "signal": 40.0, "signal_asked": 30.0,
                                           "repeater": "repeater"}),
        _device("back_contact", "contact", "kitchen", (6.5, 5.5), openings=["back_door"], zone="back_door"),
        _device("hall_motion", "motion", "hall", (1.9, 6.9), zone="hall_motion", height_m=2.2, facing_deg=250.0,
                fitted_on="2026-05-01", price=45.0, **WHOLE),
        _device("living_motion", "motion", "living", (2.1, 0.1), zone="living_motion", height_m=2.2, facing_deg=45.0,
                link="wireless", sleep_s=120.0, wireless=free, **WHOLE),
        _device("hall_smoke", "smoke", "hall", (1, 5), zone="fire", mount="ceiling", made_on="2012-05-01",
                hazard={"sense": "ionisation", "hush": "no", "resists_cooking": "no", "from_wall_m": 0.9}),
        _device("landing_smoke", "smoke", "landing", (1, 4), zone="fire", mount="ceiling", made_on="2024-05-01",
                hazard={"from_peak_m": 0.4, "below_peak_m": 0.4, "from_wall_m": 1.0}),
        _device("bedroom_smoke", "smoke", "bedroom", (4, 2), link="own", made_on="2024-05-01",
                hazard={"sounds_with_others": "no"}),
        _device("kitchen_heat", "heat", "kitchen", (4, 5.5), zone="fire", mount="ceiling", circuit="fire",
                hazard={"rating_c": 57.0, "listed_spacing_m": 9.0}),
        _device("landing_co", "carbon_monoxide", "landing", (1.9, 1), link="own", hazard={"sounds_with_others": "no"}),
        _device("unit", "control_unit", "hall", (0.1, 6), quiet_current_a=0.1),
        _device("repeater", "repeater", "landing", (0.1, 2), link="wireless", wireless={"battery": "mains"}),
        _device("fob", "fob", "", None, link="wireless", wireless={"slot": 3}),
        _device("siren", "inside_sounder", "landing", (1, 5.9), level_dba=95.0, level_at_m=1.0, tone_hz=3100.0,
                least_v=9.0),
        _device("outside", "outside_siren", "bedroom", (6, 0), level_dba=100.0, level_at_m=1.0, tone_hz=2000.0),
        _device("pressed", "hold_up", "bedroom", (6, 3.9), zone="hold_up"),
        _device("keypad", "keypad", "hall", (0.1, 2.2), height_m=1.4, quiet_current_a=0.04, least_v=9.0),
    ]  # fmt: skip


def _zone(id_: str, function: str) -> dict[str, object]:
    return {"id": id_, "label": id_.replace("_", " ").capitalize(), "function": function, "areas": ["house"]}


def _unit() -> dict[str, object]:
    functions = {
        "front_door": "entry_exit",
        "living_window": "at_once",
        "back_door": "at_once",
        "hall_motion": "entry_route",
        "living_motion": "at_once",
        "fire": "fire",
        "hold_up": "hold_up",
    }
    entry = {"low_s": 10.0, "high_s": 60.0, "step_s": 5.0}
    return {
        "limits": {"users": 8, "zones": 16, "log_events": 200, "entry": entry},
        "times": {"entry_s": 30.0, "exit_s": 45.0, "siren_s": 300.0},
        "areas": [{"id": "house", "name": "House"}, {"id": "shed", "name": "Shed"}],
        "zones": [_zone(id_, function) for id_, function in functions.items()],
        "part_sets": [{"id": "night", "name": "Night", "area": "house", "left_out": ["hall_motion"]}],
        "seasons": [
            {
                "id": "winter",
                "name": "Winter",
                "months": [12, 1],
                "entry_s": 45.0,
                "zones": [{"zone": "living_motion", "function": "entry_route"}],
            }
        ],
    }


def _step(number: int, text: str) -> dict[str, object]:
    deed, place, *seconds = text.split()
    return {"id": f"step_{number}", "deed": deed, "place": "" if place == "-" else place,
            "seconds": float(seconds[0]) if seconds else None}  # fmt: skip


def _habit(id_: str, who: str, starts_at: str, begins_in: str, steps: str, **more: object) -> dict[str, object]:
    listed = [_step(number, text) for number, text in enumerate(steps.split("; "), 1)]
    return {"id": id_, "name": id_.capitalize(), "who": who, "starts_at": starts_at, "begins_in": begins_in,
            "area": "house", "steps": listed} | more  # fmt: skip


def _circuits() -> list[dict[str, object]]:
    return [
        {"id": "front", "name": "Front", "ending": "double", "end_resistor_ohm": 4700.0,
         "contact_resistor_ohm": 4700.0},
        {"id": "fire", "name": "Fire", "ending": "open_fire", "end_resistor_ohm": 4700.0, "detectors_fed": "by_pair"},
    ]  # fmt: skip


def _wiring() -> dict[str, object]:
    return {
        "supply": {"standby_battery_ah": 7.0, "rated_over_h": 20.0, "rule": "premises_us"},
        "loop": {"pull_up_ohm": 4700.0, "short_below": 0.15, "trip_above": 0.59, "cut_above": 0.87},
        "runs": [{"id": "feed", "name": "Feed", "metal": "copper",
                  "stops": [{"device": "keypad", "metres": 12.0}, {"device": "siren", "metres": 8.0}]}],
        "done": ["pair_front"],
    }  # fmt: skip


def _log() -> dict[str, object]:
    return {
        "tests": [
            {"id": "first", "on": "2026-06-01", "at": "10:00", "by": "Parent", "device": "hall_motion",
             "seen": "nothing", "seen_zone": "hall_motion"},
            {"id": "second", "on": "2026-06-01", "at": "10:20", "by": "Parent", "device": "hall_motion",
             "seen": "as_expected", "seen_zone": "hall_motion", "retest_of": "first"},
        ],
        "events": [{"id": "trip", "on": "2026-06-03", "zone": "hall_motion", "cause": "A spider", "changed": "Wiped"}],
        "upkeep": [{"id": "wiped", "on": "2026-06-03", "done": "Wiped", "device": "hall_motion"}],
    }  # fmt: skip


def _household() -> dict[str, object]:
    home = "open front_door 4; close front_door 2; walk_to keypad; unset house 5"
    bed = "walk_to keypad; set_part night 5; walk_to bedroom; wait - 60"
    down = "walk_to keypad; unset house 5"
    return {
        "people": [
            {"id": "parent", "role": "Parent", "sleeps_in": "bedroom", "user_slot": 1, "fob": "fob"},
            {"id": "child", "role": "Child", "age": "child", "sleeps_in": "bedroom", "can_unset": False,
             "user_slot": 2},
        ],
        "visitors": [
            {"id": "cleaner", "role": "Cleaner", "door": "front_door", "often": "once a week", "can_unset": True,
             "user_slot": 3},
            {"id": "gardener", "role": "Gardener", "door": "back_door", "user_slot": 4},
        ],
        "habits": [
            _habit("home", "parent", "front_door", "set_full", home),
            _habit("bedtime", "parent", "hall", "unset", bed, times_a_week=7.0),
            _habit("downstairs", "parent", "bedroom", "part_set", down, part_set="night", season="winter"),
        ],
    }  # fmt: skip
