"""The rules of a unit proved alone: what each says, where it is asked, and what breaks it."""

from collections.abc import Callable, Collection
from dataclasses import dataclass

from alarmlib.control.setup import Behaviour, Setup
from alarmlib.model.words import BURGLARY, Function
from alarmlib.proof.unit import alarm_rules, unit_rules
from alarmlib.proof.unit.cones import Cone, Family
from alarmlib.proof.unit.timer_abstraction import Broken, StepFunction

RuleSentence = Callable[[Setup], str]
_ALWAYS = frozenset({Function.ALWAYS_SIREN, Function.ALWAYS_MESSAGE, Function.TAMPER})
_DELAYS = frozenset({Function.ENTRY_EXIT})
_LIFE = frozenset({Function.FIRE, Function.CARBON_MONOXIDE})
_HOUSE = frozenset({Function.WATER, Function.LOW_TEMPERATURE})
_HOLD_UP = frozenset({Function.HOLD_UP})
_POWERED = frozenset({Family.POWER, Family.FAULT})


@dataclass(frozen=True)
class ProofRule:
    """One rule: `about` the functions and `families` the cones in which it is asked (empty: all)."""

    id: str
    sentence: RuleSentence
    breaks: Broken
    about: frozenset[Function] = frozenset()
    families: frozenset[Family] = frozenset()

    def asked_of(self, cone: Cone) -> bool:
        """Whether it is asked in this cone."""
        functions = {zone.function for zone in cone.setup.zones}
        return bool(not self.about or functions & self.about) and (not self.families or cone.family in self.families)


def _said(text: str) -> RuleSentence:
    return lambda _: text


def _siren_time(setup: Setup) -> str:
    longest = max((area.siren_s for area in setup.areas), default=0)
    return (
        f"Without a new cause, a siren sounds for at most its time ({longest} s). When it ends or is silenced, the "
        "alarm stays in memory."
    )


def _exit(setup: Setup) -> str:
    once = ", restarts once at most" if setup.behaviour.exit_restarts_once else ""
    return (
        f"An exit delay never lingers. It runs down second by second{once}, and ends set, in alarm or with a refusal."
    )


def _entry(setup: Setup) -> str:
    shorter = "; a later door may shorten it" if setup.behaviour.later_door_shortens else ""
    return f"Without a code an entry delay ends in an alarm exactly after its time, whatever else happens{shorter}."


def _codes(setup: Setup) -> str:
    facts: Behaviour = setup.behaviour
    if not facts.wrong_code_limit:
        return (
            "This control unit, as described, does not limit wrong codes: they are noted in the log and change nothing."
        )
    lock = f"{facts.wrong_code_lock_s} s"
    return f"{facts.wrong_code_limit} wrong codes in a row lock the keypads for {lock}; in that time they obey nobody."


def _life(setup: Setup) -> str:
    facts = setup.behaviour
    text = (
        "Smoke, heat and carbon monoxide sound the siren and send a message, whether the alarm is set or not, "
        "until silenced"
    )
    if facts.life_heard_after_power or not facts.ignore_after_power_s:
        return f"{text}."
    return f"{text}, but not in the {facts.ignore_after_power_s} s after the control unit's power returns."


def _house(setup: Setup) -> str:
    limits = sorted({zone.repeat_limit for zone in setup.zones if zone.function in _HOUSE and zone.repeat_limit})
    until = f", until one has done so {limits[0]} times without setting or unsetting" if limits else ""
    return (
        f"Water and cold give their tone and message, whether the alarm is set or not{until}; in test mode they "
        "are shown."
    )


RULES = (
    ProofRule(
        "unset_is_silent",
        _said("While an area is unset, no burglar siren sounds in it, except for 24-hour zones."),
        alarm_rules.unset_sounds,
    ),
    ProofRule(
        "siren_has_cause",
        _said("A burglar siren sounds only after the trip of a zone that is in use and heard in that set."),
        alarm_rules.siren_without_cause,
    ),
    ProofRule(
        "at_once",
        _said("A zone without delay that trips while its area is set sounds in the same second."),
        alarm_rules.at_once_is_still,
        BURGLARY | _ALWAYS,
    ),
    ProofRule("entry_delay", _entry, alarm_rules.delay_is_off, BURGLARY),
    ProofRule(
        "code_in_time",
        _said("After the right code within the entry delay, no siren sounds then, nor later for what happened before."),
        alarm_rules.code_in_time_is_loud,
        _DELAYS,
    ),
    ProofRule("exit_ends", _exit, unit_rules.exit_lingers),
    ProofRule(
        "life_safety",
        _life,
        alarm_rules.life_is_still,
        _LIFE,
    ),
    ProofRule("water_and_low_temperature", _house, alarm_rules.house_is_still, _HOUSE),
    ProofRule(
        "hold_up",
        _said("A hold-up button sends its message in every state, while hold-up is on and no test runs."),
        alarm_rules.hold_up_is_still,
        _HOLD_UP,
    ),
    ProofRule("siren_time", _siren_time, alarm_rules.siren_is_long),
    ProofRule(
        "left_out_is_still",
        _said(
            "A zone that is left out this time, out of use or left out of the part set gives no alarm "
            "and starts no delay."
        ),
        unit_rules.left_out_trips,
    ),
    ProofRule(
        "inhibit_ends",
        _said("Leaving out ends when you unset the alarm; what is out of use stays so until it is put back."),
        unit_rules.inhibit_stays,
        families=frozenset({Family.USE}),
    ),
    ProofRule(
        "power_keeps",
        _said("Losing power and getting it back keeps the state, the delays, what is left out, and the memory."),
        unit_rules.power_forgets,
        families=_POWERED,
    ),
    ProofRule(
        "fault_shown",
        _said("A fault that lasts for its time is shown in the second in which that time is over."),
        unit_rules.fault_hidden,
        families=frozenset({Family.FAULT}),
    ),
    ProofRule(
        "fault_stops",
        _said("Where a fault prevents setting on this control unit, it does so unless somebody overrides it."),
        unit_rules.fault_lets_set,
        families=frozenset({Family.FAULT}),
    ),
    ProofRule(
        "code_unsets",
        _said(
            "From every state in which the control unit has power and the keypads are free, the right code "
            "unsets the alarm."
        ),
        unit_rules.code_fails,
    ),
    ProofRule("codes_limited", _codes, unit_rules.codes_unlimited, families=frozenset({Family.CODES})),
    ProofRule(
        "log_has_cause", _said("Every line of the log has a cause that really happened."), unit_rules.log_without_cause
    ),
)
ONE_OUTCOME = "one_outcome"


def asked_in(cone: Cone, step: StepFunction, only: Collection[str] = ()) -> dict[str, Broken]:
    """What is asked in a cone, by rule id; `only` these, or all."""
    asked = {rule.id: rule.breaks for rule in RULES if rule.asked_of(cone)}
    asked |= {ONE_OUTCOME: unit_rules.one_outcome(cone.setup, step)}
    return {name: breaks for name, breaks in asked.items() if not only or name in only}
