"""One second at work: the state as a list, the cause of what happens now, and what is given out."""

from typing import NamedTuple

from alarmlib.control.functions import Action, FunctionTable
from alarmlib.control.layout import AreaAt, Layout, State, ZoneAt
from alarmlib.control.setup import Behaviour, Setup
from alarmlib.control.signals import (
    Cause,
    KeypadLine,
    LogLine,
    Mark,
    Notice,
    Outputs,
    Reason,
    Refusal,
    SentMessage,
    Siren,
    Sound,
    Timer,
    Tone,
    UnitEvent,
)
from alarmlib.model.words import EventKind


class Trip(NamedTuple):
    """The signal from a zone part to an area part: this zone, to be treated so, with these marks."""

    area: AreaAt
    zone: ZoneAt
    action: Action
    mark: int = 0


class Tick:
    """The working second; parts write only their own places of `s` and report through these methods."""

    __slots__ = (
        "cause",
        "facts",
        "lay",
        "log_lines",
        "messages",
        "refusals",
        "s",
        "seen_now",
        "shown",
        "sirens",
        "table",
        "tones",
    )

    def __init__(self, setup: Setup, state: State) -> None:
        self.lay: Layout = setup.layout
        self.facts: Behaviour = setup.behaviour
        self.table: FunctionTable = setup.table
        self.s: list[int] = list(state)
        self.cause: Cause = Timer.STILL_OPEN
        self.seen_now: set[int] = set()
        self.sirens: list[Siren] = []
        self.tones: list[Sound] = []
        self.messages: list[SentMessage] = []
        self.shown: list[KeypadLine] = []
        self.log_lines: list[LogLine] = []
        self.refusals: list[Refusal] = []

    def copy(self) -> "Tick":
        """The same second, to go on in another way."""
        other = object.__new__(Tick)
        other.lay, other.facts, other.table, other.cause = self.lay, self.facts, self.table, self.cause
        other.s, other.seen_now = self.s[:], set(self.seen_now)
        other.sirens, other.tones, other.messages = self.sirens[:], self.tones[:], self.messages[:]
        other.shown, other.log_lines, other.refusals = self.shown[:], self.log_lines[:], self.refusals[:]
        return other

    def log(self, event: UnitEvent, about: str) -> None:
        """Note an event with the cause that holds now."""
        self.log_lines.append(LogLine(event, about, self.cause))

    def show(self, notice: Notice, area: str, *about: str) -> None:
        """Put a line on the keypads."""
        self.shown.append(KeypadLine(notice, area, about))

    def tone(self, area: str, tone: Tone) -> None:
        """Sound a keypad tone in this second."""
        self.tones.append(Sound(area, tone))

    def send(self, kind: EventKind, area: str, about: tuple[str, ...], marks: tuple[Mark, ...] = ()) -> None:
        """Send a message."""
        self.messages.append(SentMessage(kind, area, about, marks))
        self.log(UnitEvent.MESSAGE, kind.value)

    def refuse(self, area: str, reason: Reason, about: str = "") -> None:
        """Say that something was not done, and why."""
        self.refusals.append(Refusal(area, reason, about))
        self.tone(area, Tone.REFUSED)
        self.log(UnitEvent.REFUSED, reason.value)

    def area(self, place: int) -> AreaAt:
        """The area part at that place."""
        return self.lay.areas[place]

    def outputs(self) -> Outputs:
        """All that was given out."""
        return Outputs(
            tuple(self.sirens),
            tuple(self.tones),
            tuple(self.messages),
            tuple(self.shown),
            tuple(self.log_lines),
            tuple(self.refusals),
        )
