"""Sizes of conductors as they are written: a gauge, square millimetres, or strands and their diameter."""

import re
from dataclasses import dataclass

SIZES_SAID = "22 AWG, 0.22 mm² or 7/0.2"
_GAUGE = re.compile(r"(?<![\d.])(\d{1,2})\s*(?:awg|gauge|ga\b)|\bawg\s*(\d{1,2})(?![\d.])", re.IGNORECASE)
_STRANDS = re.compile(r"(?<![\d./])(\d{1,2})\s*/\s*(\d?[.,]\d{1,3})(?![\d/])")
_AREA = re.compile(r"(?<![\d.,])(\d{1,2}(?:[.,]\d{1,3})?)\s*(?:mm²|mm2|sq\.?\s*mm|mm\^2)", re.IGNORECASE)
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_CORES = re.compile(rf"\b(\d{{1,2}}|{'|'.join(_NUMBERS)})[\s-]*(?:cores?|conductors?)\b", re.IGNORECASE)
_TIMES = re.compile(r"(?<![\d.,/])(\d{1,2})\s*[x×]\s*\d", re.IGNORECASE)  # 4 x 0.22 mm²
_GAUGE_AND_CORES = re.compile(r"(?<![\d.,/])(?:1[0-9]|2[0-9])\s*/\s*(\d{1,2})(?![\d.,/])")  # 22/4
LEAST_AWG, MOST_AWG = 8, 30
LEAST_MM2, MOST_MM2 = 0.05, 16.0


@dataclass(frozen=True)
class Size:
    """A conductor's size: a gauge number, or an area in mm², or strands with their diameter in mm."""

    awg: int | None = None
    area_mm2: float | None = None
    strands: int | None = None
    strand_mm: float | None = None

    @property
    def text(self) -> str:
        """As it is written: "22 AWG", "0.22 mm²", "7/0.2"."""
        if self.awg is not None:
            return f"{self.awg} AWG"
        return f"{self.area_mm2:g} mm²" if self.strands is None else f"{self.strands}/{self.strand_mm:g}"


def size_in(text: str) -> Size | None:
    """The first known size in a text; None when there is none."""
    found = _GAUGE.search(text)
    if found:
        gauge = int(found[1] or found[2])
        return Size(awg=gauge) if LEAST_AWG <= gauge <= MOST_AWG else None
    found = _STRANDS.search(text)
    if found and int(found[1]) and _number(found[2]):
        return Size(strands=int(found[1]), strand_mm=_number(found[2]))
    found = _AREA.search(text)
    area = _number(found[1]) if found else 0.0
    return Size(area_mm2=area) if LEAST_MM2 <= area <= MOST_MM2 else None


def cores_in(text: str) -> int | None:
    """How many cores a cable's name tells: "six-core", "4 x 0.22 mm²", "22/4"; None when it tells none."""
    for pattern in (_CORES, _TIMES, _GAUGE_AND_CORES):
        found = pattern.search(text)
        if found:
            word = found[1].lower()
            return (_NUMBERS.index(word) + 1 if word in _NUMBERS else int(word)) or None
    return None


def _number(text: str) -> float:
    return float(text.replace(",", "."))
