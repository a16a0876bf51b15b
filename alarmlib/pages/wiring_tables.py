"""The tables and forms of pages 05 and 06, declared: supply, loops, cable, cells, boxes, sounders, fitting day."""

from alarmlib.model.circuits import Circuit
from alarmlib.model.devices import DeviceEntry, DeviceType, WirelessEntry, WirelessFacts
from alarmlib.model.sound import Door, Heard, SoundFacts
from alarmlib.model.wiring import Box, LoopInput, PowerRun, Stop, Supply, Wiring
from alarmlib.model.words import Link
from alarmlib.pages import choices as c
from alarmlib.pages.declaring import Group, List, Sheet, columns, first

_SUPPLY = ("wiring", "supply")

WIRING_SHEETS: dict[str, Sheet] = {
    "loop_input": Sheet(
        "How your control unit reads a detector circuit",
        (Group("From its manual", LoopInput, " ".join(LoopInput.model_fields), ("wiring", "loop")),),
        intro="Write each limit as a part of the circuit's own voltage: 6 V of 12 V is 0.5. "
        "Left blank, the ranges are shown and nothing is judged.",
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
        intro="Your own hours count only if you choose that rule.",
    ),
    "fitting_day": Sheet(
        "The day of fitting",
        (Group("In this order; tick what is done", Wiring, "done", ("wiring",), {"done": c.fitting_steps}),),
    ),
    "sound": Sheet(
        "How quiet it is, indoors and next door",
        (
            Group("In the bedrooms", SoundFacts, "ambient_dba loudest_dba", ("sound",)),
            Group("Outside", SoundFacts, "neighbour_m neighbour_dba boundary_m limit_dba", ("sound",)),
        ),
    ),
}

WIRING_LISTS: dict[str, List] = {
    "pair_readings": List(
        "Each pair at the meter",
        ("circuits",),
        columns(
            Circuit,
            "name ending end_resistor_ohm contact_resistor_ohm resistor_across_all detectors_fed cable length_m "
            "measured_ohm open_ohm earth_ohm",
        ),
        "circuit",
        blank=lambda _home: {"name": ""},
        intro="Read each pair before you connect it, with the control unit off: all contacts closed, one open, each "
        "core to earth. Write 10 MΩ where the meter is over range.",
    ),
    "type_currents": List(
        "What wired devices draw, by type",
        ("device_types",),
        columns(DeviceType, "name kind quiet_current_a alarm_current_a least_v standby"),
        "type",
        blank=lambda _home: {"name": "", "kind": "contact", "wireless": {}, "hazard": {}},
        keep=lambda each: each.link is Link.WIRED,
        intro="From the manual, once for all devices of a type.",
    ),
    "type_cells": List(
        "What wireless devices draw, by type",
        ("device_types",),
        (
            Group("", DeviceType, "name kind"),
            Group("", WirelessFacts, "signal_asked battery_mah rests_at_ua report_mas", ("wireless",)),
        ),
        "type",
        blank=lambda _home: {"name": "", "kind": "contact", "link": "wireless", "wireless": {}, "hazard": {}},
        keep=lambda each: each.link is Link.WIRELESS,
        intro="From the manual, once for all devices of a type.",
    ),
    "type_sounds": List(
        "How loud each type of sounder is",
        ("device_types",),
        columns(DeviceType, "name kind level_dba level_at_m tone_hz"),
        "type",
        blank=lambda _home: {"name": "", "kind": "inside_sounder", "wireless": {}, "hazard": {}},
        keep=lambda each: each.kind in c.SOUNDERS,
        intro="A level means nothing without its distance: 85 dB(A) at 3 m is 95 at 1 m.",
    ),
    "currents": List(
        "What wired devices draw",
        ("devices",),
        columns(DeviceEntry, "name quiet_current_a alarm_current_a least_v standby"),
        "device",
        blank=lambda _home: {"name": "", "kind": "contact"},
        keep=lambda device: device.link is Link.WIRED,
    ),
    "boxes": List(
        "Boxes on the way of a message",
        ("wiring", "boxes"),
        columns(Box, "name draws_w fed_by own_battery_wh paths"),
        "box",
        blank=lambda _home: {"name": ""},
        intro="Router, fibre box, hub, switch: what a message needs beside the alarm itself.",
    ),
    "runs": List(
        "Cable that feeds devices",
        ("wiring", "runs"),
        columns(PowerRun, "name size metal ohm_per_km pairs warmest_c"),
        "run",
        blank=lambda _home: {"name": ""},
    ),
    "cells": List(
        "Signal and batteries",
        ("devices",),
        (
            Group("", DeviceEntry, "name"),
            Group(
                "",
                WirelessEntry,
                "signal signal_asked repeater battery_mah rests_at_ua report_mas trips_a_day",
                ("wireless",),
                {"repeater": c.repeaters},
            ),
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "contact", "link": "wireless", "wireless": {}},
        keep=lambda device: device.link is Link.WIRELESS,
        intro="Check-in, missing time, battery and dates are in the table of wireless devices on page 02.",
    ),
    "sounders": List(
        "What sounds, and how loud",
        ("devices",),
        columns(DeviceEntry, "name type kind link room at level_dba level_at_m tone_hz"),
        "sounder",
        blank=lambda _home: {"name": "", "kind": "inside_sounder"},
        keep=lambda device: device.kind in c.SOUNDERS,
        intro="A level means nothing without its distance: 85 dB(A) at 3 m is 95 at 1 m.",
    ),
    "sound_doors": List(
        "Inside doors, and the sound that they hold back",
        ("sound", "doors"),
        columns(Door, "passage leaf loss_db"),
        "door",
        named_by="passage",
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
    )
