"""What a cell shows beside forms and views: a sentence."""


class Sentence:
    """A plain sentence in place of a form or picture that cannot be shown."""

    def __init__(self, text: str) -> None:
        self.text = text

    def __repr__(self) -> str:
        return self.text

    def _repr_html_(self) -> str:
        from html import escape

        return f'<p role="status">{escape(self.text)}</p>'
