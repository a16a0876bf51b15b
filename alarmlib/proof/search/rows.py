"""Breadth-first search over many places at once: a row is everything but the mover's cell, its cells are bits.

A row also carries the mask of the faults under which it holds, so that one sweep replaces a search for each fault.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from heapq import heappop, heappush
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)


class Steps:
    """The moves of one label: from a set of cells to all cells reached from any of them, eight cells a look-up."""

    def __init__(self, moves: Mapping[int, int]) -> None:
        self.moves = moves
        self.sources = sum(1 << cell for cell, reached in moves.items() if reached)
        self._bytes = (self.sources.bit_length() + 7) // 8
        self._tables: list[list[int]] = [[0] + [-1] * 255 for _ in range(self._bytes)]

    def advance(self, cells: int) -> int:
        """The cells reached in one tick from any of these, as bits; all must be sources.

        A test compares it with a search cell by cell.
        """
        reached, tables = 0, self._tables
        for place, byte in enumerate(cells.to_bytes(self._bytes, "little")):
            if byte:
                found = tables[place][byte]
                reached |= found if found >= 0 else self._filled(place, byte)
        return reached

    def _filled(self, place: int, byte: int) -> int:
        """What a value of this byte reaches: that of the value without its lowest bit, and of that bit."""
        table = self._tables[place]
        if table[byte] < 0:
            low = (byte & -byte).bit_length() - 1
            table[byte] = self._filled(place, byte & (byte - 1)) | self.moves.get(8 * place + low, 0)
        return table[byte]


class Rows(Generic[Key]):
    """All (row, fault, cell) met so far, each once."""

    def __init__(self) -> None:
        self._met: dict[Key, list[tuple[int, int]]] = {}

    def add(self, key: Key, mask: int, cells: int) -> list[tuple[int, int]]:
        """Add cells under these faults; the parts (mask, cells) that were not met before, each pair once."""
        new = [(mask, cells)]
        met = self._met.setdefault(key, [])
        for known_mask, known in met:
            new = [part for piece in new for part in _unknown(piece, known_mask, known)]
            if not new:
                return new
        for piece_mask, piece in new:
            self._note(met, piece_mask, piece)
        return new

    @staticmethod
    def _note(met: list[tuple[int, int]], mask: int, cells: int) -> None:
        for place, (known_mask, known) in enumerate(met):
            if known_mask == mask:
                met[place] = mask, known | cells
                return
        met.append((mask, cells))

    def __len__(self) -> int:
        """How many (row, fault, cell) were met."""
        return sum(mask.bit_count() * cells.bit_count() for met in self._met.values() for mask, cells in met)

    def __iter__(self) -> Iterator[tuple[Key, int, int]]:
        """Every row met, with its faults and cells."""
        return ((key, mask, cells) for key, met in self._met.items() for mask, cells in met)


def _unknown(piece: tuple[int, int], known_mask: int, known: int) -> Iterator[tuple[int, int]]:
    mask, cells = piece
    both = mask & known_mask
    if not both:
        yield piece
        return
    if cells & ~known:
        yield both, cells & ~known
    if mask & ~known_mask:
        yield mask & ~known_mask, cells


Layer = dict[tuple[Key, int], int]
"""What is new in a tick: (row, faults) -> cells."""
Go = Callable[[Key, int, int], Iterable[tuple[Key, int]]]
"""Where a row goes, under which of its faults, when the mover takes a move of that label."""


def explore(
    begin: Iterable[tuple[Key, int, int]], steps: list[Steps], go: Go[Key], rows: Rows[Key]
) -> Iterator[Layer[Key]]:
    """The layers of the search, tick by tick, until nothing is new; what is met is added to `rows`.

    Reference: breadth-first search, textbook; SPIN counts the same states in the tests.
    """
    layer: Layer[Key] = {}
    for key, mask, cells in begin:
        _put(layer, rows, key, mask, cells)
    while layer:
        yield layer
        following: Layer[Key] = {}
        for (key, mask), cells in layer.items():
            for label, step in enumerate(steps):
                here = cells & step.sources
                if here:
                    reached = -1
                    for to, under in go(key, mask, label):
                        reached = step.advance(here) if reached < 0 else reached
                        _put(following, rows, to, under, reached)
        layer = following


def saturate(begin: Iterable[tuple[Key, int, int]], steps: list[Steps], go: Go[Key], rows: Rows[Key]) -> None:
    """All that `explore` meets, without its ticks: a row is taken up with all that is new in it, the first met first.

    For two movers, where a row holds the one and its bits the other: most rows are then taken up only once.
    Reference: fixed point by a work list, textbook; SPIN counts the same states.
    """
    number: dict[tuple[Key, int], int] = {}
    waiting: dict[tuple[Key, int], int] = {}
    queue: list[tuple[int, tuple[Key, int]]] = []

    def meet(key: Key, mask: int, cells: int) -> None:
        for part_mask, part in rows.add(key, mask, cells):
            row = key, part_mask
            if row not in waiting:
                heappush(queue, (number.setdefault(row, len(number)), row))
            waiting[row] = waiting.get(row, 0) | part

    for key, mask, cells in begin:
        meet(key, mask, cells)
    while queue:
        _, row = heappop(queue)
        cells = waiting.pop(row)
        for label, step in enumerate(steps):
            here = cells & step.sources
            if here:
                reached = -1
                for to, under in go(*row, label):
                    reached = step.advance(here) if reached < 0 else reached
                    meet(to, under, reached)


def _put(layer: Layer[Key], rows: Rows[Key], key: Key, mask: int, cells: int) -> None:
    for part_mask, part in rows.add(key, mask, cells):
        layer[key, part_mask] = layer.get((key, part_mask), 0) | part


def bits(cells: int) -> Iterator[int]:
    """The numbers of the bits that are set, the lowest first."""
    while cells:
        low = cells & -cells
        yield low.bit_length() - 1
        cells ^= low
