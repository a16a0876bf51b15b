"""What a proof may take: at a limit nothing is claimed that was not searched, a breach stays, progress moves on."""

import tracemalloc
from collections.abc import Callable
from itertools import count, pairwise

import pytest
from wing_homes import wing_home

from alarmlib.control.tick import Tick
from alarmlib.model import Home
from alarmlib.model.words import DeviceKind
from alarmlib.proof.faults.fault import NONE
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.intruder.intrusions import Intruders
from alarmlib.proof.pieces.pieces import Pieces
from alarmlib.proof.prove import QUICK, RUNS, Asked, prove
from alarmlib.proof.report.verdicts import Proof, ProofVerdict
from alarmlib.proof.search.budget import TELL_EVERY, Budget, OverBudget, RanOut, Spending
from alarmlib.proof.unit import alone

WAYS = ("noticed_first", "sounds_in_time", "sounds_first")
KB, GB = 1000, 1_000_000_000
MOST_SECONDS_UNTOLD = 3 * TELL_EVERY


@pytest.fixture(scope="module")
def home() -> Home:
    """Two wings of two rooms, each with a part set and a habit of coming home."""
    return wing_home(2, 4, 2, habits=1)


@pytest.fixture(scope="module")
def whole(home: Home) -> Proof:
    """The proof with as much of everything as it takes."""
    return prove(home, "none")


def limited(home: Home, budget: Budget | None = None, late: Callable[[], bool] | None = None) -> Proof:
    """The proof within limits."""
    return prove(home, "none", None, Asked(budget=budget, late=late))


def squares_of(home: Home) -> int:
    """Bytes of the home's squares and the steps between them, which stay while it is searched."""
    spending = Spending()
    assert Intruders(home, (NONE,), spending=spending).parts
    return spending.kept


def after(looks: int) -> Callable[[], bool]:
    """A clock by which the time is over once it has been asked so often."""
    asked = count(1)
    return lambda: next(asked) > looks


def test_the_default_is_enough_for_a_small_home(whole: Proof) -> None:
    """Nothing of it is too large, and something of it is breached."""
    assert not any(each.too_large for each in whole.properties)
    assert {each.verdict for each in whole.properties} == {ProofVerdict.HOLDS, ProofVerdict.BREACHED}


@pytest.mark.parametrize(
    "budget",
    [Budget(100 * KB), Budget(600 * KB), Budget(GB, 1000), Budget(GB, 20_000), Budget(0)],
    ids=["100 kB", "600 kB", "1,000 states", "20,000 states", "nothing"],
)
def test_at_a_limit_nothing_is_claimed_that_was_not_searched(home: Home, whole: Proof, budget: Budget) -> None:
    """Each property comes out as with no limit, or is too large; the same again the next time."""
    found = limited(home, budget)
    compare(found, whole)
    assert any(each.too_large for each in found.properties)
    assert limited(home, budget) == found


@pytest.mark.parametrize("looks", [0, 3, 8])
def test_when_the_time_is_over_so_is_the_search(home: Home, whole: Proof, looks: int) -> None:
    """As above, with a clock that is asked so often before it is late."""
    found = limited(home, late=after(looks))
    compare(found, whole)
    assert any(each.too_large for each in found.properties)
    assert all("limit of time" in each.why for each in found.properties if each.too_large)


def compare(found: Proof, whole: Proof) -> None:
    """A property of a proof within limits says the same as that of the whole one, or that it is too large."""
    said = {each.id: each.verdict for each in whole.properties}
    for each in found.properties:
        if each.id in said and not each.too_large:
            assert each.verdict is said[each.id], (each.id, each.why)
    large = {each.id.partition("/")[0] for each in found.properties if each.too_large}
    for name in said.keys() - {each.id for each in found.properties}:  # which sets are left on, a search must find
        assert name.partition("/")[0] in large


def test_a_breach_that_was_found_stays(home: Home, whole: Proof) -> None:
    """With too little for the whole of a set, what was breached before the limit is told, step by step."""
    found = {each.id: each for each in limited(home, Budget(1000 * KB)).properties}
    breached = [each.id for each in whole.properties if each.verdict is ProofVerdict.BREACHED]
    kept = [name for name in breached if found[name].verdict is ProofVerdict.BREACHED]
    assert kept
    assert all(found[name].counterexample for name in kept)


def test_it_says_what_was_gone_through_and_what_was_not(home: Home) -> None:
    """By property: which limit, how many cases and states, how deep, what is left."""
    found = {each.id: each for each in limited(home, Budget(squares_of(home) + 100 * KB)).properties}
    why = found["sounds_in_time/wing_0/set_full"].why
    assert why.startswith(
        "It is too large to be searched whole here: the search ended at its limit of memory. Gone through: "
    )
    assert " of 3 cases (part of the home, season and clock); of the next " in why
    assert "s after it begins. Not gone through: the other " in why


