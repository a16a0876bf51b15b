"""Where each rule and figure comes from, once, by key."""

from dataclasses import dataclass
from enum import StrEnum


class Status(StrEnum):
    """How far a source was seen; only `SEEN` and `OWNER` may carry a finding that must be mended."""

    SEEN = "seen"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"
    COMPUTED = "computed here"
    OWNER = "the owner's own papers"


@dataclass(frozen=True)
class Source:
    """A published rule, table or formula, with edition and clause, and how far it was seen."""

    key: str
    title: str
    edition: str = ""
    clause: str = ""
    status: Status = Status.MEMORY

    def __str__(self) -> str:
        cited = ", ".join(part for part in (self.title, self.edition, self.clause) if part)
        return f"{cited} ({self.status.value})"


def cite(key: str) -> Source:
    """The source of that key; `KeyError` when nobody has written it down."""
    return _BY_KEY[key]


def every_source() -> tuple[Source, ...]:
    """All sources, by key."""
    return tuple(_BY_KEY[key] for key in sorted(_BY_KEY))


_S, _M, _P, _C, _O = Status.SEEN, Status.MEMORY, Status.PRACTICE, Status.COMPUTED, Status.OWNER
_SOURCES = (
    Source(
        "ada_door",
        "ADA Standards for Accessible Design",
        "2010",
        "404.2.8, closer 5 s, spring hinge 1.5 s",
        _M,
    ),
    Source("andrews_2010", "Andrews and others, walking speed at crossings", "2010", "abstract, n = 139", _S),
    Source(
        "gilbert_2021",
        "Gilbert and others, What is an important difference in gait speed, Arthritis Care Res 73(4):559-565",
        "2021",
        "table 2: standard error of measurement 4.1 m/min over 20 m at usual pace",
        _S,
    ),
    Source(
        "bohannon_1997",
        "Bohannon, Comfortable and maximum walking speed, Age and Ageing 26:15-19",
        "1997",
        "abstract: extremes of the table",
        _S,
    ),
    Source(
        "bohannon_1997_rows",
        "Bohannon, Comfortable and maximum walking speed, Age and Ageing 26:15-19",
        "1997",
        "rows of the table",
        _M,
    ),
    Source(
        "coverage_assumed",
        "Coverage computed here; range, beams, heat and what furniture hides as common practice has them",
        status=_P,
    ),
    Source("late_limit", "One evening in 100 too late: our own limit, common practice, no source", status=_P),
    Source("computed", "Computed here from the facts entered", status=_C),
    Source("cp01_abort", "ANSI/SIA CP-01", "2010", "4.2.5.1, 45 s and 30 s", _M),
    Source(
        "cp01_abort_2009",
        "ANSI/SIA CP-01, as reported by the trade press",
        "before 2010",
        "abort window of 15 s at least",
        _S,
    ),
    Source(
        "cp01_abort_2010",
        "ANSI/SIA CP-01, as reported by the trade press",
        "2010",
        "abort window may be 0 s",
        _S,
    ),
    Source("cp01_cross_zone", "ANSI/SIA CP-01", "", "4.3.1, cross-zone timer (weak)", _M),
    Source("cp01_entry", "ANSI/SIA CP-01", "", "4.2.3.1, 30 s", _M),
    Source("cp01_exit", "ANSI/SIA CP-01", "", "4.2.2.1, 45 s and 60 s", _M),
    Source(
        "cp01_exit_most",
        "ANSI/SIA CP-01, summary of requirements in a committee's minutes",
        "2008",
        "4.2.2.1, 255 s",
        _S,
    ),
    Source("cp01_exit_and_test", "ANSI/SIA CP-01, summary of requirements", "2008", "4.2.2.3, 4.6.3", _S),
    Source("cp01_features", "ANSI/SIA CP-01", "2010", "4.2.2 to 4.3.3, as commonly repeated", _M),
    Source("cp01_power", "ANSI/SIA CP-01, committee draft", "2005", "4.4.3, state kept, 60 s of ignoring", _S),
    Source("cp01_swinger", "Trade news on the revised CP-01", "2010", "4.3.2, 1 to 6 trips, 2 as delivered", _S),
    Source("cp01_tolerance", "ANSI/SIA CP-01, committee draft", "2009", "3.1.2, ±10 %", _S),
    Source("dd243_window", "DD 243, summary", "2004", "confirmation window of 30 to 60 min", _S),
    Source("contact_on_steel", "Trade rule: steel about halves the reach of a magnet", "", "", _M),
    Source(
        "easi",
        "Bennett, The EASI approach to physical security evaluation, as written out in an open program",
        "1977",
        "",
        _S,
    ),
    Source("en50131_siren", "EN 50131-1", "", "sounder 90 s to 15 min", _M),
    Source(
        "en50131_grades",
        "EN 50131-1, a system takes the grade of its lowest part, as the trade press reports",
        "2006",
        "",
        _S,
    ),
    Source("en50131_table4", "EN 50131-1", "", "8.3.4 to 8.3.6, table 4", _S),
    Source("en50131_table7", "EN 50131-1", "", "table 7, note 5", _S),
    Source("en50131_unset", "EN 50131-1, as quoted in CLC/TS 50131-7", "", "8.3.8.2, unset within 45 s", _S),
    Source("fruin_stairs", "PD 7974-6, Fruin's stair speeds, as quoted in a fire engineering forum", "", "", _S),
    Source("kasovic_2021", "Kasović and others, Clin. Interv. Aging 16:225", "2021", "n = 565", _S),
    Source("klm", "Card, Moran and Newell, keystroke-level model, as printed by a university", "", "", _S),
    Source("laplante_2007", "LaPlante and Kaeser, pedestrian walking speed", "2007", "abstract", _S),
    Source("listing_60", "Listing condition: entry delay and abort window at most 60 s together", "", "", _M),
    Source("mutcd_2009", "MUTCD, as quoted from an FHWA answer", "2009", "4E.06", _S),
    Source(
        "adb_alarms",
        "Approved Document B (England and Wales), extract 1.11 to 1.15 on a trade page",
        "an older edition",
        "alarms: 7.5 m, 300 mm, 25 to 600 mm, heat 25 to 150 mm",
        _S,
    ),
    Source("bs5839_6_bedroom", "Practice page on BS 5839-6", "2010", "3 m from bedroom doors", _S),
    Source("bs5839_6_categories", "Trade journal on BS 5839-6", "2019", "LD1, LD2, LD3", _S),
    Source("bs5839_6_slope", "Shop advice and practice pages on BS 5839-6", "2010 to 2021", "slopes", _S),
    Source("bs5839_reach", "BS 5839-1", "", "7.5 m smoke, 5.3 m heat", _M),
    Source("co_city", "Illinois act of 2013 and a city's code: 15 ft of every bedroom, or in it", "2013", "", _S),
    Source("co_core", "NFPA 720 as quoted: central, outside each sleeping area, near the bedrooms", "2005", "", _S),
    Source("co_keep_off", "Inspectors' guide: CO alarms off garages, kitchens, furnace rooms, sun, vents", status=_S),
    Source("co_levels", "NFPA 720", "2009 and later", "every level", _M),
    Source("en50292", "EN 50292", "", "1 to 3 m from the appliance, 300 mm, 150 mm", _M),
    Source(
        "glass_break_reach",
        "Glass-break detectors: 6 to 8 m, same room, panes of 0.3 m or more, no heavy curtains (EN 50131-2-7-1)",
        status=_M,
    ),
    Source("heat_no_smoke", "NFPA 72, household chapter", "", "heat detectors are further devices", _M),
    Source("heat_rating", "Trade journal on spacing: rating 20 °F above the hottest expected", status=_S),
    Source("heat_spacing", "NFPA 72", "", "ch. 17, 0.7 of the listed spacing", _M),
    Source("interconnect_new", "NFPA 72, household chapter", "", "all sound, in new work", _M),
    Source("nfpa72_area", "NFPA 72, household chapter", "2007 and later", "1000 ft², 500 ft², 30 ft", _M),
    Source(
        "nfpa72_clearances",
        "Vermont fire safety division, smoke alarm placement after NFPA 72",
        "",
        "36 in, 40 °F and 100 °F, cold walls, stairs",
        _S,
    ),
    Source(
        "nfpa72_cooking",
        "NFPA 72, household chapter, by a trade journal and a proposed amendment of 2022",
        "2013 and 2022",
        "10 ft, 20 ft, 6 ft in an open plan",
        _S,
    ),
    Source("nfpa72_dead_air", "Older NFPA advice, quoted in a trade forum", "before 2010", "4 in from the corner", _S),
    Source("nfpa72_either_list", "NFPA 72, household chapter, by a training centre", "2013 and 2019", "", _S),
    Source("nfpa72_great_room", "NFPA 72, household chapter", "", "great rooms", _M),
    Source("nfpa72_slope", "NFPA 72, household chapter", "", "sloping and tray ceilings", _M),
    Source("nfpa_tips", "NFPA safety tips, copied by fire services; Fig. A.29.8.3.1 of 2013", "2013", "", _S),
    Source("smoke_core", "Common core of national rules: bedrooms, the way outside them, every level", status=_P),
    Source("nfpa731_entry_most", "NFPA 731", "", "5.1.6.3, 240 s", _S),
    Source("nfpa731_walk", "NFPA 731", "", "5.1.6.2, disarm point within 15 s", _S),
    Source(
        "asnzs2201_unit_place",
        "University survey of 20 sites against AS 2201.1: unit inside the guarded area, away from the entry",
        "2006",
        "",
        _S,
    ),
    Source("en50131_check_in", "EN 50131-5-3, periodic message by grade", "", "240 min, 120 min, 100 s, 10 s", _M),
    Source("en50131_tamper", "EN 50131-1, tamper of housings by grade", "", "", _M),
    Source("false_alarm_guide", "US Department of Justice COPS guide, False Burglar Alarms", "2nd edition", "", _S),
    Source("home_visit", "Fire service home visit guides: who would not wake and who helps them", "", "", _S),
    Source("irc_r315", "International Residential Code", "2018", "R315, CO alarms", _S),
    Source(
        "nfpa72_smoke_places",
        "NFPA 72, household chapter",
        "2010 and 2013",
        "sleeping rooms, outside them, every level",
        _S,
    ),
    Source("nfpa731_delay", "NFPA 731", "", "5.1.6.1, only entry doors and route detectors delayed", _S),
    Source("nfpa731_test", "NFPA 731", "", "10.1, inspection, test and maintenance", _S),
    Source(
        "ordinances_calls",
        "Ordinances on calls to emergency numbers and panic buttons (Everett WA and others)",
        "",
        "",
        _S,
    ),
    Source(
        "ts50131_7_indication", "CLC/TS 50131-7", "", "ten plain detectors an indication, processing ones their own", _S
    ),
    Source("ts50131_7_surroundings", "CLC/TS 50131-7, annexes on influences", "", "", _M),
    Source("ul1641_cover", "UL 1641, excerpt", "2015", "18.1, accessible openings", _S),
    Source(
        "ul1641_shock", "UL 1641, excerpt", "2015", "15.4.1, a shock unit on a movable opening needs a contact too", _S
    ),
    Source("ul1641_unit_place", "UL 1641, excerpt", "2015", "17.1, unit inside the guarded area", _S),
    Source("ul985_sets", "UL 985 and UL 1023, scope", "", "fire apart from burglary", _S),
    Source("owner", "The owner's own papers and words", status=_O),
    Source(
        "caution_carbon_monoxide",
        "Fire service pages on CO alarms (Wheaton, Owatonna, South Kingstown, Poway)",
        status=_S,
    ),
    Source(
        "caution_escape_locks",
        "Home Safety Council (2007) and Escondido Fire, on keyed locks and window bars",
        status=_S,
    ),
    Source("caution_flooded_cellar", "Bonneville Power Administration, basement flooding page", status=_S),
    Source("caution_generator", "US Consumer Product Safety Commission, winter storm notice", "2022", status=_S),
    Source("caution_ladder", "US Consumer Product Safety Commission, ladder notice", "2002 print", status=_S),
    Source("caution_lead_dust", "US Environmental Protection Agency, lead questions and answers", status=_S),
    Source("caution_memory", "General trade caution", status=_M),
    Source(
        "caution_permit",
        "Los Angeles County public works FAQ and others: low-voltage permits differ",
        status=_S,
    ),
    Source(
        "caution_police_secrecy",
        "Police guidance on keys, absence and valuables (Victoria, Logan City)",
        status=_S,
    ),
    Source("caution_smoke_test", "US Fire Administration, smoke alarm leaflet", status=_S),
    Source("caution_test_calls", "Vision 20/20 home visit guide; Reedley CA ordinance 5-10-10", status=_S),
    Source("household_fire_72", "NFPA 72, household chapter, as quoted by a trade journal", "2007", "ch. 11", _S),
    Source("smoke_alarm_age", "Fire service smoke alarm tips: replace when older than ten years", status=_S),
    Source(
        "smoke_alarm_fails",
        "NIST smoke alarm research and fire service tips: no battery, or disconnected; paint and dust",
        status=_S,
    ),
    Source("upkeep_hoses", "Insurers' water damage tips: hoses and valves every six months", status=_S),
    Source(
        "upkeep_monthly_alarms",
        "US Fire Administration and CPSC: test smoke and CO alarms monthly",
        status=_S,
    ),
    Source("upkeep_ts50131_7", "CLC/TS 50131-7, maintenance; BS 9263, clause 6", status=_M),
    Source(
        "upkeep_yearly_visit",
        "Trade restatement of PD 6662 and BS 9263: what a yearly visit checks",
        status=_S,
    ),
    Source("practice", "Common practice, no source", status=_P),
    Source("astm_b258", "ASTM B258, as quoted by an encyclopedia", "2002", "diameters of gauges", _S),
    Source("iacs", "IEC 60028, IACS 100 %: 58 MS/m, 0.00393 a °C", "1925", "", _S),
    Source("iec60228", "IEC 60228, greatest resistances at 20 °C, by cable makers' tables", "", "classes 1, 2, 5", _S),
    Source("voltage_drop", "Electricians' training course, Vdrop = 2 L r I", "", "week 5", _S),
    Source("copper_clad", "Laboratory page on conductivity: copper-clad aluminium 62 to 68 % IACS", status=_S),
    Source("loop_divider", "Voltage divider, checked with ngspice", status=_C),
    Source("loop_resistors", "Trade page on circuit supervision: resistors at the device", "", "", _S),
    Source("loop_100_ohm", "Trade documents: 100 Ω at most for a wired zone", "", "", _S),
    Source("fire_circuit", "Fire circuits: open at rest, end resistor, nothing else on them", status=_P),
    Source(
        "en50131_standby", "EN 50131-1, standby by grade, as summarised by a trade document", "", "12, 60, 30 h", _S
    ),
    Source("en50131_recharge", "EN 50131-6, as summarised by a trade document", "", "72 h, grades 1 and 2", _S),
    Source("ul1023_standby", "UL 1023, household burglary", "", "4 h", _M),
    Source("nfpa72_standby", "NFPA 72, household fire, by a trade journal", "2007", "11.6.2, 24 h and 4 min", _S),
    Source("nfpa72_premises", "NFPA 72, protected premises, by exam notes", "", "10.6.7, 24 h and 5 min", _S),
    Source("us_recharge", "NFPA 72 and UL, recharge", "", "48 h", _M),
    Source("bs5839_1_battery", "BS 5839-1, Annex E, by a trade guide", "2025", "1.25 (T1 I1 + D I2 T2)", _S),
    Source("peukert", "Peukert's law in its rated form, t = H (C / (I H))^k", status=_S),
    Source("battery_cold", "A battery maker's table of temperature and capacity", status=_S),
    Source("battery_80", "A battery maker: replace at 80 % of rated capacity", status=_S),
    Source("battery_factor", "1.25 on a battery: one over the 80 % at which it is replaced", status=_P),
    Source("battery_cold_factor", "A battery made larger for the cold: divided by the share that is left", status=_P),
    Source("battery_share", "Storage battery maintenance text: capacity is actual over rated time", "1997", "", _S),
    Source(
        "battery_sizes",
        "Trade pages on standby batteries: usual sizes of sealed lead-acid, 12 V",
        "",
        "1.2, 2.1, 3.2, 4, 7, 12, 17, 24, 40 Ah",
        _S,
    ),
    Source("battery_life", "Trade pages: sealed lead-acid standby batteries last 3 to 5 years", status=_S),
    Source("nfpa72_margin", "NFPA 72, 20 % on a standby battery", "2013", "10.6.7.2", _M),
    Source("point_source", "University and fire trade pages, 6 dB for each doubling", status=_S),
    Source("door_loss", "Lee and Kim, bedroom doors in 22 flats 18 to 23 dB", "2018", "abstract", _S),
    Source("nfpa72_sleeping", "NFPA 72, as quoted in a code forum", "", "18.4.6.1, 18.4.6.2", _S),
    Source("nfpa72_loudest", "NFPA 72, as quoted in a code forum", "", "18.4.1.2, 110 dBA", _S),
    Source("bedhead_75", "BS 5839-1, 75 dB(A) at the bedhead, as quoted in a fire safety forum", "", "", _S),
    Source("niosh_noise", "NIOSH recommended exposure limit, 85 dBA for 8 h, 3 dB exchange", "1998", "", _S),
    Source("sfpe_stairs", "SFPE handbook, stair constants", "", "", _M),
    Source("siren_birch_run", "Birch Run, Michigan, code of ordinances", "", "114.08", _S),
    Source("siren_el_dorado", "El Dorado, Kansas, code of ordinances", "", "8.16.040", _S),
    Source("siren_helena", "Helena, Montana, city code", "", "5-11-11", _S),
    Source("siren_independence", "Independence, Ohio, codified ordinances", "", "725.06", _S),
    Source("siren_north_st_paul", "North St Paul, Minnesota, code of ordinances", "", "99.04", _S),
    Source("siren_nsw", "New South Wales regulation", "2008", "clause 53", _S),
    Source("siren_reedley", "Reedley, California, municipal code", "", "5-10-10", _S),
    Source("siren_signal_hill", "Signal Hill, California, municipal code", "", "", _S),
    Source("siren_travelers_rest", "Travelers Rest, South Carolina, code of ordinances", "", "2.08.240", _S),
    Source(
        "siren_uk",
        "Code of Practice on Noise from Audible Intruder Alarms",
        "1982",
        "cut-off within 20 min, as councils quote it",
        _S,
    ),
    Source("siren_wa", "Advice of a city in Western Australia", "", "10 min", _S),
    Source(
        "tcrp_2005",
        "TCRP and NCHRP study of pedestrian speeds, via a later abstract",
        "2005",
        "15th percentiles",
        _S,
    ),
    Source("ts50131_routes", "CLC/TS 50131-7", "", "rules for exit and entry routes", _S),
    Source("ul1641_reach", "UL 1641, excerpt", "2015", "18.1, 18.2 (angle rule not seen)", _S),
    Source("ul1641_shunt", "UL 1641, excerpt", "2015", "16.1, 16.2", _S),
    Source("ul1641_steps", "UL 1641, excerpt", "2015", "15.3.1, four steps of 24 in", _S),
)
_BY_KEY = {source.key: source for source in _SOURCES}
