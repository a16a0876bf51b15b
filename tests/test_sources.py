"""Every source that the library cites has been written down, says where it was read, and is cited somewhere."""

import ast
import re
from pathlib import Path

import pytest

from alarmlib.sources import Source, Status, every_source

LIBRARY = Path(__file__).parents[1] / "alarmlib"
_NUMBERED = re.compile(r'"((?:[a-z]+_?\d{2,}[a-z0-9]*)_[a-z0-9_]+)"')  # "cp01_exit", "en50131_unset", "ts50131_7_..."
_YEAR = re.compile(r"\b(19|20)\d\d\b")
# Documents that were not written for an ordinary home: other buildings, watched systems.
_ELSEWHERE = ("BS 5839-1", "NFPA 731", "DD 243", "protected premises", "chapter 17", "chapter 18")
SOURCES = every_source()


def test_every_standard_cited_in_the_code_is_known() -> None:
    """A literal that begins like a standard's key (letters and its number) is a key of the table."""
    known = {source.key for source in SOURCES}
    cited = {key for path in LIBRARY.rglob("*.py") for key in _NUMBERED.findall(path.read_text(encoding="utf-8"))}
    assert len(cited) > 30
    assert cited - known == set()


def test_no_source_is_listed_twice() -> None:
    """One line a key."""
    keys = [source.key for source in SOURCES]
    assert len(keys) == len(set(keys))


def _cited() -> set[str]:
    """Every literal of the library outside the table of sources, and each `key` named in a docstring."""
    found: set[str] = set()
    for path in LIBRARY.rglob("*.py"):
        if path.parent.name != "sources":
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    found |= {node.value, *re.findall(r"`(\w+)`", node.value)}
    return found


def test_every_source_is_cited() -> None:
    """No key is in the table that nothing leans on."""
    assert {source.key for source in SOURCES} - _cited() == set()


@pytest.mark.parametrize("source", SOURCES, ids=lambda source: source.key)
def test_what_was_seen_says_where_and_of_which_date(source: Source) -> None:
    """A source that was seen names the document that was read and an edition or date; no other claims a document."""
    if source.status is Status.SEEN:
        assert source.seen_in
        assert _YEAR.search(source.edition) or _YEAR.search(source.seen_in), source
    else:
        assert not source.seen_in


@pytest.mark.parametrize("source", SOURCES, ids=lambda source: source.key)
def test_a_source_about_other_premises_says_so(source: Source) -> None:
    """Standards for other buildings or watched systems are marked, say for what they are, and bind nobody here."""
    about_others = any(name in f"{source.title} {source.clause}" for name in _ELSEWHERE)
    assert source.elsewhere is about_others, source
    if source.elsewhere:
        assert source.scope and not source.may_bind
        assert "other premises" in str(source)


def test_dates_that_were_wrong_before() -> None:
    """An act, a repealed regulation, a standard for other buildings, a clause that was never read.

    Illinois: Public Act 94-0741, in force 1 January 2007 (State Fire Marshal's page). New South Wales: the regulation
    of 2017 replaced the one of 2008 (page of the state's Environment Protection Authority). CP-01: only the 6 trips and
    the 2 as delivered were read, in the trade news of 2010.
    """
    by_key = {source.key: source for source in SOURCES}
    assert "94-0741" in by_key["co_city"].title and by_key["co_city"].edition == "in force 1 January 2007"
    assert by_key["siren_nsw"].edition.startswith("2017")
    assert by_key["bedhead_75"].elsewhere and "BS 5839-6" in by_key["bedhead_75"].scope
    assert by_key["cp01_swinger"].clause == "6 trips at most, 2 as delivered"
