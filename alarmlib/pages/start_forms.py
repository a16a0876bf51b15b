"""The forms of the start page and the record page: cautions, files, the short path, copies to hand out."""

from collections.abc import Callable
from datetime import date
from typing import Any

from alarmlib.draft.blank import blank_home
from alarmlib.draft.merged import merged
from alarmlib.draft.short_path import draft_home
from alarmlib.model.words import Share
from alarmlib.pages.cautions import caution_form
from alarmlib.pages.forms import secrets_watched
from alarmlib.pages.opened import home_path
from alarmlib.pages.proved import kept_here
from alarmlib.pages.saves import SavesForm
from alarmlib.pages.short_questions import questions_form
from alarmlib.pages.short_result import short_outcome
from alarmlib.pages.task_list import open_demo, task_list
from alarmlib.record.produce import DEMO, made
from alarmlib.store import Session, bring_back, text_of
from alarmlib.store.document import parsed
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.questions import QuestionsForm
from alarmlib.widgets.spec import ActionSpec, DownloadSpec, FormSpec, UploadSpec


def files(session: Session) -> Form:
    """New, demo, reset, undo, redo, upload and download of the home file."""

    def put(home: Any, said: str) -> Callable[[], str]:
        def done() -> str:
            session.replace(home())
            return said

        return done

    def undo() -> str:
        session.undo()
        return "The last change is undone."

    def redo() -> str:
        session.redo()
        return "The change is back."

    def upload(name: str, content: bytes) -> str:
        session.replace(parsed(content, name))
        return f"{name} was read and put in place; undo brings the earlier home back."

    lost = "This replaces what is entered; undo brings it back. Go on?"
    actions = (
        ActionSpec("Undo the last change", undo),
        ActionSpec("Redo", redo),
        ActionSpec("Start a new, blank home", put(blank_home, "A blank home is in place."), lost),
        ActionSpec("Load the demo home", lambda: open_demo(session), lost),
        ActionSpec("Load the demo home as first planned", lambda: open_demo(session, DEMO), lost),
    )
    downloads = (DownloadSpec("Download the home file", lambda: ("home.json", text_of(session.home))),)
    extras = Extras(actions, downloads, UploadSpec("Upload a home file", upload))
    return Form(session, FormSpec("Your home file", ()), extras)


def short_path(session: Session) -> QuestionsForm:
    """The short path, with the button that makes the draft the home, and the short record."""

    def use() -> str:
        found = merged(session.refresh())
        session.replace(found.home)
        return (
            f"The draft is now your home. Added: {found.rooms} of its rooms, {found.ways_in} of its ways in, "
            f"{found.devices} of its devices. What you had entered is as it was. Undo takes the draft out again."
        )

    def record() -> tuple[str, bytes]:
        return made(draft_home(session.home).home, Share.OWNER, date.today().isoformat(), short=True)

    watched = secrets_watched()
    confirm = "The draft is added to what you entered; nothing that you entered is changed. Go on?"
    extras = Extras(
        actions=(ActionSpec("Use it as my home", use, lambda home: confirm if home.site.rooms else ""),),
        downloads=(DownloadSpec("Download the short record", record, "text/html"),),
        check_text=watched.check_text,
        not_secret=watched.not_secret,
        beside=watched.beside,
    )
    return questions_form(session, extras)


def copies(session: Session) -> Form:
    """The record, a copy for each circle of readers, and the home file of each record kept."""

    def copy(share: Share, short: bool = False) -> Callable[[], tuple[str, bytes]]:
        def handed() -> tuple[str, bytes]:
            home = session.refresh()
            today = date.today()
            since, before = session.kept.since(home, today)
            found = made(
                home, share, date=today.isoformat(), short=short, previous=before, kept=kept_here(home), since=since
            )
            session.keep_for_record()
            return found

        return handed

    downloads = tuple(
        DownloadSpec(f"Download the copy for {share.text}", copy(share), "text/html")
        for share in (Share.OWNER, Share.HELPER, Share.CLASS, Share.PUBLIC)
    )
    short = DownloadSpec("Download the short record", copy(Share.OWNER, short=True), "text/html")
    spec = FormSpec("The record", (), "Name the reader: each copy holds what that reader may see, and no more.")
    return Form(session, spec, Extras(downloads=(*downloads, short)))


class _NoHome:
    """Replaces a session where the home file cannot be read: an empty home that nothing is written to."""

    def __init__(self) -> None:
        self.path = home_path()
        self.home = blank_home()

    def subscribe(self, _callback: Any) -> Callable[[], None]:
        """Nothing will change here."""
        return lambda: None

    def refresh(self) -> None:
        """There is nothing to read."""


def rescue(why: str) -> Form:
    """For a home file that cannot be read: says why, and offers the last good save."""

    def back() -> str:
        name = bring_back(home_path()).path.name
        return f"The last good save of {name} is back. The broken file is kept beside it. Run this page again."

    spec = FormSpec("Your home file cannot be read", (), f"{why} Nothing was changed.")
    return Form(_NoHome(), spec, Extras((ActionSpec("Bring back the last good save", back),)))  # type: ignore[arg-type]


START: dict[str, Callable[[Session], Any]] = {
    "tasks": task_list,
    "cautions": lambda session: caution_form(session, "short_path"),
    "walk_test_cautions": lambda session: caution_form(session, "test_plan"),
    "files": files,
    "saves": SavesForm,
    "short_path": short_path,
    "short_outcome": short_outcome,
    "copies": copies,
}
RESCUE: dict[str, Callable[[str], Any]] = {"files": rescue}
