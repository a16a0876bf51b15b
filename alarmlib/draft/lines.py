"""Lists typed one a line, as the short path asks for them."""

import re
import unicodedata
from collections.abc import Collection, Iterator, Mapping

from alarmlib.errors import FieldProblem

MOST_LINES = 60


def slug(name: str, taken: Collection[str] = ()) -> str:
    """An id made of a name: lower-case letters, digits and underscores, unlike any in `taken`."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    base = re.sub(r"[^a-z0-9]+", "_", plain.lower()).strip("_")[:40] or "thing"
    tries = (base, *(f"{base}_{n}" for n in range(2, len(taken) + 3)))
    return next(each for each in tries if each not in taken)


def listed(text: str, field: str) -> tuple[str, ...]:
    """The names on the lines of a text, without blanks; each may stand once.

    Raises `FieldProblem` for a name that stands twice, is too long, or for too many lines.
    """
    names = tuple(line.strip(" \t-•*") for line in text.splitlines() if line.strip(" \t-•*"))
    if len(names) > MOST_LINES:
        raise FieldProblem("", field, f"{len(names)} lines", f"at most {MOST_LINES} lines are allowed")
    for number, name in enumerate(names):
        if len(name) > 80:
            raise FieldProblem("", field, name, "at most 80 letters a line are allowed")
        if name.casefold() in {earlier.casefold() for earlier in names[:number]}:
            raise FieldProblem("", field, name, "each line may stand once")
    return names


def commas(text: str) -> tuple[str, ...]:
    """The names in a text separated by commas or semicolons."""
    return tuple(part.strip() for part in re.split(r"[,;]", text) if part.strip())


def pairs(text: str, field: str) -> Iterator[tuple[str, str]]:
    """(before the colon, after it) of each line; `FieldProblem` for a line without a colon."""
    for line in listed(text, field):
        before, colon, after = line.partition(":")
        if not (colon and before.strip() and after.strip()):
            raise FieldProblem("", field, line, "a name, a colon and a room are needed, such as “Back door: Kitchen”")
        yield before.strip(), after.strip()


def find(name: str, known: Mapping[str, str], field: str, what: str) -> str:
    """The id of a name among `known` (name to id), whatever its capitals; `FieldProblem` if it is not there."""
    by_fold = {each.casefold(): key for each, key in known.items()}
    if name.casefold() not in by_fold:
        raise FieldProblem("", field, name, f"one of the {what} you listed is needed: {', '.join(known)}")
    return by_fold[name.casefold()]
