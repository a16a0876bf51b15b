"""What this page shows by now: the newest form, check and picture of each name, for the sheet that is printed of it."""

import weakref
from typing import Any, Literal, TypeVar

_Kind = Literal["form", "check", "picture"]
T = TypeVar("T")
_SHOWN: "weakref.WeakValueDictionary[tuple[str, str], Any]" = weakref.WeakValueDictionary()


def keep(kind: _Kind, name: str, shown: T) -> T:
    """Remember what a cell shows, for as long as it is shown; handed back as it came."""
    _SHOWN[kind, name] = shown
    return shown


def shown_as(kind: str, name: str) -> Any:
    """What the cell of that kind and name shows; None where it has not run."""
    return _SHOWN.get((kind, name))
