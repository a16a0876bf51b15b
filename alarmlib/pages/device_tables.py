"""The tables and forms of the pages, declared: device types, devices, what each can do, and what they cost."""

from alarmlib.model.devices import DeviceEntry, DeviceType, HazardEntry, WirelessEntry, WirelessFacts
from alarmlib.model.hazards import HazardChoices, HazardTypeFacts
from alarmlib.model.home import Price
from alarmlib.model.site import Site
from alarmlib.model.words import HAZARD_KINDS, Link
from alarmlib.pages.declaring import Group, List, Sheet, columns

_ABOVE = ("", "“Devices” above")

DEVICE_SHEETS: dict[str, Sheet] = {
    "hazard_rules": Sheet(
        "Rules for smoke, heat and CO",
        (
            Group("Ask your fire authority", HazardChoices, " ".join(HazardChoices.model_fields), ("hazards",)),
            Group("The house", Site, "attached_garage fuel_appliances outside_walls_insulated", ("site",)),
        ),
        essential="attached_garage fuel_appliances permit_work",
        more="Which edition or category of the rules holds decides how many alarms you need, and where.",
        may_be_blank="permit_work",
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
        essential="name kind link range_m angle_deg assumed",
        more="These facts show what a detector misses, how it acts after a trip, and how long its battery lasts.",
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
        essential="name type kind link room openings",
        more="The height shows what a detector sees. The rest is for the plan of the work, the costs and the record.",
        may_be_blank="type kind link openings",
    ),
    "detection": List(
        "What each detector can do",
        ("devices",),
        columns(
            DeviceEntry,
            "at facing_deg range_m straight_range_m angle_deg looks_down_deg slowest_m_s ignores_pets_kg "
            "sleep_s movement_restarts_sleep warm_up_s contact_gap_mm tamper level_dba level_at_m has_hold_up "
            "standby quiet_current_a alarm_current_a least_v",
        ),
        "device",
        blank=lambda _home: {"name": "", "kind": "motion"},
        intro="Leave a cell blank where the device is as its type says. Write here only what differs.",
        essential="at facing_deg range_m",
        more="Fill these in only where a device differs from its type.",
        may_be_blank="at facing_deg range_m",
        listed_on=_ABOVE,
    ),
    "wireless": List(
        "Wireless devices",
        ("devices",),
        (
            Group(
                "",
                WirelessEntry,
                "slot battery_fitted_on check_in_s missing_after_s battery battery_lasts_years reports_low_battery",
                ("wireless",),
            ),
        ),
        "device",
        keep=lambda device: device.link is Link.WIRELESS,
        intro="With a flat battery a device guards nothing, until the control unit reports it missing.",
        essential="slot battery_fitted_on battery",
        more="These show how soon you learn that a device is silent. Leave blank what its type says.",
        may_be_blank="slot battery_fitted_on battery",
        listed_on=_ABOVE,
    ),
    "hazard_devices": List(
        "Smoke, heat and CO devices",
        ("devices",),
        (
            Group("", DeviceEntry, "mount made_on"),
            Group("", HazardEntry, " ".join(HazardEntry.model_fields), ("hazard",)),
        ),
        "device",
        keep=lambda device: device.kind in HAZARD_KINDS,
        intro="The household's own alarms work alone, without the control unit, and count first. Enter them among your "
        "devices as well.",
        essential="mount made_on sounds_with_others",
        more="These distances show whether smoke or gas reaches the alarm in time.",
        listed_on=_ABOVE,
    ),
    "device_prices": List(
        "What another device costs",
        ("prices",),
        columns(Price, "kind price"),
        "price",
        blank=lambda _home: {"kind": "contact", "price": 0},
        late=True,
        intro="The search for fixes uses these prices; include the fitting. Without one it assumes a price.",
    ),
}
