"""How people walk, climb stairs, key in codes, and how an intruder's time is reckoned."""

from alarmlib.sources.source import Source, Status

_S, _M = Status.SEEN, Status.MEMORY

SOURCES = (
    Source("ada_door", "ADA Standards for Accessible Design", "2010", "404.2.8, closer 5 s, spring hinge 1.5 s", _M),
    Source(
        "bohannon_1997",
        "Bohannon, Comfortable and maximum walking speed, Age and Ageing 26:15-19",
        "1997",
        "extremes of the table",
        _S,
        "abstract of the article, PubMed 9143432",
    ),
    Source(
        "bohannon_1997_rows",
        "Bohannon, Comfortable and maximum walking speed, Age and Ageing 26:15-19",
        "1997",
        "rows of the table",
        _M,
    ),
    Source(
        "fruin_stairs",
        "PD 7974-6, Fruin's stair speeds",
        "as read in 2026",
        "stair speeds",
        _S,
        "FireNet community forum, topic 7328",
        "escape from buildings",
    ),
    Source(
        "gilbert_2021",
        "Gilbert and others, What is an important difference in gait speed, Arthritis Care Res 73(4):559-565",
        "2021",
        "table 2: standard error of measurement 4.1 m/min over 20 m at usual pace",
        _S,
        "the published article, table 2",
    ),
    Source(
        "klm",
        "Card, Moran and Newell, keystroke-level model",
        "1980",
        "operators K, P, H, M",
        _S,
        "University of Hamburg, course page on GOMS, read in 2026",
    ),
    Source(
        "tcrp_2005",
        "TCRP and NCHRP study of pedestrian speeds",
        "2005",
        "15th percentiles",
        _S,
        "abstract of a later article, Another look at pedestrian walking speed, read in 2026",
        "road crossings",
    ),
)
