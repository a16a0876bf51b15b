"""The least metres between pieces, portals and places of a ground; all calculations on cells read them here."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from alarmlib.calc.cells.cell_spaces import Ground
from alarmlib.calc.walking.floor import cheapest

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

SLACK_M = 1e-6  # walks this much longer than the reach still count: rounding never loses a move


class PortalSide(NamedTuple):
    """One side of a portal."""

    portal: int
    side: int

    @property
    def back(self) -> "PortalSide":
        """The other side."""
        return PortalSide(self.portal, 1 - self.side)


class Metres:
    """Lower bounds of walks over a ground, each worked out once."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self.doors = [PortalSide(number, side) for number in range(len(ground.portals)) for side in (0, 1)]
        self.doors_of: dict[int, list[PortalSide]] = {}
        for door in self.doors:
            self.doors_of.setdefault(self.space(door), []).append(door)

    def space(self, door: PortalSide) -> int:
        """Number of the space on that side."""
        return self.ground.portals[door.portal].spaces[door.side]

    def place(self, door: PortalSide) -> "BaseGeometry":
        """Where the portal lies on that side."""
        return self.ground.portals[door.portal].places[door.side]

    @cached_property
    def to_door(self) -> "dict[PortalSide, NDArray[np.float64]]":
        """From each piece of the space on that side to the portal."""
        return {door: self.to_place(self.space(door), self.place(door)) for door in self.doors}

    @cached_property
    def between(self) -> dict[PortalSide, dict[PortalSide, float]]:
        """From each door to each other door of its space, those alone that are within reach."""
        return {door: self._doors_near(door) for door in self.doors}

    def to_place(self, space: int, place: "BaseGeometry") -> "NDArray[np.float64]":
        """From each piece of a space to a place in it."""
        import numpy as np

        here = self.ground.spaces[space]
        metres: NDArray[np.float64] = here.least_walk_m(here.array, np.full(len(here.array), place))
        return metres

    def doors_to_place(self, space: int, place: "BaseGeometry") -> dict[PortalSide, float]:
        """From each door of a space to a place in it."""
        import numpy as np

        doors = self.doors_of.get(space, [])
        places = np.array([self.place(door) for door in doors])
        if not doors:
            return {}
        metres = self.ground.spaces[space].least_walk_m(places, np.full(len(doors), place))
        return dict(zip(doors, metres.tolist(), strict=True))

    def _doors_near(self, door: PortalSide) -> dict[PortalSide, float]:
        """Other parts of the same frame are left out: going through one and back through another saves nothing."""
        metres = self.doors_to_place(self.space(door), self.place(door))
        limit_m, frame = self.ground.reach_m + SLACK_M, self.ground.portals[door.portal].frame
        return {
            other: far_m
            for other, far_m in metres.items()
            if other != door and far_m <= limit_m and not (frame and frame == self.ground.portals[other.portal].frame)
        }

    def to_places(self, places: Mapping[int, "BaseGeometry | None"]) -> "NDArray[np.float64]":
        """From each cell to the nearest of some places, by space; None is the whole space.

        Reference: shortest paths (Dijkstra).
        """
        import numpy as np

        metres = np.full(self.ground.first_cell[-1], np.inf)
        for door, left_m in self._portals_to(places).items():
            self._lower(metres, self.space(door), self.to_door[door] + left_m)
        for space, place in places.items():
            self._lower(metres, space, 0.0 if place is None else self.to_place(space, place))
        return metres

    def _lower(self, metres: "NDArray[np.float64]", space: int, by: "NDArray[np.float64] | float") -> None:
        import numpy as np

        first, last = self.ground.first_cell[space], self.ground.first_cell[space + 1]
        metres[first:last] = np.minimum(metres[first:last], by)

    def _portals_to(self, places: Mapping[int, "BaseGeometry | None"]) -> dict[PortalSide, float]:
        """From each door to the nearest of the places, going through it first; those alone that are within reach."""
        limit_m = self.ground.reach_m + SLACK_M
        first: dict[PortalSide, float] = {}
        for space, place in places.items():
            doors = self.doors_of.get(space, [])
            off_m = dict.fromkeys(doors, 0.0) if place is None else self.doors_to_place(space, place)
            for door, metres in off_m.items():
                if metres <= limit_m:
                    first[door.back] = min(metres, first.get(door.back, metres))
        return cheapest(first, self._through, limit_m)[0]

    def _through(self, door: PortalSide) -> Iterator[tuple[PortalSide, float]]:
        """Every door that can be come to from this side of one, gone through, and the metres."""
        return ((other.back, more_m) for other, more_m in self.between[door].items())
