"""Short names for zones that can be read on a small display."""

from collections.abc import Sequence

_SHORT = {
    "windows": "wins", "window": "win", "bedroom": "bed", "bathroom": "bath", "kitchen": "kitch",
    "motion": "motn", "garage": "gar", "workshop": "wshop", "ground floor": "ground", "upstairs": "upstr",
    "detector": "det", "contact": "", "sensor": "", "carbon monoxide": "CO", "living room": "living",
    "dining room": "dining", "hallway": "hall", "basement": "basmt", "and": "+",
}  # fmt: skip
_FEWEST_LETTERS = 3


def fit(label: str, most: int | None) -> str:
    """The label within `most` characters: known words shortened first, then the longest word trimmed.

    Reference: common practice, no source.
    """
    label = " ".join(label.split())
    if most is None or len(label) <= most:
        return label
    words = _shortened(label).split()
    while len(" ".join(words)) > most and max(map(len, words)) > _FEWEST_LETTERS:
        longest = max(range(len(words)), key=lambda k: (len(words[k]), k))
        words[longest] = words[longest][:-1]
    return " ".join(words)[: max(most, 0)].rstrip()


def distinct(labels: Sequence[str], most: int | None) -> tuple[str, ...]:
    """The labels within `most` characters, each different: a number distinguishes equal ones."""
    taken: set[str] = set()
    fitted: list[str] = []
    for label in labels:
        candidate, count = fit(label, most), 1
        while candidate.casefold() in taken:
            count += 1
            tail = f" {count}"
            candidate = fit(label, None if most is None else max(most - len(tail), 0)) + tail
            candidate = candidate.strip() if most is None else candidate.strip()[-most:]
        taken.add(candidate.casefold())
        fitted.append(candidate)
    return tuple(fitted)


def joined(names: Sequence[str]) -> str:
    """The names as a sentence lists them: "hall", "hall and study", "hall, study and landing"."""
    unique = tuple(dict.fromkeys(names))
    return " and ".join((", ".join(unique[:-1]), unique[-1])) if len(unique) > 1 else "".join(unique)


def _shortened(label: str) -> str:
    """The label with every known word in its short form, the first letter kept as large as it was."""
    words = label
    for long, short in _SHORT.items():
        for old, new in ((long, short), (long.capitalize(), short[:1].upper() + short[1:])):
            words = " ".join((f" {words} ".replace(f" {old} ", f" {new} ")).split())
    return words or label
