"""Every single fault of a home, in plain sentences; what isn't known is taken for the worse and said to be so."""

from collections.abc import Iterable, Iterator

from alarmlib.calc.electrical.home_loops import seen
from alarmlib.calc.electrical.power import asked_hours, lasts_h, path_lasts_h
from alarmlib.calc.electrical.radio import spare
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.setup import Setup
from alarmlib.model.circuits import Circuit, DetectorFeed, Ending
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.messages import Message, MessagePath, PathKind
from alarmlib.model.questions import at_work, by_id
from alarmlib.model.site import Yes
from alarmlib.model.words import BURGLARY, DETECTORS, DeviceKind, EventKind, Function, Link
from alarmlib.proof.faults.fault import NONE, Fault, Outlets
from alarmlib.units import rounded

SET_FULL_NAME = "set_full"
GUARDING = BURGLARY | {Function.ALWAYS_SIREN, Function.ALWAYS_MESSAGE}
"""Functions of which a zone left out opens a hole, and may be left out."""
_SOUNDERS = frozenset({DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SIREN})
_HANDLED = frozenset({DeviceKind.KEYPAD, DeviceKind.FOB, DeviceKind.KEY_SWITCH})
_KEY = " A trip of this zone counts as a turn of the key, so it sets or unsets the alarm."


def outlets_of(home: Home) -> Outlets:
    """By what a burglary is heard and told. Paths not entered at all are taken as one that gets out.

    Our own reading; a control unit with a sound level of its own counts as a sounder.
    """
    sounders = frozenset(device.id for device in joined(home) if _sounds(device))
    told = [message for message in home.messages.messages if message.event is EventKind.BURGLARY and message.to]
    paths = frozenset(path for message in told for path in carriers(home, message))
    shut_in = bool(home.messages.paths) and not paths
    untold = not home.messages.calls_emergency_by_itself and (not told or shut_in)
    return Outlets(sounders, paths, not sounders, untold)


def _sounds(device: Device) -> bool:
    return device.kind in _SOUNDERS or (device.kind is DeviceKind.CONTROL_UNIT and device.level_dba is not None)


def carriers(home: Home, message: Message) -> list[str]:
    """The paths of a message (none entered: every path there is), without the siren itself.

    Our own reading.
    """
    named = message.paths or tuple(path.id for path in home.messages.paths)
    return [path.id for path in _paths(home) if path.id in named]


def _paths(home: Home) -> list[MessagePath]:
    return [path for path in home.messages.paths if path.kind is not PathKind.SIREN]


def joined(home: Home) -> list[Device]:
    """The devices that are there and speak to the unit."""
    return [device for device in at_work(home) if device.link is not Link.OWN]


def nothing_broken(outlets: Outlets) -> Fault:
    """No fault; but where no sounder is fitted, or nobody is told, that is so without any."""
    found = outlets.canonical(NONE)
    lacking = [
        text
        for missing, text in (
            (found.no_siren, "no sounder is fitted"),
            (found.no_message, "no message about a burglary gets out to anybody"),
        )
        if missing
    ]
    if not lacking:
        return NONE
    return Fault(
        NONE.id,
        f"Everything works, but {', and '.join(lacking)}.",
        no_siren=found.no_siren,
        no_message=found.no_message,
    )


def single_faults(home: Home, outlets: Outlets) -> tuple[Fault, ...]:
    """Every single fault, in the order of the table: devices, circuits, wireless, power, messages, people.

    The list is our own; what each does as its sentence says.
    """
    setup = setup_from_home(home)
    found = [
        *_dead_devices(home),
        *_circuits(home),
        *_wireless(home),
        *_power(home),
        *_messages(home, outlets),
        *_left_out(home, setup),
        *_spent(home, setup),
        *_not_set_so(home, setup),
    ]
    return tuple(outlets.canonical(fault) for fault in found)


def _lost(name: str, sentence: str, devices: Iterable[Device], *watches: str, paths: Iterable[str] = ()) -> Fault:
    """A fault that silences these devices, each for what it is."""
    gone = tuple(devices)
    return Fault(
        name,
        sentence,
        frozenset(device.id for device in gone if device.zone),
        frozenset(device.id for device in gone if device.kind in _HANDLED),
        frozenset(device.id for device in gone if _sounds(device)),
        frozenset(paths),
        watches=watches,
    )


