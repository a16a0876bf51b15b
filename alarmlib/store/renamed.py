"""What home files of version 1 called what is called otherwise now: fields, and the values of closed lists."""

from collections.abc import Mapping

# Fields that are in several parts have one new name in all of them.
FIELDS: Mapping[str, str] = {
    "battery_ah": "standby_battery_ah",
    "can_disarm": "can_unset",
    "cell_mah": "battery_mah",
    "cross_zone_s": "confirmation_s",
    "final_door": "entry_exit",
    "free_when_away": "free_when_empty",
    "has_panic": "has_hold_up",
    "looks_before_arming": "looks_before_setting",
    "movement_restarts_quiet": "movement_restarts_sleep",
    "open_at_arming": "open_at_setting",
    "out_of_service": "out_of_use",
    "panic_silent": "hold_up_silent",
    "partner": "confirmed_by",
    "quiet_time_s": "sleep_s",
    "shut_ohm": "closed_ohm",
    "tells_apart": "recognises",
    "unit": "control_unit",
    "wire_free": "wireless",
    "wire_free_slots": "wireless_slots",
}

_FUNCTIONS = {
    "final_door": "entry_exit",
    "interior_delayed": "entry_exit",
    "perimeter": "at_once",
    "interior": "at_once",
    "day": "warn_unset",
    "always_audible": "always_siren",
    "always_silent": "always_message",
    "panic": "hold_up",
    "cold": "low_temperature",
}
_KINDS = {
    "panic_button": "hold_up",
    "cold": "low_temperature",
    "outside_sounder": "outside_siren",
    "message_sender": "communicator",
}
# The old values of each closed list, by the list's name in the model.
VALUES: Mapping[str, Mapping[str, str]] = {
    "Function": _FUNCTIONS,
    "DeviceKind": _KINDS,
    "Link": {"wire_free": "wireless"},
    "DeviceState": {"out_of_service": "out_of_use"},
    "Deed": {
        "arm_away": "set_full",
        "arm_part": "set_part",
        "disarm": "unset",
        "fob_arm": "fob_set",
        "fob_disarm": "fob_unset",
        "bypass": "inhibit",
        "panic": "hold_up",
    },
    "BeginsIn": {"away": "set_full", "part": "part_set"},
    "FedBy": {"alarm_battery": "standby_battery"},
    "EventKind": {"cold": "low_temperature", "trouble": "fault"},
    "OpenAtSetting": {"bypass_once": "inhibit_once"},
}
# Where those lists are in a home file, by the fields' new names; "*" is each element of a list.
PLACES: Mapping[tuple[str, ...], str] = {
    ("control_unit", "zones", "*", "function"): "Function",
    ("control_unit", "seasons", "*", "zones", "*", "function"): "Function",
    ("control_unit", "limits", "functions", "*"): "Function",
    ("control_unit", "behaviour", "open_at_setting"): "OpenAtSetting",
    ("devices", "*", "kind"): "DeviceKind",
    ("devices", "*", "link"): "Link",
    ("devices", "*", "state"): "DeviceState",
    ("prices", "*", "kind"): "DeviceKind",
    ("household", "habits", "*", "begins_in"): "BeginsIn",
    ("household", "habits", "*", "steps", "*", "deed"): "Deed",
    ("messages", "messages", "*", "event"): "EventKind",
    ("wiring", "boxes", "*", "fed_by"): "FedBy",
}
