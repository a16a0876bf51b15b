"""Lists as people type them: one a line, or several on a line with commas or semicolons between them."""

import re
import unicodedata
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from alarmlib.errors import FieldProblem
from alarmlib.model.short_path import ShortPath

MOST_LINES = 60
MOST_LETTERS = 80


@dataclass(frozen=True)
class Wrong:
    """One answer, or one line of it, that cannot be used: its field, and what is wrong with it."""

    field: str
    problem: FieldProblem


class Reader:
    """Reads the answers of one short path; what cannot be used is noted in `wrong`, and the rest is read on."""

    def __init__(self, answers: ShortPath) -> None:
        self.answers = answers
        self.wrong: list[Wrong] = []

    def text(self, field: str) -> str:
        """What is typed in a field."""
        return str(getattr(self.answers, field))

    def refuse(self, field: str, value: str, allowed: str) -> None:
        """Note a value that a field cannot hold; `allowed` says what can."""
        self.wrong.append(Wrong(field, FieldProblem("", label_of(field), value, allowed)))

    def pairs(self, field: str) -> Iterator[tuple[str, tuple[str, ...]]]:
        """(before the colon, what follows it) of each entry of a field; an entry without either is refused."""
        for entry in _entries(self.text(field)):
            before, _, after = (part.strip() for part in entry.partition(":"))
            followers = commas(after)
            if before and followers:
                yield before, followers
            else:
                self.refuse(field, entry, "a name, a colon and a room are needed, such as “Back door: Kitchen”")

    def find(self, field: str, name: str, known: Mapping[str, str], what: str) -> str | None:
        """The id of a name among `known` (name to id), whatever its capitals; None, and refused, if it isn't there."""
        found = by_fold(known).get(name.casefold())
        if found is None:
            self.refuse(field, name, f"one of the {what} you listed is needed: {', '.join(known)}")
        return found

    def chosen(self, field: str, known: Mapping[str, str], what: str) -> tuple[str, ...]:
        """The ids that a field names, separated by commas, or by “and” where that is in no name."""
        names = (name for part in commas(self.text(field)) for name in _at_and(part, by_fold(known).__contains__))
        found = (self.find(field, name, known, what) for name in names)
        return tuple(dict.fromkeys(each for each in found if each is not None))


def label_of(field: str) -> str:
    """How a question of the short path is called on its page."""
    return str(ShortPath.model_fields[field].title)


def slug(name: str, taken: Collection[str] = ()) -> str:
    """An id made of a name: lower-case letters, digits and underscores, unlike any in `taken`."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    base = re.sub(r"[^a-z0-9]+", "_", plain.lower()).strip("_")[:40] or "thing"
    tries = (base, *(f"{base}_{n}" for n in range(2, len(taken) + 3)))
    return next(each for each in tries if each not in taken)


def lines(text: str) -> tuple[str, ...]:
    """The lines of a text, semicolons ending one too, without blanks and list marks."""
    marks = " \t-•*"
    return tuple(line.strip(marks) for line in re.split(r"[;\n\r]", text) if line.strip(marks))


def commas(text: str) -> tuple[str, ...]:
    """The names in a text separated by commas or semicolons."""
    return tuple(part.strip() for part in re.split(r"[,;]", text) if part.strip())


def by_fold(known: Mapping[str, str]) -> dict[str, str]:
    """The same mapping, by names without capitals."""
    return {name.casefold(): key for name, key in known.items()}


def _entries(text: str) -> Iterator[str]:
    """The entries of a text, one a line or several: each begins with the part that holds its colon."""
    for line in text.splitlines():
        entry = ""
        for part in commas(line.strip(" \t-•*")):
            if ":" in part and entry:
                yield entry
                entry = ""
            entry = f"{entry}, {part}" if entry else part
        if entry:
            yield entry


def _at_and(name: str, is_known: Callable[[str], bool]) -> Iterable[str]:
    parts = [part.strip() for part in re.split(r"\band\b|&|\+", name) if part.strip()]
    return (name,) if is_known(name.casefold()) or not all(is_known(part.casefold()) for part in parts) else parts
