"""What is left out when setting is shown or refused: each zone left out, out of use, or open, in every set."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from alarmlib.control.describe import describe
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.inputs import SET_FULL, Closes, Inhibit, Input, Opens, OutOfUse, Sees, SetArea, Way
from alarmlib.control.layout import A, AreaAt, State, U, Z, ZoneAt
from alarmlib.control.machine import step
from alarmlib.control.setup import start_state
from alarmlib.control.signals import Notice, Outputs
from alarmlib.model.home import Home
from alarmlib.model.words import Word
from alarmlib.proof.faults.single_faults import GUARDING, SET_FULL_NAME
from alarmlib.proof.intruder.ways import sets_of
from alarmlib.proof.report.verdicts import Beat, OnProgress, ProofVerdict, Proved
from alarmlib.proof.search.budget import OverBudget, Spending, gone_through, spending_of

_OUT_BY_S = 3


class LeftOutCause(Word):
    """Why a zone is left out."""

    INHIBITED = "inhibited", "left out this time"
    OUT_OF_USE = "out_of_use", "out of use"
    OPEN = "open", "open when the alarm is set"


class UnitAnswer(Word):
    """What the unit says of it."""

    SHOWN = "shown", "it is set, and shown as left out"
    REFUSED = "refused", "setting is refused, and the zone is named"
    ALARM = "alarm", "it is set, and heard at the end of the exit delay"
    OTHER_SET = "other_set", "another set is chosen in its place, and shown"
    NOTHING = "nothing", "it is set, and nothing is shown"


@dataclass(frozen=True)
class WayOfSetting:
    """How somebody sets it: from outside (by a fob or key) or in front of a keypad, insisting or not."""

    outside: bool
    override: bool

    @property
    def text(self) -> str:
        """In words."""
        where = "from outside" if self.outside else "at a keypad"
        return f"{where}{', accepting what is in the way' if self.override else ''}"


SETTINGS = tuple(WayOfSetting(outside, override) for outside in (False, True) for override in (False, True))


@dataclass(frozen=True)
class LeftOut:
    """One case: in this set of this area the zone was so, somebody set it so, and the unit answered that.

    `missing`: the set is on without the zone, so the ways in that the zone guards are open.
    """

    area: str
    part: str
    zone: str
    cause: LeftOutCause
    setting: WayOfSetting
    answer: UnitAnswer
    missing: bool
    counterexample: tuple[Beat, ...] = ()


def left_out_cases(home: Home, season: str = "") -> tuple[LeftOut, ...]:
    """Every zone that listens in a set, left out in each way, set in each way.

    `part` is "set_full" or a part set's id. Zones of several areas: the other areas are set (nobody in) before.
    Zones that can't stay open (motion detectors) are never "open". Raises KeyError when there is no such season.
    By `alarmlib.control.machine.step`, every case played.
    """
    return tuple(_cases(_Tried(home, season)))


def left_out_shown(home: Home, season: str = "", progress: OnProgress | None = None) -> tuple[Proved, ...]:
    """The property `left_out_shown/<area>/<set>` of every set, with the first case that breaks it, step by step.

    As `left_out_cases`; a set that ends at a limit of `progress` is not settled, unless a case broke it before.
    """
    tried = _Tried(home, season, spending_of(progress))
    sets = tuple(tried.sets())
    return tuple(_of_set(home, tried, chosen, (number, len(sets))) for number, chosen in enumerate(sets))


def _of_set(home: Home, tried: "_Tried", chosen: tuple[str, str], piece: tuple[int, int]) -> Proved:
    tried.spending("what is shown when you set the alarm", *piece)
    cases, over = list[LeftOut](), None
    try:
        cases.extend(_cases_of(tried, chosen))
    except OverBudget as ended:
        over = ended
    proved = _proved(home, *chosen, cases)
    if over is None or proved.verdict is ProofVerdict.BREACHED:
        return proved
    why = gone_through(over, f"{len(cases)} cases of what is left out", "the other cases")
    return replace(proved, verdict=ProofVerdict.NOT_SETTLED, why=why)


def _cases(tried: "_Tried") -> Iterator[LeftOut]:
    for chosen in tried.sets():
        yield from _cases_of(tried, chosen)


def _cases_of(tried: "_Tried", chosen: tuple[str, str]) -> Iterator[LeftOut]:
    for zone in tried.listening(*chosen):
        for cause in LeftOutCause:
            if cause is not LeftOutCause.OPEN or _lasting_device(zone):
                yield from (tried.case(chosen, zone, cause, setting) for setting in SETTINGS)


def _lasting_device(zone: ZoneAt) -> str:
    devices = zone.setup.devices
    return zone.id if not devices else next((device.id for device in devices if device.lasting), "")


class _Tried:
    """The unit of a home, set again and again; faults play no part and are not watched."""

    def __init__(self, home: Home, season: str, spending: Spending | None = None) -> None:
        self.spending = spending or Spending()
        self.setup = replace(setup_from_home(home, season), watches=())
        self.label = {zone.id: zone.label for zone in home.control_unit.zones}

    def sets(self) -> Iterator[tuple[str, str]]:
        """Each area with each of its sets ("set_full" or a part set's id)."""
        for area in self.setup.areas:
            yield from ((area.id, part or SET_FULL_NAME) for part in sets_of(self.setup, area.id))

    def listening(self, area: str, part: str) -> list[ZoneAt]:
        """The zones whose leaving out opens something in this set."""
        at = self.setup.layout.area_of[area]
        set_at = at.set_of[_part(part)]
        return [zone for zone in at.zones if zone.function in GUARDING and zone.listens[at.place][set_at]]

    def case(self, chosen: tuple[str, str], zone: ZoneAt, cause: LeftOutCause, setting: WayOfSetting) -> LeftOut:
        """That case played until the unit has answered or the set is on without a word."""
        area = self.setup.layout.area_of[chosen[0]]
        state = self._before(area, zone, cause)
        asked = SetArea(
            area.id, _part(chosen[1]), Way.FOB if setting.outside else Way.KEYPAD, setting.outside, setting.override
        )
        inputs: dict[int, tuple[Input, ...]] = {0: (asked,)} | self._leaving(area, zone, asked)
        answer, outputs, at_s = UnitAnswer.NOTHING, Outputs(), 0
        for at_s in range(self._seconds(area)):
            self.spending.look()
            state, outputs = step(self.setup, state, inputs.get(at_s, ()))
            answer = _answer(outputs, zone)
            if answer is not UnitAnswer.NOTHING:
                break
        missing = bool(state[area.base + A.SET]) and self._is_out(state, zone, answer)
        counterexample = (
            () if answer is not UnitAnswer.NOTHING else self._counterexample(chosen, zone, cause, setting, state, at_s)
        )
        return LeftOut(*chosen, zone.id, cause, setting, answer=answer, missing=missing, counterexample=counterexample)

    def _before(self, area: AreaAt, zone: ZoneAt, cause: LeftOutCause) -> State:
        """The other areas of the zone set for nobody in; a zone left out this time is so from the beginning."""
        state = start_state(self.setup)
        happened: tuple[Input, ...] = ()
        if cause is not LeftOutCause.OPEN:
            happened = (Inhibit(zone.id) if cause is LeftOutCause.INHIBITED else OutOfUse(zone.id),)
        state, _ = step(self.setup, state, happened)
        others = [self.setup.layout.areas[place] for place in zone.areas if place != area.place]
        state, _ = step(self.setup, state, tuple(SetArea(other.id, SET_FULL, Way.FOB, True, True) for other in others))
        for _ in range(max((self._seconds(other) for other in others), default=0)):
            self.spending.look()
            state, _ = step(self.setup, state)
        if cause is LeftOutCause.OPEN:
            state, _ = step(self.setup, state, (Opens(_lasting_device(zone)),))
        return state

    def _leaving(self, area: AreaAt, zone: ZoneAt, asked: SetArea) -> dict[int, tuple[Input, ...]]:
        """Where the unit sets otherwise when nobody left, who sets it inside goes out by another entry/exit door."""
        door = next((each for each in area.doors if each.id != zone.id), None)
        too_short = area.exit_s[area.set_of[asked.part]] <= _OUT_BY_S
        if asked.outside or door is None or too_short or not area.setup.nobody_left:
            return {}
        device = _lasting_device(door)
        if not device:
            return {_OUT_BY_S - 1: (Sees(door.setup.devices[0].id),)}
        return {_OUT_BY_S - 1: (Opens(device),), _OUT_BY_S: (Closes(device),)}

    def _seconds(self, area: AreaAt) -> int:
        """Two exit times, the entry delay and the abort window, one after another."""
        entries = [zone.delay_s[area.place] for zone in area.zones]
        return 2 * max(area.exit_s) + max([area.setup.entry_s, *entries]) + area.setup.abort_s + 4

    def _is_out(self, state: State, zone: ZoneAt, answer: UnitAnswer) -> bool:
        out = state[zone.base + Z.OUT] > 0
        return out or (answer is UnitAnswer.NOTHING and state[zone.base + Z.SEEN] > 0 and not state[U.LOST])

    def _counterexample(
        self, chosen: tuple[str, str], zone: ZoneAt, cause: LeftOutCause, setting: WayOfSetting, state: State, at_s: int
    ) -> tuple[Beat, ...]:
        name = f"The zone “{self.label[zone.id]}” is {cause.text}."
        asked = f"Sets the alarm: {chosen[0]}, {chosen[1]}, {setting.text}."
        return (
            Beat(0, "whoever sets the alarm", "", zones=(zone.id,), state=name, output=asked),
            Beat(
                at_s, "whoever sets the alarm", "", zones=(zone.id,), state=describe(self.setup, state),
                output="The zone is neither shown nor refused.",
            ),
        )  # fmt: skip


def _part(shown: str) -> str:
    return SET_FULL if shown == SET_FULL_NAME else shown


def _answer(outputs: Outputs, zone: ZoneAt) -> UnitAnswer:
    if any(line.notice is Notice.LEFT_OUT and zone.id in line.about for line in outputs.shown):
        return UnitAnswer.SHOWN
    if any(refusal.about == zone.id for refusal in outputs.refusals):
        return UnitAnswer.REFUSED
    if outputs.sirens or outputs.messages:
        return UnitAnswer.ALARM
    if any(line.notice is Notice.NOBODY_LEFT for line in outputs.shown):
        return UnitAnswer.OTHER_SET
    return UnitAnswer.NOTHING


def _proved(home: Home, area: str, part: str, cases: list[LeftOut]) -> Proved:
    areas = {each.id: each.name for each in home.control_unit.areas}
    sets = {SET_FULL_NAME: "nobody in"} | {each.id: each.name for each in home.control_unit.part_sets}
    sentence = (
        f"{areas.get(area, 'The house')}, {sets.get(part, part)}: whatever is left out this time, out of "
        "use or open is shown when you set the alarm. Otherwise "
        f"setting is refused and names it, or it is heard at the end of the exit delay."
    )
    silent = [case for case in cases if case.answer is UnitAnswer.NOTHING]
    worst = {"zones": str(len({case.zone for case in cases})), "cases": str(len(cases)), "silent": str(len(silent))}
    if silent:
        first = silent[0]
        worst |= {"zone": first.zone, "cause": first.cause.text, "set": first.setting.text}
    verdict = ProofVerdict.BREACHED if silent else ProofVerdict.HOLDS
    return Proved(
        f"left_out_shown/{area}/{part}",
        sentence,
        verdict,
        worst,
        silent[0].counterexample if silent else (),
        len(cases),
    )
