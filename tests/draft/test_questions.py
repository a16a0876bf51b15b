"""The short path as single questions: what follows from which answers, picks written and read back, “I do not know”."""

from collections.abc import Mapping
from typing import Any

import pytest

from alarmlib.draft.blank import blank_home
from alarmlib.draft.merged import merged
from alarmlib.draft.picks import Picks
from alarmlib.draft.questions import CHECK, QUESTIONS, asked_now, begins_at, is_answered, is_unknown
from alarmlib.draft.short_answers import added, after, one_more, passed, picked, said, unknown, written
from alarmlib.draft.short_path import draft_home, wrong_answers
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.short_path import ShortPath
from alarmlib.model.site import Reach, RoomUse, Yes

GROUND, UP = "Ground floor", "Upstairs"
MOST_QUESTIONS = 25


class Answering:
    """Somebody who answers one question after the other; each answer counts."""

    def __init__(self, home: Home) -> None:
        self.home, self.at, self.answers = home, begins_at(home), 0

    def take(self, changes: Mapping[str, Any]) -> None:
        stored = ShortPath.model_validate({**self.home.short_path.model_dump(), **changes})
        self.home = self.home.model_copy(update={"short_path": stored})

    def pick(self, group: str, *keys: str) -> None:
        for key in keys:
            self.take(picked(self.home, self.at, group, key, True))

    def more(self, group: str, key: str) -> None:
        self.take(one_more(self.home, self.at, group, key))

    def next(self) -> None:
        self.take(passed(self.home, self.at))
        self.answers, self.at = self.answers + 1, after(self.home, self.at)

    def not_known(self) -> None:
        self.take(unknown(self.home, self.at))
        self.answers, self.at = self.answers + 1, after(self.home, self.at)

    def answer(self, group: str, *keys: str) -> None:
        self.pick(group, *keys)
        self.next()


def average() -> Answering:
    """Seven rooms on two floors, a shed, eight ways in, a couple with a child who does not wake, a cat, a boiler."""
    who = Answering(blank_home())
    who.answer("", "Upstairs")
    who.pick(GROUND, "Hall:0", "Kitchen:0", "Living room:0")
    who.pick(UP, "Landing:0", "Bedroom:0", "Bathroom:0")
    who.more(UP, "Bedroom:0")
    who.next()
    who.answer("", "Shed")
    who.answer(GROUND, "Hall:0", "Kitchen:0")
    who.next()
    who.pick(GROUND, "Kitchen:0", "Living room:0")
    who.more(GROUND, "Living room:0")
    who.next()
    who.answer(UP, "Bathroom:0", "Bedroom:0")
    who.next()
    who.answer("", "Hall")
    who.not_known()
    who.next()
    who.take(written("people", "3"))
    who.next()
    who.answer("", "carries", "wont_wake")
    who.not_known()
    who.answer("", "climb")
    who.answer("", "yes")
    who.answer("", "yes")
    who.not_known()
    who.not_known()
    who.answer("", "no")
    who.answer("", "yes")
    who.answer("", "Kitchen")
    who.answer("", "no")
    return who


def test_questions__at_most_25() -> None:
    """However many floors and whatever is answered."""
    assert len(QUESTIONS) <= MOST_QUESTIONS
    assert len({question.id for question in QUESTIONS}) == len(QUESTIONS)


def test_the_average_home_is_answered_in_at_most_25_answers() -> None:
    """From nothing to the page that checks; the draft holds each answer, and none was refused."""
    who = average()
    assert who.at == CHECK == begins_at(who.home)
    assert who.answers <= MOST_QUESTIONS
    assert wrong_answers(who.home) == ()
    draft = draft_home(who.home).home
    assert [room.name for room in draft.site.rooms] == [
        "Hall", "Kitchen", "Living room", "Landing", "Bedroom", "Bathroom", "Bedroom 2", "Shed",
    ]  # fmt: skip
    ways = {each.name: (each.room, each.reach) for each in draft.site.openings}
    assert ways == {
        "Front door": ("hall", Reach.GROUND),
        "Back door": ("kitchen", Reach.GROUND),
        "Shed door": ("shed", Reach.GROUND),
        "Kitchen window": ("kitchen", Reach.GROUND),
        "Living room window": ("living_room", Reach.GROUND),
        "Living room window 2": ("living_room", Reach.GROUND),
        "Bathroom window": ("bathroom", Reach.FLAT_ROOF),
        "Bedroom window": ("bedroom", Reach.FLAT_ROOF),
    }
    assert [each.name for each in draft.site.openings if each.entry_exit] == ["Front door"]
    assert {room.name for room in draft.site.rooms if room.sleeps_here} == {"Bedroom", "Bedroom 2"}
    assert next(room for room in draft.site.rooms if room.name == "Kitchen").fuel_appliance
    assert [person.deep_sleeper for person in draft.household.people] == [False, False, True]
    assert draft.household.people[0].carries
    assert draft.household.pets[0].reaches_m > 0 and draft.household.pets[0].free_in_night
    joined = {frozenset((each.first, each.second)) for each in draft.site.passages}
    hub = [("hall", other) for other in ("kitchen", "living_room", "landing")]
    up = [("landing", other) for other in ("bedroom", "bathroom", "bedroom_2")]
    assert joined == {frozenset(pair) for pair in (*hub, *up)}


