"""The forms of the start page that are folded until somebody wants them."""

from typing import Any

from alarmlib.widgets.fold import Fold

FOLDED = {
    "rules": "Name, units and rules",
    "files": "New home, demo home, download and upload",
    "saves": "The list of earlier saves",
    "inherited_ticks": "What to end and change first",
    "found": "What you found",
}
"""What the button over each of them says, by the form's name."""


def folded(name: str, form: Any) -> Any:
    """The form under its button, if it is one of those; else as it is."""
    if name not in FOLDED:
        return form
    return Fold(FOLDED[name], *getattr(form, "shown_parts", (form,)))
