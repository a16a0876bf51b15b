"""The draft is added to a home: nothing that was entered is changed or lost."""

from pathlib import Path
from typing import Any

import pytest

from alarmlib.draft.blank import blank_home
from alarmlib.draft.merged import merged
from alarmlib.draft.short_path import draft_home
from alarmlib.model import Home
from alarmlib.model.household import Person
from alarmlib.model.log import Event, Log
from alarmlib.model.site import Room, Storey, Yes
from alarmlib.model.survey import POINTS, Found
from alarmlib.model.words import DETECTORS
from alarmlib.store import load

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"


def lost(before: Any, after: Any, where: str = "home", blank: Any = None) -> list[str]:
    """The places where something that was entered is no longer so; a list may have grown, a blank may be filled."""
    if isinstance(before, dict):
        blanks = blank if isinstance(blank, dict) else {}
        return [p for key, value in before.items() for p in lost(value, after[key], f"{where}.{key}", blanks.get(key))]
    if isinstance(before, list):
        if all(isinstance(each, dict) and "id" in each for each in before):
            now = {each["id"]: each for each in after}
            gone = [f"{where}.{each['id']}" for each in before if each["id"] not in now]
            stays = (each for each in before if each["id"] in now)
            return gone + [p for each in stays for p in lost(each, now[each["id"]], f"{where}.{each['id']}")]
        return [] if [each for each in before if each not in after] == [] else [where]
    filled = before in (None, "", "unknown", "other", False, blank)
    return [] if before == after or filled else [where]


def everything_stays(before: Home, after: Home) -> None:
    """Of all that was entered nothing is lost."""
    blank = Home().model_dump(mode="json")
    assert lost(before.model_dump(mode="json"), after.model_dump(mode="json"), blank=blank) == []


def worked_on(told: Any) -> Home:
    """A blank home with its survey points, one looked at, ticks, notes, a log line, and the short path answered."""
    home = blank_home()
    answers = (home.site.answers[0].model_copy(update={"found": Found.NEEDS_WORK, "to_do": "Paint it"}),
               *home.site.answers[1:])  # fmt: skip
    entered = home.model_copy(
        update={
            "short_path": told().short_path,
            "site": home.site.model_copy(update={"answers": answers, "stop_tap": Yes.YES}),
            "cautions_read": ("practice",),
            "note": "Ask the neighbour",
            "log": Log(events=(Event(id="event_1", on="2026-03-01", cause="A test"),)),
        }
    )
    return Home.model_validate(entered.model_dump())


def test_merged__survey_points_ticks_notes_and_logs_stay(told: Any) -> None:
    """It emptied the survey: 34 points became none."""
    home = worked_on(told)
    after = merged(home).home
    assert len(after.site.answers) == len(POINTS) == 34
    assert after.site.answers[0].to_do == "Paint it"
    assert (after.note, after.cautions_read, after.log) == (home.note, home.cautions_read, home.log)
    everything_stays(home, after)


def test_merged__into_a_blank_home_is_the_draft(told: Any) -> None:
    """Rooms, devices, zones, part sets and times are the draft's own."""
    home = worked_on(told)
    draft, found = draft_home(home).home, merged(home)
    assert (found.home.site.rooms, found.home.devices, found.home.household) == (
        draft.site.rooms, draft.devices, draft.household)  # fmt: skip
    assert found.home.control_unit == draft.control_unit
    assert (found.rooms, found.ways_in, found.devices) == (6, 4, len(draft.devices))


def test_merged__twice_changes_nothing(told: Any) -> None:
    """A second press adds nothing."""
    once = merged(worked_on(told)).home
    again = merged(once)
    assert again.home == once
    assert (again.rooms, again.ways_in, again.devices) == (0, 0, 0)


def test_merged__rooms_of_the_same_name_are_the_same_room(told: Any) -> None:
    """What the owner entered of a room by its own id stays; the draft adds what was blank."""
    home = worked_on(told)
    own = Room(id="room_7", name="kitchen", storey="low", note="Stove to the left", ceiling_m=2.5)
    site = home.site.model_copy(update={"storeys": (Storey(id="low", name="Ground floor"),), "rooms": (own,)})
    entered = Home.model_validate(home.model_copy(update={"site": site}).model_dump())
    after = merged(entered).home
    kitchen = next(room for room in after.site.rooms if room.id == "room_7")
    assert (kitchen.name, kitchen.note, kitchen.ceiling_m, kitchen.use.value) == (
        "kitchen", "Stove to the left", 2.5, "kitchen")  # fmt: skip
    assert [room.name.casefold() for room in after.site.rooms].count("kitchen") == 1
    assert next(d for d in after.devices if d.id == "motion_room_7").room == "room_7"
    everything_stays(entered, after)


def test_merged__people_entered_are_not_counted_again(told: Any) -> None:
    """Whoever is entered by role is not joined by the draft's nameless ones."""
    home = worked_on(told)
    people = home.household.model_copy(update={"people": (Person(id="aunt", role="Aunt"),)})
    entered = Home.model_validate(home.model_copy(update={"household": people}).model_dump())
    assert merged(entered).home.household.people == people.people


def test_merged__an_own_change_after_the_draft_stays(told: Any) -> None:
    """Who renames a zone, moves the keypad and presses again keeps both, and a new window is added to them."""
    once = merged(worked_on(told)).home
    zones = (
        once.control_unit.zones[0].model_copy(update={"label": "Main entrance", "place": "4"}),
        *once.control_unit.zones[1:],
    )
    devices = tuple(
        d.model_copy(update={"room": "kitchen", "note": "By the shelf"}) if d.id == "keypad" else d
        for d in once.devices
    )
    windows = f"{once.short_path.windows}\nHall window: Hall"
    changed = once.model_copy(
        update={
            "control_unit": once.control_unit.model_copy(update={"zones": zones}),
            "devices": devices,
            "short_path": once.short_path.model_copy(update={"windows": windows}),
        }
    )
    entered = Home.model_validate(changed.model_dump())
    after = merged(entered).home
    everything_stays(entered, after)
    contact = next(d for d in after.devices if d.id == "contact_hall_window")
    assert contact.zone in {zone.id for zone in after.control_unit.zones}
    assert next(zone for zone in after.control_unit.zones if zone.place == "4").label == "Main entrance"


def test_merged__into_the_demo_home() -> None:
    """A home that is all entered loses nothing, and every detector that is added has a zone."""
    demo = load(DEMO)
    after = merged(demo).home
    everything_stays(demo, after)
    added = [d for d in after.devices if d.id not in {own.id for own in demo.devices}]
    assert all(device.zone for device in added if device.kind in DETECTORS)


@pytest.mark.parametrize("gone", ["site.answers.number_seen", "note", "log.events.event_1"])
def test_the_measure_sees_a_loss(gone: str, told: Any) -> None:
    """The measure itself: what is taken out is named."""
    home = worked_on(told)
    without = {
        "site.answers.number_seen": {"site": home.site.model_copy(update={"answers": home.site.answers[1:]})},
        "note": {"note": ""},
        "log.events.event_1": {"log": Log()},
    }[gone]
    after = home.model_copy(update=without)
    assert lost(home.model_dump(mode="json"), after.model_dump(mode="json")) == [f"home.{gone}"]
