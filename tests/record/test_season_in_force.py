"""What people enter and read is of the season in force, by name; what the other sets change is told."""

import json
from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.answers import answer
from alarmlib.pages.forms import table
from alarmlib.pages.tables import LISTS
from alarmlib.record.plain import plain_blocks
from alarmlib.record.produce import record_of
from alarmlib.store import Edit, Session

SHEETS = ("settings", "handover", "times", "zones")


def told(home: Home, date: str, copy: Share = Share.OWNER) -> dict[str, str]:
    """Each sheet as text."""
    sections = record_of(home, copy, date).sections
    return {s.id: plain_blocks(s.blocks) for s in sections if s.id in SHEETS}


@pytest.fixture
def seasonal(facts: dict[str, Any]) -> dict[str, Any]:
    """The lived-in home, whose winter also takes the hall out of use and gives the back door a delay."""
    winter = facts["control_unit"]["seasons"][0] | {
        "doors": [{"id": "wb", "opening": "back", "entry_s": 38}],
        "zones": [{"zone": "hall", "out_of_use": True}],
    }
    return facts | {"control_unit": facts["control_unit"] | {"seasons": [winter]}}


@pytest.mark.parametrize("copy", [Share.OWNER, Share.HELPER])
def test_winter_in_winter(seasonal: dict[str, Any], copy: Share) -> None:
    """In January every sheet names the winter and shows its values; the ordinary ones are listed as what differs."""
    sheets = told(Home.model_validate(seasonal), "2026-01-15", copy)
    for name in SHEETS:
        assert "These are the values of the season Winter, in force on 2026-01-15." in sheets[name]
    assert "Entry delay. As entered: 45 s" in sheets["settings"]
    assert "Door: Front door. Entry delay: 45 s. Exit delay: 55 s" in sheets["settings"]
    assert "Door: Kitchen door. Entry delay: 38 s. Exit delay: 55 s" in sheets["settings"]
    assert "Label: Hall. Function: entry route (waits for a running entry delay, else alarm). " in sheets["settings"]
    assert "Also: out of use" in sheets["settings"]
    assert "Door: Kitchen door. Out within: 55 s. Alarm off within: 38 s" in sheets["handover"]
    assert "Zone: Hall. Nobody in: out of use" in sheets["zones"]
    for name in ("settings", "handover"):
        assert (
            "Season: The ordinary settings. When: the other months. Different: entry delay 35 s; Front door: entry 35 s"
            in (sheets[name])
        )
    assert "The calculations below are about the ordinary settings." in sheets["times"]


def test_the_ordinary_set_in_summer(seasonal: dict[str, Any]) -> None:
    """In July the ordinary values are in force, and what winter changes is told."""
    sheets = told(Home.model_validate(seasonal), "2026-07-15")
    assert "the values of the ordinary settings, since no season is in force on 2026-07-15." in sheets["handover"]
    assert "Door: Kitchen door. Out within: 55 s. Alarm off within: 25 s" in sheets["handover"]
    assert "Season: Winter. When: December, January, February. Different: entry delay 45 s" in sheets["handover"]
    assert "Hall: out of use" in sheets["settings"]


def test_the_owner_says_which(seasonal: dict[str, Any]) -> None:
    """The owner's word wins over the date, and the sheet says whose word it is."""
    unit = seasonal["control_unit"] | {"season_by": "owner", "season_now": "winter"}
    sheets = told(Home.model_validate(seasonal | {"control_unit": unit}), "2026-07-15")
    assert "the values of the season Winter, as the owner decided." in sheets["settings"]
    assert "Alarm off within: 38 s" in sheets["handover"]


def test_a_home_without_seasons_says_nothing_of_them(facts: dict[str, Any]) -> None:
    """Nobody reads of sets who has only one."""
    home = Home.model_validate(facts | {"control_unit": facts["control_unit"] | {"seasons": []}})
    for text in told(home, "2026-01-15").values():
        assert "These are the values" not in text
        assert "other seasons" not in text


def test_a_page_shows_nothing_that_depends_on_the_day(seasonal: dict[str, Any]) -> None:
    """A check cell prints the same in winter and in summer: the ordinary set, named."""
    text = answer(Home.model_validate(seasonal), "settings")
    assert "the values of the ordinary settings, since the day decides which season is in force." in text


def test_the_months_of_a_season_can_be_entered(seasonal: dict[str, Any], tmp_path: Path) -> None:
    """The table of seasons asks for months by name, and numbers are stored."""
    names = LISTS["seasons"].columns[0]
    assert "months" in names.names.split()
    ticked = dict(names.options["months"](Home()))
    assert ticked["12"] == "December"
    path = tmp_path / "home.json"
    session = Session.new(path, Home.model_validate(seasonal))
    session.apply([Edit(("control_unit", "seasons", "winter", "months"), [12, 1, 2], (11, 12))])
    assert session.home.control_unit.seasons[0].months == (11, 12)
    assert json.loads(path.read_text(encoding="utf-8"))["control_unit"]["seasons"][0]["months"] == [11, 12]


def test_the_familys_card_tells_only_what_is_on_it(seasonal: dict[str, Any]) -> None:
    """The card has doors and no zones, so the other settings on it tell of doors alone."""
    sheets = told(Home.model_validate(seasonal), "2026-07-15")
    card = sheets["handover"].split("By these doors in the other seasons:")[1].split("\n")[1]
    assert "Kitchen door: entry 38 s" in card
    assert "out of use" not in card


def test_the_form_of_seasons_reads_months_by_name(seasonal: dict[str, Any], tmp_path: Path) -> None:
    """What the browser sends is stored as numbers; what is no month is refused in a sentence and changes nothing."""
    session = Session.new(tmp_path / "home.json", Home.model_validate(seasonal))
    form = table(session, LISTS["seasons"])
    answers: list[dict[str, Any]] = []
    form.send = lambda content, _attached=None: answers.append(content)
    for text, seen in (("December,1", "12,1,2"), ("13", "12,1")):
        asked = {"kind": "edit", "client": "here", "seq": 7, "id": "winter/months", "text": text, "seen": seen}
        form._handle_custom_msg(asked, [])
    assert [answer["ok"] for answer in answers if answer["kind"] == "answer"] == [True, False]
    assert "choose one of: January" in next(answer["error"] for answer in answers if "error" in answer)
    assert session.home.control_unit.seasons[0].months == (12, 1)
