"""What may happen in a second of a cone: each event alone, and two of one second in both orders where it can matter."""

from collections.abc import Iterator

from alarmlib.control import inputs as i
from alarmlib.control.layout import A, U, Z
from alarmlib.control.setup import DoorAtEnd, Override, Setup
from alarmlib.model.words import Function
from alarmlib.proof.unit.cones import Cone, Family, part_key
from alarmlib.proof.unit.timer_abstraction import Guarded, Holder

NOTHING = Guarded(())
_NEVER_ORDERED = frozenset(
    {Function.FIRE, Function.CARBON_MONOXIDE, Function.WATER, Function.LOW_TEMPERATURE}
)  # whatever is set
_ONLY_WAITING = (0, 1, 0, 1)  # of a zone's memory: whether it waits for an entry delay; without partners that is all


def can_happen(cone: Cone) -> tuple[Guarded, ...]:
    """Everything that may happen in a second of this cone; what could do nothing in a state is guarded.

    Our own list (design, section 6).
    """
    make = {
        Family.USE: _use,
        Family.POWER: _power,
        Family.TEST: _test,
        Family.BESIDE: _beside,
        Family.CODES: _codes,
        Family.FAULT: _fault,
    }
    return (NOTHING, *make[cone.family](cone.setup))


def holder_of(cone: Cone) -> Holder:
    """How states of this cone are taken: what no rule asks about is forgotten, doubles of part sets are one."""
    lay = cone.setup.layout
    forget = [area.base + A.SENT for area in lay.areas]
    forget += [area.base + A.OUTSIDE for area in lay.areas if not area.setup.nobody_left]
    alike: dict[int, tuple[int, ...]] = {}
    for area in lay.areas:
        keys = [part_key(part, cone.setup.zones) for part in area.setup.parts]
        if len(set(keys)) < len(keys):
            alike[area.base + A.SET] = (0, 1, *(2 + keys.index(key) for key in keys))
    if cone.family is Family.BESIDE:
        alike |= {zone.base + Z.MEMORY: _ONLY_WAITING for zone in lay.zones}
    return Holder(cone.setup, forget, alike)


def _felt(setup: Setup) -> Iterator[Guarded]:
    for name, device in setup.layout.device_of.items():
        if device.lasting:
            yield Guarded((i.Opens(name),), (device.slot,), False)
            yield Guarded((i.Closes(name),), (device.slot,))
        else:
            yield Guarded((i.Sees(name),))


def _setting(setup: Setup, outside: bool = False, doubles: bool = False) -> Iterator[Guarded]:
    """Nobody in and each part set (each kind of them, or each), with override where offered; and unsetting.

    Of several areas the first is set so, the others for nobody in, from outside.
    """
    overs = (False,) if setup.behaviour.override is Override.NOT_OFFERED else (False, True)
    for place, area in enumerate(setup.areas):
        kinds = {part_key(part, setup.zones): part.id for part in reversed(area.parts)}
        parts = [part.id for part in area.parts] if doubles else list(kinds.values())
        for part in ("", *parts) if not place else ("",):
            for over in overs:
                yield Guarded((i.SetArea(area.id, part, outside=outside or place > 0, override=over),))
        yield Guarded((i.UnsetArea(area.id),))


def _both_orders(felt: list[Guarded], asked: list[Guarded]) -> Iterator[Guarded]:
    for one in felt:
        for other in asked:
            yield Guarded(one.happened + other.happened, one.slots, one.some)
            yield Guarded(other.happened + one.happened, one.slots, one.some)


def _use(setup: Setup) -> Iterator[Guarded]:
    lay, felt = setup.layout, list(_felt(setup))
    yield from felt
    yield from _setting(setup, doubles=not _many(setup))
    if len(lay.areas) == 1:
        yield from (each for each in _setting(setup, outside=True) if isinstance(each.happened[0], i.SetArea))
    for area in lay.areas:
        sounds = [area.base + place for place in (A.SIREN, A.LIFE, A.TONES, A.ENTRY, A.EXIT, A.LET)]
        sounds += [zone.base + Z.SEEN for zone in area.zones]  # or may begin to, in that second
        yield Guarded((i.Silence(area.id),), tuple(sounds))
        yield Guarded((i.Reset(area.id),), (*sounds, *(zone.base + Z.MEMORY for zone in area.zones)))
        yield from (Guarded((i.LetOut(area.id, door.id),)) for door in area.doors)
        if setup.behaviour.exit_ends_by_button:
            yield Guarded((i.FinishExit(area.id),), (area.base + A.EXIT,))
    first = lay.zones[0]
    out = (first.base + Z.OUT,)
    yield Guarded((i.Inhibit(first.id),))
    yield Guarded((i.OutOfUse(first.id),))
    yield Guarded((i.PutBack(first.id),), out)
    if first.function is Function.HOLD_UP:
        yield from (Guarded((i.HoldUpPressed(setup.areas[place].id),)) for place in first.areas)
        yield Guarded((i.HoldUp(False),), (U.HOLD_UP_OFF,), False)
        yield Guarded((i.HoldUp(True),), (U.HOLD_UP_OFF,))
    if not _many(setup) and first.function not in _NEVER_ORDERED:
        yield from _both_orders(felt, list(_setting(setup)))


def _many(setup: Setup) -> bool:
    """More than one zone or area: then these are set from outside alone, without exit time."""
    return len(setup.zones) > 1 or len(setup.areas) > 1


def _power(setup: Setup) -> Iterator[Guarded]:
    yield from _felt(setup)
    outside = _many(setup) or setup.zones[0].function is not Function.ENTRY_EXIT or setup.zones[0].inside
    yield from (Guarded(each.happened, (U.LOST,), False) for each in _setting(setup, outside))
    yield Guarded((i.PowerLost(),), (U.LOST,), False)
    yield Guarded((i.PowerBack(),), (U.LOST,))


def _test(setup: Setup) -> Iterator[Guarded]:
    yield from _felt(setup)
    yield from _setting(setup, outside=True)
    yield Guarded((i.TestStart(),))
    yield Guarded((i.TestEnd(),), (U.TEST,))


def _beside(setup: Setup) -> Iterator[Guarded]:
    felt = list(_felt(setup))
    trips = [each for each in felt if not isinstance(each.happened[0], i.Closes)]
    yield from felt
    yield from _setting(setup, outside=setup.behaviour.door_at_end is DoorAtEnd.NOT_SET)
    for one in trips:
        for other in trips:
            if one.happened != other.happened:
                yield Guarded(one.happened + other.happened, one.slots, one.some)


def _codes(setup: Setup) -> Iterator[Guarded]:
    yield from _felt(setup)
    yield Guarded((i.WrongCode(),))
    for area in setup.areas:
        for way in (i.Way.KEYPAD, i.Way.FOB):
            yield Guarded((i.SetArea(area.id, way=way),))
            yield Guarded((i.UnsetArea(area.id, way),))
            yield Guarded((i.WrongCode(), i.UnsetArea(area.id, way)))
            yield Guarded((i.UnsetArea(area.id, way), i.WrongCode()))


def _fault(setup: Setup) -> Iterator[Guarded]:
    for watch in setup.layout.watches:
        yield Guarded((i.FaultBegins(watch.setup.id),))
        yield Guarded((i.FaultEnds(watch.setup.id),), (watch.slot,))
    yield from _setting(setup)
    yield from (Guarded((i.Reset(area.id),)) for area in setup.areas)
    yield Guarded((i.PowerLost(),), (U.LOST,), False)
    yield Guarded((i.PowerBack(),), (U.LOST,))
