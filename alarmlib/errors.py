"""What goes wrong with something a person gave us: one sentence, never a traceback."""

from dataclasses import dataclass


class AlarmProblem(Exception):  # noqa: N818
    """A mistake in what a person gave; its text is one plain sentence fit to show."""


@dataclass(unsafe_hash=True)  # not frozen: Python sets the traceback of an exception that passes through
class FieldProblem(AlarmProblem):
    """One wrong value: which file, which field, what is in it, what may be in it.

    `at` are the steps of the path, of a value that is right by itself and does not fit the rest of the home.
    """

    file: str
    path: str
    value: str
    allowed: str
    at: tuple[str, ...] = ()

    def __str__(self) -> str:
        place = " in ".join(part for part in (self.path, self.file) if part)
        if self.at and not self.value:
            return f"{place}: {self.allowed}."
        what = f"{shorten(self.value)} is not allowed here" if self.value else "nothing is written here"
        return f"{place}{': ' if place else ''}{what}; {self.allowed}."


def shorten(value: str, most: int = 60) -> str:
    """The value as a person may read it in a sentence: quoted, on one line, in reading order, cut at `most`."""
    line = "".join(sign if sign.isprintable() else "\ufffd" for sign in " ".join(value.split()))
    return f"“{line[: most - 1]}…”" if len(line) > most else f"“{line}”"
