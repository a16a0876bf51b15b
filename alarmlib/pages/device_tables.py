"""The tables and forms of the pages, declared: device types, devices, what each can do, and what they cost."""

from alarmlib.model.devices import DeviceEntry, DeviceType, HazardEntry, WirelessEntry, WirelessFacts
from alarmlib.model.hazards import HazardChoices, HazardTypeFacts
from alarmlib.model.home import Price
from alarmlib.model.site import Site
from alarmlib.model.words import HAZARD_KINDS, Link
from alarmlib.pages.declaring import Group, List, Sheet, columns

DEVICE_SHEETS: dict[str, Sheet] = {
    "hazard_rules": Sheet(
        "Rules for smoke, heat and CO",
        (
            Group("Ask your fire authority", HazardChoices, " ".join(HazardChoices.model_fields), ("hazards",)),
            Group("The house", Site, "attached_garage fuel_appliances outside_walls_insulated", ("site",)),
        ),
    ),
}

DEVICE_LISTS: dict[str, List] = {
    "device_types": List(
        "Types of devices",
        ("device_types",),
        (
            Group(
                "",
                DeviceType,
                "name kind link assumed tamper has_hold_up standby contact_gap_mm range_m straight_range_m angle_deg "
                "looks_down_deg slowest_m_s ignores_pets_kg sleep_s movement_restarts_sleep warm_up_s",
            ),
            Group(
                "",
                WirelessFacts,
                "check_in_s missing_after_s battery battery_lasts_years reports_low_battery",
                ("wireless",),
            ),
            Group("", HazardTypeFacts, " ".join(HazardTypeFacts.model_fields), ("hazard",)),
        ),
        "type",
        blank=lambda _home: {"name": "", "kind": "contact", "wireless": {}, "hazard": {}},
        intro="Enter what a manual says once, for all devices that are alike. Then choose a type for each device.",
    ),
    "devices": List(
        "Devices",
        ("devices",),
        columns(
            DeviceEntry,
            "name type kind link state room openings passages zone circuit height_m mount fitted_on price note",
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "contact"},
    ),
    "detection": List(
        "What each detector can do",
        ("devices",),
        columns(
            DeviceEntry,
            "name at facing_deg range_m straight_range_m angle_deg looks_down_deg slowest_m_s ignores_pets_kg "
            "sleep_s movement_restarts_sleep warm_up_s contact_gap_mm tamper level_dba level_at_m has_hold_up "
            "standby quiet_current_a alarm_current_a least_v",
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "motion"},
        intro="Leave a cell blank where the device is as its type says. Write here only what differs.",
    ),
    "wireless": List(
        "Wireless devices",
        ("devices",),
        (
            Group("", DeviceEntry, "name"),
            Group("", WirelessEntry, " ".join(WirelessEntry.model_fields), ("wireless",)),
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "contact", "link": "wireless", "wireless": {}},
        keep=lambda device: device.link is Link.WIRELESS,
    ),
    "hazard_devices": List(
        "Smoke, heat and CO devices",
        ("devices",),
        (
            Group("", DeviceEntry, "name kind link state room at height_m mount made_on"),
            Group("", HazardEntry, " ".join(HazardEntry.model_fields), ("hazard",)),
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "smoke", "link": "own", "hazard": {}},
        keep=lambda device: device.kind in HAZARD_KINDS,
        intro="The household's own alarms work alone, without the control unit, and count first. List "
        "them here as well.",
    ),
    "device_prices": List(
        "What another device costs",
        ("prices",),
        columns(Price, "kind price"),
        "price",
        blank=lambda _home: {"kind": "contact", "price": 0},
        intro="The search for fixes uses these prices; include the fitting. Without one it assumes a price.",
    ),
}
