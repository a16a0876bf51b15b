"""The list of all texts misses none, and its measure counts what it says."""

import json
import re
import tomllib
from pathlib import Path

import pytest
from labels import FILLED, Text, is_read, measure, sentences, texts, words_of

import alarmlib
import alarmlib.model.home
from alarmlib.checks.cautions import CAUTIONS
from alarmlib.model.base import Part
from alarmlib.model.words import Word
from alarmlib.record.sections import LONG

WORKBOOK = Path(__file__).parents[2] / "workbook"


@pytest.fixture(scope="module")
def found() -> set[str]:
    return {text.words for text in texts()}


def _listed(words: str, found: set[str]) -> bool:
    """Whether the list has these words, or a text that is filled to these words."""
    filled = (re.escape(each).replace(re.escape(FILLED), ".+") for each in found if FILLED in each and len(each) > 12)
    return words in found or any(re.fullmatch(each, words) for each in filled)


def _all(kind: type) -> list[type]:
    return [each for below in kind.__subclasses__() for each in (below, *_all(below))]


def test_texts__every_label_and_help_of_the_model(found: set[str]) -> None:
    assert alarmlib.model.home.Home in _all(Part)
    for part in _all(Part):
        for field in part.model_fields.values():  # type: ignore[attr-defined]
            for words in (field.title, field.description):
                assert not words or not is_read(words) or _listed(words, found), words


def test_texts__every_choice_section_and_caution(found: set[str]) -> None:
    choices = [member.text for words in _all(Word) if words.__module__.startswith("alarmlib.model") for member in words]
    assert len(choices) > 100
    said = [*choices, *(section.title for section in LONG), *(advice.text for advice in CAUTIONS)]
    assert [words for words in said if is_read(words) and words not in found and "_" not in words] == []


def test_texts__every_heading_of_a_page(found: set[str]) -> None:
    for page in WORKBOOK.glob("*.ipynb"):
        for cell in json.loads(page.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "markdown":
                for line in "".join(cell["source"]).splitlines():
                    assert not line.startswith("#") or line.strip("# ") in found


@pytest.mark.parametrize("words", ["name units start_point", "final_door", r"^[a-z]+$", "<p>", "0.25", "sets"])
def test_is_read__leaves_out_code(words: str) -> None:
    assert not is_read(words)


def test_sentences__a_decimal_ends_none() -> None:
    assert sentences("It is 2.5 m high. Move {…} of it there? Hall") == ["It is 2.5 m high.", "Move {…} of it there?"]
    assert words_of("Move {…} of it, don't wait.") == 6


def test_measure__counts_inflections_and_long_sentences() -> None:
    said = [Text("help", "a:1", "It hung there and hangs still; mending an_id helps at 1.15e+03 m."),
            Text("help", "a:2", "word " * 26 + "ends.")]  # fmt: skip
    told = measure(said)
    assert "   2 hangs" in told and "   1 mend" in told and "   1 an id" in told and "   1 an exponent" in told
    assert "1 sentences have more than 25 words" in told and "27 a:2" in told


def test_description__is_given_once() -> None:
    """The package says in one line what it does for an owner; the library begins with the same line."""
    project = tomllib.loads((WORKBOOK.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert (alarmlib.__doc__ or "").splitlines()[0].rstrip(".") == project["description"]
