"""A state of the control unit in a few plain sentences."""

from alarmlib.control.layout import SET_FULL_AT, A, AreaAt, State, U, Z
from alarmlib.control.setup import Setup
from alarmlib.control.signals import Rank
from alarmlib.control.system_faults import RAISED

_SOUNDS = {
    Rank.TAMPER_INSIDE: "the inside sounder sounds for tamper",
    Rank.TAMPER: "the siren sounds for tamper",
    Rank.BURGLARY: "the siren sounds for burglary",
    Rank.HOLD_UP: "the siren sounds for a hold-up",
}
_LIFE = ("", "carbon monoxide alarm sounds", "fire alarm sounds", "fire and carbon monoxide alarm sound")
_TONES = ("", "the water tone sounds", "the cold tone sounds", "the water and cold tones sound")


def describe(setup: Setup, state: State) -> str:
    """What every area is doing, what is open, left out or remembered, and the unit's faults."""
    lay = setup.layout
    if state[U.LOST]:
        return "The control unit has no power."
    sentences = [_area(area, state) for area in lay.areas]
    sentences += _lists(setup, state)
    sentences += [
        f"{text} ({state[place]} s left)."
        for place, text in (
            (U.IGNORE, "Detectors are ignored after the power loss"),
            (U.TEST, "The test mode runs"),
            (U.LOCK, "The keypads are locked"),
        )
        if state[place]
    ]
    if state[U.HOLD_UP_OFF]:
        sentences.append("Hold-up is switched off.")
    return " ".join(sentences)


def _area(area: AreaAt, state: State) -> str:
    at = area.base
    parts = [f"{area.id} is {_set_area(area, state)}"]
    if state[at + A.LIFE]:
        parts.append(_LIFE[state[at + A.LIFE]])
    if state[at + A.SIREN]:
        parts.append(f"{_SOUNDS[Rank(state[at + A.SOUND])]} ({state[at + A.SIREN]} s left)")
    if state[at + A.TONES]:
        parts.append(_TONES[state[at + A.TONES]])
    if state[at + A.ABORT]:
        parts.append(f"a message is held for {state[at + A.ABORT]} s")
    return ", ".join(parts) + "."


def _set_area(area: AreaAt, state: State) -> str:
    at, set_at = area.base, state[area.base + A.SET]
    if not set_at:
        return "unset"
    set_name = "nobody in" if set_at == SET_FULL_AT else area.setup.parts[set_at - SET_FULL_AT - 1].id
    if state[at + A.EXIT]:
        return f"being set ({set_name}), {state[at + A.EXIT]} s to leave"
    if state[at + A.ENTRY]:
        why = " after an exit error" if state[at + A.EXIT_ERROR] else ""
        return f"set ({set_name}), {state[at + A.ENTRY]} s to unset{why}"
    if state[at + A.LET]:
        return f"set ({set_name}), {state[at + A.LET]} s to let somebody out"
    return f"set ({set_name})"


def _lists(setup: Setup, state: State) -> list[str]:
    zones = setup.layout.zones
    lists = (
        ("Tripped", [zone.id for zone in zones if state[zone.base + Z.SEEN]]),
        ("Left out this time", [zone.id for zone in zones if state[zone.base + Z.OUT] == 1]),
        ("Out of use", [zone.id for zone in zones if state[zone.base + Z.OUT] == 2]),
        ("Alarm remembered", [zone.id for zone in zones if state[zone.base + Z.MEMORY] >= 2]),
        ("Fault", [watch.setup.id for watch in setup.layout.watches if state[watch.slot] == RAISED]),
    )
    return [f"{title}: {', '.join(names)}." for title, names in lists if names]
