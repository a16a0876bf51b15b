"""Rules of alarms: when the burglar siren must sound, when it must not, for how long. True means: broken here."""

from alarmlib.control import inputs
from alarmlib.control.layout import A, AreaAt, U, Z, ZoneAt
from alarmlib.control.signals import Pattern, Rank, Timer, Tone, UnitEvent
from alarmlib.model.words import BURGLARY, EventKind, Function
from alarmlib.proof.unit import edges
from alarmlib.proof.unit.timer_abstraction import AT_END, Edge, fell

_ALWAYS = frozenset({Function.ALWAYS_SIREN, Function.ALWAYS_MESSAGE, Function.TAMPER})
_LIFE = {
    Function.FIRE: (EventKind.FIRE, frozenset({Pattern.FIRE})),
    Function.CARBON_MONOXIDE: (EventKind.CARBON_MONOXIDE, frozenset({Pattern.CARBON_MONOXIDE, Pattern.FIRE})),
}
_HOUSE = {
    Function.WATER: (EventKind.WATER, Tone.WATER),
    Function.LOW_TEMPERATURE: (EventKind.LOW_TEMPERATURE, Tone.LOW_TEMPERATURE),
}
_STARTS = (inputs.Opens, inputs.Sees, inputs.HoldUpPressed, inputs.FinishExit, inputs.FaultBegins)
_SIREN = frozenset({Pattern.BURGLARY, Pattern.TAMPER, Pattern.HOLD_UP})


def unset_sounds(edge: Edge) -> bool:
    """An unset area sounds for burglary, and no zone of it that is never switched off tripped."""
    for area in edge.setup.layout.areas:
        if edge.out.sirens and not edge.after[area.base + A.SET] and edges.sounds(edge, area, edges.BURGLAR):
            return not any(zone.function is Function.ALWAYS_SIREN for zone in area.zones)
    return False


def siren_without_cause(edge: Edge) -> bool:
    """The burglar siren or an exit error begins to sound although nothing that may cause it tripped."""
    if not edge.out.sirens or edge.before[U.LOST]:
        return False
    return any(_causeless(edge, area) for area in edge.setup.layout.areas)


def _causeless(edge: Edge, area: AreaAt) -> bool:
    before, base = edge.before, area.base
    if edges.sounds(edge, area, frozenset({Pattern.EXIT_ERROR})) and not before[base + A.EXIT_ERROR]:
        return not any(zone.is_door for zone in edges.causes(edge, area))
    if not edges.sounds(edge, area, frozenset({Pattern.BURGLARY})):
        return False
    if before[base + A.SIREN] and before[base + A.SOUND] >= Rank.BURGLARY:
        return False
    return before[base + A.ENTRY] != AT_END and not any(edges.causes(edge, area))


def at_once_is_still(edge: Edge) -> bool:
    """A zone without delay trips while its area is set, and there is no alarm in that second."""
    if not edges.hears(edge) or not edges.only_felt(edge):
        return False
    lay = edge.setup.layout
    for zone in lay.zones:
        if not edges.counts(edge, zone) or not edges.confirmed(edge, zone):
            continue
        for place in zone.areas:
            if _must_alarm(edge, zone, lay.areas[place]) and not _told(edge, zone, lay.areas[place]):
                return True
    return False


def _must_alarm(edge: Edge, zone: ZoneAt, area: AreaAt) -> bool:
    if zone.function in _ALWAYS:
        return True
    heard = zone.function in BURGLARY and edges.listens(edge, zone, area)
    return heard and edges.at_once(edge, zone, area)


def _told(edge: Edge, zone: ZoneAt, area: AreaAt) -> bool:
    sent = {message.kind for message in edge.out.messages if message.area == area.id}
    if zone.function is Function.TAMPER:
        return EventKind.TAMPER in sent and any(siren.area == area.id for siren in edge.out.sirens)
    if not edges.alarm_of(edge, zone.id):
        return False
    silent = zone.setup.silent and zone.function in BURGLARY
    if zone.function is Function.ALWAYS_MESSAGE or silent:
        return EventKind.BURGLARY in sent or bool(edge.after[area.base + A.ABORT])
    return edges.sounds(edge, area)


