"""Between a value of the home and the text of a control: `shown_text`, `read_text`, `value_at`."""

import re
from collections.abc import Sequence
from typing import Any, get_args

from alarmlib.errors import FieldProblem
from alarmlib.model.base import Part, Point
from alarmlib.store.earlier import earlier_values
from alarmlib.units import read, show, show_number
from alarmlib.widgets.spec import Choices, FieldPath, FieldSpec

YES = "yes"
_AGREED = frozenset({"yes", "y", "true", "x", "1", "✓"})
_REFUSED = frozenset({"no", "n", "false", "0", "-"})
_RECTANGLE = re.compile(r"(?P<wide>[^x×]+)[x×](?P<deep>[^x×]+?)(?:\bat\b(?P<corner>.+))?", re.IGNORECASE)


class NotThereError(LookupError):
    """The path leads to nothing: the element was removed."""


def value_at(home: Any, path: FieldPath) -> Any:
    """The value at a path of field names and element ids; in a part that is left out, as it is blank.

    Raises NotThereError.
    """
    return _walked(home, path)[0]


def left_out(home: Any, path: FieldPath) -> tuple[tuple[FieldPath, Part], ...]:
    """The parts on the way to a value that the home leaves out, each with its path, blank. Raises NotThereError."""
    return _walked(home, path)[1]


def _walked(home: Any, path: FieldPath) -> tuple[Any, tuple[tuple[FieldPath, Part], ...]]:
    found, missing = home, []
    for n, step in enumerate(path, 1):
        inside, found = found, _step(found, step)
        if found is None and n < len(path) and (blank := _blank_part(inside, step)) is not None:
            missing.append((path[:n], blank))
            found = blank
    return found, tuple(missing)


def _blank_part(inside: Any, step: str) -> Part | None:
    """What a part holds that may be left out, blank; None where no such part is declared."""
    kinds = get_args(type(inside).model_fields[step].annotation) if isinstance(inside, Part) else ()
    return next((kind() for kind in kinds if isinstance(kind, type) and issubclass(kind, Part)), None)


def _step(found: Any, step: str) -> Any:
    if isinstance(found, tuple | list):
        for element in found:
            if getattr(element, "id", None) == step:
                return element
    elif hasattr(found, step):
        return getattr(found, step)
    raise NotThereError(step)


def shown_text(field: FieldSpec, value: Any) -> str:
    """The text of the field's control for a stored value; "" for no value."""
    if value is None:
        return ""
    if field.words:
        return YES if set(field.words) <= set(value) else ""
    match field.holds:
        case "bool":
            text = YES if value else "" if field.control == "tick" else "no"
        case "strs" | "ints":
            text = ",".join(str(each) for each in value)
        case "points":
            text = "; ".join(_shown_point(field, point) for point in value)
        case "point":
            text = _shown_point(field, value)
        case "str":
            text = str(value)
        case _:
            text = _shown_number(field, value)
    return text


def _shown_number(field: FieldSpec, value: float) -> str:
    """The number as `show` writes it, without the unit when that is the one in the label."""
    text = show(value, field.kind, field.system)
    bare = text.removesuffix(f" {field.unit}") if field.unit else text
    return bare if re.fullmatch(r"-?[\d.]+", bare) else text


def _shown_point(field: FieldSpec, point: Sequence[float]) -> str:
    return ", ".join(show_number(part, field.kind, field.system) for part in point)


def read_text(field: FieldSpec, text: str, choices: Choices) -> Any:
    """The value to store for what was typed. Raises FieldProblem (file "", path the field's caption)."""
    plain = text.strip()
    if not plain:
        return _blank_value(field, text)
    match field.holds:
        case "bool":
            return _read_agreement(field, plain)
        case "strs" | "ints":
            chosen = [_chosen(field, part, choices) for part in plain.split(",")]
            return tuple(map(int, chosen) if field.holds == "ints" else chosen)
        case "point" | "points":
            return _read_points(field, plain)
        case "str":
            return _chosen(field, plain, choices) if field.control == "choice" else text
    return _read_number(field, plain)


def with_words(field: FieldSpec, ticked: bool, current: Sequence[str]) -> tuple[str, ...]:
    """The list that a tick of `words` leaves: what else is in it, and the words where it is ticked."""
    others = tuple(word for word in current if word not in field.words)
    return (*others, *field.words) if ticked else others


def _blank_value(field: FieldSpec, text: str) -> Any:
    if field.required and field.control != "tick":
        raise FieldProblem("", field.caption, text, "this needs an answer")
    if field.control == "tick":
        return False
    if field.holds in {"strs", "ints", "points"}:
        return ()
    return "" if field.holds == "str" else None


def _read_agreement(field: FieldSpec, text: str) -> bool:
    if text.lower() in _AGREED:
        return True
    if text.lower() in _REFUSED:
        return False
    raise FieldProblem("", field.caption, text, "write yes or no")


def _chosen(field: FieldSpec, text: str, choices: Choices) -> str:
    """The stored word for a choice given by its value or by the text people read."""
    for value, name in choices:
        if text == value or text.strip().casefold() in {value.casefold(), name.casefold()}:
            return value
    earlier = earlier_values(text.strip()) & {value for value, _ in choices}  # typed in an earlier version's page
    if len(earlier) == 1:
        return next(iter(earlier))
    names = ", ".join(name for value, name in choices if value)
    allowed = f"choose one of: {names}" if names else "there is nothing to choose from yet"
    raise FieldProblem("", field.caption, text, allowed)


def _read_number(field: FieldSpec, text: str) -> int | float:
    value = _measured(field, text)
    low, high = field.ge, field.le
    if (low is not None and value < low) or (high is not None and value > high):
        raise FieldProblem("", field.caption, text, f"{field.allowed} is allowed")
    if field.holds == "int":
        if value != int(value):
            raise FieldProblem("", field.caption, text, "write a whole number")
        return int(value)
    return value


def _measured(field: FieldSpec, text: str) -> float:
    try:
        return read(text, field.kind, field.system)
    except FieldProblem as problem:
        raise FieldProblem("", field.caption, text, problem.allowed) from None


def _read_points(field: FieldSpec, text: str) -> Point | tuple[Point, ...]:
    """Corners "0, 0; 4.2, 0; 4.2, 3", or for an outline a rectangle "4.2 x 3" or "4.2 x 3 at 1, 2"."""
    corners = [part for part in text.split(";") if part.strip()]
    if field.holds == "point":
        if len(corners) != 1:
            raise FieldProblem("", field.caption, text, "write one place, such as 1.5, 3")
        return _read_point(field, corners[0])
    rectangle = _RECTANGLE.fullmatch(text)
    if rectangle:
        wide, deep = (_measured(field, rectangle[part].strip()) for part in ("wide", "deep"))
        left, near = _read_point(field, rectangle["corner"]) if rectangle["corner"] else (0.0, 0.0)
        right, far = round(left + wide, 6), round(near + deep, 6)
        return (left, near), (right, near), (right, far), (left, far)
    return tuple(_read_point(field, corner) for corner in corners)


def _read_point(field: FieldSpec, text: str) -> Point:
    """Two numbers apart by a comma and a space, by a space, or by a lone comma."""
    for mark in (r",\s+", r"\s+", r","):
        parts = re.split(mark, text.strip())
        if len(parts) == 2:
            return _measured(field, parts[0]), _measured(field, parts[1])
    raise FieldProblem("", field.caption, text, "write corners such as 0, 0; 4.2, 0; 4.2, 3")
