"""The proof in the record: for the owner alone, in words and pictures that say the same, plain when it is old."""

from dataclasses import replace

import pytest

from alarmlib.checks.assess import assess
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import NEVER_RUN, KeptProof
from alarmlib.proof.report.verdicts import Beat, Hole, Proof
from alarmlib.record.blocks import Block, Caution, Picture, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.counterexample_blocks import MOST_DRAWN
from alarmlib.record.produce import made
from alarmlib.record.proof_blocks import NEVER, OUT_OF_DATE, fault_blocks, proof_text
from alarmlib.record.sections.settings.proof import proof as section

DATE = "2026-11-25"


def blocks(home: Home, kept: KeptProof) -> tuple[Block, ...]:
    """The blocks of the section in the owner's copy."""
    return section.build(Context(home, assess(home), Share.OWNER, DATE, kept=kept))


def test_every_copy__only_the_owners_tells_of_the_proof(demo: Home, hand_proof: Proof) -> None:
    """No sentence of the proof, no finding of it and no heading is in a copy that others read."""
    kept = KeptProof(hand_proof, fresh=True)
    told = {copy: made(demo, copy, DATE, kept=kept)[1].decode() for copy in Share}
    words = ["Proof on paper", "Siren or message before the bedrooms", "contact of the back door is dead", "Case 1"]
    assert all(word in told[Share.OWNER] for word in words)
    for copy in (Share.HELPER, Share.CLASS, Share.PUBLIC):
        assert [word for word in (*words, "proof.") if word in told[copy]] == []
        assert told[copy] == made(demo, copy, DATE)[1].decode()


def test_never_run__says_so(demo: Home) -> None:
    """The caution comes first; then the plain word that nothing was proved."""
    found = blocks(demo, NEVER_RUN)
    assert isinstance(found[0], Caution)
    assert found[1:] == (Text((NEVER,)),)


def test_unreadable_proof__is_one_sentence(demo: Home) -> None:
    """A kept file that could not be read is named."""
    found = blocks(demo, KeptProof(problem="The kept proof cannot be read."))
    assert found[1:] == (Text(("The kept proof cannot be read.", NEVER)),)


def test_out_of_date__says_so_before_any_result(demo: Home, hand_proof: Proof) -> None:
    """The old result is shown under the word that it claims nothing of the present home."""
    old, new = (blocks(demo, KeptProof(hand_proof, fresh)) for fresh in (False, True))
    assert old[1] == Text((OUT_OF_DATE,))
    assert old[2:] == new[1:]


def test_assumptions_come_before_what_was_found(demo: Home, hand_proof: Proof) -> None:
    """Whoever reads from the top meets what is assumed, and what is not covered, first."""
    text = proof_text(demo, hand_proof)
    order = ["no promise", "2.53 m/s", "More than two people", "✖ breached", "Case 1", "What one fault alone opens"]
    assert [text.index(words) for words in order] == sorted(text.index(words) for words in order)


def test_verdicts__as_sign_and_word_what_fails_first(demo: Home, hand_proof: Proof) -> None:
    """Names replace ids, seconds carry their unit, and what is not settled says why."""
    tables = [b for b in blocks(demo, KeptProof(hand_proof, True)) if isinstance(b, Table)]
    found = [
        (table.caption, *(cell.replace("\u2068", "").replace("\u2069", "") for cell in row[1:]))
        for table in tables[:2]
        for row in table.rows
    ]
    assert found == [
        (
            "Somebody comes in: 1 ✖ breached, 1 ✔ holds",
            "✖ breached",
            "way in: Back door; room: Main bedroom; late: 31 s. Case 1",
        ),
        ("Somebody comes in: 1 ✖ breached, 1 ✔ holds", "✔ holds", "margin: 3 s; way in: Back door"),
        ("Everyday life: 1 ▲ not settled", "▲ not settled", "the walk does not repeat at half the square"),
    ]


