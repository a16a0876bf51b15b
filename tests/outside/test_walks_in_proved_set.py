"""Random intruders on the true outlines, in metres and tenths of a second, never leave what the proof has searched.

Whatever the walk surely trips is told to the unit, of what it may trip a random part, in a random order; the unit is
`step` itself. Each state it comes to is among the rows that the search met by then, for every cell that touches where
the intruder is in and for the fault that is the case; or it sounded, and there the search ends.
"""

import os
from dataclasses import replace
from random import Random

import pytest
from walked_homes import Claims, World, demo

from alarmlib.calc.cells.cell_map import CellMap, cell_map
from alarmlib.calc.coverage.felt import felt_in_metres
from alarmlib.control.inputs import Opens, Sees
from alarmlib.control.layout import State
from alarmlib.control.machine import step
from alarmlib.model.proof import INTRUDER_M_S
from alarmlib.proof.faults.fault import NONE, Fault, FaultMasks
from alarmlib.proof.intruder.search import Intrusion
from alarmlib.proof.intruder.ways import set_state, ways_in
from alarmlib.proof.search.compiled import SOUNDED, signs_of
from alarmlib.proof.search.setups import proof_setup
from alarmlib.record.produce import demo_home

pytestmark = pytest.mark.outside
WALKS = 1200 if os.environ.get("ALARM_WHOLE") else 200
SURE = "garage_motion"  # the one detector of these sights that surely sees
SETS = ("", "night", "evening", "one_in_bed")
NOWHERE = {"nowhere": 0}  # a room nobody reaches: the search goes on to the end


class Searched:
    """The demo home's search: by every way in, in every set, under every dead detector.

    `forgotten`: devices that nothing inside trips, by mistake.
    """

    def __init__(self, cells: CellMap, forgotten: frozenset[str] = frozenset()) -> None:
        home = demo_home()
        rooms = frozenset().union(*(cell.rooms for cell in cells.cells))
        self.ways = {way.opening: way for way in ways_in(home) if way.room in rooms}
        felt = sorted({device for way in self.ways.values() for device in way.must} | {SURE, "hall_motion"})
        self.faults = (NONE, *(Fault(f"dead_{device}", "", frozenset({device})) for device in felt))
        masks = FaultMasks.of(self.faults)
        self.intrusion = Intrusion(proof_setup(home, sure={SURE}), cells, self.ways.values(), masks)
        labels = (replace(label, must=label.must - forgotten, may=label.may - forgotten) for label in cells.labels)
        self.intrusion.cells = replace(cells, labels=tuple(labels))
        self.begins = {set_: set_state(self.intrusion.setup, {"house": set_}) for set_ in SETS}
        self._met: dict[tuple[str, str], list[dict[int, list[tuple[int, int]]]]] = {}

    def met(self, opening: str, set_: str) -> list[dict[int, list[tuple[int, int]]]]:
        """For each second the rows that are new in it: state -> pairs of faults and cells."""
        if (opening, set_) not in self._met:
            begin = {self.begins[set_]: self.intrusion.masks.all}
            run = self.intrusion.run(self.ways[opening], begin, {}, NOWHERE)
            layers: list[dict[int, list[tuple[int, int]]]] = []
            for layer in run.layers:
                layers.append({})
                for (k, mask), cells in layer.items():
                    layers[-1].setdefault(k, []).append((mask, cells))
            self._met[opening, set_] = layers
        return self._met[opening, set_]

    def has(self, opening: str, set_: str, state: State, where: tuple[int, int, int]) -> bool:
        """Whether the search met this state by that second, in that cell, under that fault."""
        second, cell, fault = where
        k = self.intrusion.compiled.number(state)
        rows = (row for layer in self.met(opening, set_)[: second + 1] for row in layer.get(k, ()))
        return any(mask >> fault & 1 and cells >> cell & 1 for mask, cells in rows)


