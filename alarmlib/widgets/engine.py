"""The Python end of every form: edits come in by number, are read, applied to the session and answered."""

import hashlib
import os
import threading
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path as File
from typing import Any, ClassVar

import traitlets

from alarmlib.errors import AlarmProblem, FieldProblem, shorten
from alarmlib.model import Home
from alarmlib.rules import say_of
from alarmlib.store import Edit, FieldClash, Session, secrets
from alarmlib.store.renamed import FIELDS
from alarmlib.widgets.follower import ONE_AT_A_TIME, later
from alarmlib.widgets.modules import joined, styled
from alarmlib.widgets.moved import Moving
from alarmlib.widgets.spec import ActionSpec, DownloadSpec, FieldPath, FieldSpec, UploadSpec
from alarmlib.widgets.values import NotThereError, left_out, read_text, shown_text, value_at, with_words
from alarmlib.widgets.work import with_text

MOST_DOWNLOAD_BYTES = 2_500_000  # a larger message is dropped by the server's limit of 1 MB a second
HERE = File(__file__).parent
_NO_TEXT = frozenset({"id", "key", "control", "accept", "base", "page", "names"})  # of what the browser is told


@dataclass(frozen=True)
class Extras:
    """What a form has beside its fields: buttons, files, and the look at free text for secrets.

    `check_text(home, text)` returns the warning for a text that looks like a secret, else None;
    `not_secret(home, text)` is the edit that notes the owner's "it isn't one"; `beside(home, path)` is what to say
    beside a field whose value is kept but means little by itself.
    """

    actions: tuple[ActionSpec, ...] = ()
    downloads: tuple[DownloadSpec, ...] = ()
    upload: UploadSpec | None = None
    check_text: Callable[[Home, str], str | None] = secrets.warning
    not_secret: Callable[[Home, str], Edit] = secrets.not_secret
    beside: Callable[[Home, FieldPath], str | None] = lambda _home, _path: None


def sentence(problem: AlarmProblem) -> str:
    """The problem as it is written beside its own field: the value and what is allowed, without the path."""
    if isinstance(problem, FieldProblem):
        value = f"{shorten(problem.value)} is not allowed here; " if problem.value else ""
        return f"{value}{problem.allowed}."
    return str(problem)


