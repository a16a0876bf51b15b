"""A home and its assessment, written up as a record; the record, written out as one HTML file."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from alarmlib import __version__
from alarmlib.checks.finding import Assessment
from alarmlib.errors import FieldProblem
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import NEVER_RUN, KeptProof
from alarmlib.record.blocks import Block, Bullets, Lines, Picture, Record, SectionText, Table, Text
from alarmlib.record.context import Context, day_of
from alarmlib.record.sections import LONG, SHORT
from alarmlib.record.wording import reworded
from alarmlib.rules import say_of

TITLE, SHORT_TITLE = "Home alarm record", "Home alarm record, short"
_WHO = {Share.OWNER: "the owner", Share.HELPER: "a helper", Share.CLASS: "a class", Share.PUBLIC: "anybody"}


def build(
    assessment: Assessment,
    home: Home,
    copy: Share,
    date: str,
    previous: Home | None = None,
    short: bool = False,
    kept: KeptProof = NEVER_RUN,
    since: str = "",
    whole: Home | None = None,
) -> Record:
    """The record of a home for one circle of readers, as of a date written 2026-11-25.

    `home` is already what that circle may read (`alarmlib.store` makes such copies), and `assessment` what it may
    read of what was found out about the whole home (`told`); sections that are not for it, and columns that are not,
    are left out here as well. `previous` is the home of the last record, in the
    same copy, made on the day `since` where that is known; `kept` is the home's proof, if it was run; `whole` is
    the home with nothing left out, where `home` is a copy. Raises FieldProblem for a date that is none.
    """
    context = Context(
        home, assessment, copy=copy, date=_day(date), previous=previous, kept=kept, since=since, whole=whole
    )
    seen = [section for section in (SHORT if short else LONG) if context.sees(section.level)]
    waiting = [section.title for section in seen if not section.has_needs(home)]
    sections = [section.text(context) for section in seen if section.has_needs(home)]
    if waiting:
        sections.append(SectionText("waiting", "Not in this record yet", _not_yet(waiting)))
    title = SHORT_TITLE if short else TITLE
    name = home.name if context.sees(Share.HELPER) else "A home"
    say = say_of(whole or home)
    worded = [replace(each, title=say(each.title), blocks=tuple(reworded(block, say) for block in each.blocks))
              for each in sections]  # fmt: skip
    return Record(title, name, _WHO[copy], date, __version__, tuple(_tables_apart(worded)))


def render(record: Record) -> str:
    """The record as one HTML file; the same bytes that nbconvert writes from its notebook."""
    from alarmlib.record.notebook import to_notebook

    return written(to_notebook(record))


def written(notebook: Any) -> str:
    """A notebook of the library's own making as one HTML file: no script, no address, an allow-list of marks."""
    from alarmlib.record.exporter import RecordExporter

    html, _ = RecordExporter().from_notebook_node(notebook)  # type: ignore[no-untyped-call]
    return str(html)


def file_name(record: Record) -> str:
    """A name for the file that says for whom the copy is, e.g. record_helper_2026-11-25.html."""
    circle = next(copy.value for copy, who in _WHO.items() if who == record.copy)
    kind = "short_record" if record.title == SHORT_TITLE else "record"
    return f"{kind}_{circle}_{record.date}.html"


def _tables_apart(sections: list[SectionText]) -> Iterator[SectionText]:
    """The sections with no two tables of one name: the second and later ones of a name are numbered."""
    seen: Counter[str] = Counter()

    def own(caption: str) -> str:
        seen[caption] += 1
        return caption if seen[caption] == 1 else f"{caption} ({seen[caption]})"

    def apart(block: Block) -> Block:
        if isinstance(block, Picture):
            return replace(block, table=replace(block.table, caption=own(block.table.caption)))
        return replace(block, caption=own(block.caption)) if isinstance(block, Table | Lines) else block

    for section in sections:
        yield replace(section, blocks=tuple(map(apart, section.blocks)))


def _not_yet(titles: list[str]) -> tuple[Block, ...]:
    return (Text(("Nothing is entered yet that these would be written from:",)), Bullets(tuple(titles)))


def _day(date: str) -> str:
    if day_of(date) is None:
        raise FieldProblem("", "date", date, "write a day as 2026-11-25")
    return date
