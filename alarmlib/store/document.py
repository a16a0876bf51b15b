"""Text to home and back: what a home file may hold, and the one sentence that says what may not be in it."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from alarmlib.errors import AlarmProblem, FieldProblem, shorten
from alarmlib.model import Home
from alarmlib.model.home import SCHEMA_VERSION
from alarmlib.model.misfits import Misfit
from alarmlib.model.references import lists_referred_to, noun_of
from alarmlib.store.fields import field_at
from alarmlib.store.set_aside import with_set_aside
from alarmlib.store.upgrade import upgraded
from alarmlib.units import Kind, show

Document = dict[str, Any]
_LONGEST_NAME = 48  # of an id, by `alarmlib.model.base.Id`


def text_of(home: Home) -> bytes:
    """The home as its file holds it: UTF-8, two spaces of indent, fields in the model's order."""
    return (home.model_dump_json(indent=2) + "\n").encode()


def digest(content: bytes) -> str:
    """A short name for a file's content: two files with the same one are the same."""
    return hashlib.sha256(content).hexdigest()


def parsed(content: bytes, file: str) -> Home:
    """The home that a file's content holds, brought up from an older version. Raises AlarmProblem."""
    document = _object(content, file)
    current = upgraded(document, file)
    return validated(current if current is document else with_set_aside(current), file)


def is_older(content: bytes) -> bool:
    """Whether a file that can be read is of an older version of the home file."""
    version = _object(content, "").get("schema_version")
    return isinstance(version, int) and version < SCHEMA_VERSION


def validated(document: Mapping[str, Any], file: str) -> Home:
    """The home of a document, if all of it is right. Raises FieldProblem for the first value that isn't."""
    try:
        return Home.model_validate(document)
    except ValidationError as error:
        raise problem_of(error.errors(include_url=False)[0], document, Home, file) from None


def _object(content: bytes, file: str) -> Document:
    try:
        document = json.loads(_text(content, file), object_pairs_hook=_once)
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise AlarmProblem(f"{file} is not a home file: it is not valid JSON at {place} ({error.msg}).") from None
    except RecursionError:
        raise AlarmProblem(f"{file} is not a home file: it is nested too deeply.") from None
    except _GivenTwice as twice:
        raise AlarmProblem(
            f"{file} gives the field {shorten(str(twice))} twice in one place. Keep one of the two."
        ) from None
    except ValueError:
        raise AlarmProblem(f"{file} holds a number of thousands of digits. Find it and write a shorter one.") from None
    if not isinstance(document, dict):
        raise AlarmProblem(f"{file} is not a home file: it holds no object in {{ }}.")
    return document


def _text(content: bytes, file: str) -> str:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise AlarmProblem(f"{file} is not a home file: byte {error.start + 1} is not UTF-8 text.") from None
    if not text.strip():
        raise AlarmProblem(f"{file} is not a home file: it is empty.")
    return text


class _GivenTwice(Exception):  # noqa: N818
    """A field that is there twice in one object; its text is the field's name."""


def _once(pairs: list[tuple[str, Any]]) -> Document:
    """An object whose fields are given once each; a field given twice has no meaning that both writers share."""
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        raise _GivenTwice(next(name for name in names if names.count(name) > 1))
    return found


# --- what is wrong, in a sentence ---


def problem_of(error: ErrorDetails, document: Any, model: type[BaseModel], file: str) -> FieldProblem:
    """pydantic's finding as the sentence a person reads: the field by names and ids, its value, what is allowed."""
    wrong = error.get("ctx", {}).get("error")
    if isinstance(wrong, Misfit):
        return FieldProblem(file, ".".join(map(_cut, wrong.path)), wrong.value, wrong.allowed, wrong.path)
    place = tuple(error["loc"])
    info = field_at(model, place)
    value = "" if error["type"] == "missing" else _shown(error["input"])
    if error["type"] == "value_error":
        value = "" if isinstance(error["input"], dict | list | BaseModel) else value
    return FieldProblem(file, path_text(place, document), value, _allowed(error, info))


