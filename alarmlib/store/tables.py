"""Tables in and out as CSV (RFC 4180): a preview of what a table would change, then all of it or nothing."""

import contextlib
import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import partial
from typing import Any

from pydantic import BaseModel, ValidationError

from alarmlib.errors import AlarmProblem, FieldProblem, shorten
from alarmlib.model import Home
from alarmlib.model.control_unit import Zone
from alarmlib.model.devices import DeviceEntry, DeviceType
from alarmlib.model.log import Test
from alarmlib.model.naming import choices_of
from alarmlib.model.questions import by_id
from alarmlib.model.references import items_at
from alarmlib.model.site import Opening
from alarmlib.rules import say_of
from alarmlib.rules.pairs import AMERICAN, BRITISH
from alarmlib.rules.words import in_words_of
from alarmlib.store.columns import Column, cell, columns_of, value_of
from alarmlib.store.document import problem_of, validated
from alarmlib.store.earlier import earlier_labels
from alarmlib.store.edits import Edit, FieldPath, with_edits
from alarmlib.store.session import Session

_LARGEST_CHARACTERS = 5_000_000
MOST_ROWS = 10_000  # far more than a home has of anything
_MARKS = (",", ";", "\t")


class CsvTable(StrEnum):
    """The lists that travel as CSV."""

    OPENINGS = "openings"
    DEVICE_TYPES = "device_types"
    DEVICES = "devices"
    ZONES = "zones"
    TESTS = "tests"


_LISTS: Mapping[CsvTable, tuple[FieldPath, type[BaseModel]]] = {
    CsvTable.OPENINGS: (("site", "openings"), Opening),
    CsvTable.DEVICE_TYPES: (("device_types",), DeviceType),
    CsvTable.DEVICES: (("devices",), DeviceEntry),
    CsvTable.ZONES: (("control_unit", "zones"), Zone),
    CsvTable.TESTS: (("log", "tests"), Test),
}


@dataclass(frozen=True)
class Preview:
    """What a table would do: ids of rows added, changed and unchanged; every problem, one sentence each, by row."""

    added: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    unchanged: tuple[str, ...] = ()
    problems: tuple[str, ...] = ()
    edits: tuple[Edit, ...] = field(default=(), repr=False)


def to_csv(home: Home, table: CsvTable, delimiter: str = ",") -> str:
    """A list as CSV with a header row, in the home's units, rows ended as RFC 4180 asks."""
    path, model = _LISTS[table]
    columns = columns_of(model, home.units)
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter)
    say = say_of(home)
    writer.writerow(say(column.header) for column in columns)
    for item in _items(home, path):
        writer.writerow(cell(column, _value_in(item, column.path), say) for column in columns)
    return out.getvalue()


def preview(content: str | bytes, table: CsvTable, home: Home) -> Preview:
    """What a table would add and change in a home; rows that it lacks stay, cells it lacks stay.

    A row without an id, or with a new one, is added. Numbers are read in the unit of the column's header.
    """
    try:
        rows, columns, delimiter = _read_rows(content, table, home)
    except AlarmProblem as problem:
        return Preview(problems=(str(problem),))
    return _Reading(table, home, columns, _decimal_mark(rows, columns, delimiter)).of(rows)


def apply(session: Session, found: Preview) -> Home:
    """Put a previewed table in, as one change; nothing if it had a problem. Raises AlarmProblem, FieldClash."""
    if found.problems:
        raise AlarmProblem(f"Nothing was read in: {found.problems[0]}")
    return session.apply(found.edits) if found.edits else session.home


def _items(home: Home, path: FieldPath) -> tuple[Any, ...]:
    value: Any = home
    for name in path:
        value = getattr(value, name)
    return tuple(value)


def _value_in(item: Any, path: FieldPath) -> Any:
    for name in path:
        item = None if item is None else getattr(item, name)
    return item


# --- the text into rows ---

Row = tuple[int, list[str]]


def _read_rows(content: str | bytes, table: CsvTable, home: Home) -> tuple[list[Row], list[Column], str]:
    """Numbered rows without the header, the column of each place, and the delimiter. Raises AlarmProblem."""
    text = _decoded(content)
    offered = columns_of(_LISTS[table][1], home.units)
    named = _named(table, offered)
    tries = [(*_columns(_first_row(text, mark), named), mark) for mark in _MARKS]
    columns, unknown, mark = max(tries, key=lambda found: len(found[0]) - len(found[1]) / 100)
    if not columns:
        headers = ", ".join(column.header for column in offered[:4])
        raise AlarmProblem(f"Row 1 must hold the headers of the table of {table}, such as {headers}.")
    if unknown:
        raise AlarmProblem(
            f"Row 1 has a header that is not in the table of {table}, or is there twice: {shorten(unknown[0])}."
        )
    rows = _split(text, mark)[1:]
    if len(rows) > MOST_ROWS:
        raise AlarmProblem(
            f"The table has {len(rows)} rows, so it was not read; {MOST_ROWS} at most. Divide it into several tables."
        )
    return rows, columns, mark


