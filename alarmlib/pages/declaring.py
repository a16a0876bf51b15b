"""How a table or form of a page is declared: which part of the home, which columns, in which order."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from alarmlib.model.base import Part
from alarmlib.model.home import Home
from alarmlib.pages import choices as c
from alarmlib.store import Edit
from alarmlib.widgets.spec import FieldSpec

FieldPath = tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """Fields of one part of the home under a legend."""

    legend: str
    model: type[Part]
    names: str
    prefix: FieldPath = ()
    options: Mapping[str, c.Options] = field(default_factory=dict)


@dataclass(frozen=True)
class Sheet:
    """A form: its groups in order.

    `essential` names the fields that the next result needs; the rest is folded behind "More", and `more` says what
    they would improve. Without it all fields are shown. Nothing waits for an essential field named in `may_be_blank`.
    With `late` it begins folded in any case: it can wait until all else is done. `line` is then its one line.
    """

    title: str
    groups: tuple[Group, ...]
    intro: str = ""
    essential: str = ""
    more: str = ""
    may_be_blank: str = ""
    late: bool = False
    line: str = ""


@dataclass(frozen=True)
class List:
    """A table: a row an element of `path`; `names` are its columns; `blank` what a new row must have.

    `needs` are the edits that must come before the first row. `essential`, `more`, `may_be_blank` and `late`
    are as in a sheet. A list that is kept elsewhere names that place in `listed_on` (a page's file, "" for this page,
    and what it is called): here its rows neither come nor go.
    """

    title: str
    path: FieldPath
    columns: tuple[Group, ...]
    row: str
    blank: Callable[[Home], Mapping[str, Any]] = lambda _home: {}
    keep: Callable[[Any], bool] | None = None
    intro: str = ""
    named_by: str = "id"
    needs: Callable[[Home], Sequence[Edit]] = lambda _home: ()
    essential: str = ""
    more: str = ""
    may_be_blank: str = ""
    late: bool = False
    listed_on: tuple[str, str] | None = None


def columns(model: type[Part], names: str, **options: c.Options) -> tuple[Group, ...]:
    """The columns of a table, all from one part."""
    return (Group("", model, names, (), options),)


def first(options: c.Options) -> Callable[[Home], str]:
    """What a new row takes where it must name something: the first there is."""
    return lambda home: next((key for key, _ in options(home)), "")


def folded(fields: Sequence[FieldSpec], essential: str, may_be_blank: str) -> tuple[FieldSpec, ...]:
    """The fields with what is essential of them first, the others marked to be behind "More"; all where none is named.

    Raises ValueError for a name that is none of them.
    """
    first, blank = essential.split(), may_be_blank.split()
    unknown = {*first, *blank} - {field.path[-1] for field in fields}
    if unknown:
        raise ValueError(f"no such field: {', '.join(sorted(unknown))}")
    marked = [
        replace(field, more=bool(first) and field.path[-1] not in first, needed=field.path[-1] in {*first} - {*blank})
        for field in fields
    ]
    return tuple(sorted(marked, key=lambda field: field.more))