class Engine(Moving):
    """The widget under each form of a session's home; `raising` lets a callback's error through (tests)."""

    _esm = joined(HERE / "form_shown.js")
    _css = styled("form.css")
    parts: ClassVar[tuple[str, ...]] = ("values", "options", "rows", "warnings", "asides", "inherited", "folding")
    structure = traitlets.Dict().tag(sync=True)
    values = traitlets.Dict().tag(sync=True)
    options = traitlets.Dict().tag(sync=True)
    rows: traitlets.List[str] = traitlets.List().tag(sync=True)
    warnings = traitlets.Dict().tag(sync=True)
    asides = traitlets.Dict().tag(sync=True)
    inherited = traitlets.Dict().tag(sync=True)
    folding = traitlets.Dict().tag(sync=True)

    def __init__(self, session: Session, title: str, extras: Extras | None, raising: bool | None) -> None:
        self.session = session
        self.title = title
        self.extras = extras or Extras()
        self.working: threading.Thread | None = None  # the newest slow work
        self.shown: Home | None = None
        self.raising = os.environ.get("ALARM_RAISE") == "1" if raising is None else raising
        self._show()
        super().__init__()  # the line to the browser opens with all that is there by now
        self.unsubscribe = session.subscribe(self._told)

    def __repr__(self) -> str:
        return f"Form: {self.title}"

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return with_text(super()._repr_mimebundle_(**kwargs), repr(self))

    # What a kind of form says about itself.

    def _specify(self, home: Home) -> None:
        """What it holds may depend on the home's units."""

    def _layout(self) -> dict[str, Any]:
        raise NotImplementedError

    def _entries(self) -> Iterator[tuple[str, FieldSpec, FieldPath]]:
        """Every field on the screen: its id there, its spec, its path in the home."""
        raise NotImplementedError

    def _entry(self, key: str) -> tuple[FieldSpec, FieldPath]:
        """The spec and the path of one field on the screen. Raises NotThereError."""
        raise NotImplementedError

    def _columns(self) -> Iterator[tuple[str, FieldSpec]]:
        """Every field whose choices are offered, by the id it has in `structure`."""
        raise NotImplementedError

    def _row_ids(self) -> list[str]:
        return []

    def _held_at(self, path: FieldPath) -> Any:
        """What the home holds at a path; None where nothing is there."""
        return _value(self.session.home, path)

    def _inherited(self) -> Mapping[str, str]:
        """What holds where a field is blank because its fact is entered elsewhere, by the field's id on the screen."""
        return {}

    def _folding(self, _values: Mapping[str, Any]) -> dict[str, Any]:
        """The line in its place while it is folded, whether it begins so, and what is entered behind each "More"."""
        return {}

    def _asked(self, question: Mapping[str, Any]) -> dict[str, Any]:
        """The answer to what only this kind of form is asked."""
        raise AlarmProblem(f"This form has no {question.get('kind')}.")

    def offer(self, extras: Extras) -> None:
        """Other buttons from now on: the form is built again on the page, and what is typed in it is kept."""
        self.extras = extras
        self._build(say_of(self.session.home))

    def _build(self, say: Callable[[str], str]) -> None:
        """Tell the browser what the form holds, in the words of the home's country; unmoved it is not sent again."""
        built = {"title": self.title, **self._buttons(), **self._layout()}
        self.structure = {"key": self._key(), "renamed": dict(FIELDS), **worded(built, say)}

    # What goes to the browser.

    def _key(self) -> str:
        home = hashlib.sha256(str(getattr(self.session, "path", "")).encode()).hexdigest()[:12]
        return f"{home}:{self.title}"

    def _buttons(self) -> dict[str, Any]:
        upload = self.extras.upload
        return {
            "actions": [
                {"label": each.label, "confirm": each.confirm_of(self.session.home)} for each in self.extras.actions
            ],
            "downloads": [{"label": each.label} for each in self.extras.downloads],
            "upload": upload and {"label": upload.label, "accept": upload.accept, "most_bytes": upload.most_bytes},
        }

    def _show(self) -> None:
        """Send what the home holds now; the browser keeps what is being typed."""
        home = self.session.home
        self._specify(home)
        say = say_of(home)
        rows, entries = self._row_ids(), list(self._entries())
        held = {key: self._held_at(path) for key, _, path in entries}
        values = {key: shown_text(field, held[key]) for key, field, _ in entries}
        options = {
            key: [[value, say(name)] for value, name in field.choices_in(home)]
            for key, field in self._columns()
            if field.control in {"choice", "multi"}
        }
        looked_at = {key: self._warning(field, values[key]) for key, field, _ in entries}
        warnings = {key: say(warning) for key, warning in looked_at.items() if warning}
        said = {key: self.extras.beside(home, path) for key, _, path in entries}
        asides = {key: say(text) for key, text in said.items() if text}
        inherited = {key: say(text) for key, text in self._inherited().items()}
        with self.hold_sync():
            self._build(say)
            self.hold(
                values=values, options=options, rows=rows, warnings=warnings, asides=asides, inherited=inherited,
                folding=worded(self._folding(held), say), **self._drawn(home),
            )  # fmt: skip
        self.shown = home

    def _drawn(self, _home: Home) -> dict[str, Any]:
        """What only this kind of form shows beside its fields."""
        return {}

    def _warning(self, field: FieldSpec, text: str) -> str | None:
        free = field.control in {"text", "longtext"} and field.holds == "str"
        return self.extras.check_text(self.session.home, text) if free and text else None

    def _told(self, *_news: Any) -> None:
        """Follow once the edit is answered, after the views that are quick; at once where nothing else follows."""
        if not later(self.session, self._follow_in_turn):
            self._follow_in_turn()

    def _follow_in_turn(self) -> None:
        with ONE_AT_A_TIME:
            self._follow()

    def _follow(self) -> None:
        """Show the home, unless this state of it is shown already: the session tells its forms before it answers."""
        if self.shown is not self.session.home:
            self._show()

    # What comes from the browser.

    def _handle_custom_msg(self, content: dict[str, Any], buffers: list[Any]) -> None:
        """One numbered question, one answer with its number: an error in between is shown, never lost.

        Overrides ipywidgets' own dispatcher, which would swallow what is raised under test.
        """
        slow = self._slow_work(content, buffers)
        if slow is None:
            with ONE_AT_A_TIME:
                self._respond(content, lambda: self._answer(content, buffers))
            return
        self.working = threading.Thread(target=self._beside, args=(content, slow), name="form", daemon=True)
        self.working.start()

    def _slow_work(self, question: Mapping[str, Any], buffers: list[Any]) -> Callable[[], str | None] | None:
        """What is asked that may take long; None where nothing is."""
        match question.get("kind"), self.extras.upload:
            case "action", _:
                wanted = self.extras.actions[question["n"] :][:1]
                return next((action.handler for action in wanted if action.slow), None)
            case "upload", UploadSpec(slow=True):
                name, content = question["name"], bytes(buffers[0])
                return lambda: self._upload(name, content)
        return None

    def _beside(self, question: Mapping[str, Any], work: Callable[[], str | None]) -> None:
        """Do slow work while other questions are answered; its own answer comes last."""
        done: Future[str | None] = Future()
        try:
            done.set_result(work())
        except Exception as problem:
            done.set_exception(problem)
        with ONE_AT_A_TIME:
            self._respond(question, lambda: self._shown_done(done.result()))

    def _respond(self, question: Mapping[str, Any], find: Callable[[], dict[str, Any]]) -> None:
        answer = {"kind": "answer", "client": question.get("client"), "seq": question.get("seq"), "ok": False}
        failure: Exception | None = None
        attached: list[bytes] = []
        try:
            found = find()
            attached = found.pop("buffers", [])
            answer |= {"ok": True, **found}
        except AlarmProblem as problem:
            answer["error"] = sentence(problem)
        except Exception as problem:
            failure = problem
            answer["error"] = f"Something went wrong inside: {type(problem).__name__}: {problem}"
        self.send(self._worded(answer), attached)
        if failure is not None and self.raising:
            raise failure

    def _answer(self, question: Mapping[str, Any], buffers: list[Any]) -> dict[str, Any]:
        match question.get("kind"):
            case "edit":
                return self._edit(question["id"], question["text"], question["seen"])
            case "not_secret":
                return self._note_not_secret(question["id"])
            case "download":
                return self._download(self.extras.downloads[question["n"]])
            case "refresh":
                self.session.refresh()
                said: str | None = None
            case "whole":
                self.send_whole()
                return {}
            case "undo":
                self.session.undo()
                said = "The last change is undone."
            case "action":
                said = self.extras.actions[question["n"]].handler()
            case "upload":
                said = self._upload(question["name"], bytes(buffers[0]))
            case _:
                return self._asked(question)
        return self._shown_done(said)

    def _shown_done(self, said: str | None) -> dict[str, Any]:
        self._follow()
        return {"say": said or "Done."}

    def _edit(self, key: str, text: str, seen: str) -> dict[str, Any]:
        """Read the text and apply it, unless it is there already; `seen` is what it was typed over."""
        field, path = self._entry(key)
        home = self.session.refresh() if field.words or _lacks(self.session.home, path) else self.session.home
        current = _there(home, path)
        before = current if seen == shown_text(field, current) else self._read(field, seen, current)
        after = current
        if text != shown_text(field, current):
            after = self._read(field, text, current)
            try:
                self.session.apply(edits_at(home, path, before, after))
            except FieldClash as clash:
                self._follow()
                _there(self.session.home, path)
                return {"ok": False, "clash": self._clash(field, clash, text)}
            self._follow()
        now = _value(self.session.home, path)  # None when the edit was of what names the row
        return {"shown": shown_text(field, after if now is None else now)}

    def _worded(self, answer: dict[str, Any]) -> dict[str, Any]:
        """The answer with its sentences in the words of the home's country."""
        told = {key: answer[key] for key in ("error", "say") if isinstance(answer.get(key), str)}
        return answer | worded(told, say_of(self.session.home)) if told else answer

    def _read(self, field: FieldSpec, text: str, current: Any) -> Any:
        """The value that a text means, a choice in its own words or the country's; `current` is there now."""
        value = read_text(field, text, self._choices(field))
        return with_words(field, value, current) if field.words else value

    def _choices(self, field: FieldSpec) -> tuple[tuple[str, str], ...]:
        """The choices of a field in the country's words and in our own: either is understood."""
        home = self.session.home
        say, choices = say_of(home), field.choices_in(home)
        return tuple(dict.fromkeys([*((key, say(name)) for key, name in choices), *choices]))

    def _clash(self, field: FieldSpec, clash: FieldClash, text: str) -> dict[str, str]:
        theirs = shown_text(field, clash.theirs)
        say = say_of(self.session.home)
        names = {
            **{value: say(name) for value, name in field.choices_in(self.session.home)},
            **({"": "no"} if field.control == "tick" else {}),
        }
        read = [", ".join(names.get(part, part) for part in each.split(",")) for each in (theirs, text)]
        if field.control not in {"choice", "multi", "tick"}:
            read = [theirs, text]
        return {"theirs": theirs, "theirs_text": read[0], "mine_text": read[1]}

    def _note_not_secret(self, key: str) -> dict[str, Any]:
        home, (_, path) = self.session.home, self._entry(key)
        self.session.apply([self.extras.not_secret(home, str(_there(home, path)))])
        self._follow()
        return {}

    def _download(self, wanted: DownloadSpec) -> dict[str, Any]:
        name, content = wanted.handler()
        if len(content) > MOST_DOWNLOAD_BYTES:
            raise AlarmProblem(f"{name} is too large for the page to hand over; take it from the home's folder.")
        say = f"{name} was handed to the browser to be saved."
        return {"file": {"name": name, "type": wanted.media_type}, "buffers": [content], "say": say}

    def _upload(self, name: str, content: bytes) -> str | None:
        upload = self.extras.upload
        if upload is None:
            raise AlarmProblem("This form takes no file.")
        if len(content) > upload.most_bytes:
            most = upload.most_bytes / 1e6
            raise AlarmProblem(f"{name} is larger than {most:g} MB, so it was not read. Nothing was changed.")
        return upload.handler(name, content)


def worded(layout: Any, say: Callable[[str], str]) -> Any:
    """A part of what the browser is told, its texts in the words of a country; ids and kinds of control stay."""
    if isinstance(layout, str):
        return say(layout)
    if isinstance(layout, list | tuple):
        return [worded(each, say) for each in layout]
    if isinstance(layout, dict):
        return {key: part if key in _NO_TEXT else worded(part, say) for key, part in layout.items()}
    return layout


def edits_at(home: Any, path: FieldPath, before: Any, after: Any) -> list[Edit]:
    """The edit of a value, after those that put in the parts on its way which the home leaves out."""
    made = [Edit(place, None, part.model_dump(mode="json")) for place, part in left_out(home, path)]
    return [*made, Edit(path, before, after)]


def _lacks(home: Any, path: FieldPath) -> bool:
    try:
        return bool(left_out(home, path))
    except NotThereError:
        return False


def _there(home: Any, path: FieldPath) -> Any:
    try:
        return value_at(home, path)
    except NotThereError:
        raise AlarmProblem("What was here was removed on another page, so this cannot be saved.") from None


def _value(home: Any, path: FieldPath) -> Any:
    try:
        return value_at(home, path)
    except NotThereError:
        return None
