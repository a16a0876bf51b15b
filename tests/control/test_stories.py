"""Every rule of the control unit as a story written by hand."""

from collections.abc import Callable
from typing import Any


def test_story(story: Any, story_failures: Callable[..., list[str]]) -> None:
    """All that the story says is noticed, when it says so."""
    assert story_failures(story) == []


def test_every_story_expects_something(stories: list[Any]) -> None:
    """No story passes by saying nothing."""
    assert [story.title for story in stories if not story.noticed] == []
