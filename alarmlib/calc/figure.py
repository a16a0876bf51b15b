"""The one result type of a calculation that people are shown."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """A computed value a reviewer can follow: formula, the numbers put in, the result, the source.

    `inputs` are (name, value as shown); `sources` are keys of `alarmlib.sources`;
    `valid_range` says in words where the formula may be used ("" when it holds everywhere).
    """

    key: str
    value: float | str
    unit: str
    formula: str
    inputs: tuple[tuple[str, str], ...] = ()
    sources: tuple[str, ...] = ()
    valid_range: str = ""
