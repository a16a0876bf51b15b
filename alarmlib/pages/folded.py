"""The forms of a page that are folded until somebody wants them."""

from typing import Any

from alarmlib.widgets.fold import Fold

FOLDED = {
    "rules": "Name, units and rules",
    "files": "New home, demo home, download and upload",
    "saves": "The list of earlier saves",
    "inherited_ticks": "What to end and change first",
    "found": "What you found",
    "room_facts": "What each room holds: heaters, draughts, water, alarms",
    "furniture": "Furniture that blocks a walk or a view",
    "opening_facts": "More about each way in: size, glass, escape",
    "openings_csv": "Ways in from a spreadsheet",
    "absence": "How often nobody is at home",
    "plan": "Draw the plan",
    "walks": "Enter the seconds of each walk",
    "habits": "Change a habit",
    "habit_steps": "Change the steps of a habit",
    "tests_csv": "Tests from a spreadsheet",
    "upkeep": "Maintenance diary",
}
"""What the button over each of them says, by the form's name."""


def folded(name: str, form: Any) -> Any:
    """The form under its button, if it is one of those; else as it is."""
    if name not in FOLDED:
        return form
    return Fold(FOLDED[name], *getattr(form, "shown_parts", (form,)))