def delay_is_off(edge: Edge) -> bool:
    """An entry delay doesn't start when it must, starts of itself, is not exactly as long, or ends without alarm."""
    if edge.before[U.LOST]:
        return False
    for area in edge.setup.layout.areas:
        rest, now = edge.before[area.base + A.ENTRY], edge.after[area.base + A.ENTRY]
        if not rest and not now:
            if edge.happened and _must_start(edge, area):
                return True
        elif _runs_wrong(edge, area, rest, now):
            return True
    return False


def _must_start(edge: Edge, area: AreaAt) -> bool:
    if len(edge.happened) > 1 or not edges.only_felt(edge) or not edges.hears(edge):
        return False
    return any(
        zone.function in edges.GIVES_DELAY
        and edges.counts(edge, zone)
        and edges.listens(edge, zone, area)
        and not edges.at_once(edge, zone, area)
        for zone in area.zones
    )


def _runs_wrong(edge: Edge, area: AreaAt, rest: int, now: int) -> bool:
    if rest and not edge.after[area.base + A.SET]:
        return not edges.unset(edge, area)
    if rest == AT_END and _ends_still(edge, area):
        return True
    if not rest or (rest == AT_END and now) or (now and edges.unset(edge, area)):
        return now not in _delays(edge, area)
    if rest == AT_END or fell(rest, now):
        return False
    shortens = edge.setup.behaviour.later_door_shortens
    return not (shortens and now in _delays(edge, area) and now <= rest)


def _delays(edge: Edge, area: AreaAt) -> set[int]:
    """The entry delays that may start in this second: of doors that tripped, or given by an area that it follows."""
    found = {zone.delay_s[area.place] for zone in edges.causes(edge, area) if zone.function in edges.GIVES_DELAY}
    for other in edge.setup.layout.areas:
        if area.place in other.followers:
            found |= {z.delay_s[other.place] for z in edges.causes(edge, other) if z.function in edges.GIVES_DELAY}
    return found


def _ends_still(edge: Edge, area: AreaAt) -> bool:
    told = any(line.event is UnitEvent.ALARM and line.cause is Timer.ENTRY for line in edge.out.log)
    if not told:
        return bool(area.zones)
    stopped = edges.happened(edge, inputs.Silence, inputs.UnsetArea, inputs.PowerLost) or edges.key_turned(edge)
    silent = all(zone.setup.silent for zone in area.zones if zone.function in edges.GIVES_DELAY)
    return not stopped and not silent and not edges.sounds(edge, area)


def code_in_time_is_loud(edge: Edge) -> bool:
    """The right code within the entry delay, nothing sounding, and yet a siren or a running delay after it."""
    last = edge.happened[-1] if edge.happened else None
    if not isinstance(last, inputs.UnsetArea) or edge.before[U.LOST] or edge.before[U.LOCK]:
        return False
    if edges.happened(edge, inputs.WrongCode):
        return False  # it may have locked the keypads in this very second
    area = edge.setup.layout.area_of[last.area]
    rest = edge.before[area.base + A.ENTRY]
    if not rest or rest == AT_END or edge.before[area.base + A.SIREN]:
        return False
    left = [edge.after[area.base + place] for place in (A.SET, A.ENTRY, A.SIREN, A.ABORT, A.EXIT_ERROR)]
    return any(left) or edges.sounds(edge, area, edges.BURGLAR)


def life_is_still(edge: Edge) -> bool:
    """Smoke, heat or carbon monoxide trips, and its sound or message doesn't come, or its sound stops of itself."""
    if edge.before[U.LOST]:
        return False
    quieted = edges.happened(edge, inputs.Silence, inputs.PowerLost)
    for area in edge.setup.layout.areas:
        sounding = edge.before[area.base + A.LIFE]
        if sounding and not quieted and not edges.sounds(edge, area, _LIFE[Function.CARBON_MONOXIDE][1]):
            return True
    return not quieted and any(
        zone.function in _LIFE and _life_due(edge, zone) and _life_missing(edge, zone)
        for zone in edge.setup.layout.zones
    )


