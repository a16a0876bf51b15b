"""The proof that is kept beside the home file."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.proof.pieces import code
from alarmlib.proof.pieces.code import code_digest
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.report.document import document_of
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.verdicts import Basis, Proof
from alarmlib.record.produce import demo_home
from alarmlib.store import kept_proofs
from alarmlib.store.kept_proofs import keep, kept


@pytest.fixture(scope="module")
def reads() -> Basis:
    """What some runs of a proof read of the demo home."""
    basis = prove(demo_home(), "single", asked=Asked(("siren",))).basis
    assert basis is not None
    return Basis(basis.reads)


@pytest.fixture
def hand_proof(hand_proof: Proof, reads: Basis) -> Proof:
    """The proof written by hand, with what one reads."""
    return replace(hand_proof, basis=reads)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """Where a home file would be."""
    return tmp_path / "home.json"


def edited(spoil: Any) -> Home:
    """The demo home after a change of its document."""
    document = demo_home().model_dump(mode="json")
    spoil(document)
    return Home.model_validate(document)


def test_kept__nothing_yet(place: Path) -> None:
    """Without a kept file no text mentions one."""
    assert kept(place, demo_home()) == KeptProof(None, False, "")


def test_kept__as_it_was(place: Path, hand_proof: Proof) -> None:
    """What was kept is read back, and speaks of the home as it is."""
    assert keep(place, demo_home(), hand_proof).name == "home.proof.json"
    assert kept(place, demo_home()) == KeptProof(hand_proof, True, "")


def _note(document: Any) -> None:
    document["note"] = "new note"
    document["devices"][0]["note"] = "new note"
    document["site"]["rooms"][0]["note"] = "new note"


def _test(document: Any) -> None:
    document["log"]["tests"] = []
    document["log"]["events"] = []


def _price(document: Any) -> None:
    document["devices"][0]["price"] = 12
    document["proof"]["prices"] = [{"kind": "delay", "price": 3}]


@pytest.mark.parametrize(
    "change",
    [
        _note, _test, _price,
        lambda d: d.update(name="Another name"),
        lambda d: d.update(cautions_read=[]),
        lambda d: d["devices"][0].update(fitted_on="2024-02-03"),
        lambda d: d["short_path"].update(rooms="hall"),
        lambda d: d["wiring"]["done"].pop(),
        lambda d: d["circuits"][0].update(open_ohm=12.5),
    ],
    ids=["note", "log", "price", "name", "cautions", "day", "short path", "tick", "reading"],
)  # fmt: skip
def test_kept__fresh_after_an_edit_that_it_does_not_read(change: Any, place: Path, hand_proof: Proof) -> None:
    """Notes, logs, prices, days and the name move without moving the proof."""
    keep(place, demo_home(), hand_proof)
    other = edited(change)
    assert other != demo_home()
    assert kept(place, other).fresh


@pytest.mark.parametrize(
    "change",
    [
        lambda d: d["control_unit"]["times"].update(entry_s=41),
        lambda d: d["devices"][0].update(sleep_s=90),
        lambda d: d["proof"].update(intruder_m_s=3),
        lambda d: d["site"]["passages"][0].update(width_m=0.7),
        lambda d: d["control_unit"]["zones"][0].update(silent=True),
        lambda d: d["rules"].update(rule_set="australasia"),
        lambda d: d["messages"]["paths"].clear() or d["messages"]["messages"].clear() or d["wiring"]["boxes"].clear(),
        lambda d: d["wiring"]["supply"].update(standby_battery_ah=4),
    ],
    ids=["delay", "rest", "speed", "passage", "zone", "rules", "messages", "battery"],
)
def test_kept__out_of_date_after_an_edit_that_it_reads(change: Any, place: Path, hand_proof: Proof) -> None:
    """The proof is still read, and said to be out of date."""
    keep(place, demo_home(), hand_proof)
    assert kept(place, edited(change)) == KeptProof(hand_proof, False, "")


def test_kept__out_of_date_when_the_library_moved(
    place: Path, hand_proof: Proof, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another version of the library proves again."""
    keep(place, demo_home(), hand_proof)
    monkeypatch.setattr(kept_proofs, "__version__", "99.0")
    assert not kept(place, demo_home()).fresh


@pytest.mark.parametrize(
    "content",
    [b"", b"{", b"[]", b"\xff\xfe", b'{"schema_version": 9}', b'{"schema_version": 3, "proof": {}}', b"[" * 100_000],
    ids=["empty", "cut", "list", "no text", "newer", "no proof", "deep"],
)
def test_kept__a_broken_file_is_ignored_in_a_sentence(content: bytes, place: Path) -> None:
    """Neither a traceback nor a deletion: the sentence names the file."""
    file = kept_proofs.kept_file(place)
    file.write_bytes(content)
    found = kept(place, demo_home())
    assert (found.proof, found.fresh) == (None, False)
    assert "home.proof.json cannot be read, so it was ignored" in found.problem
    assert file.read_bytes() == content