def test_every_property__is_in_one_table(demo: Home, hand_proof: Proof) -> None:
    """Whatever a property is called, it is in exactly one of the tables."""
    names = ["beside/a/b", "pair/a/b", "pairs", "unit/x", "left_out_shown/a/b", "siren_in_an_hour", "something_new"]
    properties = tuple(replace(hand_proof.properties[0], id=name, sentence=f"The {name}.") for name in names)
    found = blocks(demo, KeptProof(replace(hand_proof, properties=properties), True))
    rows = [row[0] for block in found if isinstance(block, Table) and "Property" in block.header for row in block.rows]
    assert sorted(rows) == sorted(f"The {name}" for name in names)


def test_counterexamples__a_long_row_is_cut_in_the_record(demo: Home, hand_proof: Proof) -> None:
    """A record stays small: two cases are drawn, eight told step by step, the others counted."""
    many = replace(hand_proof, properties=(hand_proof.properties[1],) * 9)
    found = blocks(demo, KeptProof(many, True))
    captions = [getattr(block, "table", block).caption for block in found if isinstance(block, Picture | Table)]
    assert [f"Case {n}, step by step" in captions for n in range(1, 10)] == [True] * 8 + [False]
    assert any("Not shown here: 1." in str(getattr(block, "paragraphs", "")) for block in found)
    assert "Case 9, step by step" in proof_text(demo, many)
    assert sum(isinstance(block, Picture) and "over time" in block.title for block in found) == MOST_DRAWN


def test_counterexample__in_time_and_on_each_storey_with_its_table(demo: Home, hand_proof: Proof) -> None:
    """Each step is in the table of its picture: all in time, each on the plan of its storey."""
    pictures = [block for block in blocks(demo, KeptProof(hand_proof, True)) if isinstance(block, Picture)]
    assert [[row[0] for row in picture.table.rows] for picture in pictures] == [
        ["1", "2", "3", "4"], ["1", "2", "3"], ["4"],
    ]  # fmt: skip
    for picture in pictures:
        dark = {shape.text for shape in picture.drawing.shapes if getattr(shape, "dark", False)}
        assert dark == {row[0] for row in picture.table.rows}


def test_counterexample__without_a_plan_is_told_in_time_only(demo: Home, hand_proof: Proof) -> None:
    """Beats without a place give the timeline and its table, and no plan."""
    counterexample = (Beat(0, "intruder", "back_door"), Beat(5, "intruder", "hall", output="siren"))
    breached = replace(hand_proof.properties[1], counterexample=counterexample)
    kept = KeptProof(replace(hand_proof, properties=(breached,)), True)
    assert len([block for block in blocks(demo, kept) if isinstance(block, Picture)]) == 1


def test_counterexample__who_stays_in_one_place_is_one_step_on_the_plan(demo: Home, hand_proof: Proof) -> None:
    """Three beats at one door by one person, then one by another: two marks, and the table says which steps."""
    movers = ("First parent", "First parent", "First parent", "Cleaner")
    counterexample = tuple(Beat(n, who, "front_door", "ground", (6.1, 0.0)) for n, who in enumerate(movers))
    kept = KeptProof(
        replace(hand_proof, properties=(replace(hand_proof.properties[1], counterexample=counterexample),)), True
    )
    plan = next(b for b in blocks(demo, kept) if isinstance(b, Picture) and "on the plan" in b.title)
    assert [row[0] for row in plan.table.rows] == ["1 to 3", "4"]
    assert [shape.text for shape in plan.drawing.shapes if getattr(shape, "dark", False)] == ["1", "4"]


