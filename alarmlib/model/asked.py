"""Questions about a home that are worked out once: the home keeps what it says, and so do `facts.Facts`."""

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec, TypeVar, cast

if TYPE_CHECKING:
    from alarmlib.model.home import Home

P = ParamSpec("P")
T = TypeVar("T")


def asked(query: Callable[Concatenate["Home", P], T]) -> Callable[Concatenate["Home", P], T]:
    """The query, worked out once for a home and what it is asked about, which is given by position.

    What it says must not be changed by whoever asked.
    """

    def ask(home: "Home", *args: P.args, **named: P.kwargs) -> T:
        return home.ask(query, *args, **named)

    return cast("Callable[Concatenate[Home, P], T]", wraps(query)(ask))
