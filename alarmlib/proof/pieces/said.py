"""Names and measures put into a proof when it is shown: the names of the home as it is, in its units."""

import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import Any, TypeVar, cast

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.words import UnitSystem
from alarmlib.proof.pieces.recorded import names_marked

T = TypeVar("T")
_NAME = re.compile("⟦[^⟦⟧]*⟧")
_EITHER = re.compile("⦃([^⦃⦙⦄]*)⦙([^⦃⦙⦄]*)⦄")


def either(metric: str, customary: str) -> str:
    """A text that is in the units of the home when it is shown."""
    return metric if metric == customary else f"⦃{metric}⦙{customary}⦄"


class InWords:
    """Puts the names and units of a home into texts; `earlier` has the names of parts that it no longer has."""

    def __init__(self, home: Home, earlier: Mapping[str, str] | None = None) -> None:
        self.names = {**(earlier or {}), **names_marked(home)}
        self._units = 1 if home.units is UnitSystem.METRIC else 2

    def __call__(self, text: str) -> str:
        """The text as it is shown."""
        if "⦃" in text:
            text = _EITHER.sub(lambda found: str(found[self._units]), text)
        return _NAME.sub(lambda found: self.names.get(found[0], found[0]), text) if "⟦" in text else text

    def of(self, value: T) -> T:
        """A value of data classes, rows and mappings with every text in it as it is shown."""
        return cast("T", self._said(value))

    def _said(self, value: Any) -> Any:
        if isinstance(value, str):
            return value if isinstance(value, Enum) else self(value)
        if isinstance(value, tuple):
            return tuple(map(self._said, value))
        if isinstance(value, Mapping):
            return {key: self._said(inner) for key, inner in value.items()}
        if is_dataclass(value) and not isinstance(value, type):
            return replace(value, **{each.name: self._said(getattr(value, each.name)) for each in fields(value)})
        return value

    def problem(self, problem: AlarmProblem) -> AlarmProblem:
        """The same problem, said in words."""
        problem.args = tuple(self._said(each) for each in problem.args)
        problem.__dict__.update({name: self._said(value) for name, value in problem.__dict__.items()})
        return problem
