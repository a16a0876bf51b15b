"""The search by rows of bits does what a search state by state does."""

from collections.abc import Iterable

from hypothesis import given
from hypothesis import strategies as st

from alarmlib.proof.search.rows import Rows, Steps, bits, explore, saturate

CELLS = 20
maps = st.dictionaries(st.integers(0, CELLS - 1), st.integers(1, 2**CELLS - 1), max_size=CELLS)


@given(maps, st.integers(0, 2**CELLS - 1))
def test_advancing_bytes_is_advancing_each_cell(moves: dict[int, int], cells: int) -> None:
    """The union over the cells one by one."""
    steps = Steps(moves)
    one_by_one = 0
    for cell in bits(cells & steps.sources):
        one_by_one |= moves[cell]
    assert steps.advance(cells & steps.sources) == one_by_one


@given(st.lists(st.tuples(st.integers(0, 2), st.integers(1, 15), st.integers(1, 255)), max_size=30))
def test_each_pair_of_fault_and_cell_is_new_once(added: list[tuple[int, int, int]]) -> None:
    """What `add` gives back is exactly what a set of triples would call new, and the count is the set's size."""
    rows: Rows[int] = Rows()
    met: set[tuple[int, int, int]] = set()
    for key, mask, cells in added:
        asked = {(key, fault, cell) for fault in bits(mask) for cell in bits(cells)}
        given_back = [(key, f, c) for m, part in rows.add(key, mask, cells) for f in bits(m) for c in bits(part)]
        assert sorted(given_back) == sorted(asked - met)
        met |= asked
        assert len(rows) == len(met)
    assert {(k, f, c) for k, m, part in rows for f in bits(m) for c in bits(part)} == met


@given(st.lists(maps, min_size=1, max_size=3), st.lists(st.tuples(*[st.integers(0, 3)] * 3), max_size=12))
def test_layers_are_those_of_a_plain_search(labels: list[dict[int, int]], edges: list[tuple[int, int, int]]) -> None:
    """States (row, fault, cell) and the tick in which each is first met, against a search with a dictionary; the
    search without ticks meets the same states.

    An edge (row, to, label) is taken under all faults but the one numbered as its target.
    """

    def go(key: int, mask: int, label: int) -> Iterable[tuple[int, int]]:
        return [(to, mask & ~(1 << to)) for row, to, on in edges if row == key and on == label and mask & ~(1 << to)]

    rows: Rows[int] = Rows()
    found = [
        ((key, fault, cell), tick)
        for tick, layer in enumerate(explore([(0, 15, 3)], [Steps(moves) for moves in labels], go, rows))
        for (key, mask), cells in layer.items()
        for fault in bits(mask)
        for cell in bits(cells)
    ]
    plain = plain_search(labels, edges)
    assert dict(found) == plain
    assert len(rows) == len(found) == len(plain)
    without_ticks: Rows[int] = Rows()
    saturate([(0, 15, 3)], [Steps(moves) for moves in labels], go, without_ticks)
    assert {(k, f, c) for k, m, part in without_ticks for f in bits(m) for c in bits(part)} == set(plain)


def plain_search(labels: list[dict[int, int]], edges: list[tuple[int, int, int]]) -> dict[tuple[int, int, int], int]:
    """The same, a state at a time."""
    met = {(0, fault, cell): 0 for fault in range(4) for cell in (0, 1)}
    frontier = list(met)
    while frontier:
        row, fault, cell = frontier.pop(0)
        ways = [(to, labels[on].get(cell, 0)) for at, to, on in edges if at == row and on < len(labels) and fault != to]
        for state in ((to, fault, reached) for to, cells in ways for reached in bits(cells)):
            if state not in met:
                met[state] = met[row, fault, cell] + 1
                frontier.append(state)
    return met
