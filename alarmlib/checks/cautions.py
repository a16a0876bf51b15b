"""What can hurt, said before the step and again in the record: each with an id to tick and who says so."""

from dataclasses import dataclass

from alarmlib.sources import Source, cite


@dataclass(frozen=True)
class RiskyStep:
    """A step that can hurt: the page, the cell there that the cautions come before, and the heading above them."""

    page: str
    cell: str
    title: str


@dataclass(frozen=True)
class Advice:
    """One caution: the id that is ticked, its text, and its source (a key of `alarmlib.sources`).

    `before` names the cells of `STEPS` that it comes before; `sections` the sections of the record that begin with it.
    """

    id: str
    text: str
    source: str
    before: tuple[str, ...]
    sections: tuple[str, ...]

    @property
    def cited(self) -> Source:
        """Who says so, and how far that was seen."""
        return cite(self.source)


STEPS = {
    step.cell: step
    for step in (
        RiskyStep("00_start", "short_path", "Read this first"),
        RiskyStep("00_start", "found", "Before you touch an old system"),
        RiskyStep("01_survey", "openings", "Before you look at the ways in"),
        RiskyStep("01_survey", "opening_facts", "Before you measure heights and change locks"),
        RiskyStep("01_survey", "hazards", "Before you look for fire, gas, water and frost"),
        RiskyStep("02_detectors", "hazard_devices", "Before you work on smoke, heat and CO alarms"),
        RiskyStep("04_times", "walks", "Before you walk with a stopwatch"),
        RiskyStep("04_times", "messages_self", "Before the system calls by itself"),
        RiskyStep("05_wiring_power", "pair_readings", "Before you measure a pair"),
        RiskyStep("05_wiring_power", "cells", "Before you change device batteries"),
        RiskyStep("05_wiring_power", "runs", "Before you lay cable"),
        RiskyStep("05_wiring_power", "currents", "Before you measure current"),
        RiskyStep("05_wiring_power", "supply", "Before you connect power"),
        RiskyStep("05_wiring_power", "fitting_day", "Before the day of fitting"),
        RiskyStep("06_sounders", "sound", "Before you rely on a sounder"),
        RiskyStep("06_sounders", "heard", "Before you sound a siren"),
        RiskyStep("10_test_walk", "test_plan", "Before the walk test"),
        RiskyStep("10_test_walk", "upkeep", "Before upkeep"),
    )
}


