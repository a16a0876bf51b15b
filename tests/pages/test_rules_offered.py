"""A home on rules that can no longer be chosen keeps them, and is told so where it begins."""

from alarmlib.model import Home
from alarmlib.model.words import RuleSet
from alarmlib.pages import choices
from alarmlib.pages.answers import answer

OLD = Home.model_validate({"rules": {"rule_set": "australasia", "siren_limit_s": 300}})


def test_rules_of_which_too_little_was_seen_are_offered_to_nobody_else() -> None:
    """They are on the menu of a home that has them alone."""
    assert {each.value for each in RuleSet} - {key for key, _ in choices.rule_sets(Home())} == {"australasia"}
    assert [key for key, _ in choices.rule_sets(OLD)] == [each.value for each in RuleSet]


def test_page_00_says_so_and_the_facts_stay() -> None:
    """The first page names it before all else; nothing of the home is changed."""
    assert answer(OLD, "open").splitlines()[0].count("Australia and New Zealand") == 1
    assert "Australia" not in answer(Home(), "open")
    kept = Home.model_validate_json(OLD.model_dump_json())
    assert kept.rules.rule_set is RuleSet.AUSTRALASIA
    assert kept.rules.siren_limit_s == 300
