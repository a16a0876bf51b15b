"""What rests on nobody's document: the owner's word, our own calculations, and common practice."""

from alarmlib.sources.source import Source, Status

SOURCES = (
    Source("owner", "The owner's own manuals and words", status=Status.OWNER),
    Source("computed", "Computed from the facts entered", status=Status.COMPUTED),
    Source("practice", "Common practice, no source", status=Status.PRACTICE),
    Source(
        "coverage_assumed",
        "Computed coverage; range, beams, heat and furniture by common practice",
        status=Status.PRACTICE,
    ),
    Source("loop_divider", "Voltage divider, checked with ngspice", status=Status.COMPUTED),
    Source("loop_100_ohm", "Usual figure: 100 Ω at most for a wired zone", status=Status.PRACTICE),
    Source("fire_circuit", "Fire circuits: open at rest, end resistor, nothing else on them", status=Status.PRACTICE),
    Source(
        "battery_factor",
        "1.25 on a battery: one over the 80 % at which it is replaced",
        status=Status.PRACTICE,
    ),
    Source(
        "battery_cold_factor",
        "A battery made larger for the cold: divided by the part that is left",
        status=Status.PRACTICE,
    ),
    Source(
        "late_limit", "One evening in 100 too late: our own limit, common practice, no source", status=Status.PRACTICE
    ),
    Source(
        "smoke_core",
        "Common core of national rules: bedrooms, the way outside them, every level",
        status=Status.PRACTICE,
    ),
)
