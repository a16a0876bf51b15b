"""One source: what it is, which edition and clause, where its text was seen, and for which premises it was written."""

from dataclasses import dataclass
from enum import StrEnum


class Status(StrEnum):
    """How far a source was seen; only `SEEN` and `OWNER` may carry a finding that must be fixed."""

    SEEN = "seen"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"
    COMPUTED = "computed here"
    OWNER = "the owner's own manuals"


@dataclass(frozen=True)
class Source:
    """A published rule, table or formula.

    `seen_in` names the document in which its text was read, with its publisher and date; empty unless seen.
    `scope` says for what it was written where that isn't any home; `elsewhere` marks a rule for other premises or
    systems than an ordinary household's, which binds nobody here.
    """

    key: str
    title: str
    edition: str = ""
    clause: str = ""
    status: Status = Status.MEMORY
    seen_in: str = ""
    scope: str = ""
    elsewhere: bool = False

    @property
    def may_bind(self) -> bool:
        """Whether a finding that must be fixed may rest on it: its text was seen, and it is about homes."""
        return self.status in {Status.SEEN, Status.OWNER} and not self.elsewhere

    @property
    def told(self) -> str:
        """All that is known of it, in one line."""
        read_in = f"; read in: {self.seen_in}" if self.seen_in else ""
        written_for = f"; written for: {self.scope}" if self.scope else ""
        return f"{self.cited}{read_in}{written_for} ({self.standing})"

    @property
    def cited(self) -> str:
        """Title, edition and clause."""
        return ", ".join(part for part in (self.title, self.edition, self.clause) if part)

    @property
    def standing(self) -> str:
        """How far it was seen, and whether it was written for other premises than homes."""
        return f"{self.status.value}{', written for other premises' if self.elsewhere else ''}"

    def __str__(self) -> str:
        return f"{self.cited} ({self.standing})"
