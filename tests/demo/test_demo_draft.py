"""The short path of the demo home drafts a home of its own, whatever else the demo home holds."""

from pathlib import Path

from alarmlib.draft.short_path import draft_home
from alarmlib.model.home import Home

FILE = Path(__file__).parents[2] / "workbook" / "demo_home.json"


def test_short_path_of_a_home_with_seasons_and_door_times_can_be_drafted() -> None:
    """The draft keeps nothing that points to the zones and doors of the surveyed home."""
    home = Home.model_validate_json(FILE.read_text(encoding="utf-8"), strict=True)
    draft = draft_home(home).home
    answered = [line for line in home.short_path.rooms.splitlines() if line.strip()]
    assert [room.name for room in draft.site.rooms] == [line.partition(",")[0] for line in answered]
    assert draft.control_unit.zones and not draft.control_unit.seasons
    doors = {opening.id for opening in draft.site.openings}
    assert all(door.opening in doors for door in draft.control_unit.times.doors)