def test_kept__of_an_earlier_workbook_is_called_so(place: Path) -> None:
    """0.1 to 0.4 called the parts of a proof otherwise: such a file is not broken, it is old."""
    old = b'{"schema_version": 1, "read": "x", "library": "0.4.1", "proof": {"schema_version": 1, "properties": []}}'
    kept_proofs.kept_file(place).write_bytes(old)
    found = kept(place, demo_home())
    assert found.proof is None and "of an earlier workbook" in found.problem
    assert kept_proofs.kept_file(place).read_bytes() == old


def test_keep__a_full_disk_leaves_what_was_kept(
    place: Path, hand_proof: Proof, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No room left: a sentence, and the proof kept earlier stays."""
    import errno
    import os

    keep(place, demo_home(), hand_proof)
    before = kept_proofs.kept_file(place).read_bytes()

    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(AlarmProblem, match=r"home\.proof\.json was not saved"):
        keep(place, demo_home(), hand_proof)
    monkeypatch.undo()
    assert kept_proofs.kept_file(place).read_bytes() == before
    json.loads(before)


def test_keep__a_home_read_back_is_the_same(place: Path, hand_proof: Proof) -> None:
    """A home that went through its file is the one that was proved."""
    keep(place, demo_home(), hand_proof)
    assert kept(place, Home.model_validate_json(demo_home().model_dump_json())).fresh


def test_kept__out_of_date_when_a_sum_moved(place: Path, hand_proof: Proof, monkeypatch: pytest.MonkeyPatch) -> None:
    """A changed line of the code below makes it so, whatever version the library says it has."""
    keep(place, demo_home(), hand_proof)
    monkeypatch.setattr(code, "modules", lambda: iter([("calc/sums.py", b"another sum")]))
    code_digest.cache_clear()
    try:
        assert kept(place, demo_home()) == KeptProof(hand_proof, False, "")
    finally:
        code_digest.cache_clear()


def test_kept__of_0_5__shown_and_called_out_of_date(place: Path, hand_proof: Proof) -> None:
    """Files of 0.4 and 0.5 do not say what was read: the proof is told, as out of date."""
    document = {"schema_version": 2, "read": "x", "library": "0.5.0", "proof": document_of(hand_proof)}
    kept_proofs.kept_file(place).write_text(json.dumps(document), encoding="utf-8")
    assert kept(place, demo_home()) == KeptProof(hand_proof, False, "")


def test_kept__told_by_the_names_that_it_has_now(place: Path, tmp_path: Path) -> None:
    """A room renamed after the proof, and one that is gone: the kept proof says the new name, or the last one."""
    home = demo_home()
    proof = prove(home, "single", asked=Asked(("siren",)))
    keep(place, home, proof)
    name, number = next((d.name, n) for n, d in enumerate(home.devices) if f"“{d.name}”" in repr(proof.faults))
    other = edited(lambda document: document["devices"][number].update(name="The new one"))
    found = kept(place, other)
    assert found.fresh
    assert found.proof == replace(prove(other, "single", asked=Asked(("siren",))), seconds=proof.seconds)
    assert "“The new one”" in repr(found.proof) and f"“{name}”" not in repr(found.proof)
    gone = home.model_copy(update={"devices": ()})
    old = kept(place, gone)
    assert not old.fresh
    assert f"“{name}”" in repr(old.proof)


def test_kept__without_what_it_read__every_field_counts(place: Path, hand_proof: Proof) -> None:
    """A proof that does not say what it read is out of date after any edit but one of a name or a note."""
    keep(place, demo_home(), replace(hand_proof, basis=None))
    assert kept(place, edited(lambda document: document.update(name="Another name"))).fresh
    assert kept(place, edited(_note)).fresh
    assert not kept(place, edited(_price)).fresh


def test_keep__a_home_of_that_name_stays(place: Path, hand_proof: Proof) -> None:
    """A home called home.proof.json had been replaced by the proof of home.json."""
    other = place.with_name("home.proof.json")
    other.write_text('{"schema_version": 2, "name": "Own"}', encoding="utf-8")
    with pytest.raises(AlarmProblem, match=r"home\.proof\.json is a home"):
        keep(place, demo_home(), hand_proof)
    assert other.read_text(encoding="utf-8") == '{"schema_version": 2, "name": "Own"}'
