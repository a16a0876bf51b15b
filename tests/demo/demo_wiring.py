"""Supply, battery, cable and sound of the invented home; every number is invented."""

from alarmlib.calc.electrical.fitting_day import steps
from alarmlib.model import Home
from alarmlib.model.circuits import Circuit, Ending
from alarmlib.model.devices import Device
from alarmlib.model.site import Yes
from alarmlib.model.sound import Door, Heard, Leaf, SoundFacts
from alarmlib.model.wiring import Box, FedBy, LoopInput, Metal, PowerRun, StandbyRule, Stop, Supply, Wiring
from alarmlib.model.words import DeviceKind

_STOPS = {
    "ground_feed": (("hall_keypad", 17.0), ("hall_motion", 5.0), ("living_motion", 9.0)),
    "cellar_feed": (("cellar_motion", 29.0), ("cellar_water", 9.0)),
    "fire_feed": (("landing_smoke", 8.0), ("hall_smoke", 6.0), ("kitchen_heat", 7.0), ("cellar_smoke", 14.0)),
    "sounder_feed": (("inside_sounder", 14.0), ("outside_siren", 13.0)),
}
# V down to which its manual says that it works; the other fed devices: 9 V
_LEAST_V = dict.fromkeys(("cellar_water", "landing_smoke", "hall_smoke", "kitchen_heat", "cellar_smoke"), 9.5)
_FED = frozenset(device for stops in _STOPS.values() for device, _ in stops)
_NAMES = {
    "ground_feed": ("Ground floor feed", "0.22 mm²"),
    "cellar_feed": ("Cellar feed", "0.22 mm²"),
    "fire_feed": ("Fire detector feed", "0.75 mm²"),
    "sounder_feed": ("Sounder feed", "0.22 mm²"),
}
_LEAVES = {
    "landing_main": Leaf.HOLLOW,
    "landing_teen": Leaf.HOLLOW,
    "landing_older": Leaf.SOLID,
    "landing_spare": Leaf.HOLLOW,
    "landing_box": Leaf.HOLLOW,
    "landing_bathroom": Leaf.HOLLOW,
    "hall_living": Leaf.SOLID,
    "hall_kitchen": Leaf.SOLID,
}
# what the manual of a kind says of its battery: mAh, µA at rest, mA·s a message; and trips a day, 2 where not said
_BATTERIES = {DeviceKind.MOTION: (1400.0, 12.0, 18.0), DeviceKind.CONTACT: (1000.0, 6.0, 15.0)}
_TRIPS = {
    "landing_motion": 40.0, "kitchen_motion": 60.0, "studio_motion": 8.0, "utility_motion": 30.0, "garage_motion": 15.0,
    "pantry_contact": 1.0, "back_door_contact": 20.0, "pass_door_contact": 10.0, "garage_door_contact": 6.0,
    "conservatory_contact": 6.0, "studio_contact": 6.0,
}  # fmt: skip


def wiring(home: Home) -> Wiring:
    """How it is fed and read; every step of the fitting day is done."""
    runs = tuple(
        PowerRun(id=i, name=name, size=size, metal=Metal.COPPER, pairs=2 if i == "sounder_feed" else 1, stops=tuple(
            Stop(device=device, metres=metres) for device, metres in _STOPS[i]))
        for i, (name, size) in _NAMES.items()
    )  # fmt: skip
    supply = Supply(
        standby_battery_ah=7.0, rated_over_h=20, peukert=1.12, coldest_c=12, fitted_on="2026-09-19", lasts_years=4,
        charger_a=0.35, most_a=1.6, rule=StandbyRule.EN_LOW,
    )  # fmt: skip
    boxes = (
        Box(id="router", name="Router", draws_w=9, fed_by=FedBy.MAINS, paths=("internet",)),
        Box(id="fibre_box", name="Fibre box", draws_w=5, fed_by=FedBy.MAINS, paths=("internet",)),
    )
    loop = LoopInput(pull_up_ohm=4700, short_below=0.15, trip_above=0.59, cut_above=0.87, tolerance=1, leak_ohm=100_000)
    done = tuple(step.id for step in steps(home))
    return Wiring(supply=supply, loop=loop, boxes=boxes, runs=runs, done=done)


def sound() -> SoundFacts:
    """What is between the sounders and the pillows."""
    return SoundFacts(
        ambient_dba=33, loudest_dba=48, neighbour_m=14, neighbour_dba=46, boundary_m=6,
        doors=tuple(Door(passage=passage, leaf=leaf) for passage, leaf in _LEAVES.items()),
        heard=(
            Heard(id="main_read", sounder="landing_sounder", room="main_bedroom", doors_shut=Yes.YES, level_dba=66),
            Heard(id="neighbour_read", sounder="outside_siren", room="", doors_shut=Yes.YES, level_dba=76),
        ),
    )  # fmt: skip


def read_circuits(circuits: tuple[Circuit, ...]) -> tuple[Circuit, ...]:
    """The circuits with what the meter showed on the day of fitting."""
    return tuple(
        circuit.model_copy(update={"earth_ohm": 10e6, "open_ohm": (circuit.measured_ohm or 0) + 4696.0
                                   if circuit.ending is Ending.DOUBLE else None})
        for circuit in circuits
    )  # fmt: skip


def with_figures(devices: tuple[Device, ...]) -> tuple[Device, ...]:
    """The devices, with what their manuals say of volts and batteries."""
    return tuple(_with_cell(_with_least_v(device)) for device in devices)


def _with_least_v(device: Device) -> Device:
    return device.model_copy(update={"least_v": _LEAST_V.get(device.id, 9.0)} if device.id in _FED else {})


def _with_cell(device: Device) -> Device:
    if device.wireless is None:
        return device
    facts: dict[str, object] = {}
    if device.kind in _BATTERIES:
        mah, rests, message = _BATTERIES[device.kind]
        facts = {
            "battery_mah": mah,
            "rests_at_ua": rests,
            "report_mas": message,
            "trips_a_day": _TRIPS.get(device.id, 2.0),
        }
    if device.room == "studio":
        facts["repeater"] = "repeater"
    return device.model_copy(update={"wireless": device.wireless.model_copy(update=facts)})
