"""The most seconds that the outside siren sounds in an hour of one set period: played, and bounded by an argument.

Nobody touches anything: no code, no silencing, no hold-up button. Fire and carbon monoxide are apart: they sound
until somebody silences them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from alarmlib.control.functions import Action, Situation
from alarmlib.control.inputs import Closes, FaultBegins, Input, Opens, Sees
from alarmlib.control.layout import A, State, WatchAt, Z, ZoneAt, situation_of
from alarmlib.control.machine import step
from alarmlib.control.setup import Setup
from alarmlib.control.signals import Outputs
from alarmlib.model.words import FaultKind
from alarmlib.proof.report.verdicts import OnProgress
from alarmlib.proof.search.budget import Spending, spending_of

HOUR_S = 3600
_SET_COLUMNS = (Situation.ENTRY, Situation.ALARM)
_OFF = frozenset({Situation.UNSET, Situation.LEFT_OUT})


@dataclass(frozen=True)
class SirenHour:
    """Seconds of outside siren in an hour: `played_s` by this schedule, never more than `most_s`.

    `unbroken_s` is the longest run without a pause in the schedule; `alarms` are (second, zone or watch);
    it ends at `ended_s`.
    """

    played_s: int
    most_s: int
    unbroken_s: int
    ended_s: int
    alarms: tuple[tuple[int, str], ...]

    @property
    def exact(self) -> bool:
        """Whether no schedule can do worse."""
        return self.played_s == self.most_s


def siren_hour(setup: Setup, state: State, progress: OnProgress | None = None) -> SirenHour:
    """The worst hour from a state in which the areas are set.

    Our own construction. The schedule is played by `step`, so an hour can be as bad as that; the bound
    counts alarms: each starts the siren time again, a zone alarms no more often than its repeat-trip limit (once
    for each of its areas that sounds), a device's tamper once, and the unit's own limit for an hour cuts the total.
    Raises OverBudget at a limit of `progress`.
    """
    return _Schedule(setup, state, spending_of(progress)).played(most_in_an_hour(setup, state))


def most_in_an_hour(setup: Setup, state: State) -> int:
    """The bound alone, in seconds.

    As `siren_hour`.
    """
    alarms = sum((_alarms_of(setup, state, zone) for zone in setup.layout.zones), 0.0)
    alarms += sum(_shared_entries(setup, state, place) for place in range(len(setup.areas)))
    alarms += sum(1 if watch.setup.latches else inf for watch in _tampers(setup, state))
    longest_s = max(area.siren_s for area in setup.areas)
    cap_s = setup.behaviour.siren_cap_s or HOUR_S
    return int(min(HOUR_S, cap_s, alarms * longest_s if longest_s else 0))


def _alarms_of(setup: Setup, state: State, zone: ZoneAt) -> float:
    sounding = sum(_sounds(setup, state, zone, place) for place in zone.areas)
    return sounding * (zone.limit or inf) if sounding else 0


def _sounds(setup: Setup, state: State, zone: ZoneAt, place: int) -> bool:
    """Whether an area may sound outside for this zone: now, while a delay runs, or while the siren sounds."""
    base = setup.layout.areas[place].base
    if state[zone.base + Z.OUT]:
        return False
    now = situation_of(state, zone, place, base, setup.behaviour.common_needs_all)
    columns = (now,) if now in _OFF else (now, *_SET_COLUMNS)
    return any(_is_loud(setup, zone, zone.actions[column]) for column in columns)


def _is_loud(setup: Setup, zone: ZoneAt, action: Action) -> bool:
    if action in (Action.ALARM, Action.ENTRY):
        return not zone.setup.silent
    unset = action in (Action.TAMPER_UNSET, Action.TAMPER_SETTING) and setup.behaviour.tamper_outside_unset
    return action in (Action.ALWAYS, Action.TAMPER_SET) or unset


def _shared_entries(setup: Setup, state: State, place: int) -> float:
    """Alarms of areas that share this one's entry delay: at its end a zone of both may sound once more, uncounted."""
    area = setup.layout.areas[place]
    followers = [
        follower
        for follower in area.followers
        if any(
            len(zone.areas) > 1 and _sounds(setup, state, zone, follower) for zone in setup.layout.areas[follower].zones
        )
    ]
    if not followers:
        return 0
    starts = [zone for zone in area.zones if Action.ENTRY in zone.actions and _sounds(setup, state, zone, place)]
    return len(followers) * sum(zone.limit or inf for zone in starts)


def _tampers(setup: Setup, state: State) -> list[WatchAt]:
    """The device tampers that sound outside, in an area that is set (or in any, if the unit does so)."""
    outside_unset = setup.behaviour.tamper_outside_unset
    return [
        watch
        for watch in setup.layout.watches
        if watch.setup.kind is FaultKind.TAMPER
        if any(outside_unset or state[setup.layout.areas[place].base + A.SET] for place in watch.areas)
    ]


@dataclass
class _Trip:
    """One way to make an alarm: what happens in a second and in the next; `delay_s` when it starts an entry delay.

    `paired`: a partner trips as well, which costs an alarm of its own, so it is used only where nothing else sounds.
    """

    name: str
    inputs: tuple[Input, ...]
    after: tuple[Input, ...] = ()
    delay_s: int = 0
    paired: bool = False
    last: int = -1


