"""A proof made of pieces: what is kept is what a cold proof says, and any change of what a piece rests on is seen."""

import json
import os
import random
import subprocess
import sys
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from changing import changed, models, other_values, places
from drafted_homes import british_home, wintry_home
from test_every_field import IDENTITY, fields_of, typed

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.words import UnitSystem
from alarmlib.proof.pieces import code, pieces
from alarmlib.proof.pieces.code import code_digest, modules
from alarmlib.proof.pieces.content import content_of, digest
from alarmlib.proof.pieces.pieces import Pieces
from alarmlib.proof.pieces.recorded import NAMES, HomeReading, every_field, recorded
from alarmlib.proof.pieces.said import InWords
from alarmlib.proof.prove import QUICK, Asked, prove
from alarmlib.proof.report.verdicts import Proof

Made = Callable[..., Home]
HABIT = {"steps": [("open", "front", 2), ("close", "front", 2), ("walk_to", "keypad", 4), ("unset", "", 5)]}
LATE = {"steps": [("open", "front", 9), ("close", "front", 2), ("walk_to", "keypad", 4), ("unset", "", 5)]}
WHOLE = os.environ.get("ALARM_WHOLE") == "1"
SEED, DRAWN = 12, 8
FEW = Asked(("ways", "habits", "left_out", "siren"))


def again(found: Pieces) -> Pieces:
    """What was kept, as it comes back from a file."""
    return Pieces(json.loads(json.dumps(found.document())))


def count(proof: Proof) -> tuple[int, int]:
    """How many pieces were worked out, of how many."""
    assert proof.basis is not None
    return proof.basis.redone, proof.basis.pieces


def speaks_of(proof: Proof, of: Home, home: Home) -> bool:
    """Whether a proof of one home still speaks of another."""
    assert proof.basis is not None
    return content_of(of, proof.basis.reads) == content_of(home, proof.basis.reads)


def test_nothing_moved__nothing_is_worked_out_again(two_rooms: Made) -> None:
    """The second proof is the first, from what was kept."""
    home, kept = two_rooms(HABIT, LATE), Pieces()
    cold = prove(home, "single", None, Asked(QUICK), kept)
    assert count(cold)[0] == count(cold)[1] > 20
    warm = prove(home, "single", None, Asked(QUICK), again(kept))
    assert (warm, count(warm)) == (cold, (0, count(cold)[1]))


def test_one_habit_moved__the_other_is_kept(two_rooms: Made) -> None:
    """A wait in one habit: that habit again, its walk, and what reads all habits; what it says is what a cold one says.

    Neither the ways in nor the other habit nor any part of the control unit are worked out again.
    """
    kept = Pieces()
    prove(two_rooms(HABIT, LATE), "single", None, FEW, kept)
    other = two_rooms(HABIT, LATE | {"steps": [*LATE["steps"][:-1], ("unset", "", 8)]})
    warm = prove(other, "single", None, FEW, again(kept))
    assert warm == prove(other, "single", None, FEW)
    assert count(warm)[0] == 2


def test_one_state_after_another__each_as_from_the_beginning(two_rooms: Made, put: Made) -> None:
    """Several proofs from the same pieces, each as from the beginning: also where something is breached."""
    kept = Pieces()
    for entry_s in (5, 60, 5):
        home = put(two_rooms(HABIT), {"control_unit.times.entry_s": entry_s})
        assert prove(home, "single", None, FEW, kept) == prove(home, "single", None, FEW)


@pytest.fixture
def renamed(two_rooms: Made) -> tuple[Home, Home]:
    """A home, and the same with every name, note and the units changed."""
    home = two_rooms(HABIT)
    document = home.model_dump(mode="json")
    _rename(document)
    document["units"] = "us"
    return home, Home.model_validate(document)


def _rename(value: Any) -> None:
    if isinstance(value, dict):
        for name, inner in value.items():
            if name in NAMES and isinstance(inner, str):
                value[name] = f"My {inner}"
            elif name == "note":
                value[name] = "A note."
            else:
                _rename(inner)
    for inner in value if isinstance(value, list) else ():
        _rename(inner)


def test_names_notes_units__never_out_of_date(renamed: tuple[Home, Home]) -> None:
    """Nothing is worked out again, and the kept proof says all by the new names, word by word."""
    home, other = renamed
    kept = Pieces()
    proof = prove(home, "single", None, FEW, kept)
    warm = prove(other, "single", None, FEW, again(kept))
    assert count(warm)[0] == 0
    assert speaks_of(proof, home, other)
    assert warm == prove(other, "single", None, FEW)
    assert proof.basis is not None
    assert proof.basis.marked is not None
    shown = InWords(other).of(proof.basis.marked)
    assert (shown.properties, shown.assumptions, shown.faults) == (warm.properties, warm.assumptions, warm.faults)
    assert "My " in warm.properties[0].sentence
    assert other.units is UnitSystem.US
    assert [each.sentence for each in warm.assumptions] != [each.sentence for each in proof.assumptions]
    assert not any("⟦" in text or "⦃" in text for text in _texts(warm))


