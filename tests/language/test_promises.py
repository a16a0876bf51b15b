"""No text promises safety: what was computed is told as computed, and no text says that somebody is woken."""

import re

import pytest
from labels import Text, texts

# What reads like a promise, with its inflections. The first group is one whatever is around it; the second is fair in a
# sentence of doubt, question or denial ("may", "not", "who", "try").
ALWAYS = {
    "safe": r"\bsafe(ly)?\b",
    "surely": r"\bsurely\b",
    "guarantee": r"\bguarantee(s|d|ing)?\b",
    "ensure": r"\bensur(e|es|ed|ing)\b|\bmak(e|es|ing) sure\b|\brest assured\b",
    "proves": r"\bproves\b|\bproven? (that|to)\b|\bproof (that|against)\b|-proof\b",
    "nobody can come in": r"\b(nobody|no one|no intruder|no burglar) can (come|get|cross|enter|reach|pass)\b",
    "never fails": r"\b(never|cannot|can't) (fails?|miss(es)?)\b|\bwithout fail\b|\breliabl[ey]\b|\bfoolproof\b",
    "always acts": r"\balways (gives|wakes|sounds|works|notices|sees|catches|warns|sends)\b",
}
UNLESS_IN_DOUBT = {
    "will notice": r"\b(will|would) (surely |always )?(wake|catch|stop|notice|see|hear|detect|protect|deter|save)\b",
    "wakes": r"\b(wakes?|woke|waking) (them|everybody|everyone|people|somebody|you|sleepers|more)\b|\b(is|are) woken\b",
    "protects": r"\bprotects? (you|your|people|the (home|house|family|household))\b",
}
DOUBT = re.compile(
    r"\b(not|never|no|nothing|nobody|cannot|n't|may|might|should|whether|who|try|test|agree|meant|count on)\b",
    re.IGNORECASE,
)
KEPT_TEXTS = {"source", "store"}  # titles of others' documents, and the words by which a secret is known
# Not about a person: why a place out of reach is a fault, and a count of devices that has a bound. The README's line on
# what a detector "surely sees" goes when the README is next written.
FAIR = re.compile(r"cannot be reached safely|with proof that none is smaller")


def promises(words: str) -> list[str]:
    """The names of what in these words reads like a promise."""
    found = []
    for sentence in re.split(r"(?<=[.!?;])\s+", FAIR.sub("", words)):
        found += [name for name, pattern in ALWAYS.items() if re.search(pattern, sentence, re.IGNORECASE)]
        if not DOUBT.search(sentence):
            found += [name for name, pattern in UNLESS_IN_DOUBT.items() if re.search(pattern, sentence, re.IGNORECASE)]
    return found


@pytest.fixture(scope="module")
def everything() -> list[Text]:
    """Every label, help, finding, caution, page, section and the README."""
    return [text for text in texts() if text.kind not in KEPT_TEXTS]


def promising(found: list[Text]) -> list[tuple[str, list[str], str]]:
    """Which of the texts promise, and by which words."""
    told = [(text.place, promises(text.words), text.words) for text in found]
    return [each for each in told if each[1]]


def test_no_text_promises(everything: list[Text]) -> None:
    assert len(everything) > 3000
    assert promising(everything) == []


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("Your home is safe. Test it each month.", "safe"),
        ("The motion detector surely sees {…}.", "surely"),
        ("This arrangement guarantees an alarm.", "guarantee"),
        ("A second path ensures that the message arrives.", "ensure"),
        ("The test walk proves that it works.", "proves"),
        ("The house is burglar-proof.", "proves"),
        ("Fit a contact: nobody can come in unheard.", "nobody can come in"),
        ("A radio sensor never fails.", "never fails"),
        ("Night: always gives the alarm.", "always acts"),
        ("The detector will notice {…}.", "will notice"),
        ("A siren in the hall wakes everybody. It may be loud.", "wakes"),
        ("Deep sleepers are woken by a low tone.", "wakes"),
        ("The system protects your family.", "protects"),
    ],
)
def test_a_planted_promise_is_found(words: str, name: str, everything: list[Text]) -> None:
    """Alone, and among all other texts."""
    assert name in promises(words)
    found = promising([*everything, Text("help", "planted:1", words)])
    assert ("planted:1", promises(words), words) in found


@pytest.mark.parametrize(
    "words",
    [
        "Do not count on a siren to wake anybody.",
        "Agree who wakes them, and try it by night.",
        "A contact is meant to notice it; still test it.",
        "It is no promise of safety.",
        "Computed to be seen by four steps any way",
    ],
)
def test_a_fair_sentence_is_none(words: str) -> None:
    assert promises(words) == []
