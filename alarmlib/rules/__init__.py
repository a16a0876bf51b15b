"""Published rules as data: one module a country, and the rules that a home has chosen."""

from alarmlib.model.home import Home
from alarmlib.model.words import RuleSet
from alarmlib.rules import australasia, britain, europe, us
from alarmlib.rules.country import CountryRules

__all__ = ["ALL", "CountryRules", "rules_of"]

ALL: dict[RuleSet, CountryRules] = {
    RuleSet.US: us.RULES,
    RuleSet.EUROPE: europe.RULES,
    RuleSet.BRITAIN: britain.RULES,
    RuleSet.AUSTRALASIA: australasia.RULES,
}


def rules_of(home: Home) -> CountryRules:
    """The rules that the home has chosen."""
    return ALL[home.rules.rule_set]
