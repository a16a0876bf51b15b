"""Words that must not come back are in no text, and no sentence is too long to be read once."""

import pytest
from labels import LONGEST, WATCHED, Text, matches, sentences, texts, words_of

AVERAGE = 20


@pytest.fixture(scope="module")
def everything() -> list[Text]:
    """Every label, help, choice, finding, page, script and section, and the README."""
    return list(texts())


def watched(found: list[Text]) -> list[tuple[str, list[str], str]]:
    """The texts that use a watched word: where, which ones, the text."""
    told = [(text.place, [name for name, _ in WATCHED if matches(name, text.words)], text.words) for text in found]
    return [each for each in told if each[1]]


def too_long(found: list[Text]) -> list[tuple[int, str, str]]:
    """The sentences above 25 words: how many words, where, the sentence."""
    said = [(text.place, each) for text in found for each in sentences(text.words)]
    return [(words_of(each), place, each) for place, each in said if words_of(each) > LONGEST]


def test_no_watched_word(everything: list[Text]) -> None:
    assert len(everything) > 5000
    assert watched(everything) == []


def test_no_sentence_is_too_long(everything: list[Text]) -> None:
    assert too_long(everything) == []


def test_sentences_are_short_on_average(everything: list[Text]) -> None:
    """In each kind of text that has 20 sentences, since many short ones would hide a kind that is long."""
    lengths: dict[str, list[int]] = {}
    for text in everything:
        lengths.setdefault(text.kind, []).extend(words_of(each) for each in sentences(text.words))
    long_kinds = {kind: found for kind, found in lengths.items() if len(found) >= 20}
    assert len(long_kinds) > 10
    assert [kind for kind, found in long_kinds.items() if sum(found) > AVERAGE * len(found)] == []


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("What mends it", "mend"),
        ("Look in the detector's papers.", "papers"),
        ("The paper says how far it sees.", "papers"),
        ("A contact hung on that circuit.", "hangs"),
        ("The value stood in its field.", "stands"),
        ("Ask the town.", "the town"),
        ("The unit tells one from the other apart.", "tells apart"),
        ("Draw the plan anew.", "anew"),
        ("That belongs into the survey.", "belongs into"),
        ("While the contact is shut", "shut"),
        ("Leakage that can be borne", "borne"),
        ("The sums of the record", "sums"),
        ("Wire-free devices", "wire-free"),
        ("It is said beside the field.", "is said"),
        ("Choose a thing first.", "thing"),
        ("The same in words", "the same in words"),
        ("Exponent (Peukert)", "Peukert"),
        ("The pull-up of the input", "pull-up"),
        ("Trip above this share", "share"),
        ("Short below this share of it", "share"),
        ("Shares by state, worst case", "share"),
        ("Shares of a loop by state", "share"),
        ("The circuit's share of the voltage", "share"),
        ("How the unit reads its loops", "loop"),
        ("Wired circuits", "loop"),
        ("Add the detector(s).", "plural by (s)"),
        ("The way hall_to_kitchen is not drawn.", "an id"),
        ("It draws 1.15e+03 mA.", "an exponent"),
        ("It draws 2e3 mA.", "an exponent"),
    ],
)
def test_a_planted_word_is_found(words: str, name: str) -> None:
    assert matches(name, words)
    assert [name in names for _, names, _ in watched([Text("help", "planted:1", words)])] == [True]


def test_a_planted_text_is_found_among_all_others(everything: list[Text]) -> None:
    found = watched([*everything, Text("help", "planted:1", "Choose a thing first.")])
    assert [(place, names) for place, names, _ in found] == [("planted:1", ["thing"])]


def test_a_planted_long_sentence_is_found(everything: list[Text]) -> None:
    long = " ".join(["The", *["long"] * 24, "sentence."])
    assert too_long([*everything, Text("help", "planted:1", long)]) == [(26, "planted:1", long)]


@pytest.mark.parametrize(
    "words",
    [
        "Kitchen and hall share a zone.",
        "Share the copy with a helper.",
        "Age and cold as shares of time",
        "Cables that run together may share holes.",
        "A wall that two rooms share. A mark shows it.",
        "Codes stay on paper, not here.",
        "Do not stand on the top step of a ladder.",
        "The standby battery lasts 12 h.",
        "A shutter and a summary",
        "Nothing and something",
        "A 2E cable",
    ],
)
def test_a_fair_use_is_none(words: str) -> None:
    assert watched([Text("help", "fair:1", words)]) == []
