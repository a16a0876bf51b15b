"""Risks that the household accepts, in its own words."""

from typing import Annotated, ClassVar

from pydantic import AfterValidator, StringConstraints

from alarmlib.model.base import Day, Id, Name, Note, Part, fact, identity
from alarmlib.model.entered import readable

Told = Annotated[str, StringConstraints(max_length=40_000), AfterValidator(readable)]


class Accepted(Part):
    """What was found, as it was told when somebody accepted it, and why they did.

    `words` are the findings, a line each, as `checks.accepted.words_of` writes them: once a finding says something
    else, it is no longer what was accepted.
    """

    untyped: ClassVar[frozenset[str]] = frozenset({"words"})
    id: Id = identity()
    words: Told = fact(
        "",
        "What you accept",
        help="Choose a finding that is still open. If it changes later, it comes back to be fixed.",
    )
    reason: Note = fact("", "Why you accept it", help="Without a reason it is not accepted.")
    by: Name = fact("", "Who decided (a role)")
    on: Day = fact("", "Date")
