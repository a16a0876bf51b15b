"""A counterexample on a line of seconds: numbered steps, what trips, what the control unit is in, what it gives out."""

from collections.abc import Iterator, Mapping, Sequence

from alarmlib.proof.report.verdicts import Beat
from alarmlib.record.picture import Anchor, Badge, Drawing, Fill, Ink, Label, Line, Rect, Shape
from alarmlib.record.timeline import scale_marks

NAMES, LINE, LANE, GAP = 96.0, 520.0, 34.0, 25.0
LETTER = 5.6  # drawing units a letter of the small size takes, about
_LANES = ("Step", "Trips", "Control unit", "Gives out")


def counterexample_timeline(counterexample: Sequence[Beat], marks: Mapping[str, str]) -> Drawing:
    """The counterexample over a scale in seconds; `marks` are the letters and numbers of devices on the plans."""
    first, last = counterexample[0].at_s, max(counterexample[-1].at_s, counterexample[0].at_s + 5)
    scale = LINE / (last - first)
    xs = _apart([NAMES + 12 + (beat.at_s - first) * scale for beat in counterexample])
    foot = 8 + LANE * len(_LANES)
    shapes: list[Shape] = [Label((0, 8 + LANE * n + 20), name, 11, Anchor.START) for n, name in enumerate(_LANES)]
    for number, (beat, x) in enumerate(zip(counterexample, xs, strict=True), 1):
        shapes.append(Badge((x, 8 + 16), str(number), radius=11, dark=True))
        tripped = " ".join(marks.get(device, device) for device in beat.devices)
        if tripped:
            shapes.append(Label((x, 8 + LANE + 20), tripped, 11, most=8))
    shapes += _lane(2, [(x, beat.state) for beat, x in zip(counterexample, xs, strict=True)], Fill.NONE)
    shapes += _lane(3, [(x, beat.output) for beat, x in zip(counterexample, xs, strict=True)], Fill.SLANTED)
    shapes += scale_marks(first, last, scale, NAMES + 12, foot)
    return Drawing(max(NAMES + LINE + 44, xs[-1] + 24), foot + 30, tuple(shapes))


def _apart(xs: list[float]) -> list[float]:
    """Places in order, moved to the right so far that no two badges cover each other."""
    placed: list[float] = []
    for x in xs:
        placed.append(max(x, placed[-1] + GAP) if placed else x)
    return placed


def _lane(lane: int, said: list[tuple[float, str]], fill: Fill) -> Iterator[Shape]:
    """A box from each place where the words change to the next such place, its words inside as far as they fit."""
    top, end = 8 + LANE * lane, NAMES + LINE + 36
    spoken = [(x, text) for x, text in said if text]
    told = [each for n, each in enumerate(spoken) if n == 0 or each[1] != spoken[n - 1][1]]
    for n, (x, text) in enumerate(told):
        wide = (told[n + 1][0] if n + 1 < len(told) else max(end, x + GAP)) - x
        yield Rect((x, top + 4), wide, LANE - 10, Ink.PLAIN)
        if fill is not Fill.NONE:
            yield Rect((x, top + 4), min(6.0, wide), LANE - 10, Ink.NONE, fill)
        letters = int((wide - 12) / LETTER)
        if letters >= 4:
            yield Label((x + 9, top + 20), text, 10, Anchor.START, most=letters)
    if not told:
        yield Line((NAMES, top + 16), (end, top + 16), Ink.FINE)
