"""The Python end of a form: each browser message answered by its number, nothing changed by an error."""

import threading

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.model.site import Room
from alarmlib.store import Session, secrets
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import ActionSpec, DownloadSpec, FormSpec, UploadSpec, fields_of

HALL = ("site", "rooms", "hall")
CEILING = "site/rooms/hall/ceiling_m"
NOTE = "site/rooms/hall/note"


def form(session: Session, extras: Extras | None = None, raising: bool = True) -> Form:
    names = ["name", "ceiling_m", "use", "note"]
    return Form(session, FormSpec("Hall", (("", fields_of(Room, names, HALL)),)), extras, raising)


def test_edit__is_saved_and_answered(session, ask) -> None:
    answer = ask(form(session), "edit", id=CEILING, text="2,5", seen="2.4")
    assert (answer["ok"], answer["shown"]) == (True, "2.5")
    assert Session.open(session.path).home.site.rooms[0].ceiling_m == 2.5


def test_edit__text_as_shown_is_never_rounded_again(tmp_path, session, ask) -> None:
    """A third of a metre more than two shows as 2.333: sending that text back leaves every digit in the file."""
    exact = session.home.model_dump(mode="json")
    exact["site"]["rooms"][0]["ceiling_m"] = 7 / 3
    session.replace(type(session.home).model_validate(exact))
    made = form(session)
    assert made.values[CEILING] == "2.333"
    assert ask(made, "edit", id=CEILING, text="2.333", seen="2.333")["ok"]
    assert session.home.site.rooms[0].ceiling_m == 7 / 3


def test_edit__a_wrong_value_changes_nothing(session, ask) -> None:
    before = session.path.read_bytes()
    answer = ask(form(session), "edit", id=CEILING, text="99", seen="2.4")
    assert not answer["ok"]
    assert answer["error"] == "“99” is not allowed here; 1 m to 12 m is allowed."
    assert session.path.read_bytes() == before


def test_edit__same_field_moved_elsewhere_is_asked(session, ask) -> None:
    """Typed over 2.4 while another kernel saved 2.6: a clash with both; keeping mine then goes through."""
    made = form(session)
    other = Session.open(session.path)
    ask(form(other), "edit", id=CEILING, text="2.6", seen="2.4")
    answer = ask(made, "edit", id=CEILING, text="2.8", seen="2.4")
    assert answer["clash"] == {"theirs": "2.6", "theirs_text": "2.6", "mine_text": "2.8"}
    assert made.values[CEILING] == "2.6"
    assert ask(made, "edit", id=CEILING, text="2.8", seen=answer["clash"]["theirs"])["ok"]
    assert Session.open(session.path).home.site.rooms[0].ceiling_m == 2.8


def test_edit__same_field_moved_in_this_kernel_is_asked_too(session, ask) -> None:
    made = form(session)
    ask(form(session), "edit", id=CEILING, text="2.6", seen="2.4")
    assert "clash" in ask(made, "edit", id=CEILING, text="2.8", seen="2.4")
    assert session.home.site.rooms[0].ceiling_m == 2.6


def test_edit__other_field_moved_elsewhere_is_not_asked(session, ask) -> None:
    made = form(session)
    ask(form(Session.open(session.path)), "edit", id=NOTE, text="red door", seen="blue door")
    assert ask(made, "edit", id=CEILING, text="2.8", seen="2.4")["ok"]
    hall = Session.open(session.path).home.site.rooms[0]
    assert (hall.ceiling_m, hall.note) == (2.8, "red door")


def test_edit__sent_twice_is_taken_once(session, ask) -> None:
    """An answer lost on the way: the same edit sent again after a re-run is no clash."""
    made = form(session)
    for _ in range(2):
        assert ask(made, "edit", id=CEILING, text="2.8", seen="2.4")["ok"]


def test_forms__hear_of_each_other_and_of_other_kernels(session, ask) -> None:
    one, two = form(session), form(session)
    ask(one, "edit", id=NOTE, text="red door", seen="blue door")
    assert two.values[NOTE] == "red door"
    ask(form(Session.open(session.path)), "edit", id=NOTE, text="green door", seen="red door")
    assert ask(two, "refresh")["ok"]
    assert one.values[NOTE] == two.values[NOTE] == "green door"


def test_repr__says_title_and_no_value_or_address(session) -> None:
    made = form(session)
    assert repr(made) == "Form: Hall"
    bundle = made._repr_mimebundle_()
    assert (bundle[0] if isinstance(bundle, tuple) else bundle)["text/plain"] == "Form: Hall"


