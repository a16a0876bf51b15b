"""Where each rule and figure comes from, once, by key."""

from dataclasses import dataclass
from enum import StrEnum


class Status(StrEnum):
    """How far a source was seen; only `SEEN` and `OWNER` may carry a finding that must be mended."""

    SEEN = "seen"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"
    COMPUTED = "computed here"
    OWNER = "the owner's own papers"


@dataclass(frozen=True)
class Source:
    """A published rule, table or formula, with edition and clause, and how far it was seen."""

    key: str
    title: str
    edition: str = ""
    clause: str = ""
    status: Status = Status.MEMORY

    def __str__(self) -> str:
        cited = ", ".join(part for part in (self.title, self.edition, self.clause) if part)
        return f"{cited} ({self.status.value})"


def cite(key: str) -> Source:
    """The source of that key; `KeyError` when nobody has written it down."""
    return _BY_KEY[key]


def every_source() -> tuple[Source, ...]:
    """All sources, by key."""
    return tuple(_BY_KEY[key] for key in sorted(_BY_KEY))


_S, _M, _P, _C, _O = Status.SEEN, Status.MEMORY, Status.PRACTICE, Status.COMPUTED, Status.OWNER
_SOURCES = (
    Source("practice", "Common practice, no source", status=_P),
    Source("computed", "Computed here from the facts entered", status=_C),
    Source("owner", "The owner's own papers and words", status=_O),
)
_BY_KEY = {source.key: source for source in _SOURCES}
