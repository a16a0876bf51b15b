"""The partition part: alarms of an area, its shared delays, sounders and messages."""

from alarmlib.control import zone_memory
from alarmlib.control.functions import Action
from alarmlib.control.layout import A, AreaAt, U
from alarmlib.control.signals import Mark, Notice, Pattern, Rank, Siren, Tone, UnitEvent
from alarmlib.control.tick import Tick, Trip
from alarmlib.model.words import EventKind

_MARKS = ((1, Mark.RECENT_CLOSING), (2, Mark.EXIT_ERROR), (4, Mark.CONFIRMED))
_RECENT, _EXIT_ERROR, CONFIRMED = 1, 2, 4
_PATTERNS = {
    Rank.TAMPER_INSIDE: Pattern.TAMPER,
    Rank.TAMPER: Pattern.TAMPER,
    Rank.BURGLARY: Pattern.BURGLARY,
    Rank.HOLD_UP: Pattern.HOLD_UP,
}
_CO, _FIRE = 1, 2
_WATER, _COLD = 1, 2


def sound(t: Tick, area: AreaAt, rank: Rank) -> None:
    """Start the siren time again; the higher rank keeps the sounders."""
    t.s[area.base + A.SIREN] = area.setup.siren_s
    t.s[area.base + A.SOUND] = max(t.s[area.base + A.SOUND], rank)


def burglary(t: Tick, trip: Trip) -> None:
    """Burglary alarm: siren, and the message held for the abort window or sent."""
    area, zone, _, mark = trip
    t.log(UnitEvent.ALARM, zone.id)
    if not zone.setup.silent:
        sound(t, area, Rank.BURGLARY)
    base = area.base
    mark |= _RECENT if t.s[base + A.RECENT] else 0
    if not zone.setup.abort or not area.setup.abort_s or t.s[base + A.SENT]:
        _send_burglary(t, area, (zone.id,), mark)
        return
    if not t.s[base + A.ABORT]:
        t.s[base + A.ABORT] = area.setup.abort_s
    t.s[base + A.MARK] |= mark


def always(t: Tick, trip: Trip) -> None:
    """A zone that is never switched off: siren and message at once."""
    sound(t, trip.area, Rank.BURGLARY)
    silent(t, trip)


def silent(t: Tick, trip: Trip) -> None:
    """A message at once and nothing to be heard."""
    t.log(UnitEvent.ALARM, trip.zone.id)
    _send_burglary(t, trip.area, (trip.zone.id,), trip.mark)


def _send_burglary(t: Tick, area: AreaAt, about: tuple[str, ...], mark: int) -> None:
    t.send(EventKind.BURGLARY, area.id, about, tuple(text for bit, text in _MARKS if mark & bit))
    t.s[area.base + A.SENT] = 1


def hold_up_pressed(t: Tick, area: AreaAt, about: str, silent_zone: bool = False) -> None:
    """Hold-up: a message, and the siren unless the unit or this zone keeps still."""
    t.log(UnitEvent.ALARM, about)
    if not t.facts.hold_up_silent and not silent_zone:
        sound(t, area, Rank.HOLD_UP)
    t.send(EventKind.HOLD_UP, area.id, (about,))


def tamper(t: Tick, area: AreaAt, about: str, action: Action) -> None:
    """Tamper: outside too only when set (or when the unit is known to do so)."""
    t.log(UnitEvent.ALARM, about)
    outside = action is Action.TAMPER_SET or t.facts.tamper_outside_unset
    sound(t, area, Rank.TAMPER if outside else Rank.TAMPER_INSIDE)
    t.show(Notice.TAMPER, area.id, about)
    t.send(EventKind.TAMPER, area.id, (about,))


def life(t: Tick, trip: Trip) -> None:
    """Fire or carbon monoxide: its pattern until silenced, its message at once."""
    area, zone, action, _ = trip
    fire = action is Action.FIRE
    t.log(UnitEvent.ALARM, zone.id)
    t.s[area.base + A.LIFE] |= _FIRE if fire else _CO
    t.send(EventKind.FIRE if fire else EventKind.CARBON_MONOXIDE, area.id, (zone.id,))


def house(t: Tick, trip: Trip) -> None:
    """Water or cold: a local tone until silenced and a message; the siren stays still."""
    area, zone, action, _ = trip
    water = action is Action.WATER
    t.log(UnitEvent.ALARM, zone.id)
    t.s[area.base + A.TONES] |= _WATER if water else _COLD
    t.send(EventKind.WATER if water else EventKind.LOW_TEMPERATURE, area.id, (zone.id,))


