"""Random walks in metres and tenths of a second on the true outlines stay within what the cells claim."""

import os
from math import hypot
from random import Random

import pytest
from walked_homes import HOMES, Claims, World

from alarmlib.calc.cells.cell_map import cell_map
from alarmlib.calc.cells.cell_walk import trail_in_metres
from alarmlib.calc.cells.real_moves import real_map
from alarmlib.calc.coverage.felt import felt_on_trail
from alarmlib.model.proof import INTRUDER_M_S

WALKS = 2500 if os.environ.get("ALARM_WHOLE") else 250  # for each of the four homes


@pytest.fixture(scope="module", params=HOMES)
def world(request):
    return World(*HOMES[request.param](), Random(7))


@pytest.mark.parametrize("side", [0.63, 0.5])
def test_every_second_of_a_walk_is_a_move_whose_label_agrees(world, side):
    """Each second's pair of cells is a reach pair; what its label must trip was truly tripped for sure, and what
    was truly tripped, surely or perhaps, the label lets trip."""
    cells = cell_map(world.plan, world.sights, INTRUDER_M_S, side, contacts=world.contacts)
    claims, seconds, musts = Claims(cells, world.plan), 0, 0
    entered = [entry for entries in cells.starts.values() for entry in entries]
    for _ in range(WALKS // 2):
        tenths = world.walk(INTRUDER_M_S)
        felt = world.felt(tenths)
        assert all(any(bits >> start & 1 for _, bits in entered) for start in claims.at(tenths[0]))
        for second, label in enumerate(felt):
            starts, ends = claims.at(tenths[10 * second]), claims.at(tenths[10 * second + 10])
            assert all(claims.agree(start, end, label) for start in starts for end in ends), (tenths, second, label)
            seconds, musts = seconds + 1, musts + bool(label.must)
    assert seconds > WALKS
    assert musts > 5


def path_through(cells, random, most=12):
    """A random path of moves, with labels; it leans to where it hasn't been."""
    opening = random.choice([name for name, start in cells.starts.items() if start])
    label, bits = random.choice(cells.starts[opening])
    cell = random.choice([n for n in range(bits.bit_length()) if bits >> n & 1])
    path, labels = [cell], []
    for _ in range(random.randrange(2, most)):
        moves = [(label, row[cell]) for label, row in zip(cells.labels, cells.moves, strict=True) if cell in row]
        label, bits = random.choice(moves)
        onward = [n for n in range(bits.bit_length()) if bits >> n & 1]
        cell = random.choice(sorted(onward)[-8:] if random.random() < 0.7 else onward)
        path.append(cell)
        labels.append(label)
    return path, labels


def test_every_path_of_real_moves_is_a_trail_in_metres(world):
    """Points lie in their cells, no second is longer than it may be, and the labels hold on the true outlines."""
    from shapely.geometry import Point, Polygon

    random = Random(11)
    cells = cell_map(world.plan, world.sights, INTRUDER_M_S, 0.63, contacts=world.contacts)
    real = real_map(cells)
    for _ in range(WALKS // 10):
        path, labels = path_through(real, random)
        trail = trail_in_metres(real, world.plan, path, labels)
        assert trail is not None
        for number, point in zip(path, trail.points, strict=True):
            outlines = cells.cells[number].outlines
            assert (point is None) == (not outlines)
            assert point is None or Polygon(outlines[0]).distance(Point(point)) < 1e-6
        for stretches in trail.seconds:
            drawn = [s.points for s in stretches if s.points]
            assert sum(hypot(a[0] - b[0], a[1] - b[1]) for a, b in drawn) <= INTRUDER_M_S + 1e-4
            for stretch in stretches:
                (room,) = stretch.rooms if stretch.points else ("",)
                floors = world.floors
                assert not stretch.points or all(floors[room].distance(Point(p)) < 1e-5 for p in stretch.points)
        for label, felt, opened in zip(
            labels, felt_on_trail(world.sights, world.plan, trail), trail.opened, strict=True
        ):
            assert label.must <= felt.must
            assert felt.may <= label.may | label.must
            assert felt.must - opened <= label.may | label.must
            assert opened <= label.must


def test_paths_too_quick_for_a_walk_have_none(world):
    """Some paths of cells cannot be walked: then nothing is returned, never a walk that is too quick."""
    random = Random(5)
    cells = cell_map(world.plan, world.sights, INTRUDER_M_S, 0.63, contacts=world.contacts)
    found = [trail_in_metres(cells, world.plan, *path_through(cells, random, 8)) for _ in range(WALKS // 10)]
    assert None in found
    assert any(found)
