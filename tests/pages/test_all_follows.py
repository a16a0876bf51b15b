"""Every line of a page that speaks of the home follows it: what it works on, units, what a button asks first."""

from pathlib import Path

import pytest

from alarmlib import pages
from alarmlib.draft.blank import blank_home
from alarmlib.model.site import Room, Storey
from alarmlib.model.words import RuleSet, UnitSystem
from alarmlib.pages import views
from alarmlib.pages.forms import build
from alarmlib.pages.opened import open_home
from alarmlib.pages.start_forms import short_path
from alarmlib.store import Edit, Session
from alarmlib.widgets.follower import follower_of
from alarmlib.widgets.view import View


@pytest.fixture
def session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """This page's session of a blank home."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ALARM_HOME", raising=False)
    return open_home()


def with_a_room(session: Session) -> None:
    """One room of one storey, 2.4 m high."""
    home = session.home
    site = home.site.model_copy(
        update={
            "storeys": (Storey(id="ground", name="Ground"),),
            "rooms": (Room(id="hall", name="Hall", storey="ground", ceiling_m=2.4),),
        }
    )
    session.replace(home.model_copy(update={"site": site}))


def test_the_first_line_of_a_page_says_the_home_as_it_is_called_now(session: Session) -> None:
    """Before, it kept the name that the home had when the page was run."""
    line = pages.setup()
    assert isinstance(line, View)
    session.apply([Edit(("name",), session.home.name, "Mill <House>")])
    follower_of(session).once()
    assert line.text == repr(line) == "This page works on “Mill <House>”. Every change is saved at once."
    assert "Mill &lt;House&gt;" in line.html


def test_a_home_file_that_cannot_be_read_any_more_is_told_until_it_can(session: Session) -> None:
    """Before, an open page went on saying that it works on the home, while its file was broken elsewhere."""
    line = pages.setup()
    assert isinstance(line, View)
    good = session.path.read_bytes()

    def told() -> str:
        views._read_again(session)
        follower_of(session).once()
        return line.text

    session.path.write_bytes(b"{")
    assert told() == (
        "home.json is not a home file: it is not valid JSON at line 1, column 2 "
        "(Expecting property name enclosed in double quotes). This page shows your home as it was last read. "
        "Page 00_start can bring back the last good save."
    )
    session.path.unlink()
    assert views.UNREAD in told()
    session.path.write_bytes(good)
    assert told().startswith("This page works on")


def test_other_units_are_asked_for_at_once(session: Session) -> None:
    """Before, captions and values of an open form stayed in the units that held when the page was run."""
    with_a_room(session)
    table = build(session, "rooms")
    ceiling = next(key for key in table.values if key.endswith("ceiling_m"))
    assert table.values[ceiling] == "2.4"
    session.apply([Edit(("units",), UnitSystem.METRIC, UnitSystem.US)])
    captions = [column["caption"] for column in table.structure["table"]["columns"]]
    assert "Ceiling height (ft)" in captions
    assert table.values[ceiling] != "2.4"
    table._edit(ceiling, "10", table.values[ceiling])
    assert session.home.site.rooms[0].ceiling_m == pytest.approx(3.048)  # 1 ft = 0.3048 m exactly (NIST SP 811, B.8)
    session.undo()
    session.undo()
    assert table.values[ceiling] == "2.4"


def test_a_draft_asks_before_it_is_added_once_something_is_entered(session: Session) -> None:
    """Before, a page that was run on a blank home went on asking nothing."""
    form = short_path(session)
    assert form.structure["actions"][0]["confirm"] == ""
    with_a_room(session)
    assert form.structure["actions"][0]["confirm"] != ""
    session.replace(blank_home())
    assert form.structure["actions"][0]["confirm"] == ""


def test_titles_and_closed_forms_are_in_the_words_of_the_country_at_once(session: Session) -> None:
    """A part set has a name of its own under US rules: what names one says it as soon as the rules are chosen."""
    view = pages.check("part_set_findings")
    gate = pages.form("part_sets")
    before = view.title
    other = RuleSet.BRITAIN if session.home.rules.rule_set is RuleSet.US else RuleSet.US
    session.apply([Edit(("rules", "rule_set"), session.home.rules.rule_set, other)])
    follower_of(session).once()
    assert view.title != before
    if hasattr(gate, "closed"):
        assert gate.closed.value == f'<p role="status">{gate.why(session.home)}</p>'
