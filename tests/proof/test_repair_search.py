"""The search for fixes: how far it looks, what it gives up, which of several it takes, what it says of the rest."""

import pickle
from dataclasses import replace
from random import Random

import pytest
from repair_homes import (
    FOB_PRICE,
    FRONT,
    PANE,
    PANE_CONTACT,
    PANE_ZONE,
    SETTINGS,
    SLOW,
    THROUGH,
    Made,
    agrees,
    breached,
    ids,
    near,
    of,
    proved,
    some,
)

from alarmlib.checks.assess import assess
from alarmlib.checks.judged import judge_of
from alarmlib.model import Home
from alarmlib.proof.prove import prove
from alarmlib.proof.repairs.candidates import candidates
from alarmlib.proof.repairs.changes import EditWay
from alarmlib.proof.repairs.cheapest import go_on, repairs, seek
from alarmlib.proof.repairs.judge import Objection
from alarmlib.proof.report.verdicts import ProofVerdict, Proved


def test_four_holes__no_fix_and_the_reason_is_given(with_siren: Made) -> None:
    """Four windows without a detector need four changes: there is no fix, and the result says why."""
    home = with_siren(
        edits={"site.openings": [FRONT, *({**PANE, "id": f"pane_{n}", "name": f"Pane {n}"} for n in "abcd")]}
    )
    sought = agrees(home, some(home, EditWay.CONTACT, only=("put_back/night/hall_zone",)))
    assert not of(sought, "noticed_first/house/set_full")
    said = {each.id: each.sentence for each in sought.unrepaired}
    assert "No set of at most 3" in said["noticed_first/house/set_full"]
    assert "need 4 changes at least" in said["noticed_first/house/set_full"]
    assert "need 4 changes at least" in said["all"]


def test_patience_at_its_end__said(with_siren: Made) -> None:
    """A search that is given up says so, and claims nothing."""
    home = with_siren(SLOW, entry_s=20)
    sought = seek(home, proved(home), changes=near(home, "entry/unit/", "habit/"), patience=1)
    assert not sought.repairs
    assert [each.id for each in sought.unrepaired] == ["habit/habit_0"]
    assert sought.unrepaired[0].sentence.startswith(
        "Looked at 1 set of changes up to a cost of 90, with 1 of the 5 changes that may be tried. Nothing was found"
    )


def test_give_up_and_go_on__equals_one_long_search(with_siren: Made) -> None:
    """One set at a time, each time through a pickle as between processes: what one long search finds, nothing twice."""
    home = with_siren(SLOW, entry_s=20, edits={"site.openings.+": PANE})
    proof, changes = proved(home), near(home, "entry/unit/", "contact/", "put_back/", "habit/")
    long = seek(home, proof, changes=changes, patience=1000, judge=judge_of(home))
    short, goes = seek(home, proof, changes=changes, patience=1, judge=judge_of(home)), 1
    while short.left is not None:
        assert any("Continue the search" in each.sentence for each in short.unrepaired)
        short, goes = go_on(pickle.loads(pickle.dumps(short.left)), patience=1), goes + 1
    assert long.left is None
    assert goes > 1
    assert (short.repairs, set(short.unrepaired)) == (long.repairs, set(long.unrepaired))
    assert of(short, "all", "habit/habit_0") or of(short, "habit/habit_0")


def test_go_on__tries_nothing_twice(with_siren: Made) -> None:
    """A search for one goal in two parts looks at as many sets, and proves as often, as in one."""
    home = with_siren(SLOW, entry_s=20)
    proof, changes = proved(home), near(home, "entry/unit/", "exit/unit/", "habit/")
    long, first = (seek(home, proof, changes=changes, patience=patience) for patience in (1000, 2))
    assert first.left is not None
    assert first.tried < long.tried
    second = go_on(first.left)
    assert (second.tried, second.proofs, second.repairs) == (long.tried, long.proofs, long.repairs)


def test_what_a_fix_brings__is_listed(with_siren: Made) -> None:
    """A contact that hears a window that is open at night should be looked at again: the fix says so."""
    night = {**PANE, "kept_open": "night"}
    home = with_siren(edits={"site.openings.+": night})
    sought = seek(home, proved(home), changes=some(home, EditWay.CONTACT), judge=judge_of(home))
    repair = of(sought, "noticed_first/house/set_full")
    assert repair is not None
    new = {each.message for each in assess(repair.home).findings} - {each.message for each in assess(home).findings}
    assert repair.brings
    assert set(repair.brings) <= new


def test_not_all_at_once__what_stays_open_is_listed(with_siren: Made) -> None:
    """Where one breach has a fix and the other has none, the fix says what stays open, and so does the search."""
    home = with_siren(SLOW, entry_s=20, edits={"site.openings.+": PANE})
    sought = agrees(home, near(home, "entry/unit/"))
    repair = of(sought, "habit/habit_0")
    assert ids(repair) == ["entry/unit/35/longer"]
    assert repair is not None
    assert "noticed_first/house/set_full" in repair.still_open
    (whole,) = (each.sentence for each in sought.unrepaired if each.id == "all")
    assert "this stays open: House, set (nobody in): whoever comes in" in whole


