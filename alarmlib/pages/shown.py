"""What a cell shows beside forms and views: a sentence, or several forms under each other."""

from collections.abc import Sequence
from typing import Any


class Sentence:
    """A plain sentence in place of a form or picture that cannot be shown."""

    def __init__(self, text: str) -> None:
        self.text = text

    def __repr__(self) -> str:
        return self.text

    def _repr_html_(self) -> str:
        from html import escape

        return f'<p role="status">{escape(self.text)}</p>'


class Stack:
    """Several forms under each other; a sentence when there are none."""

    def __init__(self, forms: Sequence[Any], nothing: str = "There is nothing to fill in here yet.") -> None:
        self.forms, self.nothing = tuple(forms), nothing

    def __repr__(self) -> str:
        return "\n".join(repr(form) for form in self.forms) or self.nothing

    def _ipython_display_(self) -> None:
        from IPython.display import display

        for form in self.forms or (Sentence(self.nothing),):
            display(form)
