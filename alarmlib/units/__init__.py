"""Units at the edge: SI inside, metric or US on paper; `show` writes a value, `read` understands typing.

Stored units: m, m², m/s, s, h (durations of hours and days), °C, V, A, Ω, Ah, dB(A), kg, %, plain numbers.
"""

from alarmlib.units.kinds import Kind, unit_label
from alarmlib.units.reading import read
from alarmlib.units.showing import rounded, show, show_number

__all__ = ["Kind", "read", "rounded", "show", "show_number", "unit_label"]