def _dead_devices(home: Home) -> Iterator[Fault]:
    """Each detector, keypad and sounder fails silently; a sounder's line may be cut besides."""
    for device in joined(home):
        if device.kind in DETECTORS and device.zone:
            yield from _dead_detector(device)
        elif device.kind is DeviceKind.KEYPAD:
            yield _lost(f"keypad_dead/{device.id}", f"“{device.name}” is dead.", [device], *_missing(device))
        elif device.kind in _SOUNDERS:
            text = f"“{device.name}” gives no sound although its line is whole."
            yield Fault(f"sounder_dead/{device.id}", text, dead_sounders=frozenset({device.id}))
            if device.link is Link.WIRED:
                text = f"The line of “{device.name}” is cut."
                yield _lost(f"sounder_cut/{device.id}", text, [device], f"siren_line_{device.id}")


def _dead_detector(device: Device) -> Iterator[Fault]:
    """Nothing arrives from it, which a unit that misses wireless devices tells; or all but its detecting goes on."""
    yield _lost(f"dead/{device.id}", f"Nothing arrives from “{device.name}” any more.", [device], *_missing(device))
    if _missing(device):
        text = (
            f"“{device.name}” no longer detects anything, although it still reports to the control unit. A walk "
            "test shows that."
        )
        yield _lost(f"blind/{device.id}", text, [device])


def _missing(device: Device) -> tuple[str, ...]:
    """The watch by which the unit misses a wireless device that no longer checks in, if it does."""
    told = device.link is Link.WIRELESS and device.wireless and device.wireless.missing_after_s is not None
    return (f"missing_{device.id}",) if told else ()


def _circuits(home: Home) -> Iterator[Fault]:
    zones = by_id(home.control_unit.zones)
    for circuit in home.circuits:
        on_it = [
            device
            for device in joined(home)
            if device.zone and circuit.id == (device.circuit or zones[device.zone].circuit)
        ]
        by_key = any(zones[device.zone].function is Function.KEY_SWITCH for device in on_it)
        devices = frozenset(device.id for device in on_it)
        yield from _circuit(circuit, devices, _KEY if by_key else "")
        loop = seen(home, circuit)
        if loop is not None and loop.missed:
            text = (
                f"Damp or resistors hide an open contact on “{circuit.name}”: by the control unit's thresholds "
                "it reads secure."
            )
            yield Fault(f"circuit_hides/{circuit.id}", text, dead=devices)


def _circuit(circuit: Circuit, devices: frozenset[str], then: str) -> Iterator[Fault]:
    """What a cut and a short do, by how the loop is ended.

    Reference: common practice for loops of normally closed contacts, no source.
    """
    cut, short = f"circuit_cut/{circuit.id}", f"circuit_short/{circuit.id}"
    ending, name = circuit.ending, circuit.name
    if ending is Ending.UNKNOWN:
        text = f"“{name}” is cut or shorted. How it is ended is not known, so this counts as unnoticed."
        yield Fault(f"circuit_stuck/{circuit.id}", text, dead=devices)
    elif ending is Ending.NONE:
        yield Fault(
            cut,
            f"“{name}” is cut: its zone trips, as a normally closed detector circuit does.{then}",
            devices,
            trips=devices,
        )
        yield Fault(short, f"“{name}” is shorted: without an end-of-line resistor it looks closed for good.", devices)
    elif ending is Ending.OPEN_FIRE:
        power = circuit.detectors_fed
        or_dead = ", or its detectors' power fails, which is watched" if power is DetectorFeed.WATCHED else ""
        text = (
            f"“{name}” is broken{or_dead}: its fire detectors are lost. This does not help a burglar. Whether the "
            "control unit shows a break is not computed here."
        )
        yield Fault(cut, text, devices)
        if power in (DetectorFeed.UNWATCHED, DetectorFeed.UNKNOWN):
            unknown = "" if power is DetectorFeed.UNWATCHED else " (assumed; how they are fed is not known)"
            text = (
                f"The detectors on “{name}” lose their power, and nothing shows it{unknown}. This does not help a "
                "burglar."
            )
            yield Fault(f"circuit_feed/{circuit.id}", text, devices)
    else:
        text = f"“{name}” is cut or shorted: its end resistor shows either as a trip.{then}"
        yield Fault(cut, text, devices, trips=devices)