def test_i_do_not_know_becomes_an_assumption_with_its_name() -> None:
    """Control unit, stopwatch, zones: each is told as unknown on the check page, and the draft says what it assumes."""
    home = average().home
    unsure = [question.id for question in asked_now(home) if is_unknown(home, question)]
    assert unsure == ["unit_room", "walk_s", "recognises", "zones"]
    assert all(said(home, question) == "I do not know" for question in asked_now(home) if question.id in unsure)
    told = " ".join(draft_home(home).assumptions)
    for words in ("The control unit is assumed", "No walk was timed", "number of zones", "each device by itself"):
        assert words in told
    assert "“Shed” is assumed to be a building apart" in told


def test_a_later_answer_takes_the_not_known_back() -> None:
    """Known now: the note goes, and with it the assumption."""
    who = average()
    who.at = "zones"
    who.take(written("zones", "8"))
    who.next()
    (question,) = (each for each in QUESTIONS if each.id == "zones")
    assert not is_unknown(who.home, question) and said(who.home, question) == "8"
    assert "number of zones" not in " ".join(draft_home(who.home).assumptions)


def test_where_halls_lead_not_known__assumed_and_used() -> None:
    """Nobody knows: the guess is used, and said."""
    who = average()
    who.at = "joined"
    who.take({"inner_doors": ""})
    who.take(unknown(who.home, "joined"))
    draft = draft_home(who.home)
    assert len(draft.home.site.passages) == 6
    assert any("Each hall is assumed to lead" in line for line in draft.assumptions)
    assert not any("No inside doors" in line for line in draft.assumptions)
    assert "rest" not in [each.id for each in asked_now(who.home)]


def ids(home: Home) -> set[str]:
    """The questions asked of a home."""
    return {question.id for question in asked_now(home)}


def told(**answers: Any) -> Home:
    """A home with these answers."""
    return Home(short_path=ShortPath(**answers))


@pytest.mark.parametrize(
    ("question", "without", "with_it"),
    [
        ("pets_at_night", {"pets": "none"}, {"pets": "floor"}),
        ("fuel_rooms", {"fuel": "no"}, {"fuel": "yes"}),
        ("upper_windows", {"rooms": "Hall"}, {"rooms": "Hall\nBedroom, upstairs"}),
        ("joined", {"rooms": "Hall"}, {"rooms": "Hall\nKitchen"}),
        ("rest", {"rooms": "Hall\nStudy", "inner_doors": "Hall: Study"},
         {"rooms": "Hall\nStudy\nGarage", "inner_doors": "Hall: Study"}),
    ],
)  # fmt: skip
def test_what_follows_from_what(question: str, without: dict[str, Any], with_it: dict[str, Any]) -> None:
    """A question is asked only where its answer is about something."""
    assert question not in ids(told(**without))
    assert question in ids(told(**with_it))


def test_picked_and_taken_away__as_before() -> None:
    """Each option of each list, picked and taken away again, leaves what was stored; typed names stay."""
    home = average().home
    windows = home.short_path.windows + "\nBay: Living room"
    more = {"windows": windows, "asked": ", ".join(each.id for each in QUESTIONS)}
    home = home.model_copy(update={"short_path": home.short_path.model_copy(update=more)})
    for question in asked_now(home):
        picks = Picks(home)
        if question.kind != "many":
            continue
        for group in question.groups(picks):
            for option in (each for each in group.options if not each.on):
                who = Answering(home)
                who.take(picked(home, question.id, group.key, option.key, True))
                now = next(g for g in question.groups(Picks(who.home)) if g.key == group.key)
                assert next(each for each in now.options if each.key == option.key).on, (question.id, option)
                who.take(picked(who.home, question.id, group.key, option.key, False))
                assert said(who.home, question) == said(home, question), (question.id, option)
    assert "Bay" in said(home, next(each for each in QUESTIONS if each.id == "windows"))


