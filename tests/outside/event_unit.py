"""A control unit as a SimPy model: processes and events, no ticks; written from the rules in words.

One area. Zones: an entry/exit door, a route detector, an inside detector, a delayed one, a window. The unit
ends each delay a quarter of a second before the whole second in which it is over: before anything else happens in it.
"""

from collections.abc import Callable, Generator
from dataclasses import dataclass, field
from typing import Any

import simpy

EARLY_S = 0.25
UNSET, LEAVING, SET = "unset", "leaving", "set"


@dataclass
class Times:
    """Seconds of every delay."""

    exit_s: int
    entry_s: int
    siren_s: int
    abort_s: int


@dataclass
class Zone:
    """What is tripped, whether that was acted upon, whether it waits for the entry delay."""

    kind: str
    tripped: bool = False
    acted: bool = False
    waits: bool = False
    seen_at_s: float = -9.0


@dataclass
class EventUnit:
    """The unit; `happened` notes what it did and when."""

    env: simpy.Environment
    times: Times
    zones: dict[str, Zone]
    state: str = UNSET
    siren: bool = False
    exit_error: bool = False
    sent: bool = False
    door_was_shut: bool = False
    restarted: bool = False
    happened: list[tuple[float, str]] = field(default_factory=list)
    delays: dict[str, Any] = field(default_factory=dict)

    def note(self, what: str) -> None:
        """Something happened now."""
        self.happened.append((self.env.now, what))

    def delay(self, name: str, seconds: int, then: Callable[[], None]) -> None:
        """Begin a delay again."""
        self.stop(name)
        self.delays[name] = self.env.process(self._delay(name, seconds, then))

    def _delay(self, name: str, seconds: int, then: Callable[[], None]) -> Generator[Any, Any, None]:
        try:
            yield self.env.timeout(seconds - EARLY_S)
        except simpy.Interrupt:
            return
        del self.delays[name]
        then()

    def stop(self, name: str) -> None:
        """End a delay without what follows it."""
        running = self.delays.pop(name, None)
        if running is not None:
            running.interrupt()

    def runs(self, name: str) -> bool:
        """Whether a delay runs."""
        return name in self.delays

    # what people and devices do

    def set_at(self) -> None:
        """Set away from inside: refused while a window is open, or when it is so already."""
        if self.state != UNSET or any(zone.tripped for zone in self.zones.values() if zone.kind == "window"):
            self.note("refused")
            return
        self.state, self.sent, self.door_was_shut, self.restarted = LEAVING, False, False, False
        self.delay("exit", self.times.exit_s, self._left)

    def unset_area(self) -> None:
        """All is over; a message that went out is cancelled by another, one that is held is dropped."""
        if self.sent:
            self.note("message")
        for name in ("exit", "entry", "siren", "abort"):
            self.stop(name)
        self.state, self.siren, self.exit_error, self.sent = UNSET, False, False, False
        for zone in self.zones.values():
            zone.waits = False

    def opens(self, name: str) -> None:
        """A contact opens."""
        zone = self.zones[name]
        if not zone.tripped:
            zone.tripped, zone.acted = True, False
            self._tripped(zone, fresh=True)

    def closes(self, name: str) -> None:
        """A contact closes; with the last door closed on leaving, one opened again restarts the exit delay, once."""
        zone = self.zones[name]
        was, zone.tripped = zone.tripped, False
        doors_shut = not any(each.tripped for each in self.zones.values() if each.kind == "door")
        if was and zone.kind == "door" and self.state == LEAVING and doors_shut:
            self.door_was_shut = True

    def sees(self, name: str) -> None:
        """Movement: tripped until a whole second has gone without any."""
        zone = self.zones[name]
        zone.seen_at_s = self.env.now
        self.env.process(self._falls_back(zone))
        if not zone.tripped:
            zone.tripped, zone.acted = True, False
            self._tripped(zone, fresh=True)

    def _falls_back(self, zone: Zone) -> Generator[Any, Any, None]:
        yield self.env.timeout(1 + EARLY_S / 2)
        if zone.seen_at_s < self.env.now - 1:
            zone.tripped = False

    # what the unit does

    def _tripped(self, zone: Zone, fresh: bool) -> None:
        if self.state == UNSET:
            return
        if self.state == LEAVING:
            self._while_leaving(zone, fresh)
            return
        zone.acted = True
        if zone.kind in ("door", "delayed"):
            zone.waits = True
            if not self.runs("entry"):
                self.delay("entry", self.times.entry_s, self._nobody_unset)
        elif zone.kind == "route" and self.runs("entry"):
            zone.waits = True
        else:
            self._alarm()

    def _while_leaving(self, zone: Zone, fresh: bool) -> None:
        if zone.kind == "window":
            zone.acted = True
            self._alarm()
        elif zone.kind == "door" and fresh and self.door_was_shut and not self.restarted:
            self.restarted = True
            self.note("restart")
            self.delay("exit", self.times.exit_s, self._left)

    def _left(self) -> None:
        """The exit delay is over: a door left open is an exit error, what is still tripped is looked at again."""
        self.state = SET
        for zone in self.zones.values():
            if zone.tripped and zone.kind == "door":
                self.note("exit error")
                zone.acted = zone.waits = self.exit_error = True
                self.delay("entry", self.times.entry_s, self._nobody_unset)
        for zone in self.zones.values():
            if zone.tripped and not zone.acted:
                self._tripped(zone, fresh=False)

    def _nobody_unset(self) -> None:
        self.note("ran out")
        self.exit_error = False
        for zone in self.zones.values():
            if zone.waits:
                zone.waits = False
                self._alarm()

    def _alarm(self) -> None:
        self.siren = True
        self.delay("siren", self.times.siren_s, self._silent)
        if self.sent or not self.times.abort_s:
            self._send()
        elif not self.runs("abort"):
            self.delay("abort", self.times.abort_s, self._send)

    def _send(self) -> None:
        self.sent = True
        self.note("message")

    def _silent(self) -> None:
        self.siren = False
