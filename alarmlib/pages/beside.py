"""What a form says beside a field whose value is kept, but means nothing without another."""

from collections.abc import Iterable
from typing import Any

from alarmlib.draft.lines import Wrong, label_of
from alarmlib.draft.short_path import wrong_answers
from alarmlib.draft.survey_round import open_in_the_dark
from alarmlib.model.conductor_sizes import SIZES_SAID, size_in
from alarmlib.model.home import Home
from alarmlib.widgets.engine import sentence

FieldPath = tuple[str, ...]


def beside(home: Home, path: FieldPath) -> str | None:
    """What to say beside this field, such as a level without its distance; None where there is nothing to say."""
    match path:
        case ("devices", device, "level_dba"):
            return _level(_of(home.whole_devices, device))
        case ("circuits", circuit, "cable"):
            return _cable(_of(home.circuits, circuit))
        case ("site", "answers", point, "found"):
            answer = _of(home.site.answers, point)
            return "in the dark this needs work." if answer is not None and open_in_the_dark(answer) else None
        case ("short_path", field):
            return _wrong(home, field)
        case ("wiring", "supply", "standby_battery_ah"):
            supply = home.wiring.supply
            if supply.standby_battery_ah is not None and supply.rated_over_h is None:
                return "enter over how many hours it is rated (20 h for most), or how long it lasts can't be computed."
    return None


def not_used(wrong: Iterable[Wrong]) -> tuple[str, ...]:
    """Why each of these answers was left out of the draft, a sentence each."""
    return tuple(f"{label_of(each.field)}: {sentence(each.problem)}" for each in wrong)


def _wrong(home: Home, field: str) -> str | None:
    """What is wrong with an answer of the short path, though the rest of the draft is made."""
    return " ".join(sentence(each.problem) for each in wrong_answers(home) if each.field == field) or None


def _of(items: tuple[Any, ...], name: str) -> Any:
    return next((item for item in items if item.id == name), None)


def _level(device: Any) -> str | None:
    if device is None or device.level_dba is None or device.level_at_m is not None:
        return None
    return "a level means nothing without its distance: enter at how many metres it was measured."


def _cable(circuit: Any) -> str | None:
    if circuit is None or not circuit.cable or size_in(circuit.cable) is not None:
        return None
    return f"it holds no known size: write {SIZES_SAID} somewhere in it."