def test_counterexample__tells_what_is_new_and_names_in_place_of_ids(demo: Home, hand_proof: Proof) -> None:
    """A state that has not changed is blank; areas, zones and sets are called as the owner calls them."""
    states = ("house is set (night). studio is disarmed.", "house is set (night). studio is disarmed.",
              "house is set (night). studio is disarmed. Tripped: front_door.")  # fmt: skip
    counterexample = tuple(Beat(n, "Intruder", "hall", state=state) for n, state in enumerate(states))
    kept = KeptProof(
        replace(hand_proof, properties=(replace(hand_proof.properties[1], counterexample=counterexample),)), True
    )
    table = next(b.table for b in blocks(demo, kept) if isinstance(b, Picture))
    told = [row[5] for row in table.rows]
    assert told == [
        "House is set (Night: upstairs asleep, ground floor guarded). Studio is disarmed", "", "Tripped: Front door",
    ]  # fmt: skip


@pytest.mark.parametrize("beats", [1, 40])
def test_counterexample__of_any_length_is_drawn(beats: int, demo: Home, hand_proof: Proof) -> None:
    """One step, or forty, four in a second: every step has its number and stays on the sheet."""
    counterexample = tuple(Beat(n // 4, "intruder", "hall", "ground", (6.0, 3.0 + n / 50)) for n in range(beats))
    kept = KeptProof(
        replace(hand_proof, properties=(replace(hand_proof.properties[1], counterexample=counterexample),)), True
    )
    for picture in (block for block in blocks(demo, kept) if isinstance(block, Picture)):
        dark = [shape for shape in picture.drawing.shapes if getattr(shape, "dark", False)]
        assert len(dark) == beats
        assert all(0 <= shape.at[0] <= picture.drawing.width for shape in dark)


def test_faults__holes_first_the_others_named(demo: Home, hand_proof: Proof) -> None:
    """Whether it is announced, after how long, what it opens and for how long."""
    table = next(
        b for b in blocks(demo, KeptProof(hand_proof, True)) if getattr(b, "caption", "").startswith("What one")
    )
    assert isinstance(table, Table)
    assert table.rows == (
        ("The contact of the back door is dead (✖ not announced)", "Whoever comes in is noticed first, nobody in"),
        ("The mains are gone and the battery is flat (✔ announced after 60 min)", "A siren within 40 s"),
    )
    assert "The repeater is dead." in proof_text(demo, hand_proof)
    assert "No fault was tried." in proof_text(demo, replace(hand_proof, faults=()))


def test_faults__each_hole_once_and_how_long_where_that_differs(demo: Home, hand_proof: Proof) -> None:
    """The same hole in three sets is one sentence; a hole that outlasts the announcement says so."""
    holes = (*(Hole(f"noticed_first/house/{n}", "By the window.", 0) for n in "abc"), Hole("x", "By the door.", None))
    fault = replace(hand_proof.faults[1], after_s=0, holes=holes)
    text = proof_text(demo, replace(hand_proof, faults=(fault,)))
    assert "(✔ announced at once)" in text
    assert "By the window (3 properties); By the door, until somebody finds it" in text


def test_faults__what_opens_the_same_is_one_row(demo: Home, hand_proof: Proof) -> None:
    """Two faults that open just the same, one told and one not: one row, each with its own announcement."""
    first, second = hand_proof.faults[:2]
    same = (replace(first, holes=(Hole("x", "A siren within 40 s.", None),)), second)
    table = next(b for b in fault_blocks(replace(hand_proof, faults=same)) if isinstance(b, Table))
    (row,) = table.rows
    both = (
        "The contact of the back door is dead (✖ not announced); "
        "The mains are gone and the battery is flat (✔ announced after 60 min)"
    )
    assert row == (both, "A siren within 40 s")


def test_record__names_in_a_proof_are_plain_text(demo: Home, hand_proof: Proof) -> None:
    """Markup in a sentence of a kept proof, which anybody could have written, stays text."""
    evil = replace(hand_proof.properties[1], sentence="<script>x</script>", worst={"way_in": "<b>"})
    html = made(demo, Share.OWNER, DATE, kept=KeptProof(replace(hand_proof, properties=(evil,)), True))[1].decode()
    assert "<script>" not in html
    assert "&lt;script&gt;x&lt;/script&gt;" in html
