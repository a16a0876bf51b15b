"""What the rules of one country are: every question that a check, the control unit or a draft asks of them.

A rule that is None does not exist there, and whoever asks for it says nothing.
"""

from dataclasses import dataclass

from alarmlib.rules.pairs import BRITISH
from alarmlib.rules.rule import Limit, Limits, Rule, Span
from alarmlib.rules.words import Words


@dataclass(frozen=True)
class Setting:
    """What the control unit does while people set it, where the owner's manual says nothing.

    `holds_up`: a trip off the exit route, or a door still open at the end, holds up setting; without it the first
    alarms and the second is an exit error. `overrides_once`: a person may override for one set period; without it what
    is open is left out by force. `faults_prevent`: faults prevent setting, by grade. `tamper_inside`: while unset
    tamper keeps to the inside sounder. `repeat_trips`: how often a zone alarms in one set period, 0 for any number;
    `most_repeat_trips`: the most that its owner may choose.
    """

    most_repeat_trips: Limit
    repeat_trips: int = 0
    holds_up: Rule | None = None
    overrides_once: Rule | None = None
    faults_prevent: Rule | None = None
    tamper_inside: Rule | None = None


@dataclass(frozen=True)
class Fitting:
    """Which zones may wait, how many plain contacts share a zone, where the control unit is, what devices report."""

    delayed: Rule
    contacts_in_a_zone: Limit
    unit_place: Rule
    check_in: Rule | None = None
    tamper_from_grade_2: Rule | None = None


@dataclass(frozen=True)
class AgainstCeiling:
    """How near to ceiling, peak and wall a smoke or heat device is mounted, m."""

    on_wall: Limit
    peak: Rule
    slope: Rule
    raised: Limit
    near_peak_m: float
    clear_of_peak_m: float
    dead_air: Limit
    heat_spacing: Rule


@dataclass(frozen=True)
class Categories:
    """Alarms by the category of a home, each with its reach and its distances, m."""

    rooms: Rule
    habitable_door: Limit
    bedroom_door: Limit
    clear: Limit
    smoke_down: Span
    heat_down: Span
    apex: Limit
    smoke_below_apex: Limit
    heat_below_apex: Limit
    smoke_reach: Limit
    heat_reach: Limit
    by_heaters_and_stairs: Rule
    open_kitchen: Rule


@dataclass(frozen=True)
class FireAlarms:
    """Smoke and heat alarms: who asks for them, and where they are mounted.

    `places`: bedrooms, the rooms outside them and every level. `bedrooms`: who asks for those in bedrooms.
    `linked`: all sound together; without it new work alone is asked to. `outside_door` is walked from a bedroom's door.
    """

    places: Rule
    bedrooms: Rule
    linked: Rule | None = None
    outside_door: Limit | None = None
    both_sides_of_a_door: Rule | None = None
    large_level: Limit | None = None
    against_ceiling: AgainstCeiling | None = None
    categories: Categories | None = None


@dataclass(frozen=True)
class BesideAppliance:
    """A CO alarm in the room of a fuel-burning appliance, and its distances from wall and ceiling, m."""

    from_appliance: Span
    from_wall: Limit
    below_ceiling: Limit


@dataclass(frozen=True)
class CarbonMonoxide:
    """Which CO alarms are wanted; `places` bind in new work alone. `beside`: how one by an appliance is mounted."""

    places: Rule
    bedroom_with_appliance: Rule
    beside: BesideAppliance | None = None


@dataclass(frozen=True)
class Pillow:
    """What is asked at a pillow, dB(A); with `over_noise` also by how much it is above the usual noise."""

    level: Limit
    over_noise: bool = False


@dataclass(frozen=True)
class CountryRules:
    """All rules of one country.

    `recharge_h`: an empty battery is full again within so many hours. `standby`: the rules for the standby battery are
    about homes here. `words`: the words used there. `not_offered`: why a home
    cannot choose these rules any more; a home that has them keeps them. "" for rules that may be chosen.
    """

    entry: Limits
    exit: Limits
    confirmation: Limits
    setting: Setting
    fitting: Fitting
    fire: FireAlarms
    carbon_monoxide: CarbonMonoxide
    pillow: Pillow
    recharge_h: Limit | None = None
    standby: bool = False
    first_floor_on_the_ground: bool = False
    words: Words = BRITISH
    not_offered: str = ""
