"""Fixes of findings on smoke and CO alarms: an alarm in the room that has none, alarms that sound together."""

from functools import partial
from typing import Literal

from alarmlib.calc.hazards.hazard_places import sleeping_areas
from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.checks.finding import Finding
from alarmlib.checks.fixes.remedy import Maker, Remedy, entered
from alarmlib.checks.hazards.alarm_lists import SHELTER, no_way_out
from alarmlib.checks.lookup import bedrooms, room_name, rooms
from alarmlib.model import Home
from alarmlib.model.questions import device_of
from alarmlib.model.site import RoomUse
from alarmlib.proof.repairs.changes import RepairEdit

AlarmAnswer = Literal["smoke_alarm", "carbon_monoxide_alarm"]
_WORDS: dict[AlarmAnswer, str] = {"smoke_alarm": "a smoke alarm", "carbon_monoxide_alarm": "a CO alarm"}
_FIRST = (RoomUse.HALL, RoomUse.LIVING, RoomUse.BEDROOM, RoomUse.STUDY)
_LAST = SHELTER | {RoomUse.KITCHEN, RoomUse.BATH}


def _fitted(answer: AlarmAnswer, home: Home, finding: Finding) -> Remedy | None:
    """The survey says that there is one: in the finding's room, on its level, or outside the bedrooms."""
    room = _room(home, finding.subject)
    if room is None:
        return None
    at = ("site", "rooms", room, answer)
    return entered(at, f"{_WORDS[answer]} in {room_name(home, room)}", RepairEdit(at, "yes"))


def _room(home: Home, subject: str) -> str | None:
    if subject in rooms(home):
        return subject
    on_level = [room for room in home.site.rooms if room.storey == subject and room.use not in _LAST]
    if on_level:
        return min(on_level, key=lambda room: _FIRST.index(room.use) if room.use in _FIRST else len(_FIRST)).id
    known = bedrooms(home) & rooms(home).keys()
    areas = sleeping_areas(plan_from_home(home), known, no_way_out(home)) if subject == "site" else ()
    return next((min(outside) for outside, _ in areas), None)


def _linked(home: Home, finding: Finding) -> Remedy | None:
    device = device_of(home, finding.subject)
    if device is None:
        return None
    own = device.hazard.model_dump(mode="json") if device.hazard else {}
    at = ("devices", device.id, "hazard")
    edit = RepairEdit(at, {**own, "sounds_with_others": "yes"})
    return entered((*at, "sounds_with_others"), "the alarms linked", edit)


_SMOKE, _GAS = partial(_fitted, "smoke_alarm"), partial(_fitted, "carbon_monoxide_alarm")
ALARMS: dict[str, Maker] = {
    "short_path.smoke_alarms_missing": _SMOKE,
    "household_alarms.in_every_bedroom": _SMOKE,
    "household_alarms.outside_sleeping_areas": _SMOKE,
    "household_alarms.on_every_level": _SMOKE,
    "household_alarms.on_both_sides_of_a_door": _SMOKE,
    "household_alarms.unit_alone": _SMOKE,
    "alarm_places.at_the_stairs": _SMOKE,
    "british_alarms.rooms_of_the_category": _SMOKE,
    "carbon_monoxide.alarm_at_all": _GAS,
    "carbon_monoxide.unit_alone": _GAS,
    "carbon_monoxide.outside_sleeping_areas": _GAS,
    "carbon_monoxide.in_bedrooms_with_fire": _GAS,
    "carbon_monoxide.on_every_level": _GAS,
    "household_alarms.all_sound_together": _linked,
}
