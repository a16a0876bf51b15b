"""What can hurt, and what upkeep asks: who says so."""

from alarmlib.sources.source import Source, Status

_S, _M = Status.SEEN, Status.MEMORY


def _page(key: str, title: str, read_in: str, edition: str = "as read in 2026", clause: str = "") -> Source:
    return Source(key, title, edition, clause, _S, read_in)


SOURCES = (
    _page(
        "caution_carbon_monoxide",
        "Fire service advice on CO alarms",
        "pages of the fire services of Wheaton, Owatonna, South Kingstown and Poway",
    ),
    _page(
        "caution_escape_locks",
        "Advice on keyed locks and window bars: an escape way opens from inside without a key",
        "Home Safety Council, home safety advice; Escondido Fire Department, window bars",
        "2007",
    ),
    _page(
        "caution_flooded_cellar",
        "Advice on a flooded basement",
        "Bonneville Power Administration, basement flooding",
    ),
    _page(
        "caution_generator",
        "Winter storm notice on generators",
        "US Consumer Product Safety Commission, winter storm notice of December 2022",
        "2022",
    ),
    _page(
        "caution_ammeter",
        "Measuring current: the meter goes into the circuit; across a supply it is a short circuit",
        "pages on meters at hobbyprojects.com and garagecircuits.blogspot.com",
    ),
    _page(
        "caution_battery_gas",
        "Lead-acid batteries give off gas that can explode while they charge",
        "Canadian Centre for Occupational Health and Safety, battery page",
        "2018",
    ),
    _page(
        "caution_coin_battery",
        "Coin batteries that a child swallows burn within hours",
        "US Consumer Product Safety Commission, button cell and coin battery pages",
    ),
    _page("caution_ladder", "Ladder notice", "US Consumer Product Safety Commission, ladder notice", "2002"),
    _page("caution_lead_dust", "Questions and answers on lead", "US Environmental Protection Agency, lead answers"),
    Source("caution_memory", "General trade caution", status=_M),
    _page(
        "caution_loft",
        "Going into a loft: step on joists or boards only, and leave loose vermiculite alone",
        "pages of a home inspector and of engineerfix.com; US EPA advice on vermiculite as quoted at nemmar.com",
    ),
    _page(
        "caution_old_system",
        "Taking an old alarm out: its siren may sound when its cable is cut, and its centre may send somebody",
        "doityourself.com, tips for taking an old alarm out",
    ),
    _page(
        "caution_permit",
        "Permits for low-voltage work differ from place to place",
        "Los Angeles County Public Works and others, frequent questions",
    ),
    _page(
        "caution_police_secrecy",
        "Police guidance on keys, absence and valuables",
        "police pages of Victoria and of Logan City",
    ),
    _page(
        "caution_prove_dead",
        "Try a voltage tester on a live point before and after you test a conductor with it",
        "hseblog.com, proving a circuit dead; testguy.net, test procedure in three points",
    ),
    _page("caution_smoke_test", "Smoke alarm leaflet", "US Fire Administration, smoke alarm leaflet"),
    _page(
        "caution_test_calls",
        "Tell whoever receives messages before a test",
        "Vision 20/20, home visit guide; Reedley, California, municipal code 5-10-10",
    ),
    _page(
        "home_visit",
        "Who would not wake and who helps them",
        "Vision 20/20, home visit guide",
    ),
    _page(
        "ordinances_calls",
        "Ordinances on calls to emergency numbers and on hold-up buttons",
        "Everett, Washington, alarm ordinance",
    ),
    _page(
        "smoke_alarm_age",
        "Smoke alarms older than ten years are replaced",
        "a fire service's smoke alarm tips (premiernw.net)",
    ),
    _page(
        "smoke_alarm_fails",
        "Smoke alarms fail for want of a battery, or disconnected; paint and dust",
        "NIST, text of its smoke alarm research; fire service tips",
    ),
    _page("upkeep_hoses", "Hoses and valves every six months", "insurers' water damage tips"),
    _page(
        "upkeep_monthly_alarms",
        "Test smoke and CO alarms monthly",
        "US Fire Administration and US Consumer Product Safety Commission, smoke and CO alarm pages",
    ),
    Source("upkeep_ts50131_7", "CLC/TS 50131-7, maintenance; BS 9263, clause 6", status=_M),
    _page(
        "upkeep_yearly_visit",
        "Trade restatement of PD 6662 and BS 9263: what a yearly visit checks",
        "customsecurity.tv, maintenance list",
    ),
)
