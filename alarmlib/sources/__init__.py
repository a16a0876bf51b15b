"""Where each rule and figure comes from, once, by key."""

from alarmlib.sources import cautions, fire, intruder, own, sirens, walking, wiring
from alarmlib.sources.source import Source, Status

__all__ = ["Source", "Status", "cite", "every_source"]

_SOURCES: tuple[Source, ...] = (
    *own.SOURCES,
    *intruder.SOURCES,
    *sirens.SOURCES,
    *fire.SOURCES,
    *wiring.SOURCES,
    *walking.SOURCES,
    *cautions.SOURCES,
)
_BY_KEY = {source.key: source for source in _SOURCES}


def cite(key: str) -> Source:
    """The source of that key; `KeyError` when nobody has written it down."""
    return _BY_KEY[key]


def every_source() -> tuple[Source, ...]:
    """All sources, by key; a key that is used twice is listed twice."""
    return tuple(sorted(_SOURCES, key=lambda source: source.key))
