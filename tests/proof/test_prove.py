"""Everything at once: which runs and properties are asked for, what is refused, when faults get rows."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.calc.cells import cell_map
from alarmlib.model import Home
from alarmlib.proof.prove import RUNS, Asked, prove
from alarmlib.proof.report.counterexample import Counterexample, Teller
from alarmlib.proof.report.readiness import NotReady
from alarmlib.proof.report.verdicts import ProofVerdict

Made = Callable[..., Home]
HABIT = {"steps": [("open", "front", 2), ("close", "front", 2), ("walk_to", "keypad", 4), ("unset", "", 5)]}


def test_runs_and_their_properties(two_rooms: Made) -> None:
    """Each run names its own properties, once; all together are the parts put together."""
    home = two_rooms(HABIT)
    starts = {"ways": ("noticed_first/", "sounds_"), "habits": ("habit/",), "pairs": ("pair",), "unit": ("unit/",),
              "left_out": ("left_out_shown/",), "siren": ("siren_in_an_hour",), "beside": ("beside/",)}  # fmt: skip
    assert set(starts) == set(RUNS)
    for run in ("ways", "habits", "left_out", "siren", "beside"):
        names = [each.id for each in prove(home, "none", None, Asked((run,))).properties]
        assert names
        assert len(set(names)) == len(names)
        assert all(name.startswith(starts[run]) for name in names)
    both = prove(home, "none", None, Asked(("ways", "habits")))
    alone = [prove(home, "none", None, Asked((run,))) for run in ("ways", "habits")]
    assert both.properties == tuple(each for proof in alone for each in proof.properties)
    assert both.states == sum(each.states for each in both.properties)
    assert both.holds == all(each.verdict is ProofVerdict.HOLDS for each in both.properties)


def test_only_what_is_asked(two_rooms: Made) -> None:
    """Properties by id; what is found of them is what is found when all are asked."""
    home, name = two_rooms(HABIT), "noticed_first/house/night"
    (asked,) = prove(home, "none", None, Asked(("ways",), frozenset({name}))).properties
    assert asked == next(each for each in prove(home, "none", None, Asked(("ways",))).properties if each.id == name)


def test_faults_get_rows(two_rooms: Made) -> None:
    """A row a fault, none without; verdicts are those without any fault."""
    home = two_rooms(HABIT)
    plain, single = (prove(home, how, None, Asked(("ways", "habits"))) for how in ("none", "single"))
    assert plain.faults == ()
    assert len({row.id for row in single.faults}) == len(single.faults) > 3
    assert [(p.id, p.verdict) for p in plain.properties] == [(p.id, p.verdict) for p in single.properties]
    (keypad,) = (row for row in single.faults if "keypad" in row.id and row.holes)
    assert "habit/habit_0" in {hole.property for hole in keypad.holes}


def test_a_breach_that_finer_squares_leave_open_is_not_settled(
    one_door: Callable[..., dict[str, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a home is too large for squares of half the side, that took every other verdict with it."""
    drawn = one_door(pane="hall")
    drawn["site"]["rooms"][0]["outline"] = [[0, 0], [6, 0], [6, 5], [0, 5]]
    home = Home.model_validate(drawn)
    plain = prove(home, "none", None, Asked(("ways",)))
    assert ProofVerdict.BREACHED in {each.verdict for each in plain.properties}
    unplayed = Counterexample(ProofVerdict.NOT_SETTLED, why="It could not be played again.")
    monkeypatch.setattr(Teller, "tell", lambda _teller, _breach: unplayed)
    monkeypatch.setattr(cell_map, "MOST_CELLS", 200)  # 30 m² make some 120 squares of half a metre, 480 of half that
    found = prove(home, "none", None, Asked(("ways",)))
    verdicts = {each.id: each.verdict for each in plain.properties}
    open_ones = {each.id: each.why for each in found.properties if each.verdict is ProofVerdict.NOT_SETTLED}
    assert open_ones == {name: unplayed.why for name, was in verdicts.items() if was is ProofVerdict.BREACHED}


def test_home_that_is_not_ready(two_rooms: Made, put: Made) -> None:
    """Every sentence of what is missing."""
    home = put(two_rooms(), {"devices.keypad": None, "control_unit.zones.door.function": "unused"})
    with pytest.raises(NotReady) as refused:
        prove(home)
    assert len(refused.value.missing) == 2


def test_progress_is_told(two_rooms: Made) -> None:
    """What is worked on, area by area and habit by habit."""
    told: list[str] = []
    prove(two_rooms(HABIT), "none", lambda what, *_: told.append(what), Asked(("ways", "habits")))
    assert {"ways in, House", "habit Habit 0"} <= set(told)
