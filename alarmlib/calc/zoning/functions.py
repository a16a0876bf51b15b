"""What replaces a zone function that the control unit does not offer, and what is lost by it."""

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
    F.ENTRY_EXIT: ((F.ENTRY_ROUTE, "whoever comes home through this door sets off the alarm"),),
    F.ENTRY_ROUTE: ((F.ENTRY_EXIT, "somebody who came in another way gets the whole entry delay as well"),),
    F.AT_ONCE: (
        (F.WARN_UNSET, "it shows a warning whenever it is opened while the alarm is unset"),
        (F.ENTRY_ROUTE, "it waits while an entry delay is running"),
    ),
    F.WARN_UNSET: ((F.AT_ONCE, "nothing is shown for it while the alarm is unset"),),
    F.ALWAYS_SIREN: (
        (F.HOLD_UP, "the control unit may take its trip for somebody asking for help"),
        (F.TAMPER, "the outside siren may stay quiet while the alarm is unset"),
    ),
    F.ALWAYS_MESSAGE: ((F.ALWAYS_SIREN, "the siren sounds as well"),),
    F.HOLD_UP: (
        (F.ALWAYS_SIREN, "it may be left out, and the control unit does not say that it was a hold-up"),
        (F.ALWAYS_MESSAGE, "no siren sounds, and the control unit does not say that it was a hold-up"),
    ),
    F.TAMPER: (
        (F.ALWAYS_SIREN, "the outside siren sounds even while the alarm is unset"),
        (F.WARN_UNSET, "no siren sounds for it while the alarm is unset"),
    ),
    F.FIRE: ((F.ALWAYS_SIREN, _BURGLAR_SOUND),),
    F.CARBON_MONOXIDE: (
        (F.FIRE, "its sound is that of fire: everybody leaves, but is not told that it is gas"),
        (F.ALWAYS_SIREN, _BURGLAR_SOUND),
    ),
    F.WATER: (
        (F.ALWAYS_MESSAGE, "no sound tells those at home"),
        (F.LOW_TEMPERATURE, "the control unit calls it low temperature"),
        (F.ALWAYS_SIREN, "the outside siren sounds, as for a burglary"),
    ),
    F.LOW_TEMPERATURE: (
        (F.ALWAYS_MESSAGE, "no sound tells those at home"),
        (F.WATER, "the control unit calls it water"),
        (F.ALWAYS_SIREN, "the outside siren sounds, as for a burglary"),
    ),
}


_INSIDE: dict[F, tuple[tuple[F, str], ...]] = {
    F.ENTRY_EXIT: ((F.ENTRY_ROUTE, "it sounds at once when no entry delay is running"),),
    F.AT_ONCE: ((F.ENTRY_ROUTE, "it waits while an entry delay is running"),),
}  # a detector that people walk past all day is never one that warns when unset


def substitute(wanted: F, offered: Collection[F] | None, inside: bool = False) -> Substitute:
    """The function itself where the unit offers it or its list is not known yet (None), else the nearest.

    `inside`: it is for detectors that people pass while they are in.

    Reference: common practice, no source; the order is ours, safest first.
    """
    if offered is None or wanted in offered or wanted is F.UNUSED:
        return Substitute(wanted, wanted, "")
    for given, lost in (_INSIDE if inside else _NEAREST).get(wanted, _NEAREST.get(wanted, ())):
        if given in offered:
            return Substitute(wanted, given, lost)
    return Substitute(wanted, None, "the control unit offers nothing that comes near it")
