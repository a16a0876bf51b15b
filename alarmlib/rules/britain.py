"""Britain: EN 50131 with British codes; Approved Document B and BS 5839-6 for fire, as published pages tell them."""

from alarmlib.rules.country import Categories, CountryRules, FireAlarms
from alarmlib.rules.rule import NO_LIMITS, Bound, Limit, Limits, Rule, Span
from alarmlib.rules.shared import (
    BEDHEAD,
    EN_50292,
    EUROPEAN_FITTING,
    EUROPEAN_RECHARGE_H,
    EUROPEAN_SETTING,
    UNSET_IN_TIME,
)

_CATEGORIES = Categories(
    rooms=Rule("bs5839_6_categories"),
    habitable_door=Limit("adb_alarms", value=7.5),
    bedroom_door=Limit("bs5839_6_bedroom", value=3.0),
    clear=Limit("adb_alarms", value=0.3),
    smoke_down=Span("adb_alarms", least=0.025, most=0.6),
    heat_down=Span("adb_alarms", least=0.025, most=0.15),
    apex=Limit("bs5839_6_slope", value=0.9),
    smoke_below_apex=Limit("bs5839_6_slope", value=0.6),
    heat_below_apex=Limit("bs5839_6_slope", value=0.15),
    smoke_reach=Limit("bs5839_reach", value=7.5),
    heat_reach=Limit("bs5839_reach", value=5.3),
    by_heaters_and_stairs=Rule("adb_alarms"),
    open_kitchen=Rule("adb_alarms"),
)
RULES = CountryRules(
    entry=UNSET_IN_TIME,
    exit=NO_LIMITS,
    # Two detectors confirm one another within 30 to 60 min: seen, for systems that a receiving centre watches.
    confirmation=Limits(Bound(30 * 60, "dd243_window"), Bound(60 * 60, "dd243_window")),
    setting=EUROPEAN_SETTING,
    fitting=EUROPEAN_FITTING,
    fire=FireAlarms(
        places=Rule("adb_alarms"),
        bedrooms=Rule("smoke_core"),  # LD1 alone asks for them
        linked=Rule("adb_alarms"),
        categories=_CATEGORIES,
    ),
    carbon_monoxide=EN_50292,
    pillow=BEDHEAD,
    recharge_h=EUROPEAN_RECHARGE_H,
)