def _wireless(home: Home) -> Iterator[Fault]:
    """Each device flat or out of reach; a repeater; everything at once by a blocked radio."""
    free = [device for device in joined(home) if device.link is Link.WIRELESS]
    for device in joined(home):
        watch = f"missing_{device.id}"
        if device.kind is DeviceKind.REPEATER and free:
            yield _repeater(device, free, watch)
        elif device.link is Link.WIRELESS:
            weak = device.wireless is not None and (spare(device.wireless) or 0.0) < 0
            why = ", and its signal is weaker than its manual asks for" if weak else ""
            text = f"“{device.name}” is flat or out of reach{why}{_if_missed([device])}."
            yield _lost(f"out_of_reach/{device.id}", text, [device], watch)
    if free:
        text = f"The radio is blocked: no wireless device is heard{_if_missed(free)}."
        yield _lost("radio_blocked", text, free, *(f"missing_{device.id}" for device in free))


def _repeater(repeater: Device, free: list[Device], watch: str) -> Fault:
    """A dead repeater takes along what is heard through it, or all that is wireless where no owner said what is."""
    served = [d for d in free if d.wireless is not None and d.wireless.repeater == repeater.id]
    if served:
        text = f"“{repeater.name}” is dead, and with it what is heard through it (devices: {len(served)})"
    else:
        text = f"“{repeater.name}” is dead; which devices it serves is not known, so all wireless ones count as lost"
    text = f"{text}{_if_missed([repeater])}."
    return _lost(f"repeater_dead/{repeater.id}", text, [repeater, *served] if served else free, watch)


def _if_missed(devices: Iterable[Device]) -> str:
    """What the sentence adds when the unit isn't known to miss any of these."""
    fixed = [device for device in devices if device.kind is not DeviceKind.FOB]
    known = any(device.wireless and device.wireless.missing_after_s is not None for device in fixed)
    return "; it is not known after how long the control unit misses it" if fixed and not known else ""


def _power(home: Home) -> Iterator[Fault]:
    """The mains alone, the mains with a flat battery, and a battery that is flat when an intruder cuts the mains."""
    stopped = [device for device in joined(home) if device.standby is Yes.NO]
    names = "".join(f" “{device.name}” stops." for device in stopped)
    lost = [path for path in _paths(home) if _needs_mains(home, path)]
    text = f"The mains fails, and the standby battery is good.{names}{_paths_said(lost)}"
    yield _lost("mains", text, stopped, "mains", paths=[path.id for path in lost])
    if lost:
        text = f"The router is without power.{_paths_said(lost)}"
        reported = [f"transmission_path_{path.id}" for path in lost if path.failure_reported is Yes.YES]
        yield _lost("router_power", text, (), *reported, paths=[path.id for path in lost])
    hours, asked = lasts_h(home), asked_hours(home)
    if hours is not None and asked is not None and hours < asked.quiet_h:
        text = (
            "The mains fails for longer than the standby battery lasts: the control unit is dead after "
            f"{rounded(hours)} h, and {asked.quiet_h:g} h are asked."
        )
        yield Fault("battery_short", text, unit_dead=True, watches=("mains",))
    text = "The standby battery is flat, and then the mains fails: the control unit is dead."
    yield Fault("mains_and_battery", text, unit_dead=True, watches=("battery",))
    if home.proof.cuts_mains:
        text = (
            "The standby battery is flat. Whoever cuts and restores the mains from outside stops the control unit and "
            "starts it again. It then ignores detectors for a while."
        )
        yield Fault("battery_flat", text, unit_dead=True, restarts=True, watches=("battery",))


