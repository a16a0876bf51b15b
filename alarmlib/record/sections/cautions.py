"""The cautions, again: what can hurt, and who says so."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Caution, Text
from alarmlib.record.context import Context

ID = "cautions"
TITLE = "Cautions"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.PUBLIC

CAUTIONS = (
    Caution(
        "Smoke and carbon monoxide alarms that are listed for the job, as your local code asks, come first. "
        "This system never replaces them, and they keep working while you fit it.",
        "household_fire_72",
    ),
    Caution(
        "This is a planning and teaching aid, not an approval. Your local code, your authority and the papers of each "
        "device win wherever they differ. Some places ask for a permit, even for low voltage: ask first.",
        "caution_permit",
    ),
    Caution(
        "Mains wiring is an electrician's work. Use a listed plug-in supply of limited power; keep mains and alarm "
        "cable in separate holes; prove a circuit dead before you open anything.",
        "caution_memory",
    ),
    Caution(
        "A standby battery can start a fire when it is shorted: a fuse at the battery, the right way round, "
        "terminals covered while you work.",
        "caution_memory",
    ),
    Caution(
        "Ladders: not on the top step, not before a door that may open, nothing metal near electricity, "
        "keep your body between the rails.",
        "caution_ladder",
    ),
    Caution(
        "Before you drill: pipes, cables and joists; wear eye protection; wet or contain dust in old paint, "
        "and do not drill ceilings that may hold asbestos.",
        "caution_lead_dust",
    ),
    Caution(
        "Test a smoke alarm with its button, never with a flame. The button proves sounder and power, not the sensor.",
        "caution_smoke_test",
    ),
    Caution(
        "A smoke alarm sounds: everybody out, doors shut behind, meet, call from outside, stay out. "
        "Never silence first and look later.",
        "caution_memory",
    ),
    Caution(
        "A CO alarm sounds: everybody out to fresh air, count heads, call from there, wait for the crew. "
        "Never silence it and stay.",
        "caution_carbon_monoxide",
    ),
    Caution(
        "A smell of gas is not what a CO alarm senses: leave, touch no switch, call from outside.", "caution_memory"
    ),
    Caution(
        "A sensor for water or cold only warns; somebody must come. Treat water in a cellar as live: do not step in.",
        "caution_flooded_cellar",
    ),
    Caution("A generator stands outside, at least 6 m (20 ft) from the house.", "caution_generator"),
    Caution(
        "Locks and bars never shut anybody in: an escape way opens from inside without a key.", "caution_escape_locks"
    ),
    Caution(
        "Sirens hurt ears: protect them when you test. Before a test tell the household, the neighbours, the "
        "key-holders and whoever receives messages.",
        "caution_test_calls",
    ),
    Caution(
        "Do not assume that a siren wakes children, older people or anybody hard of hearing: try it, and agree "
        "who wakes them.",
        "caution_memory",
    ),
    Caution(
        "Everybody who lives here, and the landlord, agrees to the system. It is never a means to watch or confine "
        "a person.",
        "practice",
    ),
)


def build(_context: Context) -> tuple[Block, ...]:
    """The cautions in the order of the work."""
    intro = "Read these before each step that can hurt. They are short because the papers of each device say the rest."
    return (Text((intro,)), *CAUTIONS)
