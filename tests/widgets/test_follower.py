"""What is brought up to date first after an edit: the answer, what is in sight, what is quick; the slow gives way."""

from collections.abc import Callable

import pytest

from alarmlib.model import Home
from alarmlib.model.site import Room
from alarmlib.store import Edit, Session
from alarmlib.widgets.follower import Follower, follower_of, give_way
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import FormSpec, fields_of
from alarmlib.widgets.view import FORGETS, Drawn, View

NAME = "site/rooms/hall/name"


@pytest.fixture(autouse=True)
def _by_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    """No thread of its own follows here: each test says when."""
    monkeypatch.setattr(Follower, "_go_on", lambda _self: None)


def named(session: Session, name: str) -> None:
    """The home gets another name."""
    session.apply([Edit(("name",), session.home.name, name)])


def of_hall(session: Session) -> Form:
    """A form of the hall's name."""
    return Form(session, FormSpec("Hall", (("", fields_of(Room, ["name"], ("site", "rooms", "hall"))),)))


def noted(said: list[str], title: str, first: Callable[[Home], None] = lambda _home: None) -> Callable[[Home], Drawn]:
    """What a view draws, noted once it is done; `first` is what it does before."""

    def drawn(home: Home) -> Drawn:
        first(home)
        said.append(title)
        return Drawn(home.name, home.name)

    return drawn


def long_at(turns: list[int]) -> Callable[[Home], None]:
    """Work that takes without end in these of its turns, unless it gives way."""
    turn = iter(range(99))

    def work(_home: Home) -> None:
        endless = next(turn) in turns
        while endless:
            give_way()

    return work


def test_a_quick_finding_is_shown_before_a_slow_picture_is_done(session: Session) -> None:
    """The picture was quick until now, so its turn is first; it gives way, and is drawn after all others."""
    said: list[str] = []
    picture = View(session, "picture", noted(said, "picture", long_at([1])))
    finding = View(session, "finding", noted(said, "finding"))
    picture.taken_s, finding.taken_s = 0.0, 0.5
    said.clear()
    named(session, "after")
    follower_of(session).once()
    assert said == ["finding", "picture"]
    assert (picture.html, finding.html) == ("after", "after")


def test_a_newer_home_ends_what_is_being_drawn(session: Session) -> None:
    """An edit made while a slow picture is drawn is followed by the quick ones at once; the picture comes after."""
    said: list[str] = []
    long = long_at([1])

    def interrupted(home: Home) -> None:
        if home.name == "after":
            named(session, "later")
        long(home)

    finding = View(session, "finding", noted(said, "finding"))
    picture = View(session, "picture", noted(said, "picture", interrupted))
    picture.taken_s = 9.0
    said.clear()
    named(session, "after")
    follower_of(session).once()
    follower_of(session).once()
    assert said == ["finding", "finding", "picture"]
    assert (picture.html, finding.html) == ("later", "later")


def test_the_order_does_not_swing_with_who_asks_first(session: Session) -> None:
    """A view that was quick once, as another had worked out what both ask, is not taken for quick; it is in time.

    Nor is one slow for the next edit because a single one moved much.
    """
    view = View(session, "view", lambda home: Drawn(home.name, home.name))
    view.taken_s, view._last_s = 0.5, 9.0
    for number in (1, 2):
        named(session, f"after {number}")
        follower_of(session).once()
        assert view.taken_s == pytest.approx(0.5 * FORGETS**number)


def test_what_is_in_sight_comes_first(session: Session) -> None:
    """The browser says which views its reader sees; they go before quicker ones."""
    said: list[str] = []
    one, other = View(session, "one", noted(said, "one")), View(session, "other", noted(said, "other"))
    one.taken_s, other.taken_s = 0.0, 0.05
    other._handle_custom_msg({"kind": "sight", "seen": True}, [])
    said.clear()
    named(session, "after")
    follower_of(session).once()
    assert said == ["other", "one"]


def test_an_edit_is_answered_before_other_forms_and_views_follow(session: Session) -> None:
    """Before, each form of the page was brought up before the one with the edit had its answer."""
    view = View(session, "hall", lambda home: Drawn("", home.site.rooms[0].name))
    form, other = of_hall(session), of_hall(session)
    at_answer: list[tuple[str, str]] = []
    form.send = lambda _answer, _buffers=None: at_answer.append((other.values[NAME], view.html))
    form._handle_custom_msg({"kind": "edit", "client": "", "seq": 1, "id": NAME, "text": "Lobby", "seen": "Hall"}, [])
    assert at_answer == [("Hall", "Hall")]
    assert form.values[NAME] == "Lobby"
    follower_of(session).once()
    assert (other.values[NAME], view.html) == ("Lobby", "Lobby")


def test_forms_follow_at_once_where_no_view_does(session: Session) -> None:
    """A page without a view has no thread that could bring its forms up."""
    form, other = of_hall(session), of_hall(session)
    form._edit(NAME, "Lobby", "Hall")
    assert other.values[NAME] == "Lobby"
