"""Words that differ by country: the pairs, once, and one function that puts a text into the words of a home's rules.

Everybody writes texts in plain British English. What a person reads goes through `in_words_of` where it leaves the
library; what the owner typed is never touched.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

_QUOTES = (("“", "”"), ("\u2068", "\u2069"))


@dataclass(frozen=True)
class Words:
    """The words of a country for phrases of the texts; a phrase that is mapped to itself protects a longer one.

    `others` are words that a person there does not expect to read.
    """

    name: str
    said: Mapping[str, str] = field(hash=False)
    others: frozenset[str] = frozenset()


def in_words_of(text: str, words: Words, typed: frozenset[str] = frozenset()) -> str:
    """The text with the country's words, capitals kept; whatever of it is one of the `typed` texts stays as it is.

    A typed text that is only a word of ours (“set”) stays where it is quoted or is the whole text.
    """
    changed = _changed(words)
    if text in typed or not changed.search(text.lower()):
        return text
    known = _kept(words, typed)
    parts = known.split(text) if known else [text]  # every second part is the owner's
    return "".join(part if n % 2 else _swapped(part, words) for n, part in enumerate(parts))


def _swapped(text: str, words: Words) -> str:
    said = words.said
    return _phrases(words).sub(lambda found: _like(found[0], said[found[0].lower()]), text)


def _like(found: str, said: str) -> str:
    """The word used there, with the capitals of what was found."""
    if found.isupper() and len(found) > 1:
        return said.upper()
    return said[:1].upper() + said[1:] if found[:1].isupper() else said


def _one_of(texts: Iterable[str]) -> str:
    """A pattern for any of the texts as whole words, the longest first."""
    longest_first = sorted(texts, key=lambda each: (-len(each), each))
    any_of = "|".join(re.escape(each) + (r"(?!\w)" if each[-1:].isalnum() else "") for each in longest_first)
    return rf"(?<![\w-])(?:{any_of})"


@lru_cache(maxsize=8)
def _phrases(words: Words) -> re.Pattern[str]:
    """Every phrase in one pattern: as written, with a capital, in capitals."""
    forms = {form for each in words.said for form in (each, each[:1].upper() + each[1:], each.upper())}
    return re.compile(_one_of(forms))


@lru_cache(maxsize=8)
def _changed(words: Words) -> re.Pattern[str]:
    """Any word that some phrase may change: a quick look whether there is anything to do."""
    gone = {word for phrase, said in words.said.items() for word in _split(phrase) - _split(said)}
    return re.compile(_one_of(gone))


@lru_cache(maxsize=32)
def _kept(words: Words, typed: frozenset[str]) -> re.Pattern[str] | None:
    """The owner's texts that hold a word that might be changed, in one pattern; None where there are none."""
    mine = [text for text in typed if _changed(words).search(text.lower())]
    ours = [text for text in mine if text.lower() in words.said]
    quoted = [f"{left}{text}{right}" for text in ours for left, right in _QUOTES]
    kept = [*quoted, *(text for text in mine if text not in ours)]
    return re.compile(f"({_one_of(kept)})") if kept else None


def _split(phrase: str) -> set[str]:
    return set(re.findall(r"[\w-]+", phrase))