CAUTIONS = (
    Advice(
        "life_safety_first",
        "Smoke and carbon monoxide alarms that your local code asks for come first. "
        "This system never replaces them. Keep them working while you fit it.",
        "caution_memory",
        ("short_path", "hazard_devices"),
        ("hazards",),
    ),
    Advice(
        "planning_aid",
        "This workbook helps you to plan and learn; it approves nothing. Where they differ from it, follow your "
        "local code, your authority and the manual of each device. Some places ask for a permit, even for low "
        "voltage.",
        "caution_permit",
        ("short_path",),
        ("house",),
    ),
    Advice(
        "consent",
        "Everybody who lives here, and the landlord, must agree to the system. "
        "Never use it to watch a person or to lock a person in.",
        "practice",
        ("short_path",),
        ("household",),
    ),
    Advice(
        "unknown_cable",
        "A cable that you do not know may carry mains. Test every core for voltage first, with a tester that you have "
        "just tried on a live socket. If it is live, or you are not sure, stop and call an electrician.",
        "caution_prove_dead",
        ("found",),
        ("inherited",),
    ),
    Advice(
        "old_siren",
        "An old bell or siren may sound when you cut its cable, and its monitoring centre may still send "
        "somebody. End the contract and tell the neighbours first. Protect your ears, and do not cut while you "
        "are on a ladder.",
        "caution_old_system",
        ("found",),
        ("inherited",),
    ),
    Advice(
        "old_battery",
        "An old standby battery may be swollen or leak acid. Do not open it; wear gloves and eye protection, "
        "and take it to a collection point.",
        "caution_memory",
        ("found", "upkeep"),
        ("inherited", "upkeep"),
    ),
    Advice(
        "heights",
        "Look at upper windows, ledges and the roof from the ground or from inside. "
        "Do not climb to measure them: “not known” is a good answer.",
        "caution_memory",
        ("openings", "opening_facts"),
        ("house", "walk_sheet"),
    ),
    Advice(
        "escape_ways",
        "Never lock anybody in. An escape way must open from inside without a key, even where it has bars or a grille.",
        "caution_escape_locks",
        ("opening_facts",),
        ("house", "walk_sheet"),
    ),
    Advice(
        "gas_smell",
        "A CO alarm does not sense leaking gas. If you smell gas, leave, touch no switch, and call from outside.",
        "caution_memory",
        ("hazards",),
        ("hazards",),
    ),
    Advice(
        "water_and_cold",
        "A sensor for water or cold only warns; somebody must come. Water in a cellar may be live, so do not "
        "step into it.",
        "caution_flooded_cellar",
        ("hazards",),
        ("hazards",),
    ),
    Advice(
        "generator",
        "Run a generator only outside, at least 6 m (20 ft) from the house.",
        "caution_generator",
        ("hazards",),
        ("hazards",),
    ),
    Advice(
        "smoke_sounds",
        "If a smoke alarm sounds, everybody goes out, closes the doors behind them and meets outside. "
        "Call from there and stay out. Never silence it first and look later.",
        "caution_memory",
        ("hazard_devices",),
        ("hazards",),
    ),
    Advice(
        "co_sounds",
        "If a CO alarm sounds, everybody goes out to fresh air. Count heads, call from there and wait for the crew. "
        "Never silence it and stay.",
        "caution_carbon_monoxide",
        ("hazard_devices",),
        ("hazards",),
    ),
    Advice(
        "alarms_fail",
        "An alarm fails most often because its battery is flat or missing, or it is unplugged. "
        "Test it every month. Never paint it, and take dust covers off after the work.",
        "smoke_alarm_fails",
        ("hazard_devices",),
        ("hazards",),
    ),
    Advice(
        "stopwatch_walks",
        "A walk that takes too long sounds the siren and may send messages: tell the household and whoever receives "
        "them first. Walk at your ordinary pace with the light on. Nobody hurries on stairs.",
        "caution_test_calls",
        ("walks",),
        ("times", "test_plan"),
    ),
    Advice(
        "calls_by_itself",
        "Many places forbid a system to call the emergency number by itself. A false call takes help away from "
        "somebody else. Ask your authority before you choose this.",
        "ordinances_calls",
        ("messages_self",),
        ("messages",),
    ),
    Advice(
        "measured_pair",
        "Unplug the control unit and disconnect its battery before you measure a pair. "
        "Test the pair for voltage before you measure ohms, and measure it before you join it.",
        "caution_prove_dead",
        ("pair_readings",),
        ("loops",),
    ),
    Advice(
        "coin_cells",
        "A coin battery can burn a child who swallows it within two hours. Keep new and old ones out of reach. "
        "If a child may have swallowed one, get medical help at once.",
        "caution_coin_battery",
        ("cells", "upkeep"),
        ("radio", "upkeep"),
    ),
    Advice(
        "cable_holes",
        "Keep alarm cable and mains cable apart, in separate holes. "
        "Seal every hole through a wall, floor or ceiling that must hold back fire.",
        "caution_memory",
        ("runs",),
        ("cables",),
    ),
    Advice(
        "current_in_lead",
        "To measure current, put the meter into one lead of the battery, never across it: that is a short circuit "
        "and can burn you. Switch off while you put it in and take it out. Begin with the highest range.",
        "caution_ammeter",
        ("currents",),
        ("power",),
    ),
    Advice(
        "mains",
        "Leave mains wiring to an electrician. Use a listed plug-in supply of limited power. "
        "Unplug it, and test for voltage, before you open anything.",
        "caution_memory",
        ("supply", "fitting_day"),
        ("power", "fitting"),
    ),
    Advice(
        "battery",
        "A standby battery can start a fire when metal joins its terminals. Put a fuse at the battery and join red to "
        "red. Take rings off, and keep the terminals covered while you work.",
        "caution_memory",
        ("supply", "fitting_day"),
        ("power", "fitting"),
    ),
    Advice(
        "battery_gas",
        "A lead-acid battery can give off gas that explodes while it charges. "
        "Give its box air, and keep flames and sparks away.",
        "caution_battery_gas",
        ("supply",),
        ("power",),
    ),
    Advice(
        "ladders",
        "Do not stand on the top step of a ladder, or put it before a door that may open. Do not use a metal "
        "ladder near electricity, and keep your body between the rails.",
        "caution_ladder",
        ("fitting_day", "upkeep"),
        ("fitting", "upkeep"),
    ),
    Advice(
        "loft",
        "In a loft, step only on joists or boards: a ceiling will not carry you. Leave loose insulation alone if "
        "it may hold asbestos.",
        "caution_loft",
        ("fitting_day",),
        ("fitting",),
    ),
    Advice(
        "drilling",
        "Before you drill, find the pipes, cables and joists, and wear eye protection. Wet or contain the dust of old "
        "paint. Do not drill a ceiling that may hold asbestos.",
        "caution_lead_dust",
        ("runs", "fitting_day"),
        ("cables", "fitting"),
    ),
    Advice(
        "who_wakes",
        "Do not count on a siren to wake anybody. Children, deep sleepers and people who are hard of hearing may not "
        "hear it. Agree who wakes them, and try it by night.",
        "home_visit",
        ("sound",),
        ("sound",),
    ),
    Advice(
        "siren_ears",
        "A siren beside your ear can damage your hearing. Wear ear protection, sound it in short bursts, "
        "and keep children and pets away.",
        "caution_memory",
        ("heard", "fitting_day", "test_plan"),
        ("sound", "fitting", "test_plan", "upkeep"),
    ),
    Advice(
        "siren_ladder",
        "Never sound a siren while somebody is on a ladder beside it. Before you climb to one, put the system in "
        "test mode and disconnect the siren as its manual says.",
        "caution_memory",
        ("test_plan",),
        ("test_plan", "upkeep"),
    ),
    Advice(
        "test_messages",
        "Fire and CO messages may go out in test mode too. Before a test, tell the household, the neighbours, the "
        "key-holders and whoever receives messages. Tell them again when you have finished.",
        "caution_test_calls",
        ("heard", "test_plan"),
        ("sound", "test_plan", "upkeep"),
    ),
    Advice(
        "hold_up_test",
        "A hold-up button may bring the police, without a sound. "
        "Tell whoever receives its message, and wait for their answer, before you press it.",
        "caution_test_calls",
        ("test_plan",),
        ("test_plan",),
    ),
    Advice(
        "smoke_test",
        "Test a smoke alarm with its button, never with a flame. The button tries its sound and its power, not "
        "its sensor for smoke.",
        "caution_smoke_test",
        ("test_plan",),
        ("test_plan", "upkeep"),
    ),
    Advice(
        "cover_and_mains",
        "Mains may be live behind the cover of the control unit. Open it for a test only as its manual allows. "
        "Where bare mains terminals are behind it, leave that test to an electrician.",
        "caution_memory",
        ("test_plan", "upkeep"),
        ("test_plan", "upkeep"),
    ),
    Advice(
        "battery_test",
        "A long battery test ages the battery. To begin, unplug the supply; do not switch off a circuit that somebody "
        "needs. To stop, plug it in again at the first low-battery warning, and let it charge before you rely on it.",
        "caution_memory",
        ("test_plan", "upkeep"),
        ("test_plan", "upkeep"),
    ),
)


def before(cell: str) -> tuple[Advice, ...]:
    """The cautions that come before a cell of the pages, in their order; () where nothing there can hurt."""
    return tuple(advice for advice in CAUTIONS if cell in advice.before)


def begins(section: str) -> tuple[Advice, ...]:
    """The cautions that a section of the record begins with, in their order."""
    return tuple(advice for advice in CAUTIONS if section in advice.sections)


def on_page(page: str) -> tuple[Advice, ...]:
    """The cautions that come before a step of a page, each once."""
    cells = {step.cell for step in STEPS.values() if step.page == page}
    return tuple(advice for advice in CAUTIONS if cells & set(advice.before))
