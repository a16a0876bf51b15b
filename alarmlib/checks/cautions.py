"""What can hurt, said before the step and again in the record: each with an id to tick and who says so."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Advice:
    """One caution: the id that is ticked, its text, and its source (a key of `alarmlib.sources`)."""

    id: str
    text: str
    source: str


CAUTIONS = (
    Advice(
        "life_safety_first",
        "Smoke and carbon monoxide alarms that are listed for the job, as your local code asks, come first. "
        "This system never replaces them, and they keep working while you fit it.",
        "caution_memory",
    ),
    Advice(
        "planning_aid",
        "This is a planning and teaching aid, not an approval. Your local code, your authority and the manual of each "
        "device win wherever they differ. Some places ask for a permit, even for low voltage: ask first.",
        "caution_permit",
    ),
    Advice(
        "mains",
        "Mains wiring is an electrician's work. Use a listed plug-in supply of limited power; keep mains and alarm "
        "cable in separate holes; prove a circuit dead before you open anything.",
        "caution_memory",
    ),
    Advice(
        "battery",
        "A standby battery can start a fire when it is shorted: a fuse at the battery, the right way round, "
        "terminals covered while you work.",
        "caution_memory",
    ),
    Advice(
        "ladders",
        "Ladders: not on the top step, not before a door that may open, nothing metal near electricity, "
        "keep your body between the rails.",
        "caution_ladder",
    ),
    Advice(
        "drilling",
        "Before you drill, find pipes, cables and joists. Wear eye protection. Wet or contain "
        "the dust of old paint, and do not drill a ceiling that may hold asbestos.",
        "caution_lead_dust",
    ),
    Advice(
        "smoke_test",
        "Test a smoke alarm with its button, never with a flame. The button proves sounder and power, not the sensor.",
        "caution_smoke_test",
    ),
    Advice(
        "smoke_sounds",
        "When a smoke alarm sounds, everybody leaves and closes the doors. Meet outside, "
        "call from there, and stay out. Never silence it first and look later.",
        "caution_memory",
    ),
    Advice(
        "co_sounds",
        "A CO alarm sounds: everybody out to fresh air, count heads, call from there, wait for the crew. "
        "Never silence it and stay.",
        "caution_carbon_monoxide",
    ),
    Advice(
        "gas_smell",
        "A smell of gas is not what a CO alarm senses: leave, touch no switch, call from outside.",
        "caution_memory",
    ),
    Advice(
        "water_and_low_temperature",
        "A sensor for water or cold only warns; somebody must come. Treat water in a cellar as live: do not step in.",
        "caution_flooded_cellar",
    ),
    Advice("generator", "Keep a generator outside, at least 6 m (20 ft) from the house.", "caution_generator"),
    Advice(
        "escape_ways",
        "Locks and bars must never lock anybody in. An escape way opens from inside without a key.",
        "caution_escape_locks",
    ),
    Advice(
        "siren_ears",
        "Sirens hurt ears: protect them when you test. Before a test tell the household, the neighbours, the "
        "key-holders and whoever receives messages.",
        "caution_test_calls",
    ),
    Advice(
        "who_wakes",
        "Do not assume that a siren wakes children, older people or anybody hard of hearing: try it, and agree "
        "who wakes them.",
        "caution_memory",
    ),
    Advice(
        "consent",
        "Everybody who lives here, and the landlord, agrees to the system. It is never a means to watch or confine "
        "a person.",
        "practice",
    ),
)
