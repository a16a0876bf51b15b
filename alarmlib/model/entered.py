"""What a person may enter in a plain field: days of the calendar, texts that read as they are written, numbers."""

import re
from datetime import date
from typing import Annotated, Any

from pydantic import AfterValidator, StringConstraints
from pydantic_core import PydanticKnownError, core_schema

YEARS = range(1900, 2200)  # in which anything of a home was fitted, tested or learnt
_CONTROLS = "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f"
_DIRECTIONS = "\u202a-\u202e\u2066-\u2069"
_UNSEEN = re.compile(f"[{_CONTROLS}{_DIRECTIONS}]")
_LINE_ENDS = re.compile("[\t\n\r\u2028\u2029]")


class NotEntered(ValueError):  # noqa: N818
    """A text that is refused: what to write, and `instead`, which is kept of it where a file of before holds it."""

    def __init__(self, allowed: str, instead: str) -> None:
        super().__init__(allowed)
        self.instead = instead


def _of_the_calendar(day: str) -> str:
    """The day, if there is such a one; raises NotEntered."""
    try:
        there = not day or date.fromisoformat(day).year in YEARS
    except ValueError:
        there = False
    if not there:
        what = f"write a day of the calendar from {YEARS.start} to {YEARS.stop - 1}, such as 2026-03-01"
        raise NotEntered(f"{what}, or leave it blank", "")
    return day


def readable(text: str) -> str:
    """The text, if every sign of it can be seen or is a plain line end; raises NotEntered.

    Signs that turn the direction of a text make it read otherwise than it is stored. Scripts from right to left need
    none of them.
    Reference: Unicode Standard Annex 9 for the nine signs (from memory; held against Unicode's own data in the tests).
    """
    if _UNSEEN.search(text):
        what = "write it without control characters, and without signs that turn the direction of text"
        raise NotEntered(what, _UNSEEN.sub("", text))
    return text


def _of_one_line(text: str) -> str:
    """The text, if it is readable and of one line; raises NotEntered."""
    if _LINE_ENDS.search(text):
        raise NotEntered("write it on one line, without tabs", _UNSEEN.sub("", _LINE_ENDS.sub(" ", text)))
    return readable(text)


Name = Annotated[str, StringConstraints(max_length=80), AfterValidator(_of_one_line)]
Note = Annotated[str, StringConstraints(max_length=2000), AfterValidator(readable)]
Day = Annotated[
    str,
    StringConstraints(pattern=r"^(\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01]))?$"),
    AfterValidator(_of_the_calendar),
]


def _no_text_no_truth(value: object) -> object:
    if isinstance(value, bool | str | bytes):
        raise PydanticKnownError("int_type")
    return value


def with_plain_numbers(schema: Any) -> Any:
    """A part's schema in which a number is a number: neither a text nor true or false is taken for one."""
    if isinstance(schema, list | tuple):
        return type(schema)(with_plain_numbers(each) for each in schema)
    if not isinstance(schema, dict):
        return schema
    match schema.get("type"):
        case "function-before" if schema["function"].get("function") is _no_text_no_truth:
            return schema
        case "float":
            return schema | {"strict": True}
        case "int":
            return core_schema.no_info_before_validator_function(_no_text_no_truth, schema)
        case _:
            return {key: with_plain_numbers(value) for key, value in schema.items()}
