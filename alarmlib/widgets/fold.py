"""Parts of a page that stay folded under one button until somebody wants them."""

from pathlib import Path
from typing import Any

import anywidget
import traitlets
from ipywidgets.widgets.widget_box import VBox
from ipywidgets.widgets.widget_layout import Layout

from alarmlib.widgets.modules import joined, styled
from alarmlib.widgets.work import with_text

_HERE = Path(__file__).parent


class FoldButton(anywidget.AnyWidget):
    """The button; the script closes and opens the box that it is in, so that what is typed there stays."""

    _esm = joined(_HERE / "fold.js")
    _css = styled("fold.css")
    label = traitlets.Unicode().tag(sync=True)

    def __repr__(self) -> str:
        return f"Folded: {self.label}"

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return with_text(super()._repr_mimebundle_(**kwargs), repr(self))


class Fold(VBox):
    """A button with these parts below it, folded at first."""

    def __init__(self, label: str, *parts: Any) -> None:
        self.parts = parts
        super().__init__((FoldButton(label=label), *parts), layout=Layout(overflow="visible"))  # type: ignore[no-untyped-call]
        for name in ("alarm-gate", "alarm-fold"):
            self.add_class(name)  # type: ignore[no-untyped-call]

    def __repr__(self) -> str:
        return "\n".join(repr(each) for each in self.parts)

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return with_text(super()._repr_mimebundle_(**kwargs), repr(self))  # type: ignore[no-untyped-call]