def _texts(proof: Proof) -> Iterator[str]:
    yield from (each.sentence for each in (*proof.assumptions, *proof.properties, *proof.faults))
    for each in proof.properties:
        yield from (*each.worst.values(), each.why)
        yield from (text for beat in each.counterexample for text in (beat.who, beat.place, beat.state, beat.output))


@pytest.mark.parametrize(
    "change",
    [
        {"household.people.owner.speed_m_s": 0.7}, {"site.rooms.living.guarded": False},
        {"control_unit.zones.hall_zone.function": "at_once"}, {"devices.hall_eye.sleep_s": 90},
        {"proof.intruder_m_s": 3}, {"rules.rule_set": "australasia"}, {"site.passages.inner.seconds": 5},
    ],
    ids=lambda change: next(iter(change)),
)  # fmt: skip
def test_what_is_read__out_of_date(change: dict[str, Any], two_rooms: Made, put: Made) -> None:
    """A proof of people, rooms, zones, detectors and rules as they were does not speak of them as they are."""
    home = two_rooms(HABIT)
    proof = prove(home, "single", None, FEW)
    assert not speaks_of(proof, home, put(home, change))


def test_a_problem_is_said_by_name(two_rooms: Made, put: Made) -> None:
    """What cannot be proved is told with the names that the owner gave."""
    problem = InWords(two_rooms()).problem(AlarmProblem("The room ⟦Room.hall.name⟧ is lost."))
    assert "⟦" not in str(problem)


# -- every field ------------------------------------------------------------------------------------------------------


def edits(homes: tuple[Home, ...]) -> Iterator[tuple[str, Home, Home]]:
    """Each field of each kind of part changed once: what it is, the home, and the home after that."""
    for model in models():
        for name in fields_of(model):
            found = next(_edits_of(homes, model, name), None) if name not in IDENTITY else None
            if found is not None:
                yield f"{model.__name__}.{name}", *found


def _edits_of(homes: tuple[Home, ...], model: type[Part], name: str) -> Iterator[tuple[Home, Home]]:
    for home in homes:
        document, ids = home.model_dump(mode="json"), [room.id for room in home.site.rooms]
        for where, part in places(home, model):
            for value in other_values(model.model_fields[name], getattr(part, name), ids):
                other = changed(home, document, (*where, name), value)
                if other is not None:
                    yield home, other


def outcome(home: Home, kept: Pieces) -> Proof | str:
    """The proof from pieces, or why there is none."""
    try:
        return prove(home, "single", None, FEW, kept)
    except AlarmProblem as problem:
        return str(problem)


def test_any_field_changed__as_from_the_beginning(two_rooms: Made) -> None:
    """From pieces as cold, field by field; a proof that is not called out of date is what a cold one says.

    Some fields drawn in the ordinary run; with `--whole` every field, in two larger homes.
    """
    homes = (typed(wintry_home()), typed(british_home())) if WHOLE else (two_rooms(HABIT, LATE),)
    begun = [(home, kept, prove(home, "single", None, FEW, kept)) for home in homes for kept in (Pieces(),)]
    every = list(edits(homes))
    assert len(every) > 200
    for what, home, other in every if WHOLE else random.Random(SEED).sample(every, DRAWN):
        ((_, kept, proof),) = (each for each in begun if each[0] is home)
        warm, cold = outcome(other, again(kept)), outcome(other, Pieces())
        assert warm == cold, what
        if speaks_of(proof, home, other):
            assert isinstance(cold, Proof), what
            assert proof.basis is not None
            assert proof.basis.marked is not None
            assert InWords(other).of(proof.basis.marked) == cold, what


