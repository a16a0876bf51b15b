"""Free text that looks like a secret: a warning, never a proof; short codes can hide in any sentence.

Reference: common practice, no source; the kinds of text to warn of are those that crime-prevention leaflets
ask people not to write down.
"""

import hashlib
import re
import unicodedata
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from alarmlib.model import Home
from alarmlib.store.edits import Edit, FieldPath

_UNIT = r"\s?(?:mm|mAh|ohms?|Ω|Hz|lm|lux|W|K)\b"  # units whose values may have four digits
_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
_YEAR = r"(?:19|20)\d\d"
_HARMLESS = re.compile(
    rf"""\b{_YEAR}-(?:0[1-9]|1[0-2])(?:-(?:0[1-9]|[12]\d|3[01]))?\b
    | \b(?:in|since|from|built|made|before|after|until|year|bought|fitted|renewed|till|by|of|{_MONTH})\s{_YEAR}\b
    | \b(?:EN|UL|NFPA|IEC|BS|AS|NZS|ISO|TS|PD|NEC|DIN|VDE|CP)(?:/\w+)?[\s-]?\d[\d.-]*
    | \b\d[\d.,]*(?={_UNIT})
    | \bCR\d{{3,4}}[A-Z]?\b
    | (?:post|bar|colour|color|resistor|building|fire|electrical|local|error|event|area|zip|dress|source|town|state)
      [\s-]?codes?\b""",
    re.IGNORECASE | re.VERBOSE,
)
_DIGIT_WORD = r"(?:zero|oh|one|two|three|four|five|six|seven|eight|nine)"
_STREET = r"(?:street|road|lane|avenue|drive|close|crescent|boulevard|terrace|st|rd|ave|blvd)"
_STREET_FIRST = r"\w+(?:strasse|straße|str\.|weg|gasse|platz|laan|straat)"
_HIDERS = r"(?:mat|pot|stone|rock|gnome|bin|flowerpot|planter|brick)"
_LIES = r"(?:is|are|lies?|hangs?|kept|hidden|left|under|behind|in|inside|on|at|above|beneath)"
_LOOKS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), what)
    for pattern, what in (
        (r"[\w.+-]+\s?(?:@|\(at\)|\[at\])\s?[\w-]+(?:\.|\s?\(?dot\)?\s?)[a-z]{2,}", "an e-mail address"),
        (r"(?<![\w.])[-+]?\d{1,3}[.,]\d{4,}\s*[,;/ ]\s*[-+]?\d{1,3}[.,]\d{4,}", "a place on the map"),
        (rf"\b\d{{1,5}}[a-z]?,?\s+(?:\w+\.?\s+){{1,3}}{_STREET}\b", "an address"),
        (rf"\b{_STREET_FIRST}\s*\d{{1,4}}[a-z]?\b", "an address"),
        (r"(?<!\d)(?:\+|00)\d(?:[ ()/.-]?\d){6,14}(?!\d)", "a telephone number"),
        (r"(?<!\d)\(?0?\d{2,5}\)?(?:[ /.-]\d{2,5}){2,4}(?!\d)", "a telephone number"),
        (r"(?<!\d)\d{9,15}(?!\d)", "a telephone number or a code"),
        (r"(?<!\d)\d{4,8}(?!\d)", "a code"),
        (r"(?<![\d.,])\d(?:[ .,/_-]{1,2}\d){3,7}(?![\d.,]*\d)", "a code"),
        (r"(?<![\d.,])\d\d \d\d(?![\d.,]*\d)", "a code"),
        (rf"\b{_DIGIT_WORD}(?:[ ,-]+{_DIGIT_WORD}){{3,7}}\b", "a code"),
        (r"\b(?:pass\s?(?:word|code|phrase)|pin|codes?|combination|duress\s?word)\b", "a code"),
        (r"\bpw\s*[:=]|\bpwd\b", "a code"),
        (rf"\bunder\s(?:the|a|our)\s(?:\w+\s)?(?:door\s?)?{_HIDERS}\b", "a place for a key"),
        (r"\b(?:spare|hidden|second|extra)\skeys?\b|\bkey\s?(?:safe|box)\b", "a place for a key"),
        (rf"\bkeys?\s{_LIES}\b", "a place for a key"),
        (r"\b(?:safe|strongbox|cash\s?box)\s(?:is|stands|hidden|behind|in|under)\b|\bin\sthe\ssafe\b", "a safe place"),
        (r"\b(?:holidays?|vacations?|on\sleave|abroad|skiing|cruise)\b", "when nobody is in"),
        (r"\b(?:away|gone|empty)\s(?:from|until|till|between|on)\b", "when nobody is in"),
        (r"\b(?:jewel\w*|jewellery|gold|coins|cash|watches|heirlooms?|paintings?\sworth)\b", "valuables"),
    )
)  # fmt: skip


def looks_secret(text: str) -> str | None:
    """A sentence when a text looks like a code, key place, absence, address, number or valuables; else None."""
    plain = unicodedata.normalize("NFKC", text)
    plain = "".join(sign for sign in plain if unicodedata.category(sign) != "Cf").replace("_", " ")
    plain = _HARMLESS.sub(" ", plain)
    for pattern, what in _LOOKS:
        if pattern.search(plain):
            return (
                f"This looks like {what}, which no home file should hold: remove it, or say that it isn't one. "
                f"It is left out of every copy but the owner's."
            )
    return None


def text_hash(text: str) -> str:
    """What is kept of a text that the owner said is no secret."""
    return hashlib.sha256(text.encode("utf-8", "replace")).hexdigest()


def warning(home: Home, text: str) -> str | None:
    """As `looks_secret`, but None for a text that the owner said is none."""
    return None if text_hash(text) in home.cleared_texts else looks_secret(text)


def not_secret(home: Home, text: str) -> Edit:
    """The edit that notes the owner's "it isn't one"."""
    cleared = home.cleared_texts
    return Edit(("cleared_texts",), cleared, (*(c for c in cleared if c != text_hash(text)), text_hash(text)))


def is_free_text(info: FieldInfo) -> bool:
    """Whether people type what they like in a field: text, alone or in a list, that is no id, reference or date."""
    return info.annotation in {str, str | None} and not any(getattr(m, "pattern", None) for m in info.metadata)


def free_texts(part: BaseModel, path: FieldPath = ()) -> Iterator[tuple[FieldPath, str]]:
    """Every free text of a home that is not blank, with its path."""
    for name, info in type(part).model_fields.items():
        value = getattr(part, name)
        if isinstance(value, str) and value and is_free_text(info):
            yield (*path, name), value
        yield from _inside(value, (*path, name))


def _inside(value: Any, path: FieldPath) -> Iterator[tuple[FieldPath, str]]:
    if isinstance(value, BaseModel):
        yield from free_texts(value, path)
    elif isinstance(value, tuple):
        for number, item in enumerate(value, 1):
            if isinstance(item, BaseModel):
                yield from free_texts(item, (*path, str(getattr(item, "id", number))))


def warnings(home: Home) -> dict[FieldPath, str]:
    """Every free text that looks secret and was not cleared: its path and the sentence."""
    found = {path: warning(home, text) for path, text in free_texts(home)}
    return {path: sentence for path, sentence in found.items() if sentence}
