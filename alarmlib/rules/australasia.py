"""Australia and New Zealand: too little was seen of their rules to offer them.

Of AS/NZS 2201.1 its headings were seen, and that the control unit is inside the guarded area, away from the entry; no
time, no number. A home of before that chose these rules keeps them, with what is advice anywhere, and is told so.
"""

from alarmlib.rules.country import CountryRules, FireAlarms, Fitting, Setting
from alarmlib.rules.rule import NO_LIMITS, Rule
from alarmlib.rules.shared import (
    AGAINST_CEILING,
    BEDHEAD,
    CONTACTS_IN_A_ZONE,
    EN_50292,
    MOST_REPEAT_TRIPS,
    OUTSIDE_DOOR,
)

RULES = CountryRules(
    entry=NO_LIMITS,
    exit=NO_LIMITS,
    confirmation=NO_LIMITS,
    setting=Setting(most_repeat_trips=MOST_REPEAT_TRIPS),
    fitting=Fitting(
        delayed=Rule("nfpa731_delay"), contacts_in_a_zone=CONTACTS_IN_A_ZONE, unit_place=Rule("ul1641_unit_place")
    ),
    fire=FireAlarms(
        places=Rule("smoke_core"),
        bedrooms=Rule("smoke_core"),
        outside_door=OUTSIDE_DOOR,
        against_ceiling=AGAINST_CEILING,
    ),
    carbon_monoxide=EN_50292,
    pillow=BEDHEAD,
    not_offered="Too little was seen of the rules of Australia and New Zealand. No limit for delays is known "
    "here, and your alarms are compared with general advice only.",
)
