"""The United States: NFPA, UL and ANSI/SIA documents, and the model codes where they are adopted."""

from alarmlib.rules.country import CarbonMonoxide, CountryRules, FireAlarms, Fitting, Pillow, Setting
from alarmlib.rules.pairs import AMERICAN
from alarmlib.rules.rule import Bound, Limit, Limits, Rule
from alarmlib.rules.shared import AGAINST_CEILING, CONTACTS_IN_A_ZONE, OUTSIDE_DOOR
from alarmlib.units.kinds import FOOT_M

RULES = CountryRules(
    # CP-01 4.2.3.1, 30 s from memory; 240 s seen in NFPA 731 5.1.6.3, which is for other premises: advice.
    entry=Limits(Bound(30, "cp01_entry"), Bound(240, "nfpa731_entry_most"), Bound(30, "cp01_entry")),
    # CP-01 4.2.2.1; 255 s seen in a committee summary, 45 and 60 s from memory.
    exit=Limits(Bound(45, "cp01_exit"), Bound(255, "cp01_exit_most"), Bound(60, "cp01_exit")),
    # From memory, and weak.
    confirmation=Limits(Bound(10, "cp01_cross_zone"), Bound(240, "cp01_cross_zone")),
    setting=Setting(most_repeat_trips=Limit("cp01_swinger", binds=True, value=6), repeat_trips=2),
    fitting=Fitting(
        delayed=Rule("nfpa731_delay"),
        contacts_in_a_zone=CONTACTS_IN_A_ZONE,
        unit_place=Rule("ul1641_unit_place", binds=True),
    ),
    fire=FireAlarms(
        places=Rule("nfpa72_smoke_places", binds=True),
        bedrooms=Rule("nfpa72_smoke_places", binds=True),
        outside_door=OUTSIDE_DOOR,
        both_sides_of_a_door=Rule("nfpa72_smoke_places", binds=True),
        large_level=Limit("nfpa72_area", value=30 * FOOT_M),
        against_ceiling=AGAINST_CEILING,
    ),
    carbon_monoxide=CarbonMonoxide(
        places=Rule("irc_r315", binds=True), bedroom_with_appliance=Rule("irc_r315", binds=True)
    ),
    pillow=Pillow(Limit("nfpa72_pillow", value=75.0), over_noise=True),
    recharge_h=Limit("us_recharge", value=48.0),
    standby=True,
    first_floor_on_the_ground=True,
    words=AMERICAN,
)