def path_text(place: Sequence[int | str], document: Any) -> str:
    """site.rooms.hall.ceiling_m: names of fields and ids of elements, numbers from 1 where there is no id."""
    words = []
    for step in place:
        inside: Any = None
        if isinstance(step, int) and isinstance(document, list | tuple) and step < len(document):
            inside = document[step]
            name = inside.get("id") if isinstance(inside, dict) else None
            words.append(_cut(name) if isinstance(name, str) and name else str(step + 1))
        else:
            inside = document.get(step) if isinstance(document, dict) else None
            words.append(_cut(str(step)))
        document = inside
    return ".".join(words)


def _cut(name: str) -> str:
    """An id or a field's name at its own greatest length; a longer one is none, and is cut."""
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"


def kind_of(info: FieldInfo | None) -> Kind:
    """The unit kind of a field."""
    extra = info.json_schema_extra if info is not None else None
    return Kind(str(extra.get("kind", Kind.PLAIN))) if isinstance(extra, dict) else Kind.PLAIN


def _shown(value: Any) -> str:
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode()
    if isinstance(value, BaseModel):
        return type(value).__name__.lower()
    return json.dumps(value, ensure_ascii=False, default=str)[:200]


_PATTERNS = {
    "(0[1-9]|1[0-2])": "write a date as year-month-day, such as 2026-03-01, or leave it blank",
    "([01]\\d|2[0-3])": "write a time of day as hours and minutes, such as 14:05 or 14:05:30, or leave it blank",
}
_ID = "write an id of small letters a to z, digits and _ that starts with a letter or digit"
_SENTENCES = {
    "missing": "this field is needed",
    "extra_forbidden": "there is no such field",
    "finite_number": "write a number, not infinity or NaN",
    "string_type": "write text in quotes",
    "string_unicode": "write text that UTF-8 can hold",
    "bool_type": "write true or false",
    "bool_parsing": "write true or false",
    "tuple_type": "write a list in [ ]",
    "model_type": "write an object in { }",
    "model_attributes_type": "write an object in { }",
    "int_from_float": "write a whole number",
    "int_type": "write a whole number",
    "int_parsing": "write a whole number",
    "int_parsing_size": "write a smaller whole number",
    "float_type": "write a number",
    "float_parsing": "write a number",
}


def _allowed(error: ErrorDetails, info: FieldInfo | None) -> str:
    name, context = error["type"], error.get("ctx", {})
    match name:
        case "value_error":
            text = str(context["error"])
        case "enum":
            text = f"choose one of {context['expected']}"
        case "literal_error":
            text = f"write {context['expected']}"
        case "greater_than_equal" | "less_than_equal":
            text = f"{_range(info, context)} is allowed"
        case "string_too_long":
            text = f"write at most {context['max_length']} characters"
        case "string_pattern_mismatch" if error["input"] == "" and info is not None and lists_referred_to(info):
            text = f"choose one of the {noun_of(Home, lists_referred_to(info)[0])}s entered"
        case "string_pattern_mismatch":
            text = next((said for part, said in _PATTERNS.items() if part in context["pattern"]), _ID)
        case "too_long" | "too_short":
            text = f"write {context.get('max_length', context.get('min_length'))} values"
        case "float_type" | "int_type":
            quotes = " without quotes" if isinstance(error["input"], str) else ""
            limits = _range(info, context)
            text = f"{_SENTENCES[name]}{quotes}{f'; {limits} is allowed' if limits else ''}"
        case _:
            text = _SENTENCES.get(name, error["msg"].lower())
    return text


def _range(info: FieldInfo | None, context: Mapping[str, Any]) -> str:
    """0.05 m to 10 m, 0 or more: the field's limits with their unit."""
    declared = info.metadata if info is not None else []
    found = [next((getattr(m, n) for m in declared if getattr(m, n, None) is not None), None) for n in ("ge", "le")]
    low, high = found if any(end is not None for end in found) else (context.get("ge"), context.get("le"))
    kind = kind_of(info)
    low_text, high_text = ("" if end is None else show(float(end), kind, "metric") for end in (low, high))
    if low_text and high_text:
        return f"{low_text} to {high_text}"
    return f"{low_text} or more" if low_text else f"{high_text} or less" if high_text else ""