def test_memory_that_others_filled_is_given_back() -> None:
    """What fits when it is searched first fits last too: nothing is too large because of what came before it."""
    home = wing_home(2, 4, 2, habits=0)
    alone = Spending()
    Intruders(home, faults_of(home, "none")).search(alone)
    squares = squares_of(home)
    tight = Spending(Budget(squares + (alone.most_kept - squares) * 3 // 4))
    tallies = Intruders(home, faults_of(home, "none")).search(tight)
    assert not [tally.id for tally in tallies if tally.refused]
    assert alone.kept < alone.most_kept


def test_counted_bytes_are_near_those_that_python_takes() -> None:
    """Between half and twice of what the interpreter's own tracing of memory tells at the most."""
    home = wing_home(2, 8, 2, habits=0)
    intruders = Intruders(home, faults_of(home, "none"))
    assert all(part.steps for part in intruders.parts)  # cells are the home's, not the search's
    spending = Spending()
    tracemalloc.start()
    try:
        before, _ = tracemalloc.get_traced_memory()
        tracemalloc.reset_peak()
        intruders.search(spending)
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert 0.5 < (most - before) / spending.most_kept < 2


def test_progress_moves(home: Home, monkeypatch: pytest.MonkeyPatch) -> None:
    """Never more seconds of the unit between two lines than a slow computer works out in 2 s, whatever is searched."""
    seconds, longest, last = count(), [0], [0]
    plain = Tick.__init__

    def counted(tick: Tick, *args: object) -> None:
        next(seconds)
        plain(tick, *args)  # type: ignore[arg-type]

    said: list[tuple[str, int, int]] = []

    def tell(*line: object) -> None:
        now = next(seconds)
        longest[0], last[0] = max(longest[0], now - last[0]), now
        said.append(line)  # type: ignore[arg-type]

    monkeypatch.setattr(Tick, "__init__", counted)
    prove(home, "single", tell, Asked(RUNS))  # every fault too
    assert longest[0] <= MOST_SECONDS_UNTOLD
    assert all(one != other for one, other in pairwise(said))


def test_a_look_is_told_once_in_so_many() -> None:
    """One line for each thousand looks, each with another number of states, and the clock asked as often."""
    said, asked = [], count()
    spending = Spending(None, lambda what, *_: said.append(what), lambda: bool(next(asked) < 0))
    spending("ways in", 0, 3)
    for _ in range(5 * TELL_EVERY):
        spending.met(7)
        spending.look()
    assert said[:2] == ["ways in", "ways in: 7,000 states, 1,000 steps gone through"]
    assert len(said) == len(set(said)) == 6
    assert next(asked) == 5


@pytest.mark.parametrize("ran_out", list(RanOut))
def test_each_limit_ends_a_search(ran_out: RanOut) -> None:
    """One byte, state or second too many, and no sooner."""
    spending = Spending(Budget(1000, 10), late=lambda: ran_out is RanOut.TIME)
    spending.keep(1000)
    spending.met(10)
    spending.look(TELL_EVERY - 1)
    with pytest.raises(OverBudget, match=f"limit of {ran_out.text}"):
        {RanOut.MEMORY: lambda: spending.keep(1), RanOut.STATES: lambda: spending.met(1), RanOut.TIME: spending.look}[
            ran_out
        ]()


def test_making_ready_moves_too() -> None:
    """A line for each room, detector, habit and single fault of a large drawn home, before and between the searches."""
    home, said = wing_home(4, 20, 4, habits=1), list[str]()
    prove(home, "single", lambda what, *_: said.append(what), Asked(("ways", "habits", "siren"), budget=Budget(GB, 1)))
    eyes = [each for each in home.devices if each.kind is DeviceKind.MOTION]
    assert sum(what == "rooms as squares" for what in said) >= len(home.site.rooms)
    assert sum(what == "squares that each detector sees" for what in said) >= len(eyes)
    assert sum(what.startswith("steps ") for what in said) >= len(home.site.rooms)
    for habit in home.household.habits:
        assert any(what.startswith(f"walks of {habit.name}") for what in said)
    assert sum(what.startswith("whether faults are told") for what in said) >= len(faults_of(home)) - 1
    assert any(what.startswith("the siren in an hour") for what in said)


@pytest.mark.parametrize(("budget", "late"), [(Budget(10 * KB), None), (None, lambda: True)], ids=["memory", "time"])
def test_it_ends_while_it_is_made_ready(
    home: Home, whole: Proof, budget: Budget | None, late: Callable[[], bool] | None
) -> None:
    """With less than the squares take, or no time at all: said of each property, and nothing of it is kept."""
    pieces, limit = Pieces(), "time" if late else "memory"
    found = prove(home, "single", None, Asked(QUICK, budget=budget, late=late), pieces)
    ways = [each for each in found.properties if each.id.startswith(WAYS)]
    assert {each.id for each in ways} == {each.id for each in whole.properties if each.id.startswith(WAYS)}
    large = f"It is too large to be searched whole here: the search ended at its limit of {limit}. "
    open_ = "Gone through: nothing, since the search was still being made ready. Not gone through: all of it."
    assert {each.why for each in ways} == {large + open_}
    assert [each.id for each in found.assumptions if each.id == "not_ready"]
    assert prove(home, "single", None, Asked(QUICK), pieces) == prove(home, "single", None, Asked(QUICK))


def test_the_unit_alone_has_no_limit_beside_the_owners(home: Home, monkeypatch: pytest.MonkeyPatch) -> None:
    """One part of the unit that fills the memory leaves the others to be explored; no number of states ends it."""
    monkeypatch.setattr(alone, "MOST_STATES", 20)
    assert not any(each.too_large for each in alone.alone_proved(home, Spending()))
    assert any(each.why == "There are more states than can be explored." for each in alone.alone_proved(home))
    tight = [each.why for each in alone.alone_proved(home, Spending(Budget(400 * KB)))]
    assert any("limit of memory. Gone through: 10 of 11 parts of the control unit" in why for why in tight)