def _needs_mains(home: Home, path: MessagePath) -> bool:
    standby = {device.id: device.standby for device in home.whole_devices}
    if path_lasts_h(home, path.id) == 0.0:
        return True
    return path.works_without_mains is not Yes.YES or any(standby.get(box) is Yes.NO for box in path.boxes)


def _paths_said(paths: Iterable[MessagePath]) -> str:
    said = ""
    for path in paths:
        unknown = path.works_without_mains is Yes.UNKNOWN
        said += f" The path “{path.name}” is lost{' (assumed; it is not known)' if unknown else ''}."
    return said


def _messages(home: Home, outlets: Outlets) -> Iterator[Fault]:
    """Each path down, each box of a path dead, a path that isn't entered, and nobody who answers."""
    for path in _paths(home):
        text = f"The message path “{path.name}” is down{_if_reported(path)}."
        watches = (f"transmission_path_{path.id}",) if path.failure_reported is Yes.YES else ()
        yield _lost(f"path_down/{path.id}", text, (), *watches, paths=[path.id])
    yield from _dead_boxes(home)
    if outlets.untold:
        return
    if not home.messages.paths:
        yield Fault("path_down", "Messages go out by a path that is not entered, and it is down.", no_message=True)
    if not home.messages.calls_emergency_by_itself:
        yield Fault("nobody_answers", "Nobody who is told answers; the siren remains.", no_message=True)


def _if_reported(path: MessagePath) -> str:
    if path.failure_reported is Yes.YES:
        return ""
    unknown = path.failure_reported is Yes.UNKNOWN
    return (
        ", and it is not known whether the control unit notices"
        if unknown
        else (", and the control unit does not notice")
    )


def _dead_boxes(home: Home) -> Iterator[Fault]:
    for box in home.whole_devices:
        needing = [path for path in _paths(home) if box.id in path.boxes]
        if not needing or box.kind is DeviceKind.CONTROL_UNIT:
            continue
        names = ", ".join(f"“{path.name}”" for path in needing)
        watches = [f"transmission_path_{path.id}" for path in needing if path.failure_reported is Yes.YES]
        text = f"“{box.name}” is dead, and these message paths are lost: {names}."
        yield _lost(f"box_dead/{box.id}", text, (), *watches, paths=[path.id for path in needing])


def _left_out(home: Home, setup: Setup) -> Iterator[Fault]:
    """Each zone that may be left out, left so."""
    label = {zone.id: zone.label for zone in home.control_unit.zones}
    for zone in setup.zones:
        if zone.function in GUARDING and not zone.out_of_use:
            text = f"The zone “{label[zone.id]}” is left out."
            yield Fault(f"inhibited/{zone.id}", text, inhibited=frozenset({zone.id}))


def _spent(home: Home, setup: Setup) -> Iterator[Fault]:
    """Each zone with a limit of alarms that has reached it, and is no longer heard until its area is unset."""
    label = {zone.id: zone.label for zone in home.control_unit.zones}
    for zone in setup.layout.zones:
        if zone.limit and zone.function in GUARDING and not zone.setup.out_of_use:
            times = "one alarm" if zone.limit == 1 else f"{zone.limit} alarms"
            text = (
                f"“{label[zone.id]}” has given {times} in one set period. This zone is not heard again until the "
                "alarm is unset."
            )
            yield Fault(f"spent/{zone.id}", text, spent=frozenset({zone.id}))


def _not_set_so(home: Home, setup: Setup) -> Iterator[Fault]:
    """Somebody forgets to set an area, or chooses another set than was meant."""
    name = {area.id: area.name for area in home.control_unit.areas}
    set_name = {SET_FULL_NAME: "nobody in"} | {part.id: part.name for part in home.control_unit.part_sets}
    for area in setup.areas:
        said = name.get(area.id, "The house")
        yield Fault(f"not_set/{area.id}", f"{said}: somebody forgets to set it.", not_set=frozenset({area.id}))
        sets = [SET_FULL_NAME, *(part.id for part in area.parts)]
        for when_set in sets if area.parts else ():
            text = f"{said}: by mistake it is set in the way “{set_name.get(when_set, when_set)}”."
            yield Fault(f"wrong_set/{area.id}/{when_set}", text, wrong_set=(f"{area.id}/{when_set}",))
