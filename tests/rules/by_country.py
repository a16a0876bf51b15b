"""The demo home under the rules of a country, and the words of another country in a text."""

import json
import re
from pathlib import Path

from alarmlib.model import Home
from alarmlib.rules.words import Words
from alarmlib.sources import every_source

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"
DAY = "2026-11-25"


def demo(rules: str, **more: object) -> Home:
    """The demo home under those rules."""
    document = json.loads(DEMO.read_text(encoding="utf-8"))
    document["rules"]["rule_set"] = rules
    return Home.model_validate(document | more)


def strangers(text: str, words: Words, typed: frozenset[str] = frozenset()) -> list[str]:
    """The words of the other country in a text, what was typed and the names of documents left out."""
    if not strangers_in(text, words):
        return []
    named = {
        part for each in every_source() for part in (each.title, each.edition, each.clause, each.seen_in, each.scope)
    }
    for known in sorted((typed | named) - {""}, key=len, reverse=True):
        if strangers_in(known, words) and known.casefold() not in words.others:
            text = text.replace(known, "…")
    return [text[max(0, found.start() - 40) : found.end() + 20] for found in strangers_in(text, words)]


def strangers_in(text: str, words: Words) -> list[re.Match[str]]:
    """Where a word of the other country is."""
    others = "|".join(sorted(map(re.escape, words.others), key=len, reverse=True))
    return list(re.finditer(rf"(?<![\w-])(?:{others})(?![\w-])", text, re.IGNORECASE))