def test_callback__an_error_is_shown_and_raised_under_test(session, ask, monkeypatch) -> None:
    def fail() -> str:
        raise ZeroDivisionError("oh")

    extras = Extras(actions=(ActionSpec("Fail", fail),))
    quiet = form(session, extras, raising=False)
    assert "ZeroDivisionError: oh" in ask(quiet, "action", n=0)["error"]
    with pytest.raises(ZeroDivisionError):
        ask(form(session, extras), "action", n=0)
    monkeypatch.setenv("ALARM_RAISE", "1")
    names = FormSpec("Hall", (("", fields_of(Room, ["name"], HALL)),))
    with pytest.raises(ZeroDivisionError):
        ask(Form(session, names, extras), "action", n=0)


def test_action__a_plain_problem_is_a_plain_sentence(session, ask) -> None:
    def refuse() -> str:
        raise AlarmProblem("There is nothing to undo.")

    extras = Extras(actions=(ActionSpec("Undo", refuse),))
    assert ask(form(session, extras), "action", n=0)["error"] == "There is nothing to undo."


def test_files__each_way_and_over_the_cap(session, ask) -> None:
    took: list[tuple[str, bytes]] = []
    upload = UploadSpec("Upload", lambda name, content: took.append((name, content)), most_bytes=10)
    extras = Extras(upload=upload, downloads=(DownloadSpec("Download", lambda: ("h.json", b"{}")),))
    made = form(session, extras)
    assert ask(made, "upload", [memoryview(b"abc")], name="a.json")["ok"]
    assert "larger than" in ask(made, "upload", [b"a" * 11], name="b.json")["error"]
    assert took == [("a.json", b"abc")]
    answer = ask(made, "download", n=0)
    assert (answer["file"]["name"], answer["buffers"]) == ("h.json", [b"{}"])


@pytest.mark.parametrize("kind", ["upload", "action"])
def test_slow_work__other_questions_are_answered_meanwhile(session, ask, kind: str) -> None:
    """The work itself waits here until an edit has been answered; it had kept every other question waiting."""
    answered, seen = threading.Event(), []

    def work(*_given: object) -> str:
        seen.append(answered.wait(60))
        return "It is done."

    extras = Extras((ActionSpec("Work", work, slow=True),), upload=UploadSpec("Upload", work, slow=True))
    made = form(session, extras)
    sent: list[dict[str, object]] = []
    made.send = lambda message, _buffers=None: sent.append(message)
    given = {"n": 0, "name": "a.csv", "client": "c", "seq": 1}
    made._handle_custom_msg({"kind": kind, **given}, [b"abc"])
    question = {"kind": "edit", "id": NOTE, "text": "green door", "seen": "blue door", "client": "c", "seq": 2}
    made._handle_custom_msg(question, [])
    answered.set()
    assert made.working is not None
    made.working.join(60)
    assert seen == [True]
    assert [(each["seq"], each["ok"]) for each in sent] == [(2, True), (1, True)]
    assert sent[1]["say"] == "It is done."


def test_slow_work__a_problem_is_a_sentence(session, ask) -> None:
    def refuse(_name: str, _content: bytes) -> str:
        raise AlarmProblem("There is nothing in it.")

    made = form(session, Extras(upload=UploadSpec("Upload", refuse, slow=True)))
    sent: list[dict[str, object]] = []
    made.send = lambda message, _buffers=None: sent.append(message)
    made._handle_custom_msg({"kind": "upload", "name": "a.csv"}, [b"abc"])
    assert made.working is not None
    made.working.join(60)
    assert [each["error"] for each in sent] == ["There is nothing in it."]


def test_warning__stays_by_the_field_until_it_is_cleared(session, ask) -> None:
    made = form(session)
    assert ask(made, "edit", id=NOTE, text="the code is 1234", seen="blue door")["ok"]
    assert made.warnings == {NOTE: secrets.warning(session.home, "the code is 1234")}
    assert ask(made, "not_secret", id=NOTE)["ok"]
    assert made.warnings == {}


def test_unknown_question__is_refused_in_words(session, ask) -> None:
    assert ask(form(session), "dance")["error"] == "This form has no dance."


def test_an_edit_is_worked_out_once_by_the_form_that_made_it(session, ask) -> None:
    """The session tells its forms before it answers: before, the form that made the edit showed all of it twice."""
    made = form(session)
    shown = []
    show = made._show
    made._show = lambda: (shown.append(session.home), show())
    answer = ask(made, "edit", id=CEILING, text="2.5", seen=made.values[CEILING])
    assert answer["ok"]
    assert (shown, made.values[CEILING]) == ([session.home], "2.5")
