"""How long a siren may sound: codes and advice of places. The local code of today wins."""

from alarmlib.sources.source import Source, Status

_S = Status.SEEN
_LIBRARY = "American Legal Publishing, code library of the city, read in 2026"
_OWN = "the city's own pages, code online, read in 2026"


def _code(key: str, city: str, code: str, clause: str, read_in: str = _LIBRARY) -> Source:
    return Source(key, f"{city}, {code}", "as read in 2026", clause, _S, read_in, f"alarms in {city}")


SOURCES = (
    Source("en50131_siren", "EN 50131-1", "2006", "sounder 90 s to 15 min", Status.MEMORY),
    _code("siren_birch_run", "Birch Run, Michigan", "code of ordinances", "114.08"),
    _code("siren_el_dorado", "El Dorado, Kansas", "code of ordinances", "8.16.040", _OWN),
    _code("siren_helena", "Helena, Montana", "city code", "5-11-11"),
    _code("siren_independence", "Independence, Ohio", "codified ordinances", "725.06"),
    _code("siren_north_st_paul", "North St Paul, Minnesota", "code of ordinances", "99.04"),
    _code("siren_reedley", "Reedley, California", "municipal code", "5-10-10"),
    _code("siren_signal_hill", "Signal Hill, California", "municipal code", "alarm systems"),
    _code("siren_travelers_rest", "Travelers Rest, South Carolina", "code of ordinances", "2.08.240", _OWN),
    Source(
        "siren_nsw",
        "New South Wales, Protection of the Environment Operations (Noise Control) Regulation",
        "2017, in place of the regulation of 2008",
        "building intruder alarms, 5 min; 10 min if installed before 1 December 1997",
        _S,
        "NSW Environment Protection Authority, Managing noise from intruder alarms, read in 2026",
        "alarms heard in a neighbour's home in New South Wales",
    ),
    Source(
        "siren_uk",
        "Code of Practice on Noise from Audible Intruder Alarms",
        "1982, withdrawn",
        "cut-off within 20 min, as councils still quote it",
        _S,
        "pages of Slough, Thurrock, Oldham and Medway councils, read in 2026",
        "alarms in Britain; ask your council",
    ),
    Source(
        "siren_wa",
        "Advice of a city in Western Australia",
        "as read in 2026",
        "10 min",
        _S,
        "City of Joondalup, page on audible alarms, read in 2026",
        "alarms in Western Australia",
    ),
)
