"""Sentences beside fields whose value is kept but means nothing alone; and what is refused in a sentence."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.pages.beside import beside
from alarmlib.pages.forms import build
from alarmlib.pages.start_forms import START
from alarmlib.store import Edit, Session
from alarmlib.widgets.follower import follower_of

PARTS: dict[str, Any] = {
    "devices": [{"id": "siren", "name": "Siren", "kind": "inside_sounder", "level_dba": 100}],
    "circuits": [{"id": "loop", "name": "Loop", "cable": "red"}],
    "wiring": {"supply": {"standby_battery_ah": 7}, "runs": [{"id": "run", "name": "Run"}]},
}


@pytest.fixture
def ask() -> Callable[..., dict[str, Any]]:
    """Send one browser message to a form and give its answer."""

    def send(form: Any, kind: str, **more: Any) -> dict[str, Any]:
        answers: list[dict[str, Any]] = []
        form.send = lambda content, _attached=None: answers.append(content)
        form._handle_custom_msg({"kind": kind, "client": "here", "seq": 7, **more}, [])
        return answers[0]

    return send


@pytest.fixture
def session(tmp_path: Any) -> Session:
    """A home in which each of the three is entered alone."""
    return Session.new(tmp_path / "home.json", Home.model_validate(PARTS))


CASES = [
    ("sounders", "devices/siren/level_dba", ("devices", "siren", "level_at_m"), 3.0, "without its distance"),
    ("circuits", "circuits/loop/cable", ("circuits", "loop", "cable"), "red, 22 AWG", "no known size"),
    ("supply", "wiring/supply/standby_battery_ah", ("wiring", "supply", "rated_over_h"), 20.0, "over how many hours"),
]


@pytest.mark.parametrize(("form", "key", "path", "value", "part"), CASES)
def test_said_beside_the_field_until_it_is_whole(
    session: Session, form: str, key: str, path: tuple[str, ...], value: Any, part: str
) -> None:

    made = build(session, form)
    said = {name.replace(":", "/"): text for name, text in made.asides.items()}
    found = [text for name, text in said.items() if key.rsplit("/", 1)[1] in name]
    assert len(found) == 1
    assert part in found[0]
    before = session.home
    for name in path:
        before = getattr(before, name) if not isinstance(before, tuple) else next(e for e in before if e.id == name)
    session.apply([Edit(path, before, value)])
    assert not [text for text in made.asides.values() if part in text]


def test_nothing_beside_other_fields() -> None:
    home = Home.model_validate(PARTS)
    assert beside(home, ("devices", "siren", "name")) is None
    assert beside(home, ("devices", "gone", "level_dba")) is None
    assert beside(home, ("circuits", "gone", "cable")) is None


BAD = [
    ("runs", "wiring/runs/run/size", "red", "such as 22 AWG"),
    ("runs", "wiring/runs/run/ohm_per_km", "0", "0.1 to 2000"),
    ("supply", "wiring/supply/standby_battery_ah", "-7", "0.1 Ah to 400 Ah"),
    ("supply", "wiring/supply/standby_battery_ah", "0", "0.1 Ah to 400 Ah"),
    ("sounders", "devices/siren/level_at_m", "0", "0.1 m to 100 m"),
    ("loop_input", "wiring/loop/pull_up_ohm", "-1", "10 Ω"),
]


@pytest.mark.parametrize(("form", "key", "text", "part"), BAD)
def test_bad_values_are_refused_in_a_sentence(
    session: Session, ask: Any, form: str, key: str, text: str, part: str
) -> None:
    made, before = build(session, form), session.home
    field = next(name for name, _, path in made._entries() if "/".join(path) == key)
    seen = made.values[field]
    answer = ask(made, "edit", id=field, text=text, seen=seen)
    assert part in answer["error"]
    assert "Traceback" not in answer["error"]
    assert session.home == before


ANSWERED = {"rooms": "Hall, Kitchen", "outside_doors": "Front door: Hall", "windows": "Side window: Attic"}


@pytest.fixture
def answered(tmp_path: Any) -> Session:
    """A short path with a window in a room that is not listed, and no keypad's room yet."""
    return Session.new(tmp_path / "answered.json", Home.model_validate({"short_path": ANSWERED}))


def test_a_wrong_answer_has_its_sentence_beside_it_and_the_draft_comes(answered: Session) -> None:
    """One wrong window silenced the whole draft; now its sentence is beside its question, and above the draft."""
    form, draft = build_start(answered, "short_path"), build_start(answered, "short_outcome")
    (said,) = (each["wrong"] for each in form.questions if each["wrong"])
    assert "“Attic”" in said
    assert all(words in draft.html for words in ("Contact, Front door", "Answers that could not be used", "“Attic”"))
    answered.apply([Edit(("short_path", "windows"), ANSWERED["windows"], "Side window: Kitchen")])
    follower_of(answered).once()
    assert not any(each["wrong"] for each in form.questions)
    assert "could not be used" not in draft.html
    assert "Contact, Side window" in draft.html


def test_the_draft_is_added_and_its_button_says_what(answered: Session, ask: Callable[..., dict[str, Any]]) -> None:
    """Survey points and notes stay when the draft becomes the home; undo takes the draft out again."""
    answered.apply([Edit(("note",), "", "Ask Ada"), Edit(("site", "answers", "own"), None,
                    {"id": "own", "heading": "grounds", "point": "The gate"})])  # fmt: skip
    form = build_start(answered, "short_path")
    told = ask(form, "action", n=0)
    assert "The draft is now your home." in str(told)
    assert answered.home.note == "Ask Ada"
    assert [point.id for point in answered.home.site.answers] == ["own"]
    assert [room.name for room in answered.home.site.rooms] == ["Hall", "Kitchen"]
    answered.undo()
    assert answered.home.site.rooms == ()


def build_start(session: Session, name: str) -> Any:
    """A form of the start page."""
    return START[name](session)