def _life_due(edge: Edge, zone: ZoneAt) -> bool:
    """It tripped, or is still tripped unheard; the test mode doesn't matter.

    The time after a power loss does, unless the unit hears fire and carbon monoxide at once.
    """
    heard = edge.before[U.IGNORE] in (0, AT_END) or edge.setup.behaviour.life_heard_after_power
    return heard and edges.counts(edge, zone) and edges.confirmed(edge, zone)


def _life_missing(edge: Edge, zone: ZoneAt) -> bool:
    kind, patterns = _LIFE[zone.function]
    for place in zone.areas:
        area = edge.setup.layout.areas[place]
        sent = any(message.kind is kind and zone.id in message.about for message in edge.out.messages)
        if not sent or not edges.sounds(edge, area, patterns):
            return True
    return False


def house_is_still(edge: Edge) -> bool:
    """Water or cold trips, and there is no tone or message; in test mode: and it is not shown."""
    if edge.before[U.LOST] or edges.happened(edge, inputs.Silence, inputs.PowerLost):
        return False
    if edge.before[U.IGNORE] not in (0, AT_END):
        return False
    return any(
        zone.function in _HOUSE and edges.counts(edge, zone) and _house_missing(edge, zone)
        for zone in edge.setup.layout.zones
    )


def _house_missing(edge: Edge, zone: ZoneAt) -> bool:
    if edge.before[U.TEST]:
        fresh = edges.tripped_now(edge, zone) and edge.before[U.TEST] != AT_END and edges.only_felt(edge)
        return fresh and not any(zone.id in shown.about for shown in edge.out.shown)
    if edges.happened(edge, inputs.TestStart):
        return False
    kind, tone = _HOUSE[zone.function]
    names = {edge.setup.layout.areas[place].id for place in zone.areas}
    sent = any(message.kind is kind and zone.id in message.about for message in edge.out.messages)
    return not sent or not names <= {sound.area for sound in edge.out.tones if sound.tone is tone}


def hold_up_is_still(edge: Edge) -> bool:
    """A hold-up button trips, that side is on and no test runs, and there is no message, or no siren where due."""
    if not edges.hears(edge) or edge.before[U.HOLD_UP_OFF] or not edges.only_felt(edge):
        return False
    for zone in edge.setup.layout.zones:
        if zone.function is not Function.HOLD_UP or not edges.counts(edge, zone):
            continue
        silent = zone.setup.silent or edge.setup.behaviour.hold_up_silent
        sent = any(message.kind is EventKind.HOLD_UP for message in edge.out.messages)
        heard = silent or all(edges.sounds(edge, edge.setup.layout.areas[place]) for place in zone.areas)
        if not sent or not heard:
            return True
    return False


def siren_is_long(edge: Edge) -> bool:
    """A siren sounds longer than its time without a new cause, or its end wipes out what happened."""
    if edge.before[U.LOST]:
        return False
    for area in edge.setup.layout.areas:
        rest, now = edge.before[area.base + A.SIREN], edge.after[area.base + A.SIREN]
        if not rest and not now:
            continue
        if now:
            if not (rest and fell(rest, now)) and (now != area.setup.siren_s or not _new_cause(edge, area)):
                return True
        elif edges.sounds(edge, area, _SIREN) or _wiped(edge, area):
            return True
    return False


def _new_cause(edge: Edge, area: AreaAt) -> bool:
    before = edge.before
    ended = (area.base + A.ENTRY, area.base + A.EXIT, area.base + A.LET, U.IGNORE, U.TEST)
    if edges.happened(edge, *_STARTS) or any(before[slot] == AT_END for slot in ended):
        return True
    watches = any(before[watch.slot] > 1 for watch in edge.setup.layout.watches)
    return watches or any(before[zone.base + Z.SEEN] == 1 for zone in area.zones)


def _wiped(edge: Edge, area: AreaAt) -> bool:
    if edges.logged(edge, UnitEvent.UNSET, UnitEvent.RESET, UnitEvent.SET, UnitEvent.EXIT, UnitEvent.CHANGED):
        return False
    slots = [zone.base + Z.MEMORY for zone in area.zones]
    return any(edge.after[slot] < min(2, edge.before[slot]) for slot in slots)