def _decoded(content: str | bytes) -> str:
    if len(content) > _LARGEST_CHARACTERS:
        raise AlarmProblem(f"The table is larger than {_LARGEST_CHARACTERS / 1e6:g} MB, so it was not read.")
    if isinstance(content, str):
        return content.removeprefix("\ufeff")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise AlarmProblem(
            f"Byte {error.start + 1} of the table is not UTF-8 text; save it again as CSV UTF-8."
        ) from None


def _first_row(text: str, mark: str) -> list[str]:
    with contextlib.suppress(csv.Error):
        return next(csv.reader(io.StringIO(text, newline=""), delimiter=mark), [])
    return []


def _split(text: str, mark: str) -> list[Row]:
    """Every row that is not blank, with the number a spreadsheet shows beside it."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    try:
        return [(number, row) for number, row in enumerate(reader, 1) if any(part.strip() for part in row)]
    except csv.Error as error:
        raise AlarmProblem(f"Line {reader.line_num} of the table cannot be read: {error}.") from None


def _named(table: CsvTable, offered: Sequence[Column]) -> dict[str, Column]:
    """The columns by every header that is read: of either unit, without one, of earlier versions, in any country."""
    earlier = earlier_labels(table)
    named: dict[str, Column] = {}
    for column in offered:
        for label in (column.label, *earlier.get(column.path, ())):
            said = replace(column, label=label)
            for known in (said, replace(said, system="us"), replace(said, system="metric")):
                named.setdefault(known.header.casefold(), replace(known, label=column.label))
            named.setdefault(label.casefold(), column)
    there = {in_words_of(header, words): column for header, column in named.items() for words in (AMERICAN, BRITISH)}
    return there | named


def _columns(headers: Sequence[str], named: Mapping[str, Column]) -> tuple[list[Column], list[str]]:
    """The columns that the headers name, in their order, and the headers that name none."""
    found = [named.get(" ".join(header.split()).casefold()) for header in headers]
    paths = [column.path if column else () for column in found]
    unknown = [h for n, h in enumerate(headers) if found[n] is None or paths[n] in paths[:n]]
    return [column for column in found if column], unknown


def _decimal_mark(rows: Sequence[Row], columns: Sequence[Column], delimiter: str) -> str:
    """The decimal mark of the file if its cells show it beyond doubt, else ""."""
    cells = [text for _, row in rows for column, text in zip(columns, row, strict=False) if column.measured]
    commas = any(re.search(r"\d,(?!\d{3}\b)\d", text) or re.search(r"\b0,\d", text) for text in cells)
    points = any(re.search(r"\d\.\d", text) for text in cells)
    if commas != points:
        return "," if commas else "."
    return "," if delimiter == ";" and not points else ""


# --- rows into edits ---


class _Reading:
    """One table being read against a home."""

    def __init__(self, table: CsvTable, home: Home, columns: Sequence[Column], decimal: str) -> None:
        self.path, self.model = _LISTS[table]
        self.home, self.columns, self.decimal = home, columns, decimal
        self.there = {item.id: item for item in _items(home, self.path)}
        self.whole = self.there if table is not CsvTable.DEVICES else by_id(home.whole_devices)
        self.names = {column.path: _names(home, column.refers) for column in columns}
        self.known = {column.path: _known(home, column.refers) for column in columns}
        self.problems: dict[str, None] = {}  # in the order found, each once
        self.numbers: dict[str, int] = {}  # of the rows read, by id
        self.tried: dict[str, int] = {}  # up to which number the ids made of a name are taken

    def of(self, rows: Sequence[Row]) -> Preview:
        edits: list[Edit] = []
        groups: dict[str, list[str]] = {"added": [], "changed": [], "unchanged": []}
        for number, row in rows:
            name, new = self._row(number, row)
            self.numbers.setdefault(name, number)
            edits += new
            kind = "added" if name not in self.there else "changed" if new else "unchanged"
            groups[kind].append(name)
        if not self.problems:
            self._whole(edits)
        if self.problems:
            return Preview(problems=tuple(self.problems))
        return Preview(**{kind: tuple(names) for kind, names in groups.items()}, edits=tuple(edits))

    def _row(self, number: int, row: list[str]) -> tuple[str, list[Edit]]:
        values = dict(self._values(number, row))
        name = values.pop(("id",), None) or self._new_id(values)
        if name in self.numbers:
            self._add(number, FieldProblem("", "Id", name, "each id may be in the table only once"))
        item = self.there.get(name)
        if len(row) > len(self.columns) and any(part.strip() for part in row[len(self.columns) :]):
            self._add(number, AlarmProblem(f"it has {len(row)} cells, but there are {len(self.columns)} headers."))
        document = _filled(item.model_dump(mode="json") if item else {"id": name}, values)
        self._check(number, document)
        if item is None:
            return name, [Edit((*self.path, name), None, document)]
        return name, list(self._changes(name, item, values))

    def _values(self, number: int, row: list[str]) -> Iterator[tuple[FieldPath, Any]]:
        """The values of a row's cells; one that says what is there already gives that, never re-rounded.

        A blank cell of a new row leaves what it is for as it is by itself.
        """
        texts = dict(zip((column.path for column in self.columns), row, strict=False))
        item = self.there.get(texts.get(("id",), "").strip())
        for column, text in zip(self.columns, row, strict=False):
            if column.path == ("id",):
                yield column.path, text.strip()
                continue
            if self._is_there(item, column, text) if item is not None else not text.strip():
                continue
            try:
                value = value_of(column, text, self.names[column.path], self.decimal)
            except FieldProblem as problem:
                self._add(number, problem)
                continue
            self._refers(number, column, value)
            yield column.path, value

    def _is_there(self, item: Any, column: Column, text: str) -> bool:
        """Whether a cell says what the element says already, by itself or (lists of before) with its type's facts."""
        own, whole = _value_in(item, column.path), _value_in(self.whole[item.id], column.path)
        return text in _cells(column, own) or (bool(text) and text in _cells(column, whole))

    def _refers(self, number: int, column: Column, value: Any) -> None:
        """A reference must lead somewhere; one to another row of the same list is looked at in the end."""
        if not column.refers or ".".join(self.path) in column.refers:
            return
        known = self.known[column.path]
        for name in value if isinstance(value, list | tuple) else (value,):
            if name and name not in known:
                shown = ", ".join(sorted(known)[:12]) or "none is entered yet"
                self._add(number, FieldProblem("", column.header, str(name), f"one of these is needed: {shown}"))

    def _changes(self, name: str, item: Any, values: Mapping[FieldPath, Any]) -> Iterator[Edit]:
        for path, value in values.items():
            there = _value_in(item, path)
            by_type = there is None and _value_in(self.whole[name], path) == value  # said in the words of before
            if there != value and not by_type:
                yield Edit((*self.path, name, *path), there, value)

    def _new_id(self, values: Mapping[FieldPath, Any]) -> str:
        """An id made of the row's name, not taken yet."""
        words = next((str(v) for p, v in values.items() if p in {("name",), ("label",)}), self.path[-1])
        stem = re.sub(r"[^a-z0-9]+", "_", words.lower()).strip("_")[:40] or self.path[-1]
        while True:
            tried = self.tried[stem] = self.tried.get(stem, 0) + 1
            name = stem if tried == 1 else f"{stem}_{tried}"
            if name not in self.numbers and name not in self.there:
                return name

    def _check(self, number: int, document: dict[str, Any]) -> None:
        try:
            self.model.model_validate(document)
        except ValidationError as error:
            for found in error.errors(include_url=False):
                problem = problem_of(found, document, self.model, "")
                if not found["loc"]:
                    self._add(number, AlarmProblem(f"{problem.allowed[:1].upper()}{problem.allowed[1:]}."))
                    continue
                self._add(number, FieldProblem("", self._header(found["loc"]), problem.value, problem.allowed))

    def _header(self, place: Sequence[int | str]) -> str:
        """The header of the column that a problem is in."""
        offered = columns_of(self.model, self.home.units)
        words = tuple(step for step in place if isinstance(step, str))
        return next((column.header for column in (*self.columns, *offered) if column.path == words), ".".join(words))

    def _whole(self, edits: Sequence[Edit]) -> None:
        """The home as it would be: a row may be right by itself and yet not fit the others, or the home."""
        try:
            validated(with_edits(self.home.model_dump(mode="json"), edits), "")
        except FieldProblem as problem:
            name, *rest = problem.at[len(self.path) :] if problem.at[: len(self.path)] == self.path else ("",)
            if name in self.numbers:
                self._add(self.numbers[name], replace(problem, path=self._header(rest)))
            else:
                self._tell(f"The table does not fit the home: {problem}")

    def _add(self, number: int, problem: AlarmProblem) -> None:
        self._tell(f"Row {number}, {problem}" if isinstance(problem, FieldProblem) else f"Row {number}: {problem}")

    def _tell(self, sentence: str) -> None:
        self.problems[sentence] = None


def _cells(column: Column, value: Any) -> set[str]:
    """The texts that a cell of this value may have: in our own words and in those of each country."""
    return {cell(column, value), *(cell(column, value, partial(in_words_of, words=w)) for w in (AMERICAN, BRITISH))}


def _names(home: Home, lists: Sequence[str]) -> dict[str, str]:
    """What people call the parts in the lists that a field refers to, in small letters, and their ids."""
    called = [(name.casefold(), i) for i, name in choices_of(home, lists)]
    count = Counter(name for name, _ in called)
    return {name: i for name, i in called if name and count[name] == 1} | {i: i for _, i in called}


def _known(home: Home, lists: Sequence[str]) -> frozenset[str]:
    return frozenset(item.id for path in lists for item in items_at(home, path))


def _filled(document: dict[str, Any], values: Mapping[FieldPath, Any]) -> dict[str, Any]:
    """The element's document with a row's values in it."""
    for (*way, last), value in values.items():
        inside = document
        for name in way:
            inside[name] = dict(inside.get(name) or {})
            inside = inside[name]
        inside[last] = value
    return document
