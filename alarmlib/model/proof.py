"""What the owner lets the proof assume, and what each change would cost: all of it printed with the result."""

from alarmlib.model.base import Id, Part, fact, ref
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER, CLASS = Share.HELPER, Share.CLASS
MOST_MINUTES, MOST_GIGABYTES = 30.0, 2.0  # a computer of 8 GB keeps most of them for everything else
INTRUDER_M_S = 2.533  # fastest row of Bohannon 1997: men in their 20s, maximum pace


class ChangeKind(Word):
    """A change that may fix a hole, beside another device (devices have prices of their own)."""

    FUNCTION = "function", "another function of a zone"
    PART_SET = "part_set", "another part set"
    DELAY = "delay", "another delay"
    HABIT = "habit", "another habit"
    MOVE = "move", "a keypad moved"
    REST = "rest", "a shorter sleep time of a detector"


class ChangePrice(Part):
    """What the owner takes one change of a kind to cost: money, or bother put as money."""

    kind: ChangeKind = fact(..., "Change", share=CLASS)
    price: float = fact(..., "What it costs", kind=Kind.MONEY, ge=0, le=100000, share=Share.OWNER)

    @property
    def id(self) -> str:
        """The kind: each may be listed once, so it names the row."""
        return self.kind.value


class ProofChoices(Part):
    """The assumptions of the proof; every default is the stated one."""

    intruder_m_s: float = fact(
        INTRUDER_M_S,
        "Top speed of an intruder",
        help="It starts as the fastest speed in a published table of walking.",
        kind=Kind.SPEED,
        ge=0.5,
        le=10,
        share=HELPER,
    )
    tolerance_percent: float = fact(
        10,
        "How far the control unit's times may be off",
        help="In its manual, under technical data.",
        kind=Kind.PERCENT,
        ge=0,
        le=50,
        share=HELPER,
    )
    sounds_within_s: float | None = fact(
        None,
        "Longest wait for a siren or message after somebody is noticed",
        help="Blank: the longest entry delay.",
        kind=Kind.TIME,
        ge=1,
        le=600,
        share=HELPER,
    )
    breaks_glass: bool = fact(False, "May come through glass without opening the window", share=HELPER)
    brings_ladder: bool = fact(False, "May bring a ladder", share=HELPER)
    cuts_mains: bool = fact(False, "May cut and restore the mains from outside", share=HELPER)
    sure_detectors: tuple[Id, ...] = ref(
        "devices",
        (),
        "Motion detectors that notice a walk anywhere in their room",
        help="Choose one only if your walk test showed it: it tripped within four steps anywhere in the room.",
        share=HELPER,
    )
    heard_first: tuple[Id, ...] = ref(
        "site.rooms",
        (),
        "Rooms that need a siren or message before anybody reaches them",
        help="Rooms that somebody sleeps in always count, in every part set.",
        share=HELPER,
    )
    looks_before_setting: bool = fact(
        False,
        "Nobody sets the alarm while somebody is still in",
        help="Tick it only if everybody looks first. Unticked, the proof also tries two people of whom one sets it "
        "while the other is still in.",
        share=HELPER,
    )
    most_minutes: float = fact(
        MOST_MINUTES,
        "Longest time that the proof may take (minutes)",
        help="What is not settled by then is told so. Up to 1,440 minutes, a day.",
        ge=0.1,
        le=1440,
        share=CLASS,
    )
    most_gigabytes: float = fact(
        MOST_GIGABYTES,
        "Most memory that the proof may take (gigabytes)",
        help="It starts at what leaves room for everything else on a computer with 8 gigabytes. Up to 64.",
        ge=0.1,
        le=64,
        share=CLASS,
    )
    prices: tuple[ChangePrice, ...] = fact((), "What a change costs", share=CLASS, noun="change price")
