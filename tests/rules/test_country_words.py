"""All that a person meets of the demo home under either country's rules holds no word of the other country.

Pages: forms, buttons, choices, checks and pictures; every copy of the record; lists as CSV; the commands. What the
owner typed and what documents are called are left out. A text that left in its country's words is not changed when it
is put into them once more.
"""

import csv
import html
import io
import json
import re
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from by_country import DAY, DEMO, demo, strangers

import alarmlib.__main__ as command_line
from alarmlib.checks.assess import assess
from alarmlib.model import Home
from alarmlib.model.words import RuleSet, Share
from alarmlib.pages.answers import ANSWERS, GROUPS, answer
from alarmlib.pages.cautions import gated
from alarmlib.pages.forms import SPECIAL, build
from alarmlib.pages.opened import open_home
from alarmlib.pages.pictures import PROVED, drawn
from alarmlib.pages.proof_repairs import RepairForm
from alarmlib.pages.start_forms import START
from alarmlib.pages.tables import LISTS, SHEETS
from alarmlib.proof.repairs.cheapest import Repair
from alarmlib.record.device_schedule import schedule_csv
from alarmlib.record.plain import plain_blocks
from alarmlib.record.record import build as record_of
from alarmlib.record.sections import LONG
from alarmlib.record.walk_list import walk_csv
from alarmlib.record.wiring_lists import cables_csv, cells_csv, power_csv
from alarmlib.rules import rules_of, say_of
from alarmlib.store import Session
from alarmlib.store.kept_proofs import read_kept
from alarmlib.store.tables import CsvTable, to_csv
from alarmlib.widgets.engine import Engine
from alarmlib.widgets.gate import Gate
from alarmlib.widgets.plan_editor import PlanEditor
from alarmlib.widgets.view import View

RULES = ("us", "britain")
CODE = frozenset(
    {"id", "key", "control", "accept", "renamed", "storey", "what", "path", "base"}
)  # of what the browser is told
ONE_WAY: tuple[Callable[[Home], str], ...] = (schedule_csv, walk_csv, cables_csv, power_csv, cells_csv)
Said = Iterator[tuple[str, str]]


