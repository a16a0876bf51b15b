"""What stands in for a zone function that the control unit does not offer, and what is lost by it."""

from collections.abc import Collection
from dataclasses import dataclass

from alarmlib.model.words import Function

F = Function


@dataclass(frozen=True)
class Substitute:
    """The function wanted, the one given instead (None: nothing will do), and what is lost, in words."""

    wanted: F
    given: F | None
    lost: str


_BURGLAR_SOUND = "it sounds like a burglary, so people may go and look instead of leaving at once"
_NEAREST: dict[F, tuple[tuple[F, str], ...]] = {
    F.FINAL_DOOR: (
        (F.INTERIOR_DELAYED, "the unit may not count its opening as somebody leaving"),
        (F.ENTRY_ROUTE, "nobody can come in through this door without setting off the alarm"),
    ),
    F.ENTRY_ROUTE: (
        (F.INTERIOR_DELAYED, "somebody who came in another way gets the whole entry delay as well"),
        (F.FINAL_DOOR, "it may stand for a door, and somebody who came in another way gets the entry delay"),
    ),
    F.PERIMETER: (
        (F.DAY, "it shows a trouble whenever it is opened while the alarm is unset"),
        (F.INTERIOR, "the unit may leave it out together with the inside of the house"),
        (F.ENTRY_ROUTE, "it waits while an entry delay is running"),
    ),
    F.INTERIOR: (
        (F.ENTRY_ROUTE, "it waits while an entry delay is running"),
        (F.PERIMETER, "the unit may give a chime for it or keep it listening while people are in"),
    ),
    F.INTERIOR_DELAYED: (
        (F.FINAL_DOOR, "its trip may count as somebody leaving"),
        (F.ENTRY_ROUTE, "it sounds at once when no entry delay is running"),
    ),
    F.DAY: ((F.PERIMETER, "nothing is shown for it while the alarm is unset"),),
    F.ALWAYS_AUDIBLE: (
        (F.PANIC, "the unit may take its trip for somebody asking for help"),
        (F.TAMPER, "the outside siren may stay quiet while the alarm is unset"),
    ),
    F.ALWAYS_SILENT: ((F.ALWAYS_AUDIBLE, "the siren sounds as well"),),
    F.PANIC: (
        (F.ALWAYS_AUDIBLE, "it may be bypassed, and the unit does not say that it was panic"),
        (F.ALWAYS_SILENT, "no siren sounds, and the unit does not say that it was panic"),
    ),
    F.TAMPER: (
        (F.ALWAYS_AUDIBLE, "the outside siren sounds even while the alarm is unset"),
        (F.DAY, "no siren sounds for it while the alarm is unset"),
    ),
    F.FIRE: ((F.ALWAYS_AUDIBLE, _BURGLAR_SOUND),),
    F.CARBON_MONOXIDE: (
        (F.FIRE, "its sound is that of fire: everybody leaves, but is not told that it is gas"),
        (F.ALWAYS_AUDIBLE, _BURGLAR_SOUND),
    ),
    F.WATER: (
        (F.ALWAYS_SILENT, "no sound tells those at home"),
        (F.COLD, "the unit calls it cold"),
        (F.ALWAYS_AUDIBLE, "the outside siren sounds, as for a burglary"),
    ),
    F.COLD: (
        (F.ALWAYS_SILENT, "no sound tells those at home"),
        (F.WATER, "the unit calls it water"),
        (F.ALWAYS_AUDIBLE, "the outside siren sounds, as for a burglary"),
    ),
}


def substitute(wanted: F, offered: Collection[F] | None) -> Substitute:
    """The function itself where the unit offers it or its list is not known yet (None), else the nearest.

    Reference: common practice, no source; the order is ours, safest first.
    """
    if offered is None or wanted in offered or wanted is F.UNUSED:
        return Substitute(wanted, wanted, "")
    for given, lost in _NEAREST.get(wanted, ()):
        if given in offered:
            return Substitute(wanted, given, lost)
    return Substitute(wanted, None, "the unit offers nothing that comes near it")
