"""The tables and forms of pages 05 and 06, declared: supply, loops, cable, cells, boxes, sounders, fitting day."""

from alarmlib.model.circuits import Circuit
from alarmlib.model.devices import DeviceEntry, DeviceType, WirelessEntry, WirelessFacts
from alarmlib.model.sound import Door, Heard, SoundFacts
from alarmlib.model.wiring import Box, LoopInput, PowerRun, Stop, Supply, Wiring
from alarmlib.model.words import Link
from alarmlib.pages import choices as c
from alarmlib.pages.declaring import Group, List, Sheet, columns, first

_SUPPLY = ("wiring", "supply")
_DEVICES = ("02_detectors", "“Devices” on page 02")
_TYPES = ("02_detectors", "“Types of devices” on page 02")
_AS_TYPED = "Fill these in only where a device differs from its type."

WIRING_SHEETS: dict[str, Sheet] = {
    "loop_input": Sheet(
        "How your control unit reads a detector circuit",
        (Group("From its manual", LoopInput, " ".join(LoopInput.model_fields), ("wiring", "loop")),),
        intro="Write each limit as a part of the circuit's own voltage: 6 V of 12 V is 0.5. "
        "Left blank, the ranges are shown and nothing is judged.",
        essential="pull_up_ohm trip_above cut_above",
        more="These show whether damp, or a resistor that is a little off, can be read as a trip.",
    ),
    "supply": Sheet(
        "Supply and standby battery",
        (
            Group("Supply", Supply, "nominal_v most_a charger_a", _SUPPLY),
            Group(
                "Battery",
                Supply,
                "standby_battery_ah rated_over_h second_ah second_over_h end_v peukert coldest_c fitted_on lasts_years",
                _SUPPLY,
            ),
            Group("Rule", Supply, "rule edition quiet_h alarm_s", _SUPPLY),
        ),
        intro="The rule says how long the battery must last. Cold and age shorten it.",
        essential="standby_battery_ah rated_over_h rule fitted_on",
        more="These make the computed hours exact. Your own hours count only if you choose that rule.",
        may_be_blank="fitted_on",
    ),
    "fitting_day": Sheet(
        "The day of fitting",
        (Group("In this order; tick what is done", Wiring, "done", ("wiring",), {"done": c.fitting_steps}),),
        intro="For a pair, a tick counts only with a reading. If the list below says stop, fix that first.",
        late=True,
    ),
    "sound": Sheet(
        "How quiet it is, indoors and next door",
        (
            Group("In the bedrooms", SoundFacts, "ambient_dba loudest_dba", ("sound",)),
            Group("Outside", SoundFacts, "neighbour_m neighbour_dba boundary_m limit_dba", ("sound",)),
        ),
        essential="neighbour_m boundary_m limit_dba",
        more="With these, noise by night and at your neighbour's is taken as it is.",
        may_be_blank="limit_dba",
    ),
}