def enter(t: Tick, trip: Trip) -> None:
    """Start the entry delay of this door, and tell who comes in of an alarm while nobody was there."""
    area, zone, _, _ = trip
    t.s[area.base + A.ENTRY] = zone.delay_s[area.place]
    t.log(UnitEvent.ENTRY, zone.id)
    for place in area.followers:
        _gives_delay(t, t.area(place), zone.delay_s[area.place])
    alarmed = zone_memory.alarmed(t, area)
    if alarmed:
        t.show(Notice.WAS_ALARM, area.id, *alarmed)


def _gives_delay(t: Tick, follower: AreaAt, delay_s: int) -> None:
    """An area that shares this entry gets the same delay, when it is set and none is running."""
    s, base = t.s, follower.base
    if s[base + A.SET] and not s[base + A.EXIT] and not s[base + A.ENTRY]:
        s[base + A.ENTRY] = delay_s


def later_door(t: Tick, trip: Trip) -> None:
    """A later door: never longer; shorter only if the unit does so."""
    slot = trip.area.base + A.ENTRY
    delay_s = trip.zone.delay_s[trip.area.place]
    if t.facts.later_door_shortens and 0 < delay_s < t.s[slot]:
        t.s[slot] = delay_s


def entry_ended(t: Tick, area: AreaAt) -> None:
    """No code came: every zone that waited is in alarm."""
    mark = _EXIT_ERROR if t.s[area.base + A.EXIT_ERROR] else 0
    t.s[area.base + A.EXIT_ERROR] = 0
    for zone in zone_memory.delay_expired(t, area):
        burglary(t, Trip(area, zone, Action.ALARM, mark))


def abort_ended(t: Tick, area: AreaAt) -> None:
    """Nobody unset it within the abort window: the held message goes out."""
    mark = t.s[area.base + A.MARK]
    t.s[area.base + A.MARK] = 0
    _send_burglary(t, area, zone_memory.intruded(t, area), mark)


def siren_ended(t: Tick, area: AreaAt) -> None:
    """The siren time is over: silence, the memory stays."""
    t.s[area.base + A.SOUND] = 0
    t.log(UnitEvent.SILENCED, area.id)


def silence(t: Tick, area: AreaAt) -> None:
    """A person stops everything that sounds in the area; the memory stays."""
    for place in (A.SIREN, A.SOUND, A.LIFE, A.TONES):
        t.s[area.base + place] = 0
    t.log(UnitEvent.SILENCED, area.id)


def clear(t: Tick, area: AreaAt, places: tuple[A, ...]) -> None:
    """Set these numbers of the area to rest."""
    for place in places:
        t.s[area.base + place] = 0


def give_out(t: Tick, area: AreaAt) -> bool:
    """Sirens and lasting tones of this second; True when the outside siren sounds."""
    s, base = t.s, area.base
    siren = _siren(t, area)
    if siren:
        t.sirens.append(siren)
    if s[base + A.TONES]:
        _house_tones(t, area)
    if s[base + A.ENTRY]:
        t.tone(area.id, Tone.ENTRY)
    elif s[base + A.EXIT]:
        t.tone(area.id, Tone.EXIT if s[base + A.EXIT] > t.facts.exit_last_s else Tone.EXIT_LAST)
    return siren is not None and siren.outside


def _siren(t: Tick, area: AreaAt) -> Siren | None:
    s, base = t.s, area.base
    if s[base + A.LIFE]:
        pattern = Pattern.FIRE if s[base + A.LIFE] & _FIRE else Pattern.CARBON_MONOXIDE
        return Siren(area.id, pattern, True, True)
    if s[base + A.SIREN]:
        rank = Rank(s[base + A.SOUND])
        used_up = 0 < t.facts.siren_cap_s <= s[U.CAP_USED]
        return Siren(area.id, _PATTERNS[rank], True, rank > Rank.TAMPER_INSIDE and not used_up)
    if s[base + A.EXIT_ERROR]:
        return Siren(area.id, Pattern.EXIT_ERROR, True, False)
    return None


def _house_tones(t: Tick, area: AreaAt) -> None:
    tones = t.s[area.base + A.TONES]
    if tones & _WATER:
        t.tone(area.id, Tone.WATER)
    if tones & _COLD:
        t.tone(area.id, Tone.LOW_TEMPERATURE)