OLD = {
    "rooms": "Hall, Kitchen; Cellar\nUpstairs: Landing, Bedroom, Nursery",
    "outside_doors": "Front door: Hall, Side door: Kitchen",
    "home_by": "Side door",
    "windows": "Kitchen window: Kitchen, Bed window: Bedroom, flat roof",
    "inner_doors": "Hall: Kitchen, Landing, Cellar\nLanding: Bedroom, Nursery",
    "keypad_room": "hall",
    "bedrooms": "Bedroom and Nursery",
}


def test_every_old_text_still_reads() -> None:
    """Lists as they were typed before are shown as picks, and picking one more loses none of them."""
    home = told(**OLD)
    words = {question.id: said(home, question) for question in asked_now(home)}
    assert words["rooms"] == "Ground floor: Hall, Kitchen; cellar: Cellar; Upstairs: Landing, Bedroom, Nursery".replace(
        "cellar:", "Cellar:"
    )
    assert words["outside_doors"] == "Ground floor: Front door, Hall, Side door, Kitchen"
    assert (words["home_by"], words["keypad_room"]) == ("Side door", "Hall")
    assert words["upper_windows"] == "Bed window, Bedroom"
    assert words["bedrooms"] == "Bedroom, Nursery"
    before = draft_home(home).home
    who = Answering(home)
    who.at = "rooms"
    who.pick(GROUND, "Study:0")
    who.at = "windows"
    who.pick(GROUND, "Hall:0")
    now = draft_home(who.home).home
    assert {room.name for room in now.site.rooms} - {room.name for room in before.site.rooms} == {"Study"}
    assert {each.id for each in before.site.openings} <= {each.id for each in now.site.openings}
    assert {each.id for each in before.site.passages} == {each.id for each in now.site.passages}
    assert [room.use for room in now.site.rooms if room.name == "Cellar"] == [RoomUse.CELLAR]


def test_begins_where_it_was_left() -> None:
    """Another window or a fresh kernel goes on at the first open question; a used draft begins at the check."""
    who = Answering(blank_home())
    assert begins_at(who.home) == "floors"
    who.next()
    assert begins_at(who.home) == "rooms"
    assert begins_at(told(**OLD)) == "outbuildings"
    assert begins_at(merged(average().home).home) == CHECK
    assert all(is_answered(average().home, each) for each in asked_now(average().home))


def test_a_name_of_ones_own() -> None:
    """A room that is not offered is typed once and is an option from then on; marks that part a list are left out."""
    who = average()
    who.take(added(who.home, "rooms", GROUND, " Music, room: 1 "))
    assert "Music room 1" in {room.name for room in draft_home(who.home).home.site.rooms}
    who.take(added(who.home, "outbuildings", "", "Boat house"))
    assert "Boat house" in {room.name for room in draft_home(who.home).home.site.rooms}
    with pytest.raises(AlarmProblem, match="Write a name"):
        added(who.home, "rooms", GROUND, " , ")


@pytest.mark.parametrize(("name", "text"), [("people", "0"), ("people", "two"), ("zones", "1.5"), ("walk_s", "601")])
def test_a_number_out_of_range_is_refused_in_a_sentence(name: str, text: str) -> None:
    with pytest.raises(AlarmProblem, match=r"^Write a (whole )?number from 1 to"):
        written(name, text)


@pytest.mark.parametrize("name", ["rooms", "outside_doors", "pets"])
def test_next_without_what_must_be_picked(name: str) -> None:
    """Rooms and doors are needed; a question of one answer wants it."""
    with pytest.raises(AlarmProblem, match=r"^Pick"):
        passed(blank_home(), name)


def test_nothing_ticked_says_so() -> None:
    """Who ticks nobody that would not wake has said that everybody does."""
    who = Answering(blank_home())
    who.take(passed(who.home, "needs"))
    assert who.home.short_path.wont_wake is Yes.NO
    assert said(who.home, next(each for each in QUESTIONS if each.id == "needs")) == "None of these"


def test_a_floor_with_rooms_is_not_taken_away() -> None:
    """It would leave its rooms without a place."""
    with pytest.raises(AlarmProblem, match="Take its rooms away first"):
        picked(average().home, "floors", "", "Upstairs", False)


def test_many_bedrooms_are_kept() -> None:
    """More names than a line of 80 letters holds: the answer was refused, since it was stored as a single name."""
    who = average()
    who.at = "rooms"
    for _ in range(12):
        who.more(UP, "Bedroom:0")
    who.at = "bedrooms"
    for name in (room.name for room in Picks(who.home).rooms if room.name.startswith("Bedroom")):
        who.pick("", name)
    assert len(who.home.short_path.bedrooms) > 80
    assert sum(room.sleeps_here for room in draft_home(who.home).home.site.rooms) == 14