def test_a_read_that_is_not_noted_is_found(two_rooms: Made, put: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    """The measure itself: with the reads of one field forgotten, a kept proof goes on speaking of another home."""
    home, other = two_rooms(HABIT), put(two_rooms(HABIT), {"control_unit.times.entry_s": 7})
    assert not speaks_of(prove(home, "single", None, FEW), home, other)
    note = HomeReading.note
    monkeypatch.setattr(
        HomeReading, "note", lambda self, of, field: None if field == "entry_s" else note(self, of, field)
    )
    assert speaks_of(prove(home, "single", None, FEW), home, other)


# -- content and code -------------------------------------------------------------------------------------------------


def test_content__alike_only_where_all_is() -> None:
    """True is not 1, 1 is not 1.0, a row is no set, and what belongs together is not run together."""
    values: tuple[Any, ...] = (
        1, True, 1.0, "1", None, "", (), (1,), ((1,),), ("ab", "c"), ("a", "bc"), frozenset({1}), {1: 2}, ((1, 2),),
        UnitSystem.US, "us", ("a\x1fb",), ("a", "b"), -0.0, 0.0,
    )  # fmt: skip
    assert len({digest(value) for value in values}) == len(values)
    assert digest(frozenset("abc")) == digest(frozenset("cba"))
    with pytest.raises(TypeError):
        digest(object())


def test_recorded__alike_parts_note_what_makes_them_so(two_rooms: Made) -> None:
    """A part that is compared with another has had all its fields read; one that is only kept as a key has not."""
    home, reading = two_rooms(), HomeReading()
    seen = recorded(home, reading)
    room = seen.site.rooms[0]
    assert room in {room: 1}
    assert "Room" not in reading.seen()
    assert room == home.site.rooms[0].model_copy(update={"name": room.name})
    assert set(reading.seen()["Room"]) == {*every_field(Home)["Room"], "note"}
    assert room.model_copy(update={"storey": "attic"}) != room


def test_a_changed_sum__always_out_of_date(two_rooms: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    """One line of one module below, or another version of a library that calculates: every piece again."""
    home, kept = two_rooms(HABIT), Pieces()
    cold = prove(home, "none", None, FEW, kept)
    was = code_digest()
    name, content = next(each for each in modules() if each[0] == "calc/walking/walks.py")
    others = [each for each in modules() if each[0] != name]
    monkeypatch.setattr(code, "modules", lambda: iter([*others, (name, content + b"# another sum\n")]))
    code_digest.cache_clear()
    try:
        assert code_digest() != was
        assert count(prove(home, "none", None, FEW, again(kept))) == (count(cold)[1],) * 2
        monkeypatch.undo()
        monkeypatch.setattr(code.metadata, "version", lambda _: "0.0")
        code_digest.cache_clear()
        assert code_digest() != was
    finally:
        monkeypatch.undo()
        code_digest.cache_clear()
    assert code_digest() == was


def test_code__every_module_that_a_proof_loads_counts() -> None:
    """In a process of its own; what does not count holds citations, or only brings the demo home."""
    found = subprocess.run([sys.executable, "-c", "import sys, alarmlib.proof.prove\nprint(*sys.modules)"],
                           check=True, capture_output=True, text=True).stdout.split()  # fmt: skip
    counted = {name.removesuffix(".py").removesuffix("/__init__").replace("/", ".") for name, _ in modules()}
    loaded = {name.removeprefix("alarmlib.") for name in found if name.startswith("alarmlib.")}
    assert {name for name in loaded - counted if name.partition(".")[0] != "sources"} == set()
    assert {"control.machine", "calc.cells.cell_map", "proof.prove", "units"} <= loaded & counted
    for library in ("numpy", "shapely", "scipy", "networkx"):
        assert library in code.NUMBERS


# -- what was kept ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "document",
    [None, [], {}, "x", {"fields": {}}, {"fields": [], "values": {}}, {"fields": {"habit": 3}, "values": {}},
     {"fields": {"habit": [{"Room": [1]}]}, "values": {}}, {"fields": {}, "values": []}],
    ids=str,
)  # fmt: skip
def test_kept_otherwise__worked_out_again(document: Any, two_rooms: Made) -> None:
    """Whatever a file holds: the proof is a cold one."""
    home = two_rooms()
    assert prove(home, "none", None, Asked(("siren",)), Pieces(document)) == prove(
        home, "none", None, Asked(("siren",))
    )


@pytest.mark.parametrize("spoilt", [None, 3, "x", [], {}, {"id": 1}, [[1]]], ids=str)
def test_a_spoilt_piece__worked_out_again(spoilt: Any, two_rooms: Made) -> None:
    """A piece that is not what was kept, under its right name, is not taken."""
    home, kept = two_rooms(HABIT), Pieces()
    cold = prove(home, "single", None, FEW, kept)
    document = kept.document()
    kinds = list(document["values"].items())
    document["values"] = {key: spoilt if at % 2 else [check, spoilt] for at, (key, (check, _)) in enumerate(kinds)}
    assert prove(home, "single", None, FEW, Pieces(document)) == cold


def test_kept__no_more_than_its_bound(two_rooms: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was used last stays, and is as good as before."""
    home, kept = two_rooms(HABIT), Pieces()
    cold = prove(home, "single", None, FEW, kept)
    whole = len(json.dumps(kept.document()["values"]))
    monkeypatch.setattr(pieces, "MOST_BYTES", whole // 2)
    half = kept.document()
    assert 0 < len(json.dumps(half["values"])) <= whole * 0.6
    warm = prove(home, "single", None, FEW, Pieces(half))
    assert warm == cold
    assert 0 < count(warm)[0] < count(warm)[1]
