"""A form of groups of fields for one home."""

from collections.abc import Iterator, Mapping
from typing import Any

from alarmlib.model import Home
from alarmlib.store import Session
from alarmlib.units import Kind
from alarmlib.widgets.engine import Engine, Extras
from alarmlib.widgets.folding import is_entered, is_missing, said_of_values
from alarmlib.widgets.spec import FieldPath, FieldSpec, FormSpec, Specs, spec_of
from alarmlib.widgets.values import NotThereError

_NO_LETTERS = frozenset({Kind.COUNT, Kind.PERCENT, Kind.PLAIN, Kind.MONEY})


def field_layout(key: str, field: FieldSpec) -> dict[str, Any]:
    """A field as the browser is told of it."""
    needed = "Needed. " if field.required and field.control == "text" else ""
    allowed = f" {field.allowed[:1].upper()}{field.allowed[1:]}." if field.allowed else ""
    return {
        "id": key,
        "caption": field.caption,
        "control": field.control,
        "help": f"{needed}{field.help}{allowed}".strip(),
        "required": field.required,
        "plain": field.kind in _NO_LETTERS,
        "more": field.more,
    }


class Form(Engine):
    """A form on the page: `Form(session, spec)` as a cell's last line shows it."""

    def __init__(
        self, session: Session, spec: Specs[FormSpec], extras: Extras | None = None, raising: bool | None = None
    ) -> None:
        self._spec_of = spec_of(spec)
        self._specify(session.home)
        super().__init__(session, self.spec.title, extras, raising)

    def _specify(self, home: Home) -> None:
        self.spec = self._spec_of(home.units)
        self._fields = {"/".join(field.path): field for field in self.spec.fields}

    def _layout(self) -> dict[str, Any]:
        groups = [
            {"legend": legend, "fields": [field_layout("/".join(field.path), field) for field in fields]}
            for legend, fields in self.spec.groups
        ]
        spec = self.spec
        return {"intro": spec.intro, "groups": groups, "more": spec.more, "summed": spec.summed, "base": ""}

    def _entries(self) -> Iterator[tuple[str, FieldSpec, FieldPath]]:
        return ((key, field, field.path) for key, field in self._fields.items())

    def _entry(self, key: str) -> tuple[FieldSpec, FieldPath]:
        if key not in self._fields:
            raise NotThereError(key)
        return self._fields[key], self._fields[key].path

    def _columns(self) -> Iterator[tuple[str, FieldSpec]]:
        return iter(self._fields.items())

    def _folding(self, values: Mapping[str, Any]) -> dict[str, Any]:
        fields = [(field, values[key]) for key, field in self._fields.items()]
        entered = any(is_entered(field, value) for field, value in fields)
        judged = any(field.needed for field, _ in fields)
        whole = entered and judged and not any(is_missing(field, value) for field, value in fields)
        filled = sum(field.more and is_entered(field, value) for field, value in fields)
        folded = self.spec.late or whole
        line = self.spec.line or said_of_values(fields, whole) if folded else ""
        return {"line": line, "folded": folded, "filled": {"": filled}}
