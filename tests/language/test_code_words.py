"""The old words are in no comment, docstring or name of the library and its tests."""

import ast
import io
import re
import tokenize
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[2]
# Each old word and its place in today's: "fix", "manual", "is mounted", "is", "counterexample" and so on.
OLD = re.compile(
    r"\b(mend(s|ed|ing)?|papers|hangs?|hung|stands|stood|story|stories|settle(s|d|ing)?|anew|the town|belongs? into"
    r"|borne|sums|wire[- ]free|(is|are|was|were) said|manners|happenings?|test walks?|final doors?|rule sets?"
    r"|arm(ed|ing)|disarm(s|ed|ing)?|bypass(es|ed|ing)?|panic|troubles?|quiet times?"
    r"|tells? [^.,;:]{1,30} apart|told apart)\b",
    re.IGNORECASE,
)
OLD_IN_NAMES = {
    *("mend", "mends", "mended", "papers", "hangs", "hung", "story", "stories", "settle", "settles", "settled", "anew"),
    *("town", "borne", "sums", "manners", "happening", "happenings", "disarm", "disarms", "disarmed", "bypass"),
    *("bypassed", "panic", "trouble", "troubles", "perimeter"),
}
PAIRS_IN_NAMES = ("wire_free", "test_walk", "final_door", "armed_away", "quiet_time")
FAIR = ("not settled", "not_settled")  # the verdict of a proof that is neither breached nor shown to hold


class Found(NamedTuple):
    """Words that a contributor reads: where they are, and what they are."""

    place: str
    words: str


def written(path: str, source: str) -> Iterator[Found]:
    """Every comment, and every string that is a statement of its own: docstrings, and those of constants."""
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type == tokenize.COMMENT:
            yield Found(f"{path}:{token.start[0]}", token.string)
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str):
            yield Found(f"{path}:{node.lineno}", re.sub(r"\s+", " ", node.value.value))


def named(path: str, source: str) -> Iterator[Found]:
    """Every name that is given: of functions, classes, parameters, variables and fields."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            yield Found(f"{path}:{node.lineno}", node.name)
        elif isinstance(node, ast.arg):
            yield Found(f"{path}:{node.lineno}", node.arg)
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield Found(f"{path}:{node.lineno}", node.id)


def old_words(text: str) -> list[str]:
    """The old words in a sentence."""
    for fair in FAIR:
        text = text.replace(fair, "")
    return [match[0] for match in OLD.finditer(text)]


def old_names(name: str) -> list[str]:
    """The old words in a name, whichever way its parts are joined."""
    flat = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name).lower().removeprefix("test_")
    for fair in FAIR:
        flat = flat.replace(fair, "")
    return [*(OLD_IN_NAMES & set(flat.split("_"))), *(pair for pair in PAIRS_IN_NAMES if pair in flat)]


def for_contributors() -> Iterator[Found]:
    """The lines of DEVELOPERS.md."""
    for number, line in enumerate((ROOT / "DEVELOPERS.md").read_text("utf-8").splitlines(), 1):
        yield Found(f"DEVELOPERS.md:{number}", line)


def sources() -> dict[str, str]:
    """The modules of the library and of its tests, by path."""
    files = [path for top in ("alarmlib", "tests") for path in sorted((ROOT / top).rglob("*.py"))]
    return {
        path.relative_to(ROOT).as_posix(): path.read_text("utf-8") for path in files if "node_modules" not in path.parts
    }


def test_no_old_word_in_code() -> None:
    """Old words stay where they are data: in what old files hold (strings), and in pairs of words by country."""
    found = [
        (each.place, words, each.words[:120])
        for path, source in sources().items()
        for each in written(path, source)
        if (words := old_words(each.words))
    ]
    assert found == []


def test_no_old_name_in_code() -> None:
    found = [
        (each.place, words, each.words)
        for path, source in sources().items()
        for each in named(path, source)
        if (words := old_names(each.words))
    ]
    assert found == []


def test_no_old_word_in_developers() -> None:
    assert [(each, words) for each in for_contributors() if (words := old_words(each.words))] == []


@pytest.mark.parametrize(
    "source",
    [
        '"""What mends it."""',
        'def made() -> None:\n    """A device that hangs there."""',
        'LIMIT = 3\n"""The town\'s limit."""',
        "LIMIT = 3  # in the owner's papers",
        'def made() -> None:\n    """It is\n    said once."""',
        'def made() -> None:\n    """Until the area is disarmed."""',
    ],
)
def test_a_planted_word_in_code_is_found(source: str) -> None:
    assert [place for place, words in written("planted.py", source) if old_words(words)] != []


@pytest.mark.parametrize(
    "source",
    [
        "def mend_it() -> None: ...",
        "def test_a_story_is_told() -> None: ...",
        "class StoryTold: ...",
        "def made(papers: int) -> None: ...",
        "hung = 1",
        "WIRE_FREE_M = 30",
        "def test_the_test_walk() -> None: ...",
    ],
)
def test_a_planted_name_in_code_is_found(source: str) -> None:
    assert [place for place, name in named("planted.py", source) if old_names(name)] != []


@pytest.mark.parametrize(
    "words",
    [
        "Each has a recommendation of its own.",
        "How far somebody can stand from the wall, on two storeys",
        "Breached, not settled, holds",
        "It is standing still; a sum of squares; a standby battery",
    ],
)
def test_a_fair_use_in_code_is_none(words: str) -> None:
    assert old_words(words) == []


@pytest.mark.parametrize("name", ["not_settled", "NOT_SETTLED", "test_walk_round_the_corner", "recommended", "storeys"])
def test_a_fair_name_is_none(name: str) -> None:
    assert old_names(name) == []
