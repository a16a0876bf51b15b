"""What may reach the control unit in a second; names are ids of the setup."""

from dataclasses import dataclass

from alarmlib.model.words import Word

SET_FULL = ""
"""The name of the set in which nobody is left inside."""


class Way(Word):
    """How a person reaches the unit."""

    KEYPAD = "keypad", "keypad"
    FOB = "fob", "fob"
    KEY_SWITCH = "key_switch", "key switch"


@dataclass(frozen=True, slots=True)
class Opens:
    """A device that stays tripped does so: a contact opens, a smoke detector goes into alarm."""

    device: str


@dataclass(frozen=True, slots=True)
class Closes:
    """That device is back to normal."""

    device: str


@dataclass(frozen=True, slots=True)
class Sees:
    """A device without a lasting state (motion, glass break, button) is tripped in this second."""

    device: str


@dataclass(frozen=True, slots=True)
class SetArea:
    """Set with nobody in or a part set, or change from one to another; `override` accepts what prevents it."""

    area: str
    part: str = SET_FULL
    way: Way = Way.KEYPAD
    outside: bool = False
    override: bool = False


@dataclass(frozen=True, slots=True)
class UnsetArea:
    """The right code, fob or key."""

    area: str
    way: Way = Way.KEYPAD


@dataclass(frozen=True, slots=True)
class WrongCode:
    """A wrong code at a keypad."""


@dataclass(frozen=True, slots=True)
class FinishExit:
    """The button outside that ends the exit time."""

    area: str


@dataclass(frozen=True, slots=True)
class LetOut:
    """Somebody leaves by this entry/exit door while the part set stays on."""

    area: str
    door: str


@dataclass(frozen=True, slots=True)
class Inhibit:
    """Leave a zone out until the area is next unset."""

    zone: str


@dataclass(frozen=True, slots=True)
class OutOfUse:
    """Take a zone out until it is put back."""

    zone: str


@dataclass(frozen=True, slots=True)
class PutBack:
    """Take back a zone left out this time or out of use."""

    zone: str


@dataclass(frozen=True, slots=True)
class Silence:
    """Stop what sounds; what happened stays in memory."""

    area: str


@dataclass(frozen=True, slots=True)
class Reset:
    """Clear the alarm memory of zones that are back to normal."""

    area: str


@dataclass(frozen=True, slots=True)
class HoldUpPressed:
    """The hold-up function of a keypad or fob."""

    area: str


@dataclass(frozen=True, slots=True)
class HoldUp:
    """Switch the hold-up side on or off; setting does not change it."""

    on: bool


@dataclass(frozen=True, slots=True)
class TestStart:
    """Begin the test mode."""

    __test__ = False


@dataclass(frozen=True, slots=True)
class TestEnd:
    """End the test mode by hand."""

    __test__ = False


@dataclass(frozen=True, slots=True)
class FaultBegins:
    """Something watched goes wrong."""

    watch: str


@dataclass(frozen=True, slots=True)
class FaultEnds:
    """It is right again."""

    watch: str


@dataclass(frozen=True, slots=True)
class PowerLost:
    """Mains and standby are both gone: the unit is dead."""


@dataclass(frozen=True, slots=True)
class PowerBack:
    """The unit starts again."""


Input = (
    Opens
    | Closes
    | Sees
    | SetArea
    | UnsetArea
    | WrongCode
    | FinishExit
    | LetOut
    | Inhibit
    | OutOfUse
    | PutBack
    | Silence
    | Reset
    | HoldUpPressed
    | HoldUp
    | TestStart
    | TestEnd
    | FaultBegins
    | FaultEnds
    | PowerLost
    | PowerBack
)
