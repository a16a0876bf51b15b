"""Europe: EN 50131-1 with its application guidelines, EN 50292 for carbon monoxide."""

from alarmlib.rules.country import CountryRules, FireAlarms
from alarmlib.rules.rule import NO_LIMITS, Rule
from alarmlib.rules.shared import (
    AGAINST_CEILING,
    BEDHEAD,
    EN_50292,
    EUROPEAN_FITTING,
    EUROPEAN_RECHARGE_H,
    EUROPEAN_SETTING,
    OUTSIDE_DOOR,
    UNSET_IN_TIME,
)

RULES = CountryRules(
    entry=UNSET_IN_TIME,
    exit=NO_LIMITS,  # EN 50131-1 sets no longest exit time, from memory
    confirmation=NO_LIMITS,
    setting=EUROPEAN_SETTING,
    fitting=EUROPEAN_FITTING,
    fire=FireAlarms(
        places=Rule("smoke_core"),
        bedrooms=Rule("smoke_core"),
        outside_door=OUTSIDE_DOOR,
        against_ceiling=AGAINST_CEILING,
    ),
    carbon_monoxide=EN_50292,
    pillow=BEDHEAD,
    recharge_h=EUROPEAN_RECHARGE_H,
)
