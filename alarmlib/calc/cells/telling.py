"""How far the cells of a home are: whoever waits is told, and may end it by raising."""

from collections.abc import Callable

Telling = Callable[[str, int, int, int], None]
"""Called with what is made ready, which piece of how many is begun, and the bytes stored since the last call."""


def nobody(_what: str, _piece: int, _of: int, _stored: int) -> None:
    """Tells nobody."""