@pytest.fixture(params=RULES)
def session(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """The demo home with its kept proof, under the rules of a country, as the pages find it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "home.json").write_text(demo(request.param).model_dump_json(), encoding="utf-8")
    shutil.copy(DEMO.with_suffix(".proof.json"), tmp_path / "home.proof.json")
    return open_home()


def wrong(said: Said, home: Home) -> list[tuple[str, str]]:
    """Where a word of the other country is used, and the words around it."""
    words, say = rules_of(home).words, say_of(home)
    found = []
    for place, text in said:
        found += [(place, each) for each in strangers(text, words, home.typed_texts)]
        if say(text) != text:
            found.append((place, f"{text} → {say(text)}"))
    return found


def texts_in(told: Any) -> Iterator[str]:
    """Every text in what the browser is told; names of code left out."""
    if isinstance(told, str):
        yield told
    elif isinstance(told, dict):
        for key, part in told.items():
            if key not in CODE:
                yield from texts_in(part)
    elif isinstance(told, list | tuple):
        for part in told:
            yield from texts_in(part)


def engines(shown: Any) -> Iterator[Engine]:
    """The forms in what a form cell shows: behind a caution, in a stack, beside a button that runs."""
    if isinstance(shown, Engine):
        yield shown
    for part in ("form", "before", "forms"):
        inside = getattr(shown, part, None)
        for each in inside if isinstance(inside, tuple) else (inside,):
            if each is not None:
                yield from engines(each)


def said_by(form: Engine) -> Iterator[str]:
    """What a form says: labels, help, buttons, choices, what is beside a field; of the plan also its own notes."""
    yield from texts_in(form.structure)
    yield from (name for choices in form.options.values() for _, name in choices)
    yield from texts_in([form.warnings, form.asides, getattr(form, "questions", [])])
    if isinstance(form, PlanEditor):
        scene = {key: part for key, part in form.scene.items() if key != "storeys"}
        scene["unplaced"] = [name for each in form.scene["unplaced"].values() for _, name in each]
        yield from texts_in(scene)


def of_forms(session: Session) -> Said:
    """Every form of every page."""
    for name in (*START, *SHEETS, *LISTS, *SPECIAL):
        shown = gated(session, name, START[name](session) if name in START else build(session, name))
        if isinstance(shown, Gate):
            yield from of_markup(f"gate {name}", shown.closed.value)
        if isinstance(shown, View):
            yield from of_markup(f"view {name}", shown.html)
        for form in engines(shown):
            yield from ((f"form {name}", text) for text in said_by(form))


def of_markup(place: str, markup: str) -> Said:
    """The texts between the tags."""
    yield from ((place, html.unescape(each)) for each in re.split(r"<[^>]*>", markup) if each.strip())


def of_pictures(home: Home) -> Said:
    """Every picture and table of the pages."""
    for name in (*PROVED, "cable_plan", *(section.id for section in LONG)):
        yield from of_markup(f"picture {name}", drawn(home, name))


def of_record(home: Home) -> Said:
    """Every section of every copy."""
    for share in Share:
        for section in record_of(assess(home), home, share, DAY).sections:
            yield f"record {share.value}", f"{section.title}\n{plain_blocks(section.blocks)}"


def of_lists(home: Home) -> Said:
    """Every cell of every list given out."""
    written = [(each.__name__, each(home)) for each in ONE_WAY]
    written += [(table.value, to_csv(home, table)) for table in CsvTable]
    for name, text in written:
        yield from ((f"list {name}", cell) for row in csv.reader(io.StringIO(text)) for cell in row)


def lines_of(place: str, text: str) -> Said:
    yield from ((place, line) for line in text.splitlines())


def test_every_form_keeps_to_the_words_of_the_country(session: Session) -> None:
    said = list(of_forms(session))
    assert len(said) > 3000
    assert wrong(iter(said), session.home) == []


def test_every_check_and_picture_keeps_to_the_words_of_the_country(session: Session) -> None:
    home = session.home
    checks = [(f"check {name}", answer(home, name)) for name in (*GROUPS, *ANSWERS)]
    pictures = list(of_pictures(home))
    assert len(pictures) > 3000
    assert wrong(iter(checks), home) == []
    assert wrong(iter(pictures), home) == []


def test_every_copy_of_the_record_keeps_to_the_words_of_the_country(session: Session) -> None:
    assert wrong(of_record(session.home), session.home) == []


def test_every_list_keeps_to_the_words_of_the_country(session: Session) -> None:
    said = list(of_lists(session.home))
    assert len(said) > 2000
    assert wrong(iter(said), session.home) == []


def test_the_fixes_keep_to_the_words_of_the_country(session: Session) -> None:
    """What page 08 lists, from a search that found one and left one open."""
    home = session.home
    proof = read_kept(DEMO).about(home).proof
    assert proof is not None
    shown = RepairForm(session)
    shown.searched = home
    sentence = "Unset, then set it: the mains fault."
    shown.found = {"fix": Repair("fix", sentence, 10.0, (), home, proof, brings=(sentence,))}
    assert wrong(of_markup("fixes", shown._drawn()), home) == []


def test_commands_keep_to_the_words_of_the_country(
    session: Session, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What `check`, `prove` and `record` print, as text and as a document, and what they say on stderr."""
    home, file = session.home, "home.json"
    proof = read_kept(DEMO).about(home).proof
    assert proof is not None
    monkeypatch.setattr(command_line, "_proved", lambda *_: replace(proof))
    for asked in (["check", file], ["check", "--json", file], ["prove", "--faults", "none", file],
                  ["prove", "--faults", "none", "--json", file],
                  ["record", file, "--copy", "owner", "--out", "record.html", "--date", DAY]):  # fmt: skip
        command_line.main(asked)
        told = capsys.readouterr()
        shown = texts_in(json.loads(told.out)) if "--json" in asked else told.out.splitlines()
        said = [(" ".join(asked), text) for text in (*shown, *told.err.splitlines())]
        assert said
        assert wrong(iter(said), home) == []


def test_an_error_about_a_home_keeps_to_the_words_of_its_country(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """A home that is not ready for the proof, and a record that cannot be written."""
    for rules in RULES:
        home = Home.model_validate({"rules": {"rule_set": rules}, "site": {"storeys": [{"id": "g", "name": "G"}]}})
        (tmp_path / "home.json").write_text(home.model_dump_json(), encoding="utf-8")
        assert command_line.main(["prove", str(tmp_path / "home.json")]) == command_line.BAD_INPUT
        told = capsys.readouterr().err
        assert told
        assert wrong(lines_of("prove", told), home) == []


def test_a_planted_word_is_found(session: Session) -> None:
    """In each of the ways that the tests above look."""
    home = session.home
    word, phrase = {
        RuleSet.US: ("the mains", "It is set and unset."),
        RuleSet.BRITAIN: ("house power", "It is armed."),
    }[home.rules.rule_set]
    assert wrong(iter([("planted", word)]), home)
    assert wrong(iter([("planted", phrase)]), home)
    assert wrong(of_markup("planted", f"<p>Kitchen &amp; {word}</p>"), home)
    assert list(texts_in({"label": word, "id": word, "columns": [{"help": "x"}]})) == [word, "x"]