def test_what_held_still_holds(with_siren: Made) -> None:
    """A longer delay would repair the habit and is cheap, but siren or message would come too late: a fob is taken."""
    home = with_siren(SLOW, entry_s=20, proof={"sounds_within_s": 30})
    assert not any(name.startswith("sounds_in_time") for name in breached(proved(home)))
    sought = agrees(home, near(home, "entry/unit/", "fob/", "habit/"))
    assert ids(of(sought, "habit/habit_0")) == ["fob/owner"]


def test_equally_dear__the_first_listed_every_time(with_siren: Made) -> None:
    """Of equally dear fixes the one listed first is taken, however often one searches."""
    home = with_siren(SLOW, entry_s=20)
    proof, changes = proved(home), near(home, "entry/unit/35", "entry/front/35")
    first, again, turned = (seek(home, proof, changes=each) for each in (changes, changes, changes[::-1]))
    assert first == again
    assert ids(first.repairs[0]) == ["entry/unit/35/longer"]
    assert ids(turned.repairs[0]) == ["entry/front/35/longer"]


def test_typed_prices_decide(with_siren: Made) -> None:
    """Where the owner's price for another delay is higher than that of a fob, the fob is taken; nothing is assumed."""
    prices = [{"kind": "delay", "price": 30}]
    home = with_siren(SLOW, entry_s=20, proof={"prices": prices}, more={"prices": [FOB_PRICE]})
    repair = of(seek(home, proved(home), changes=near(home, "entry/unit/", "fob/")), "habit/habit_0")
    assert ids(repair) == ["fob/owner"]
    assert repair is not None
    assert repair.cost == 10
    assert "assumed" not in repair.sentence


def test_whole_list_and_whole_proof(with_siren: Made) -> None:
    """With every change there is and every run: the fix's proof is that of the fixed home, faults and pairs too."""
    home = with_siren(SLOW, edits={"site.openings.+": PANE}, entry_s=40)
    proof = prove(home, "single")
    heard: list[tuple[str, int, int]] = []
    (repair,) = repairs(home, proof, lambda *said: heard.append(said))
    assert ids(repair) == ["contact/pane"]
    assert repair.proof == prove(repair.home, "single")
    assert heard
    assert all(0 <= done < of_all for _, done, of_all in heard)


def test_pairs_are_not_sought_and_said_so(with_siren: Made) -> None:
    """A breach of a pair of habits is named as one for which no fix is sought."""
    home = with_siren()
    pair = Proved("pair/one/other", "One beside other.", ProofVerdict.BREACHED)
    sought = seek(home, replace(proved(home), properties=(pair,)))
    assert not sought.repairs
    assert [(each.id, "No fix is searched for" in each.sentence) for each in sought.unrepaired] == [(pair.id, True)]


@pytest.mark.parametrize("seed", range(10))
def test_drawn_changes_and_prices__as_brute_force(with_siren: Made, seed: int) -> None:
    """Nine changes drawn by lot at prices drawn by lot, on a home with a hole of each kind: what brute force finds."""
    drawn = Random(seed)
    edits = {
        "site.openings": [FRONT, PANE, {**PANE, "id": "bare", "name": "Bare"}],
        "devices.+": PANE_CONTACT, "control_unit.zones.+": PANE_ZONE,
        "control_unit.part_sets.night.left_out": drawn.choice([["hall_zone"], ["hall_zone", "pane_z"]]),
        "proof.heard_first": drawn.choice([[], ["living"]]),
    }  # fmt: skip
    functions = {"hall_zone": drawn.choice(["entry_route", "at_once", "entry_exit"])}
    home = with_siren(SLOW, THROUGH, edits=edits, entry_s=drawn.choice([20, 40]), functions=functions)
    useful = [c for c in candidates(home) if c.way in (EditWay.CONTACT, EditWay.FOB, EditWay.HABIT, *SETTINGS)]
    useful += near(home, "entry/unit/", "exit/unit/50")
    kept = sorted(drawn.sample(range(len(useful)), 9))
    priced = tuple(replace(useful[place], price=float(drawn.randint(1, 5))) for place in kept)
    agrees(home, priced)


def test_checks_that_refuse_all__it_ends_and_says_so(with_siren: Made) -> None:
    """A judge whom nothing pleases: no fix, whether the search ends by itself or gives up, and never a wrong one."""
    home = with_siren(SLOW, entry_s=20)
    proof, changes = proved(home), near(home, "entry/unit/", "fob/", "habit/", "door/")

    def judge(made: Home) -> tuple[Objection, ...]:
        return () if made == home else (Objection("any", "thing", True, "It is not as it was."),)

    whole = seek(home, proof, changes=changes, patience=1000, judge=judge)
    assert (whole.repairs, whole.left) == ((), None)
    assert "No set of at most 3" in whole.unrepaired[0].sentence
    short = seek(home, proof, changes=changes, patience=1, judge=judge)
    assert short.left is not None
    assert short.repairs == ()
    assert seek(home, proof, changes=changes, patience=1000).repairs
