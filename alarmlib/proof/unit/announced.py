"""Whether the unit announces a fault, and after how long: found by playing the whole setup with `step`."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

from alarmlib.control.from_home import setup_from_home
from alarmlib.control.inputs import SET_FULL, FaultBegins, Inhibit, Input, Opens, OutOfUse, Sees, SetArea
from alarmlib.control.layout import State, ZoneAt
from alarmlib.control.machine import step
from alarmlib.control.setup import Setup, start_state
from alarmlib.control.signals import Notice, Outputs
from alarmlib.model.home import Home
from alarmlib.model.words import DeviceKind, EventKind
from alarmlib.proof.faults.fault import Fault
from alarmlib.proof.faults.single_faults import carriers, joined
from alarmlib.proof.intruder.ways import set_state, sets_of
from alarmlib.proof.report.verdicts import OnProgress
from alarmlib.proof.search.budget import Spending, spending_of

_KEPT_HOLD_S = 2
_NOTICES = frozenset({Notice.FAULT, Notice.TAMPER, Notice.WARN_UNSET, Notice.LEFT_OUT})


class Announcement(NamedTuple):
    """Whether a fault is announced, and the most seconds from its beginning (or from setting with it) until then."""

    announced: bool
    after_s: int | None = None

    @property
    def lasts_s(self) -> int | None:
        """How long a hole that the fault opens stays open before anybody is told; None: for as long as the fault."""
        return self.after_s


NOT_ANNOUNCED = Announcement(False)


@dataclass(frozen=True)
class Ears:
    """What of the unit's outputs still reaches a person under a fault: the keypads, the siren, messages of a kind."""

    keypads: bool
    siren: bool
    kinds: frozenset[EventKind]

    def hear(self, outputs: Outputs, about: frozenset[str]) -> bool:
        """Whether a person is told: a siren, a message, or a line or refusal that names one of these."""
        if self.siren and outputs.sirens:
            return True
        if any(message.kind in self.kinds for message in outputs.messages):
            return True
        lines = [line.about for line in outputs.shown if line.notice in _NOTICES]
        lines += [(refusal.about,) for refusal in outputs.refusals]
        return self.keypads and any(about.intersection(names) for names in lines)


def announcements(home: Home, faults: Sequence[Fault], progress: OnProgress | None = None) -> tuple[Announcement, ...]:
    """The answer for each of these faults, in the home's ordinary season. Raises OverBudget.

    As `Announcer`.
    """
    spending = spending_of(progress)
    announcer = Announcer(home, setup_from_home(home), spending)

    def told(number: int, fault: Fault) -> Announcement:
        spending("whether faults are told to you", number, len(faults))
        spending.look()
        return announcer.of(fault)

    return tuple(told(number, fault) for number, fault in enumerate(faults))


Telling = tuple[Ears, frozenset[str]]
"""What still reaches a person, and about what it must be."""


class Announcer:
    """Answers for many faults of one home; what was played once is remembered.

    A fault may begin while all is unset and while every area is set, and the later of the two counts. A fault
    without a watch of the unit's is not announced. Two faults are announced when both are.
    """

    def __init__(self, home: Home, setup: Setup, spending: Spending | None = None) -> None:
        self.home, self._spending = home, spending or Spending()
        self._played = _Played(setup, self._spending)
        self._known: dict[tuple[str, Ears], int | None] = {}

    def of(self, fault: Fault) -> Announcement:
        """The answer for one fault.

        The control unit itself is played (`alarmlib.control.machine.step`); what counts as telling is our own
        definition (`Ears`).
        """
        ears = self._ears(fault)
        after_s = _latest(self._part(part, ears) for part in fault.parts or (fault,))
        return NOT_ANNOUNCED if after_s is None else Announcement(True, after_s)

    def _part(self, fault: Fault, ears: Ears) -> int | None:
        key = fault.id, ears
        if key not in self._known:
            self._known[key] = self._play(fault, ears)
        return self._known[key]

    def _play(self, fault: Fault, ears: Ears) -> int | None:
        if fault.inhibited:
            return self._played.left_out(fault.inhibited, ears)
        if fault.spent:
            return self._played.spent(fault.spent, ears)
        if fault.trips:
            return _Played(_held_tripped(self._played.setup, fault.trips), self._spending).tripped(fault.trips, ears)
        return self._played.watched(fault.watches, ears)

    def _ears(self, fault: Fault) -> Ears:
        keypads = frozenset(device.id for device in joined(self.home) if device.kind is DeviceKind.KEYPAD)
        told = [message for message in self.home.messages.messages if message.to and not fault.no_message]
        arriving = (
            message.event
            for message in told
            if not self.home.messages.paths or not fault.lost_paths.issuperset(carriers(self.home, message))
        )
        return Ears(not keypads or not keypads <= fault.dead_keypads, not fault.no_siren, frozenset(arriving))


