"""What came with the home: old access ended, nothing kept that nobody understands."""

from collections.abc import Iterator

from alarmlib.checks.check import CheckGroup, Said, check, should
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.log import Fate, FoundItem, Inherited
from alarmlib.model.site import Yes
from alarmlib.model.words import StartPoint

_OPEN = (
    ("contract_ended", "The old owner's contract: you have not ticked that it has ended.", "End it in writing."),
    ("users_removed", "The control unit may still know the old users.", "Remove every user and fob that is not yours."),
    (
        "factory_access_changed",
        "The control unit may still have its factory-set access.",
        "Change it, and never write the new one here.",
    ),
)


@check
def old_access(home: Home) -> Said:
    """The old contract is ended, old users are taken out, factory-set access is changed."""
    old = home.start_point in {StartPoint.OLD_UNKNOWN, StartPoint.WORKING} or bool(home.inherited.items)
    for field, message, remedy in _OPEN if old else ():
        if not _ticked(home.inherited, field):
            yield should("inherited", message, remedy)


def _ticked(inherited: Inherited, field: str) -> bool:
    return bool(getattr(inherited, field))


@check
def undecided(home: Home) -> Said:
    """Everything found is kept, replaced or taken out by decision, and what is kept answers."""
    for item in home.inherited.items:
        for why, remedy in _doubts(item):
            yield should(item.id, f"{said(item.what)}: {why}.", remedy, "owner")


def _doubts(item: FoundItem) -> Iterator[tuple[str, str]]:
    if item.fate is Fate.UNDECIDED:
        yield (
            "you have not decided yet whether to keep it, replace it or take it out",
            "Decide. If in doubt, replace it.",
        )
    if item.fate is Fate.KEEP and item.answers is not Yes.YES:
        yield "you keep it, but the control unit is not known to answer to it", "Trip it and watch the control unit."
    if item.fate is Fate.KEEP and item.unknown:
        yield "you keep it, but something about it is not known", "Find out, or replace it."
    if item.fate is Fate.KEEP and not item.device:
        yield "you keep it, but it is not yet among the devices", "Enter it as a device."


GROUP = CheckGroup("inherited", (old_access, undecided))