class Walks:
    """Walks of one world through one search; counts what became of them."""

    def __init__(self, searched: Searched, seed: int) -> None:
        plan, sights, contacts = demo()
        self.sights, self.random, self.searched = sights, Random(seed), searched
        counted = tuple(opening for opening in plan.openings if opening.id in searched.ways)
        self.world = World(replace(plan, openings=counted), sights, contacts, self.random)
        self.claims = Claims(searched.intrusion.cells, self.world.plan)
        self.seconds = self.sounded = self.unheard = 0
        self.states: set[State] = set()

    def walk(self) -> str:
        """One walk; returns what went astray, "" when nothing did."""
        opening = self.random.choice(self.world.plan.openings).id
        tenths = self.world.walk(INTRUDER_M_S, opening)
        point, storey = tenths[0][0], tenths[0][1]
        set_, setup = self.random.choice(SETS), self.searched.intrusion.setup
        way, fault = self.searched.ways[opening], self._fault(opening)
        still = felt_in_metres(self.sights, self.world.plan, [point] * 2, [storey] * 2)
        first = (way.must, way.may | still[0].may | still[0].must)
        felt = [(label.must, label.may) for label in self.world.felt(tenths)]
        state, opened, often = self.searched.begins[set_], set[str](), self.random.choice((0.0, 0.02, 0.1, 0.5))
        for second, (must, may) in enumerate((first, *felt)):
            told = {device for device in sorted(must | may) if device in must or self.random.random() < often}
            told = {device for device in told if device in setup.layout.device_of}
            told -= self.searched.faults[fault].dead | opened
            lasting = {device for device in told if setup.layout.device_of[device].lasting}
            opened |= lasting
            events = [Opens(device) if device in lasting else Sees(device) for device in sorted(told)]
            self.random.shuffle(events)
            state, out = step(setup, state, events)
            if signs_of(out) & SOUNDED:
                self.sounded += 1
                return ""
            for cell in self.claims.at(tenths[10 * second]):
                if not self.searched.has(opening, set_, state, (second, cell, fault)):
                    return f"{opening}, {set_ or 'away'}, {self.searched.faults[fault].id}, second {second}: {events}"
            self.seconds += 1
            self.states.add(state)
        self.unheard += 1
        return ""

    def _fault(self, opening: str) -> int:
        """Mostly this way in's own contact is dead: else a walk by a window is over before it has begun."""
        own = [n for n, fault in enumerate(self.searched.faults) if fault.dead & self.searched.ways[opening].must]
        return self.random.choice(own) if own and self.random.random() < 0.8 else self._any()

    def _any(self) -> int:
        return self.random.randrange(len(self.searched.faults))


def test_every_state_of_a_walk_was_searched() -> None:
    """By every way in, in every set, with any detector dead."""
    plan, sights, contacts = demo()
    walks = Walks(Searched(cell_map(plan, sights, INTRUDER_M_S, 0.5, contacts=contacts)), 3)
    astray = [found for _ in range(WALKS) if (found := walks.walk())]
    assert astray == []
    assert walks.sounded > WALKS / 10
    assert walks.unheard > WALKS / 10
    assert walks.seconds > 3 * WALKS
    assert len(walks.states) > 50


def test_cells_that_forget_devices_are_found_out() -> None:
    """The same walks on cells that leave out what waits for a running delay: one comes to a state nobody searched."""
    plan, sights, contacts = demo()
    forgotten = frozenset({"hall_motion", "kitchen_motion", "utility_motion", SURE, "pass_door_contact"})
    walks = Walks(Searched(cell_map(plan, sights, INTRUDER_M_S, 0.5, contacts=contacts), forgotten), 3)
    assert any(walks.walk() for _ in range(200))


def test_cells_for_somebody_slower_are_found_out() -> None:
    """The same walks on cells of half the speed: one is in a cell too soon."""
    plan, sights, contacts = demo()
    walks = Walks(Searched(cell_map(plan, sights, INTRUDER_M_S / 2, 0.5, contacts=contacts)), 3)
    assert any(walks.walk() for _ in range(200))
