"""Rules that several countries share, each written once."""

from alarmlib.rules.country import AgainstCeiling, BesideAppliance, CarbonMonoxide, Fitting, Pillow, Setting
from alarmlib.rules.rule import Bound, Limit, Limits, Rule, Span
from alarmlib.units.kinds import INCH_M

# EN 50131-1 8.3.8.2: unset within 45 s, seen.
UNSET_IN_TIME = Limits(most=Bound(45, "en50131_unset"))
MOST_REPEAT_TRIPS = Limit("cp01_swinger", value=6)
CONTACTS_IN_A_ZONE = Limit("ts50131_7_indication", value=10)
EUROPEAN_SETTING = Setting(
    most_repeat_trips=MOST_REPEAT_TRIPS,
    holds_up=Rule("ts50131_routes"),
    overrides_once=Rule("en50131_table4"),
    faults_prevent=Rule("en50131_table4"),
    tamper_inside=Rule("en50131_table7"),
)
EUROPEAN_FITTING = Fitting(
    delayed=Rule("ts50131_routes"),
    contacts_in_a_zone=Limit("ts50131_7_indication", binds=True, value=10),
    unit_place=Rule("ul1641_unit_place"),
    check_in=Rule("en50131_check_in"),
    tamper_from_grade_2=Rule("en50131_tamper"),
)
# NFPA 72, household chapter, taken as advice where a country's own measures were not seen.
AGAINST_CEILING = AgainstCeiling(
    on_wall=Limit("nfpa_tips", value=12 * INCH_M),
    peak=Rule("nfpa_tips"),
    slope=Rule("nfpa72_slope"),
    raised=Limit("nfpa72_slope", value=12 * INCH_M),
    near_peak_m=36 * INCH_M,
    clear_of_peak_m=4 * INCH_M,
    dead_air=Limit("nfpa72_dead_air", value=4 * INCH_M),
    heat_spacing=Rule("heat_spacing"),
)
OUTSIDE_DOOR = Limit("nfpa72_smoke_places", value=6.4)  # 21 ft, walked
EN_50292 = CarbonMonoxide(
    places=Rule("co_core"),
    bedroom_with_appliance=Rule("en50292"),
    beside=BesideAppliance(
        Span("en50292", least=1.0, most=3.0), Limit("en50292", value=0.3), Limit("en50292", value=0.15)
    ),
)
BEDHEAD = Pillow(Limit("bedhead_75", value=75.0))
EUROPEAN_RECHARGE_H = Limit("en50131_recharge", value=72.0)
