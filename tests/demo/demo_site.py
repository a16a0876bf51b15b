"""The invented home with a studio at the end of its garden: rooms, ways in, furniture and survey answers, in metres."""

from alarmlib.model.base import Point
from alarmlib.model.furnishing import Fixture, FixtureKind, Furniture
from alarmlib.model.site import (
    BuildBand,
    Disturbance,
    Frame,
    KeptOpen,
    Opening,
    OpeningKind,
    Passage,
    PassageKind,
    Reach,
    Room,
    RoomUse,
    RoundResult,
    Site,
    Storey,
    Tenure,
    WaterSource,
    Yes,
)
from alarmlib.model.survey import POINTS, Answer, Found

YES, NO = Yes.YES, Yes.NO
Box = tuple[float, float, float, float]


def _box(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    return ((left, low), (right, low), (right, high), (left, high))


STOREYS = (
    Storey(id="cellar", name="Cellar", level=-1, height_m=2.4),
    Storey(id="ground", name="Ground floor", level=0, height_m=2.8),
    Storey(id="upstairs", name="Upstairs", level=1, height_m=2.6),
)

LANDING = ((5.0, 0.0), (7.2, 0.0), (7.2, 4.8), (10.0, 4.8), (10.0, 6.0), (5.0, 6.0))
OLDER_ROOM = ((7.2, 2.4), (12.0, 2.4), (12.0, 6.0), (10.0, 6.0), (10.0, 4.8), (7.2, 4.8))

# id, name, storey, use, outline
_ROOMS: tuple[tuple[str, str, str, RoomUse, tuple[Point, ...]], ...] = (
    ("hall", "Hall", "ground", RoomUse.HALL, _box(5, 0, 7.2, 6)),
    ("living", "Living room", "ground", RoomUse.LIVING, _box(0, 0, 5, 5)),
    ("dining", "Dining room", "ground", RoomUse.LIVING, _box(0, 5, 5, 9)),
    ("conservatory", "Conservatory", "ground", RoomUse.PORCH, _box(0, 9, 5, 12)),
    ("kitchen", "Kitchen", "ground", RoomUse.KITCHEN, _box(5, 6, 10, 9)),
    ("pantry", "Pantry", "ground", RoomUse.STORE, _box(10, 6, 12, 9)),
    ("utility", "Utility room", "ground", RoomUse.UTILITY, _box(8.6, 3, 12, 6)),
    ("toilet", "Toilet", "ground", RoomUse.BATH, _box(7.2, 3, 8.6, 6)),
    ("study", "Study", "ground", RoomUse.STUDY, _box(7.2, 0, 12, 3)),
    ("garage", "Garage", "ground", RoomUse.GARAGE, _box(12, 0, 18, 6)),
    ("landing", "Landing", "upstairs", RoomUse.HALL, LANDING),
    ("main_bedroom", "Main bedroom", "upstairs", RoomUse.BEDROOM, _box(0, 0, 5, 5)),
    ("spare_room", "Spare room", "upstairs", RoomUse.BEDROOM, _box(0, 5, 5, 9)),
    ("bathroom", "Bathroom", "upstairs", RoomUse.BATH, _box(5, 6, 8.5, 9)),
    ("teen_room", "Teenager's room", "upstairs", RoomUse.BEDROOM, _box(7.2, 0, 12, 2.4)),
    ("older_room", "Grandparent's room", "upstairs", RoomUse.BEDROOM, OLDER_ROOM),
    ("box_room", "Box room", "upstairs", RoomUse.STORE, _box(8.5, 6, 12, 9)),
    ("store_cellar", "Store cellar", "cellar", RoomUse.CELLAR, _box(0, 0, 7.2, 6)),
    ("boiler_room", "Boiler room", "cellar", RoomUse.CELLAR, _box(7.2, 0, 12, 6)),
    ("studio", "Studio", "ground", RoomUse.WORKSHOP, _box(23.5, 7, 28, 12)),
)
_ASLEEP = {"main_bedroom", "teen_room", "older_room"}
_SHUT_AT_NIGHT = {"living", "kitchen", "study", "garage", "store_cellar"}
_SMOKE_MADE = {
    "hall": 2024,
    "landing": 2024,
    "store_cellar": 2024,
    "main_bedroom": 2019,
    "older_room": 2024,
    "teen_room": 2024,
}
_WATER = {
    "utility": (WaterSource.WASHER,),
    "kitchen": (WaterSource.DISHWASHER, WaterSource.FRIDGE_LINE),
    "boiler_room": (WaterSource.WATER_HEATER, WaterSource.SUMP),
    "bathroom": (WaterSource.TOILET,),
    "toilet": (WaterSource.TOILET,),
}
_DISTURBED = {
    "conservatory": (Disturbance.SUN, Disturbance.HOT, Disturbance.CURTAIN),
    "living": (Disturbance.FIREPLACE,),
    "boiler_room": (Disturbance.HEATER, Disturbance.HOT),
}
_COLD = {"utility", "studio"}
_HOTTEST_C = {"conservatory": 45.0, "boiler_room": 38.0, "garage": 36.0, "studio": 34.0}
_COLDEST_C = {"conservatory": -2.0, "garage": 1.0, "studio": -4.0}
_UNGUARDED = {"bathroom", "toilet"}


def _room(row: tuple[str, str, str, RoomUse, tuple[Point, ...]]) -> Room:
    id_, name, storey, use, outline = row
    ceiling_m = {"cellar": 2.1, "ground": 2.5, "upstairs": 2.4}[storey]
    return Room(
        id=id_,
        name=name,
        storey=storey,
        use=use,
        outline=outline,
        ceiling_m=3.2 if id_ == "studio" else ceiling_m,
        area="studio" if id_ == "studio" else "house",
        guarded=id_ not in _UNGUARDED,
        sleeps_here=id_ in _ASLEEP,
        door_shut_at_night=YES if id_ in _SHUT_AT_NIGHT else NO,
        valuables_seen=YES if id_ == "study" else NO,
        disturbances=_DISTURBED.get(id_, ()),
        hottest_c=_HOTTEST_C.get(id_),
        coldest_c=_COLDEST_C.get(id_),
        tub_or_shower=YES if id_ == "bathroom" else NO,
        water_sources=_WATER.get(id_, ()),
        may_freeze=YES if id_ in _COLD else NO,
        fuel_appliance=id_ in {"boiler_room", "living"},
        smoke_alarm=YES if id_ in _SMOKE_MADE else NO,
        smoke_alarm_made=_SMOKE_MADE.get(id_),
        carbon_monoxide_alarm=YES if id_ in {"boiler_room", "landing"} else NO,
        two_ways_out=YES if id_ in _ASLEEP | {"living", "kitchen", "hall"} else NO,
    )


G, F, C = Reach.GROUND, Reach.FLAT_ROOF, Reach.CLIMB
D, W, L = OpeningKind.DOOR, OpeningKind.WINDOW, OpeningKind.CELLAR_LIGHT
# id, name, room, kind, at, width m, sill m, reach
_OPENINGS: tuple[tuple[str, str, str, OpeningKind, Point, float, float, Reach], ...] = (
    ("front_door", "Front door", "hall", D, (6.1, 0.0), 0.95, 0.2, G),
    ("living_front_window", "Living room front window", "living", W, (2.5, 0.0), 1.8, 0.9, G),
    ("living_side_window", "Living room side window", "living", W, (0.0, 2.5), 1.2, 0.9, G),
    ("dining_window", "Dining room window", "dining", W, (0.0, 7.0), 1.4, 0.9, G),
    (
        "conservatory_door",
        "Conservatory sliding door",
        "conservatory",
        OpeningKind.SLIDING_DOOR,
        (0.0, 10.5),
        1.6,
        0,
        G,
    ),
    ("conservatory_window", "Conservatory window", "conservatory", W, (2.5, 12.0), 2.0, 0.6, G),
    ("back_door", "Back door", "kitchen", D, (6.4, 9.0), 0.9, 0.1, G),
    ("kitchen_window", "Kitchen window", "kitchen", W, (8.6, 9.0), 1.2, 1.1, G),
    ("pantry_window", "Pantry window", "pantry", OpeningKind.FANLIGHT, (12.0, 7.5), 0.5, 1.9, G),
    ("study_window", "Study window", "study", W, (9.6, 0.0), 1.4, 0.9, G),
    ("garage_door", "Garage door", "garage", OpeningKind.GARAGE_DOOR, (15.0, 0.0), 2.5, 0.0, G),
    ("garage_window", "Garage window", "garage", W, (18.0, 3.0), 0.8, 1.4, G),
    ("landing_window", "Landing window", "landing", W, (6.1, 0.0), 0.9, 3.7, Reach.NOT),
    ("main_bedroom_window", "Main bedroom window", "main_bedroom", W, (2.5, 0.0), 1.6, 3.7, Reach.NOT),
    ("spare_room_window", "Spare room window", "spare_room", W, (2.5, 9.0), 1.2, 3.7, F),
    ("bathroom_window", "Bathroom window", "bathroom", W, (6.6, 9.0), 0.6, 4.0, Reach.NOT),
    ("teen_room_window", "Teenager's window", "teen_room", W, (12.0, 1.2), 1.1, 3.7, F),
    ("older_room_window", "Grandparent's window", "older_room", W, (12.0, 4.2), 1.1, 3.7, F),
    ("box_room_window", "Box room window", "box_room", W, (10.0, 9.0), 0.7, 3.8, C),
    ("cellar_light", "Cellar light", "store_cellar", L, (0.0, 3.0), 0.7, 0.1, G),
    ("boiler_room_hatch", "Boiler room hatch", "boiler_room", L, (9.6, 0.0), 0.6, 0.0, G),
    ("studio_door", "Studio door", "studio", D, (23.5, 9.5), 1.1, 0.1, G),
    ("studio_window", "Studio window", "studio", W, (25.0, 7.0), 1.5, 1.0, G),
)
_FINAL = {"front_door", "back_door", "garage_door", "studio_door"}
_BARE = {
    "landing_window": "Out of reach without a ladder; ladders are locked away.",
    "main_bedroom_window": "Out of reach without a ladder; somebody sleeps here.",
    "bathroom_window": "Out of reach and too small to climb through.",
    "conservatory_window": "Fixed glass; no contact guards the conservatory itself.",
    "boiler_room_hatch": "Bolted from inside and watched by the motion detector of the cellar.",
}
_KEPT_OPEN = {"teen_room_window": KeptOpen.NIGHT, "kitchen_window": KeptOpen.DAY, "bathroom_window": KeptOpen.DAY}
_NEEDS_WORK = {
    "garage_door": "Fit a bolt to the overhead door.",
    "study_window": "Move the desk so that the screen can't be seen.",
}


def _opening(row: tuple[str, str, str, OpeningKind, Point, float, float, Reach]) -> Opening:
    id_, name, room, kind, at, width_m, sill_m, reach = row
    door = kind in {D, OpeningKind.SLIDING_DOOR, OpeningKind.GARAGE_DOOR}
    return Opening(
        id=id_,
        name=name,
        room=room,
        kind=kind,
        at=at,
        width_m=width_m,
        sill_m=sill_m,
        reach=reach,
        ledge_width_m=3.0 if reach is F else None,
        ledge_below_m=0.8 if reach is F else None,
        seen_by_others=YES if at[1] == 0 and room != "garage" else NO,
        entry_exit=id_ in _FINAL,
        glass=YES if kind in {W, OpeningKind.SLIDING_DOOR} else NO,
        frame=Frame.STEEL if id_ in {"garage_door", "studio_door"} else Frame.WOOD,
        gap_mm=12 if id_ == "garage_door" else 4,
        lock=RoundResult.NEEDS_WORK if id_ == "garage_door" else RoundResult.OK,
        latches_in_wind=RoundResult.OK,
        kept_open=_KEPT_OPEN.get(id_, KeptOpen.NEVER),
        escape_way=door or room in _ASLEEP,
        opens_without_key=YES if door or room in _ASLEEP else NO,
        by_day=RoundResult.OK,
        by_night=RoundResult.NEEDS_WORK if id_ in _NEEDS_WORK else RoundResult.OK,
        left_bare_because=_BARE.get(id_, ""),
        to_do=_NEEDS_WORK.get(id_, ""),
    )


P = PassageKind
# id, first, second, kind, at, width m
_PASSAGES: tuple[tuple[str, str, str, PassageKind, Point, float], ...] = (
    ("hall_living", "hall", "living", P.DOOR, (5.0, 3.0), 0.85),
    ("living_dining", "living", "dining", P.DOORWAY, (2.5, 5.0), 1.4),
    ("hall_kitchen", "hall", "kitchen", P.DOOR, (6.1, 6.0), 0.85),
    ("dining_kitchen", "dining", "kitchen", P.DOORWAY, (5.0, 7.5), 0.9),
    ("dining_conservatory", "dining", "conservatory", P.DOOR, (2.5, 9.0), 1.4),
    ("kitchen_pantry", "kitchen", "pantry", P.DOOR, (10.0, 7.5), 0.7),
    ("kitchen_utility", "kitchen", "utility", P.DOOR, (9.3, 6.0), 0.8),
    ("hall_toilet", "hall", "toilet", P.DOOR, (7.2, 4.5), 0.7),
    ("hall_study", "hall", "study", P.DOOR, (7.2, 1.5), 0.8),
    ("pass_door", "garage", "utility", P.DOOR, (12.0, 4.5), 0.85),
    ("landing_main", "landing", "main_bedroom", P.DOOR, (5.0, 3.0), 0.8),
    ("landing_spare", "landing", "spare_room", P.DOOR, (5.0, 5.5), 0.8),
    ("landing_bathroom", "landing", "bathroom", P.DOOR, (6.1, 6.0), 0.75),
    ("landing_teen", "landing", "teen_room", P.DOOR, (7.2, 1.2), 0.8),
    ("landing_older", "landing", "older_room", P.DOOR, (8.6, 4.8), 0.85),
    ("landing_box", "landing", "box_room", P.DOOR, (9.2, 6.0), 0.75),
    ("cellar_boiler", "store_cellar", "boiler_room", P.DOOR, (7.2, 3.0), 0.8),
)
_STAIRS = (
    Passage(
        id="main_stairs", first="hall", second="landing", kind=P.STAIRS, at=(5.6, 1.4), at_second=(5.6, 4.6),
        width_m=0.9, slope_m=4.3, shut_at_night=NO,
    ),
    Passage(
        id="cellar_stairs", first="hall", second="store_cellar", kind=P.STAIRS, at=(6.8, 5.4), at_second=(6.8, 2.4),
        width_m=0.8, slope_m=3.9, shut_at_night=YES,
    ),
    Passage(
        id="yard", first="kitchen", second="studio", kind=P.OUTSIDE, at=(6.4, 9.0), at_second=(23.5, 9.5),
        width_m=1.2, seconds=22.0, shut_at_night=YES,
    ),
)  # fmt: skip

# id, name, room, outline, height m
_FURNITURE: tuple[tuple[str, str, str, tuple[Point, ...], float], ...] = (
    ("sofa", "Sofa", "living", _box(0.4, 1.4, 1.3, 3.6), 0.8),
    ("dining_table", "Dining table", "dining", _box(1.2, 6.3, 2.6, 8.2), 0.75),
    ("kitchen_island", "Kitchen island", "kitchen", _box(7.4, 7.2, 8.6, 7.9), 0.9),
    ("desk", "Desk", "study", _box(10.4, 0.9, 11.8, 1.7), 0.75),
    ("car", "Car", "garage", _box(13.4, 0.8, 15.4, 5.0), 1.5),
    ("cellar_shelf", "Shelf", "store_cellar", _box(0.5, 4.4, 3.5, 5.0), 1.9),
    ("work_table", "Work table", "studio", _box(24, 11.1, 27.5, 11.8), 0.95),
)

# id, name, room, kind, at, radius m
_FIXTURES: tuple[tuple[str, str, str, FixtureKind, Point, float], ...] = (
    ("cooker", "Cooker", "kitchen", FixtureKind.COOKER, (9.6, 8.6), 0.0),
    ("boiler", "Boiler", "boiler_room", FixtureKind.FUEL_APPLIANCE, (11.6, 5.6), 0.0),
    ("stove", "Stove", "living", FixtureKind.FUEL_APPLIANCE, (0.3, 4.4), 0.0),
    ("bedroom_fan", "Ceiling fan", "main_bedroom", FixtureKind.CEILING_FAN, (2.5, 2.5), 0.6),
    ("study_radiator", "Radiator", "study", FixtureKind.HEATER, (9.6, 0.2), 0.0),
)

_WORK = {"hedges", "gates", "garage_overhead", "smoke_age", "timer_lights", "hoses"}


def _answer(id_: str) -> Answer:
    point = next(p for p in POINTS if p.id == id_)
    if id_ in _WORK:
        return Answer(
            id=id_, heading=point.heading, found=Found.NEEDS_WORK, in_the_dark=Found.NEEDS_WORK,
            left=Found.OK if id_ == "hedges" else Found.NEEDS_WORK, to_do=point.to_do,
        )  # fmt: skip
    there = Found.NOT_HERE if id_ == "oil_tank" else Found.OK
    return Answer(id=id_, heading=point.heading, found=there, in_the_dark=there, left=there)


def site() -> Site:
    """The whole survey of the invented home."""
    return Site(
        build_band=BuildBand.BEFORE_1978,
        tenure=Tenure.OWNED,
        attached_garage=YES,
        fuel_appliances=YES,
        outside_walls_insulated=NO,
        stop_tap=YES,
        breaker=YES,
        storeys=STOREYS,
        rooms=tuple(_room(row) for row in _ROOMS),
        openings=tuple(_opening(row) for row in _OPENINGS),
        passages=(
            *(
                Passage(id=i, first=a, second=b, kind=kind, at=at, width_m=width_m,
                        shut_at_night=YES if kind is P.DOOR else NO)
                for i, a, b, kind, at, width_m in _PASSAGES
            ),
            *_STAIRS,
        ),
        furniture=tuple(Furniture(id=i, name=n, room=r, outline=o, height_m=h) for i, n, r, o, h in _FURNITURE),
        fixtures=tuple(Fixture(id=i, name=n, room=r, kind=k, at=a, radius_m=m) for i, n, r, k, a, m in _FIXTURES),
        answers=tuple(_answer(point.id) for point in POINTS),
    )  # fmt: skip
