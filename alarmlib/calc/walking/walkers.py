"""How fast a person of this household walks, climbs and keys: as measured, else a named assumption."""

from dataclasses import dataclass, replace

from alarmlib.calc.times.chance import TimedWalk
from alarmlib.calc.walking.gait import FRUIN_DOWN_M_S, FRUIN_UP_M_S, OWN_SPREAD, TURN_S, Spread, keying_s, level_speed
from alarmlib.model.household import AgeBand, Person

STOPWATCH_M_S = 1.393  # the pace stopwatch seconds are taken to be walked at: an adult's (Bohannon 1997, from memory)
CHILD_M_S = Spread(1.0, 0.15)  # assumed: no table of children was seen
# Nothing published was found for unlocking a door at home: 3 s, 6 s, 12 s as a triangle, assumed.
UNLOCK_S = Spread((3 + 6 + 12) / 3, ((9 + 36 + 144 - 18 - 36 - 72) / 18) ** 0.5)
DOOR_SHUT_S = {"closer": 5.0, "spring hinge": 1.5}  # ADA 2010 404.2.8, from memory: at least so long
ONE_IN_TWENTY = 1.645  # standard deviations: one walk in twenty is slower, one in twenty faster
SLOWEST_SHARE = 0.25  # no pace is put below this share of the mean
RETRY_CHANCE = 0.05  # assumed chance that the code is keyed wrong and keyed again

_AGE = {AgeBand.TEENAGER: 20, AgeBand.ADULT: 50, AgeBand.OLDER: 70}


@dataclass(frozen=True)
class Walker:
    """A person's paces: level and along the slope of stairs, m/s; seconds a closed door on the way takes."""

    speed_m_s: Spread
    up_m_s: float = FRUIN_UP_M_S[0]
    down_m_s: float = FRUIN_DOWN_M_S[0]
    door_s: float = TURN_S
    stopwatch_m_s: float = STOPWATCH_M_S

    def at_pace(self, deviations: float) -> "Walker":
        """The same person so many standard deviations faster than their mean, on the level and on stairs alike.

        Normal spread of level speed; the same ratio on stairs is assumed.
        """
        if not deviations:
            return self
        mean_m_s, sd_m_s = self.speed_m_s.mean, self.speed_m_s.sd
        speed_m_s = max(mean_m_s * SLOWEST_SHARE, mean_m_s + deviations * sd_m_s)
        faster = speed_m_s / mean_m_s
        return replace(
            self, speed_m_s=Spread(speed_m_s, sd_m_s), up_m_s=self.up_m_s * faster, down_m_s=self.down_m_s * faster
        )


def walker_of(person: Person) -> Walker:
    """The paces of a person as the home file has them.

    Level speed as measured, else by age band; stairs at Fruin's slow end for the old, the slow and children,
    else halfway between his ends (assumed). Whoever was measured slower than the table on the level is slower on
    stairs in the same ratio (assumed).
    Reference: Bohannon 1997 (`bohannon_1997_rows`), Fruin (`fruin_stairs`).
    """
    frail = person.slow or person.age in (AgeBand.OLDER, AgeBand.CHILD)
    up_m_s, down_m_s = ((ends[0] if frail else (ends[0] + ends[1]) / 2) for ends in (FRUIN_UP_M_S, FRUIN_DOWN_M_S))
    slower = _slower_than_table(person)
    return Walker(_speed_of(person), up_m_s * slower, down_m_s * slower)


def _slower_than_table(person: Person) -> float:
    if person.speed_m_s is None:
        return 1.0
    return min(1.0, person.speed_m_s / _table_speed(person).mean)


def _speed_of(person: Person) -> Spread:
    if person.speed_m_s is not None:
        return Spread(person.speed_m_s, person.speed_m_s * OWN_SPREAD)
    return _table_speed(person)


def _table_speed(person: Person) -> Spread:
    if person.age is AgeBand.CHILD:
        return CHILD_M_S
    return level_speed(_AGE[person.age], slow=person.slow, carrying=person.carries)


def coming_home(
    length_m: float, doors: int, walker: Walker, person: Person, stopped_s: tuple[float, ...] = ()
) -> TimedWalk:
    """The timed walk from an opened entry/exit door to the keypad; `length_m` put down to level floor.

    `stopped_s` are this walk's own times by stopwatch, from opening the door until the alarm was off.
    Reference: keying by `klm` where it wasn't measured; door time assumed where it wasn't.
    """
    door_s = UNLOCK_S if person.unlock_s is None else Spread(person.unlock_s)
    return TimedWalk(
        length_m=length_m,
        speed_m_s=walker.speed_m_s,
        start_s=door_s + Spread(doors * walker.door_s),
        keying_s=keying_s() if person.keying_s is None else person.keying_s,
        retry_chance=RETRY_CHANCE,
        stopped_s=stopped_s,
    )


def going_out(
    length_m: float,
    doors: int,
    walker: Walker,
    shut_s: float = DOOR_SHUT_S["closer"],
    stopped_s: tuple[float, ...] = (),
) -> TimedWalk:
    """The timed walk from the keypad until the entry/exit door is closed; the code has been keyed before.

    Reference: door closing by `ada_door`, from memory, unless timed.
    """
    turns_s = Spread((doors + 1) * walker.door_s)
    return TimedWalk(length_m, walker.speed_m_s, turns_s + Spread(shut_s), stopped_s=stopped_s)