class _Schedule:
    """A schedule that lets each alarm begin when the siren of the one before ends, for as long as any is left."""

    def __init__(self, setup: Setup, state: State, spending: Spending) -> None:
        self.setup, self.state, self._spending = setup, state, spending
        self.trips = list(_trips(setup, state))
        self.pending: tuple[Input, ...] = ()
        self.at_once_left = True
        self.sounded: list[bool] = []
        self.alarms: list[tuple[int, str]] = []

    def played(self, most_s: int) -> SirenHour:
        """The schedule of one hour from the first alarm, or until nothing more can sound."""
        first = 0
        while most_s and sum(self.sounded) < most_s and len(self.sounded) < first + HOUR_S:
            self._second()
            first = first if any(self.sounded) else len(self.sounded)
            if not self.sounded[-1] and not self._anything_left():
                break
        return SirenHour(sum(self.sounded), most_s, _longest_run(self.sounded), len(self.sounded), tuple(self.alarms))

    def _second(self) -> None:
        happened, self.pending = self.pending, ()
        delayed = self._delayed(happened)
        if delayed:
            happened = self._use(delayed, happened)
        self._spending.look()
        state, outputs = step(self.setup, self.state, happened)
        if not _outside(outputs) and not delayed:
            at_once = self._at_once(happened)
            self.at_once_left &= at_once is not None
            if at_once:
                state, outputs = step(self.setup, self.state, self._use(at_once, happened))
        self.state = state
        self.sounded.append(_outside(outputs))

    def _use(self, trip: _Trip, happened: tuple[Input, ...]) -> tuple[Input, ...]:
        trip.last = len(self.sounded)
        self.pending = trip.after
        self.alarms.append((len(self.sounded), trip.name))
        return (*happened, *trip.inputs)

    def _at_once(self, happened: tuple[Input, ...]) -> _Trip | None:
        """The trip used longest ago that sounds in this second, one with a partner last."""
        waiting = sorted((trip for trip in self.trips if not trip.delay_s), key=lambda trip: (trip.paired, trip.last))
        return next((trip for trip in waiting if _outside(self._tried(happened, trip)[1])), None)

    def _delayed(self, happened: tuple[Input, ...]) -> _Trip | None:
        """A trip whose delay ends when the siren does, or when there is nothing else, one that ends later."""
        rest_s = max(self.state[area.base + A.SIREN] for area in self.setup.layout.areas)
        if any(self.state[area.base + A.ENTRY] for area in self.setup.layout.areas):
            return None
        fitting = [
            trip
            for trip in self.trips
            if trip.delay_s and (trip.delay_s + 1 == rest_s or (not self.at_once_left and trip.delay_s + 1 >= rest_s))
        ]
        for trip in sorted(fitting, key=lambda trip: (trip.paired, trip.last)):
            state, _ = self._tried(happened, trip)
            if any(state[area.base + A.ENTRY] for area in self.setup.layout.areas):
                return trip
        return None

    def _tried(self, happened: tuple[Input, ...], trip: _Trip) -> tuple[State, Outputs]:
        self._spending.look()
        return step(self.setup, self.state, (*happened, *trip.inputs))

    def _anything_left(self) -> bool:
        """A delay or a sleep after a trip still runs, or a trip is to be undone."""
        lay = self.setup.layout
        running = any(self.state[area.base + A.ENTRY] for area in lay.areas)
        resting = any(self.state[slot] for slot in lay.quiet_slots)
        return running or resting or bool(self.pending) or bool(self._delayed(()))


def _trips(setup: Setup, state: State) -> Iterator[_Trip]:
    """One for each device of each zone that may sound outside, confirmed by a partner where it needs one; tampers."""
    for zone in setup.layout.zones:
        places = [place for place in zone.areas if _sounds(setup, state, zone, place)]
        if not places:
            continue
        for trip in _of_zone(setup, zone):
            trip.delay_s = max(_delay_s(setup, state, zone, place) for place in places)
            yield trip
            for partner in zone.partners:
                first = next(_of_zone(setup, setup.layout.zones[partner]))
                yield _Trip(zone.id, (*first.inputs, *trip.inputs), (*first.after, *trip.after), trip.delay_s, True)
    for watch in _tampers(setup, state):
        yield _Trip(watch.setup.id, (FaultBegins(watch.setup.id),))


def _of_zone(setup: Setup, zone: ZoneAt) -> Iterator[_Trip]:
    for name, device in setup.layout.device_of.items():
        if device.zone is zone:
            yield _Trip(zone.id, (Opens(name),), (Closes(name),)) if device.lasting else _Trip(zone.id, (Sees(name),))


def _delay_s(setup: Setup, state: State, zone: ZoneAt, place: int) -> int:
    base = setup.layout.areas[place].base
    now = situation_of(state, zone, place, base, setup.behaviour.common_needs_all)
    return zone.delay_s[place] if zone.actions[now] is Action.ENTRY else 0


def _outside(outputs: Outputs) -> bool:
    return any(siren.outside for siren in outputs.sirens)


def _longest_run(sounded: list[bool]) -> int:
    longest = run = 0
    for sounds in sounded:
        run = run + 1 if sounds else 0
        longest = max(longest, run)
    return longest
