"""What the people of a home would not do: set an area for nobody in while somebody is still in it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from alarmlib.control.inputs import SET_FULL, Input, Sees, SetArea
from alarmlib.control.setup import Setup
from alarmlib.model.home import Home
from alarmlib.model.household import Deed
from alarmlib.proof.habits.habit_counterexample import Places
from alarmlib.proof.habits.habit_script import Script
from alarmlib.proof.intruder.ways import area_of_room

_SETS_FULL = frozenset({Deed.SET_FULL, Deed.FOB_SET})


@dataclass(frozen=True)
class EnvironmentAssumptions:
    """For each script and place the areas set away there, and the areas that its person is in."""

    sets_full: tuple[Mapping[int, frozenset[str]], ...] = ({}, {})
    is_in: tuple[tuple[frozenset[str], ...], ...] = ((), ())

    def forbid(self, places: Places) -> bool:
        """Whether somebody would set an area away in this second while the other is in it, in the middle of a habit."""
        for one, other in ((0, 1), (1, 0)):
            areas = self.sets_full[one].get(places[one])
            if areas and 0 <= places[other] < len(self.is_in[other]) and areas & self.is_in[other][places[other]]:
                return True
        return False


def environment_of(home: Home, setup: Setup, scripts: tuple[Script, Script]) -> EnvironmentAssumptions:
    """What looking before setting rules out; nothing when the owner does not let the proof assume it.

    Our own reading; a room belongs to the area typed with it.
    """
    if not home.proof.looks_before_setting:
        return EnvironmentAssumptions()
    return EnvironmentAssumptions(
        tuple(dict(_sets_full(setup, script)) for script in scripts),
        tuple(
            tuple(frozenset(area_of_room(home, room) for room in rooms) for rooms in script.rooms) for script in scripts
        ),
    )


def _sets_full(setup: Setup, script: Script) -> Iterator[tuple[int, frozenset[str]]]:
    for place, label in enumerate(script.labels):
        begun = [done.deed for done in script.done if done.at_s < script.at_s[place]]
        by_switch = bool(begun) and begun[-1] in _SETS_FULL
        found = {area for row in label.told for event in row for area in _set_by(setup, event, by_switch)}
        if found:
            yield place, frozenset(found)


def _set_by(setup: Setup, event: Input, by_switch: bool) -> tuple[str, ...]:
    if isinstance(event, SetArea):
        return (event.area,) if event.part == SET_FULL else ()
    if isinstance(event, Sees) and by_switch and event.device in setup.layout.device_of:
        return setup.layout.device_of[event.device].zone.setup.areas
    return ()