WIRING_LISTS: dict[str, List] = {
    "pair_readings": List(
        "Each pair at the meter",
        ("circuits",),
        columns(
            Circuit,
            "measured_ohm open_ohm earth_ohm",
        ),
        "circuit",
        listed_on=("", "“Detector circuits” above"),
        essential="measured_ohm open_ohm earth_ohm",
        intro="Read each pair before you connect it, with the control unit off: all contacts closed, one open, each "
        "core to earth. Write 10 MΩ where the meter is over range. If a reading is outside its band, stop and find out "
        "why.",
    ),
    "type_currents": List(
        "What wired devices draw, by type",
        ("device_types",),
        columns(DeviceType, "quiet_current_a alarm_current_a least_v standby"),
        "type",
        keep=lambda each: each.link is Link.WIRED,
        intro="From the manual, once for all devices of a type.",
        essential="quiet_current_a alarm_current_a",
        more="These show whether a device far along a cable, or in a power cut, still works.",
        listed_on=_TYPES,
    ),
    "type_cells": List(
        "What wireless devices draw, by type",
        ("device_types",),
        (Group("", WirelessFacts, "signal_asked battery_mah rests_at_ua report_mas", ("wireless",)),),
        "type",
        keep=lambda each: each.link is Link.WIRELESS,
        intro="From the manual, once for all devices of a type.",
        essential="battery_mah rests_at_ua report_mas",
        more="Without it a weak signal is not judged.",
        may_be_blank="battery_mah rests_at_ua report_mas",
        listed_on=_TYPES,
    ),
    "type_sounds": List(
        "How loud each type of sounder is",
        ("device_types",),
        columns(DeviceType, "level_dba level_at_m tone_hz"),
        "type",
        keep=lambda each: each.kind in c.SOUNDERS,
        intro="A level means nothing without its distance: 85 dB(A) at 3 m is 95 at 1 m.",
        essential="level_dba level_at_m",
        more="A low tone may wake more people.",
        listed_on=_TYPES,
    ),
    "currents": List(
        "What wired devices draw",
        ("devices",),
        columns(DeviceEntry, "quiet_current_a alarm_current_a least_v standby"),
        "device",
        keep=lambda device: device.link is Link.WIRED,
        essential="quiet_current_a alarm_current_a",
        more=_AS_TYPED,
        listed_on=_DEVICES,
    ),
    "boxes": List(
        "Boxes on the way of a message",
        ("wiring", "boxes"),
        columns(Box, "name draws_w fed_by own_battery_wh paths"),
        "box",
        blank=lambda _home: {"name": ""},
        essential="name draws_w fed_by paths",
        more="With its own battery, a box may go on in a power cut.",
        may_be_blank="paths",
        intro="Router, fibre box, hub, switch: what a message needs beside the alarm itself.",
    ),
    "runs": List(
        "Cable that feeds devices",
        ("wiring", "runs"),
        columns(PowerRun, "name size metal ohm_per_km pairs warmest_c"),
        "run",
        blank=lambda _home: {"name": ""},
        intro="A length that you do not enter is planned along the walls. Measure again before you cut.",
        essential="name size metal",
        more="These make the voltage at the far end exact.",
    ),
    "cells": List(
        "Signal and batteries",
        ("devices",),
        (
            Group(
                "",
                WirelessEntry,
                "signal signal_asked repeater battery_mah rests_at_ua report_mas trips_a_day",
                ("wireless",),
                {"repeater": c.repeaters},
            ),
        ),
        "device",
        keep=lambda device: device.link is Link.WIRELESS,
        intro="If you leave the currents of a type blank, the battery life in its manual is used.",
        essential="signal repeater",
        more="These are taken from its type, or make its battery life exact.",
        may_be_blank="signal repeater",
        listed_on=_DEVICES,
    ),
    "sounders": List(
        "What sounds, and how loud",
        ("devices",),
        columns(DeviceEntry, "at level_dba level_at_m tone_hz"),
        "sounder",
        keep=lambda device: device.kind in c.SOUNDERS,
        intro="A level means nothing without its distance: 85 dB(A) at 3 m is 95 at 1 m.",
        essential="level_dba level_at_m",
        more=_AS_TYPED,
        listed_on=_DEVICES,
    ),
    "sound_doors": List(
        "Inside doors, and the sound that they hold back",
        ("sound", "doors"),
        columns(Door, "passage leaf loss_db"),
        "door",
        named_by="passage",
        intro="A door that you do not list counts as a closed hollow door.",
        essential="passage leaf",
        more="Your own reading is used in place of the usual loss of such a door.",
    ),
    "heard": List(
        "Readings of your own",
        ("sound", "heard"),
        columns(Heard, "sounder room doors_shut level_dba", sounder=c.sounders),
        "reading",
        blank=lambda home: {"sounder": first(c.sounders)(home)},
        intro="Hold a sound level meter at the pillow, set to dB(A). A telephone may be off by 5 dB and more.",
    ),
}


def run_stops(run: PowerRun) -> List:
    """The table of what one cable feeds, in order from the supply."""
    return List(
        f"What “{run.name}” feeds, in order from the supply",
        ("wiring", "runs", run.id, "stops"),
        columns(Stop, "device metres", device=c.fed_devices),
        "stop",
        named_by="device",
        essential="device metres",
    )
