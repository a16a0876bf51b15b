"""How a table or form of a page is declared: which part of the home, which columns, in which order."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from alarmlib.model.base import Part
from alarmlib.model.home import Home
from alarmlib.pages import choices as c
from alarmlib.store import Edit

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
    """A form: its groups in order."""

    title: str
    groups: tuple[Group, ...]
    intro: str = ""


@dataclass(frozen=True)
class List:
    """A table: a row an element of `path`; `names` are its columns; `blank` what a new row must have.

    `needs` are the edits that must come before the first row.
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


def columns(model: type[Part], names: str, **options: c.Options) -> tuple[Group, ...]:
    """The columns of a table, all from one part."""
    return (Group("", model, names, (), options),)


def first(options: c.Options) -> Callable[[Home], str]:
    """What a new row takes where it must name something: the first there is."""
    return lambda home: next((key for key, _ in options(home)), "")