def _held_tripped(setup: Setup, devices: frozenset[str]) -> Setup:
    """The setup in which these devices stay tripped and never rest, as a cut loop does whatever is on it."""
    held = tuple(
        replace(
            zone,
            devices=tuple(
                replace(device, lasting=True, sleep_s=0) if device.id in devices else device for device in zone.devices
            ),
        )
        for zone in setup.zones
    )
    return replace(setup, zones=held)


class _Played:
    """A setup played in every set of every area; states that take long to reach are remembered."""

    def __init__(self, setup: Setup, spending: Spending) -> None:
        self.setup, self._spending = setup, spending
        self._set: dict[tuple[tuple[str, str], ...], State] = {}

    def watched(self, watches: Iterable[str], ears: Ears) -> int | None:
        """Seconds until the first of these watches tells.

        A long hold is cut by the same seconds for all of them, which are added again: while it runs nothing else
        depends on it (a test compares with holds played through).
        """
        known = frozenset(watches) & set(self.setup.layout.watch_of)
        if not known:
            return None
        cut_s = max(0, min(w.hold_s for w in self.setup.watches if w.id in known) - _KEPT_HOLD_S)
        cut = tuple(
            replace(watch, hold_s=watch.hold_s - cut_s) if watch.id in known else watch for watch in self.setup.watches
        )
        shorter = replace(self.setup, watches=cut)
        begins = tuple(FaultBegins(watch) for watch in sorted(known))
        everywhere = {area.id: SET_FULL for area in self.setup.areas}
        after_s = _latest(
            self._seconds(shorter, state, (begins, ()), _KEPT_HOLD_S + 1, (ears, known))
            for state in (start_state(self.setup), self._when_set(everywhere))
        )
        return None if after_s is None else after_s + cut_s

    def left_out(self, zones: frozenset[str], ears: Ears) -> int | None:
        """0 when setting each set with these zones left out, or out of use, names them."""
        found = []
        for zone in (self.setup.layout.zone_of[name] for name in sorted(zones)):
            for area, part, others in self._sets(zone):
                for cause in (Inhibit(zone.id), OutOfUse(zone.id)):
                    state, _ = step(self.setup, start_state(self.setup), (cause,))
                    state = self._set_others(state, others)
                    told = (ears, frozenset({zone.id}))
                    found.append(self._seconds(self.setup, state, ((SetArea(area, part),), ()), 0, told))
        return _latest(found)

    def tripped(self, devices: frozenset[str], ears: Ears) -> int | None:
        """These devices stay tripped: told at the latest at setting, or while set at the latest by the alarm."""
        known = {name: at.zone for name, at in self.setup.layout.device_of.items() if name in devices}
        trips = tuple(Opens(name) for name in sorted(known))
        found = []
        for zone in known.values():
            told = (ears, frozenset({zone.id}))
            for area, part, others in self._sets(zone):
                found.append(self._setting(trips, (area, part), others, told))
                state = self._when_set({area: part, **others})
                found.append(self._seconds(self.setup, state, (trips, ()), self._longest_s, told))
        return _latest(found)

    def spent(self, zones: frozenset[str], ears: Ears) -> int | None:
        """0 when the alarms that use up a zone's limit are heard themselves, in every set in which it listens."""
        found = []
        for zone in (self.setup.layout.zone_of[name] for name in sorted(zones)):
            device = next(name for name, at in self.setup.layout.device_of.items() if at.zone is zone)
            trip: Input = Opens(device) if self.setup.layout.device_of[device].lasting else Sees(device)
            for area, part, others in self._sets(zone):
                state = self._when_set({area: part, **others})
                after_s = self._seconds(self.setup, state, ((trip,), ()), self._longest_s, (ears, frozenset({zone.id})))
                found.append(None if after_s is None else 0)
        return _latest(found)

    def _setting(
        self, trips: tuple[Input, ...], chosen: tuple[str, str], others: dict[str, str], told: Telling
    ) -> int | None:
        """Seconds from the moment of being set with the zone tripped (0 when it is told before)."""
        ears, about = told
        state = self._set_others(start_state(self.setup), others)
        state, outputs = step(self.setup, state, trips)
        if ears.hear(outputs, about):
            return 0
        after_s = self._seconds(self.setup, state, ((SetArea(*chosen),), ()), self._longest_s, told)
        area = self.setup.layout.area_of[chosen[0]]
        return None if after_s is None else max(0, after_s - area.exit_s[area.set_of[chosen[1]]])

    def _sets(self, zone: ZoneAt) -> Iterator[tuple[str, str, dict[str, str]]]:
        """Each area and set in which the zone listens; its other areas are set away."""
        areas = [self.setup.areas[place].id for place in zone.areas]
        for place, area in zip(zone.areas, areas, strict=True):
            for part in sets_of(self.setup, area):
                if zone.listens[place][self.setup.layout.area_of[area].set_of[part]]:
                    yield area, part, {other: SET_FULL for other in areas if other != area}

    def _when_set(self, sets: dict[str, str]) -> State:
        key = tuple(sorted(sets.items()))
        if key not in self._set:
            self._set[key] = set_state(self.setup, sets)
        return self._set[key]

    def _set_others(self, state: State, others: dict[str, str]) -> State:
        if not others:
            return state
        state, _ = step(self.setup, state, tuple(SetArea(area, part, outside=True) for area, part in others.items()))
        for _ in range(self._longest_s):
            self._spending.look()
            state, _ = step(self.setup, state)
        return state

    def _seconds(
        self,
        setup: Setup,
        state: State,
        inputs: tuple[tuple[Input, ...], tuple[Input, ...]],
        seconds: int,
        told: Telling,
    ) -> int | None:
        """After how many seconds a person is told, with the first inputs in the first second, the others in each later.

        None: not within these seconds.
        """
        ears, about = told
        happened, going_on = inputs
        for at_s in range(seconds + 1):
            self._spending.look()
            state, outputs = step(setup, state, happened)
            if ears.hear(outputs, about):
                return at_s
            happened = going_on
        return None

    @cached_property
    def _longest_s(self) -> int:
        """Longer than any exit time with its restart, entry delay and abort window one after another."""
        zones, areas = self.setup.zones, self.setup.areas
        exits = [part.exit_s for area in areas for part in area.parts] + [area.exit_s for area in areas]
        entries = [zone.entry_s or 0 for zone in zones] + [area.entry_s for area in areas]
        return 2 * max(exits) + max(entries) + max(area.abort_s for area in areas) + 2


def _latest(found: Iterable[int | None]) -> int | None:
    """The latest of these; None when one of them never comes, or there is none."""
    times = list(found)
    told = [after_s for after_s in times if after_s is not None]
    return max(told) if told and len(told) == len(times) else None
