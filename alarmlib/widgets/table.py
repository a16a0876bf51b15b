"""A table for bulk entry: a row for each element of a collection, edited, added, removed and pasted."""

from collections.abc import Iterator, Mapping
from typing import Any

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store import Edit, Session
from alarmlib.widgets.engine import Engine, Extras, edits_at, sentence
from alarmlib.widgets.folding import is_entered, is_missing, plural, said_of_rows
from alarmlib.widgets.form import field_layout
from alarmlib.widgets.spec import FieldPath, FieldSpec, Specs, TableSpec, spec_of
from alarmlib.widgets.values import NotThereError, read_text, shown_text, value_at

MOST_PASTED = 500  # rows in one paste
MANY_ROWS = 8  # a longer list begins folded


class TableForm(Engine):
    """A table on the page: `TableForm(session, spec)` as a cell's last line shows it."""

    def __init__(
        self, session: Session, spec: Specs[TableSpec], extras: Extras | None = None, raising: bool | None = None
    ) -> None:
        self._spec_of = spec_of(spec)
        self._found: tuple[Home, dict[str, Any]] | None = None
        self._specify(session.home)
        super().__init__(session, self.spec.title, extras, raising)

    def _specify(self, home: Home) -> None:
        self.spec = self._spec_of(home.units)
        self._by_key = {"/".join(field.path): field for field in self.spec.columns}

    def _layout(self) -> dict[str, Any]:
        columns = [field_layout(key, field) for key, field in self._by_key.items()]
        spec, there = self.spec, self.spec.listed_on
        table = {
            "columns": columns,
            "add_label": spec.add_label,
            "row_word": spec.row_word,
            "there": there and {"page": there[0], "title": there[1]},
        }
        base = "/".join(spec.path)
        return {"intro": spec.intro, "table": table, "more": spec.more, "summed": spec.summed, "base": base}

    def _folding(self, values: Mapping[str, Any]) -> dict[str, Any]:
        """A list that is long, or lacks nothing, begins folded."""
        rows = self._row_ids()
        filled, missing = dict.fromkeys(rows, 0), dict.fromkeys(rows, False)
        inherited = self._inherited()
        for key, value in values.items():
            row, _, column = key.partition("/")
            field = self._by_key[column]
            filled[row] += field.more and is_entered(field, value)
            missing[row] |= key not in inherited and is_missing(field, value)
        names = {str(each.id): self._name(each) for each in self._elements()}
        incomplete = [names[row] for row, lacks in missing.items() if lacks]
        judged = any(field.needed for field in self.spec.columns)
        waits = self.spec.late or bool(not names and self.spec.listed_on)  # nothing can be filled in here yet
        line = said_of_rows(self.spec.row_word, len(names), incomplete if judged else None) if names or waits else ""
        folded = waits or len(names) > MANY_ROWS or bool(names and judged and not incomplete)
        named = names if self.spec.listed_on else {}
        return {"line": line, "folded": folded, "filled": filled, "names": named}

    def _name(self, element: Any) -> str:
        """What a row is called: what the home calls it, else what its first cell holds."""
        first = self.spec.columns[0]
        return str(getattr(element, "name", "") or self._said(element, first))

    def _elements(self) -> list[Any]:
        """The elements that are shown, as `whole` gives them."""
        keep, home = self.spec.keep, self.session.home
        elements = value_at(home, self.spec.path) if self.spec.whole is None else self.spec.whole(home)
        return [each for each in elements if keep is None or keep(each)]

    def _held_at(self, path: FieldPath) -> Any:
        """As in any form; a row's element is looked for once a home, not once a cell."""
        home, base = self.session.home, len(self.spec.path)
        if self._found is None or self._found[0] is not home:
            self._found = home, {str(each.id): each for each in value_at(home, self.spec.path)}
        element = self._found[1].get(path[base])
        return None if element is None else _inside(element, path[base + 1 :])

    def _row_ids(self) -> list[str]:
        return [str(each.id) for each in self._elements()]

    def _entries(self) -> Iterator[tuple[str, FieldSpec, FieldPath]]:
        belongs = self.spec.belongs
        for element in self._elements():
            for key, field in self._by_key.items():
                if belongs is None or belongs(element, field.path):
                    yield f"{element.id}/{key}", field, (*self.spec.path, str(element.id), *field.path)

    def _inherited(self) -> dict[str, str]:
        """What holds in each blank cell whose fact the element gets from elsewhere, such as “From its type: 12 m”."""
        elements = {str(each.id): each for each in self._elements()}
        found = {}
        for key, field, path in self._entries():
            element = elements[key.partition("/")[0]]
            lead = self.spec.inherits(element)
            fact = self._said(element, field) if lead and self._held_at(path) is None else ""
            if fact:
                found[key] = f"{lead}: {fact}"
        return found

    def _said(self, element: Any, field: FieldSpec) -> str:
        """A fact of a whole element as a person reads it; "" where it has none."""
        try:
            text = shown_text(field, value_at(element, field.path))
        except NotThereError:
            return ""
        if field.control == "choice":
            return dict(field.choices_in(self.session.home)).get(text, text)
        return f"{text} {field.unit}" if field.unit and text.replace(".", "").isdecimal() else text

    def _entry(self, key: str) -> tuple[FieldSpec, FieldPath]:
        row, _, column = key.partition("/")
        if column not in self._by_key:
            raise NotThereError(key)
        field = self._by_key[column]
        return field, (*self.spec.path, row, *field.path)

    def _columns(self) -> Iterator[tuple[str, FieldSpec]]:
        return iter(self._by_key.items())

    def _asked(self, question: Mapping[str, Any]) -> dict[str, Any]:
        match question.get("kind"):
            case "add":
                return self._add()
            case "remove":
                return self._remove(question["row"])
            case "paste":
                return self._paste(question["row"], question["column"], question["text"])
        return super()._asked(question)

    def _add(self) -> dict[str, Any]:
        self._kept_here()
        new = self._new_row(set())
        name = new[self.spec.named_by]
        needed = self.spec.needs(self.session.home)
        if not needed:
            self._something_to_choose(new)
        self.session.apply([*needed, Edit((*self.spec.path, name), None, new)])
        self._follow()
        count = len(self._row_ids())
        return {"row": name, "say": f"{self.spec.row_word.capitalize()} {count} is added."}

    def _kept_here(self) -> None:
        """Refuse to add or remove a row of a list that is kept on another page."""
        if self.spec.listed_on:
            word = plural(self.spec.row_word, 2).capitalize()
            raise AlarmProblem(f"{word} are added and removed in {self.spec.listed_on[1]}.")

    def _something_to_choose(self, new: Mapping[str, Any]) -> None:
        """Refuse a row that must name something of which there is none yet."""
        home = self.session.home
        for key, column in self._by_key.items():
            if new.get(key) == "" and column.control == "choice" and not column.choices_in(home):
                what = f"“{column.label}” of a new {self.spec.row_word}"
                raise AlarmProblem(f"{what} has nothing to choose from yet. Enter that in its own table first.")

    def _new_row(self, more: set[str]) -> dict[str, Any]:
        home = self.session.home
        taken = {str(each.id) for each in value_at(home, self.spec.path)} | more
        if self.spec.named_by == "id":
            return {"id": self.spec.new_id(frozenset(taken)), **self.spec.blank(home)}
        column = self._by_key[self.spec.named_by]
        free = next((value for value, _ in column.choices_in(home) if value and value not in taken), None)
        if free is None:
            raise AlarmProblem(f"Every {column.label.lower()} has its row already.")
        return {self.spec.named_by: free, **self.spec.blank(home)}

    def _remove(self, row: str) -> dict[str, Any]:
        self._kept_here()
        rows = self._row_ids()
        if row not in rows:
            raise AlarmProblem("That row is gone already.")
        path = (*self.spec.path, row)
        self.session.apply([Edit(path, value_at(self.session.home, path), None)])
        self._follow()
        number = rows.index(row) + 1
        name = self.spec.row_word.capitalize()
        return {"say": f"{name} {number} is removed; “Undo the last change” brings it back."}

    def _paste(self, row: str, column: int, text: str) -> dict[str, Any]:
        """Fill cells to the right and down from (row, column), adding rows at the end: all or nothing."""
        lines = [line.split("\t") for line in text.rstrip("\n").split("\n")]
        if len(lines) > MOST_PASTED:
            raise AlarmProblem(f"{len(lines)} rows are too many for one paste; {MOST_PASTED} at most.")
        rows = self._row_ids()
        start = rows.index(row)
        edits: list[Edit] = []
        added: set[str] = set()
        for n, cells in enumerate(lines):
            values = self._pasted(cells, column, n + 1)
            if start + n < len(rows):
                edits += self._cell_edits(rows[start + n], values)
            else:
                self._kept_here()
                new = _with(self._new_row(added), values)
                name = str(new[self.spec.named_by])
                added.add(name)
                edits.append(Edit((*self.spec.path, name), None, new))
        if edits:
            self.session.apply(edits)
        self._follow()
        new_rows = {0: "no new rows", 1: "1 of them is a new row"}.get(len(added), f"{len(added)} of them are new rows")
        return {"say": f"Pasted {len(lines)} line{'s' * (len(lines) != 1)}; {new_rows}."}

    def _pasted(self, cells: list[str], column: int, line: int) -> dict[FieldPath, Any]:
        """The values of one pasted line by column path. Raises AlarmProblem that names line and column."""
        fields = self.spec.columns[column:]
        if len(cells) > len(fields):
            found = f"Line {line} has {len(cells)} cells, but only {len(fields)} columns follow."
            raise AlarmProblem(f"{found} Nothing was pasted.")
        values = {}
        for field, text in zip(fields, cells, strict=False):
            try:
                values[field.path] = read_text(field, text, self._choices(field))
            except AlarmProblem as problem:
                place = f"Line {line}, {field.caption}"
                raise AlarmProblem(f"{place}: {sentence(problem)} Nothing was pasted.") from None
        return values

    def _cell_edits(self, row: str, values: Mapping[FieldPath, Any]) -> Iterator[Edit]:
        """Edits for the cells whose text differs from the one shown, so that nothing is rounded again."""
        for field in self.spec.columns:
            path = (*self.spec.path, row, *field.path)
            current = value_at(self.session.home, path)
            if field.path in values and shown_text(field, values[field.path]) != shown_text(field, current):
                yield from edits_at(self.session.home, path, current, values[field.path])


def _with(row: Mapping[str, Any], values: Mapping[FieldPath, Any]) -> dict[str, Any]:
    """A new row with these values in it, some of them inside parts of it."""
    new = dict(row)
    for (name, *inside), value in values.items():
        new[name] = _with(new.get(name) or {}, {tuple(inside): value}) if inside else value
    return new


def _inside(element: Any, path: FieldPath) -> Any:
    try:
        return value_at(element, path)
    except NotThereError:
        return None
