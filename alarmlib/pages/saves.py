"""The kept saves of a home: when each was made and what it changed, and a button each to go back to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import zip_longest

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.record.blocks import Table, Text
from alarmlib.record.compare import ABSENT, FieldChange, differences
from alarmlib.record.markup import block_html
from alarmlib.store import Save, Session, text_of
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import ActionSpec, FormSpec
from alarmlib.widgets.view import Drawn, View

FEW = 8
"""So many saves are listed before somebody asks for all."""
_INTRO = (
    "Each change is kept as a save. Older saves are thinned out: the last of each hour stays for a day, "
    "the last of each day for a month. The save of a record stays for good."
)
_CONFIRM = "Your home becomes what it was then. What it is now is kept first, and Undo brings it back. Go on?"


@dataclass(frozen=True)
class Read:
    """What a kept save holds: `home` is None where it cannot be read; `older` says that an older workbook wrote it."""

    home: Home | None
    older: bool = False


class SavesForm:
    """The list of saves, the newest first, and for each the button that goes back to it."""

    def __init__(self, session: Session) -> None:
        self.session, self.whole = session, False
        self._known: dict[str, Read] = {}  # a save is never written again, so each is read once
        self.form = Form(session, FormSpec("Earlier saves", (), _INTRO), self._buttons())
        self.list = View(session, "The kept saves", lambda _home: Drawn("The kept saves", self._drawn()))
        self.forms, self.shown_parts = (self.form,), (self.list, self.form)

    def __repr__(self) -> str:
        return repr(self.form)

    def _ipython_display_(self) -> None:
        from IPython.display import display

        for each in self.shown_parts:
            display(each)

    def go_back(self, save: Save) -> str:
        """Put the save in place, and say so in a sentence or two. Raises AlarmProblem when it cannot be read."""
        before = self.session.refresh()
        home = self.session.restore(save.id)
        if home == before:
            return f"Your home is as in {save.called} already. Nothing was changed."
        older = " An older workbook made that save; it was brought up to this one." if self._read(save).older else ""
        return f"Your home is again as in {save.called}.{older} Undo brings back what you had before."

    def show_all(self) -> str:
        """List every save from now on."""
        self.whole = True
        self.list.redraw()
        return "All kept saves are listed."

    def _earlier(self) -> list[Save]:
        """The saves that can be gone back to, newest first; the one of the present state is none of them."""
        saves = self.session.saves()[::-1]
        return saves[1:] if saves and self._is_present(saves[0]) else saves

    def _is_present(self, save: Save) -> bool:
        try:
            return self.session.kept.content(save) == text_of(self.session.home)
        except AlarmProblem:
            return False

    def _buttons(self) -> Extras:
        saves = self._earlier()
        listed = saves if self.whole else saves[:FEW]
        actions = [ActionSpec(f"Go back to {save.called}", partial(self.go_back, save), _CONFIRM) for save in listed]
        more = [ActionSpec("Show all saves", self.show_all)] if len(listed) < len(saves) else []
        return Extras((*actions, *more))

    def _drawn(self) -> str:
        self.form.offer(self._buttons())
        saves = self._earlier()
        listed = saves if self.whole else saves[:FEW]
        if not listed:
            return block_html(Text(("No earlier save is kept yet. Your first change keeps one.",)), "saves")
        rows = tuple(self._row(save, before) for save, before in zip_longest(listed, saves[1 : len(listed) + 1]))
        return block_html(Table("Kept saves, the newest first", ("Save", "What it changed", "Note"), rows), "saves")

    def _row(self, save: Save, before: Save | None) -> tuple[str, str, str]:
        read = self._read(save)
        if read.home is None:
            return save.when, "Not known.", "It cannot be read."
        then = None if before is None else self._read(before).home
        changed = "Not known." if then is None else told(differences(then, read.home))
        notes = (("Kept for a record.", save.for_record), ("An older workbook made it.", read.older))
        return save.when, changed, " ".join(note for note, holds in notes if holds)

    def _read(self, save: Save) -> Read:
        if save.id not in self._known:
            try:
                self._known[save.id] = Read(self.session.kept.home(save), self.session.kept.is_older(save))
            except AlarmProblem:
                self._known[save.id] = Read(None)
        return self._known[save.id]


def told(changes: Sequence[FieldChange]) -> str:
    """What changed between two saves, in a line: the first change, and how many more there are."""
    if not changes:
        return "Nothing that is listed."
    first, more = changes[0], len(changes) - 1
    before = "" if first.before in ("", ABSENT, "was here") else f", before {first.before}"
    rest = {0: "", 1: " One more change."}.get(more, f" {more} more changes.")
    return f"{first.where}: {first.after}{before}.{rest}"
