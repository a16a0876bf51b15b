"""What a section of the record is: how it is written, who may see it, and what it needs to have anything to say."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from alarmlib.checks.cautions import begins
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Caution, SectionText
from alarmlib.record.context import Context

Write = Callable[[Context], Iterable[Block]]


@dataclass(frozen=True)
class Section:
    """One section of the record.

    `level` is the widest circle that may see it; `needs` are the parts of the home, by path, without which it has
    nothing to say; a section on `paper` begins a new page in print.
    """

    id: str
    title: str
    write: Write
    level: Share
    needs: tuple[str, ...] = ()
    paper: bool = False

    def has_needs(self, home: Home) -> bool:
        """Whether all that it needs is entered."""
        return all(_entered(home, path) for path in self.needs)

    def build(self, context: Context) -> tuple[Block, ...]:
        """What it says of the home; () where it says nothing."""
        return tuple(self.write(context))

    def cautioned(self, context: Context) -> tuple[Block, ...]:
        """What it says, begun with the cautions of its subject; () where it says nothing."""
        blocks = self.build(context)
        return (*(Caution(each.text, each.source) for each in begins(self.id)), *blocks) if blocks else ()

    def text(self, context: Context) -> SectionText:
        """The section as it is in the record."""
        return SectionText(self.id, self.title, self.cautioned(context), self.paper)


def section(
    name: str, title: str, *, level: Share, needs: tuple[str, ...] = (), paper: bool = False
) -> Callable[[Write], Section]:
    """Declare that the function below writes the section with this id."""
    return lambda write: Section(name, title, write, level, needs, paper)


def _entered(home: Home, path: str) -> bool:
    part: object = home
    for name in path.split("."):
        part = getattr(part, name)
    return bool(part)
