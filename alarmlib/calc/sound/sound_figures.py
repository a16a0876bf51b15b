"""What is worked out of sounders, as figures to follow: at each pillow, how unsure, at the neighbour's, beside them."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from alarmlib.calc.figure import Figure
from alarmlib.calc.sound.heard import (
    METER_UNSURE_DB,
    NEAREST_M,
    UNSURE_DOOR_DB,
    UNSURE_ROOM_DB,
    UNSURE_SOUNDER_DB,
    USUAL_TONE_HZ,
    HeardLevel,
    behind_glass_db,
    outside_dba,
    own_reading,
    sounders,
    together,
)
from alarmlib.calc.sound.levels import air_db_per_km, at_distance, bearable_s
from alarmlib.model.devices import Device
from alarmlib.model.words import DeviceKind, Link
from alarmlib.units import Kind, rounded, show

if TYPE_CHECKING:
    from alarmlib.model.home import Home

_LEAST_SHARE = 0.005  # of the sound power: less is not listed
_SUM = "10 log10 Σ 10^(Li/10), Li = L1 − 20 log10(r/r1) − doors, or as read"
_UNSURE = (
    "±u, u² = the sum over causes of (Σ wi × the cause)², wi = 10^(Li/10) / Σ 10^(Lj/10); the room's furnishing, one "
    "door and one meter are each one cause of all that they touch, each sounder its own"
)


def pillow_figures(
    home: "Home", room: str, fire: tuple[HeardLevel, ...], burglary: tuple[HeardLevel, ...]
) -> Iterator[Figure]:
    """At one pillow the level in a fire and at a burglary, from what is heard there, and by how much each may be off.

    By `heard.together`.
    """
    for event, found in (("pillow", fire), ("burglary", burglary)):
        if found:
            yield from _pillow(home, f"{event}.{room}", f"{event}_unsure.{room}", found)


def _pillow(home: "Home", key: str, unsure_key: str, found: tuple[HeardLevel, ...]) -> Iterator[Figure]:
    level, unsure = together(found)
    loudest = next(device for device in home.whole_devices if device.id == found[0].sounder)
    told = ", ".join(f"{each.level_dba:.1f}{' read' if each.read else ''}" for each in found)
    inputs = (("levels", f"{told} dB(A)"), ("the loudest", _chain(home, loudest, found[0])))
    yield Figure(key, f"{level:.1f}", "dB(A)", _SUM, inputs, ("point_source", "door_loss", "owner"))
    shares = [10 ** ((each.level_dba - level) / 10) for each in found]
    listed = ", ".join(f"{share:.2f}" for share in shares if share >= _LEAST_SHARE)
    causes = (
        ("parts of the whole, w", listed if shares[-1] >= _LEAST_SHARE else f"{listed}, the others less than 0.005"),
        ("room", f"{UNSURE_ROOM_DB:g} dB"),
        ("each sounder", f"{UNSURE_SOUNDER_DB:g} dB"),
        ("each closed door", f"{UNSURE_DOOR_DB:g} dB"),
        ("reading", f"{METER_UNSURE_DB:g} dB"),
    )
    yield Figure(unsure_key, f"± {unsure:.1f}", "dB", _UNSURE, causes, ("gum", "practice"))


def _chain(home: "Home", sounder: Device, heard: HeardLevel) -> str:
    if heard.read:
        return "read by a meter"
    metres = show(max(heard.way.metres, NEAREST_M), Kind.LENGTH, home.units, 3)
    return f"L1 = {_rated(home, sounder)}, r = {metres}, doors {heard.way.loss_db:g} dB"


def _rated(home: "Home", sounder: Device) -> str:
    return f"{sounder.level_dba or 0:g} dB(A) at {show(sounder.level_at_m or 1.0, Kind.LENGTH, home.units)}"


def beside_figures(home: "Home") -> Iterator[Figure]:
    """How long ears bear each sounder of the unit at 1 m, and what comes to the neighbour's, outside and indoors.

    By `sound.bearable_s`, `heard.outside_dba`, `heard.behind_glass_db`.
    """
    for device in (d for d in sounders(home) if d.link is not Link.OWN):
        level = at_distance(device.level_dba or 0.0, device.level_at_m, 1.0)
        told = (("rated", _rated(home, device)), ("L at 1 m", f"{level:.1f} dB(A)"))
        lasts = f"{rounded(bearable_s(level) / 60)}"
        formula = "8 h / 2^((L − 85) / 3)"
        yield Figure(f"ears.{device.id}", lasts, "min a day", formula, told, ("niosh_noise", "point_source"))
        if device.kind is DeviceKind.OUTSIDE_SIREN:
            yield from _next_door(home, device)


def _next_door(home: "Home", device: Device) -> Iterator[Figure]:
    metres, read = home.sound.neighbour_m, own_reading(home, device.id, "")
    if metres is None and read is None:
        return
    hz = device.tone_hz or USUAL_TONE_HZ
    level = outside_dba(device, metres or 1.0) if read is None else read
    if read is None:
        away = show(metres or 1.0, Kind.LENGTH, home.units)
        air = f"{rounded(air_db_per_km(hz))} dB/km at {hz:g} Hz, 20 °C, 70 %"
        inputs = (("L1", _rated(home, device)), ("r", away), ("air", air))
        formula = "L1 − 20 log10(r / r1) − air × r"
        yield Figure(f"next_door.{device.id}", f"{level:.1f}", "dB(A)", formula, inputs, ("point_source", "iso9613_1"))
    wall = f"8.5 m² of brick and 1.5 m² of single glass at {hz:g} Hz: {behind_glass_db(device.tone_hz):.1f} dB"
    told = (("outside", f"{level:.1f} dB(A){'' if read is None else ' read'}"), ("wall", wall))
    formula = "outside + 10 log10(Σ Si 10^(−TLi/10) / Σ Si)"
    value = f"{level - behind_glass_db(device.tone_hz):.0f}"
    yield Figure(f"indoors.{device.id}", value, "dB(A)", formula, told, ("partitions", "practice"))
