"""Published rules as data: one module a country, and the rules that a home has chosen."""

from collections.abc import Callable

from alarmlib.model.home import Home
from alarmlib.model.words import RuleSet
from alarmlib.rules import australasia, britain, europe, us
from alarmlib.rules.country import CountryRules
from alarmlib.rules.words import in_words_of
from alarmlib.sources import every_source

__all__ = ["ALL", "CountryRules", "rules_of", "say_of"]

ALL: dict[RuleSet, CountryRules] = {
    RuleSet.US: us.RULES,
    RuleSet.EUROPE: europe.RULES,
    RuleSet.BRITAIN: britain.RULES,
    RuleSet.AUSTRALASIA: australasia.RULES,
}
_QUOTED = frozenset(
    text for source in every_source() for text in (source.title, source.edition, source.clause, source.seen_in) if text
)


def rules_of(home: Home) -> CountryRules:
    """The rules that the home has chosen."""
    return ALL[home.rules.rule_set]


def say_of(home: Home) -> Callable[[str], str]:
    """What puts a text about the home into the words of its country.

    What its owner typed, and what documents are called, stays as it is.
    """
    words, kept = rules_of(home).words, home.typed_texts | _QUOTED
    return lambda text: in_words_of(text, words, kept)
