"""No valid home, however odd, makes a check fail or break the rule of sources."""

import random
from datetime import date
from enum import Enum
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError

from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Verdict
from alarmlib.model import Home
from alarmlib.record.produce import demo_home
from alarmlib.sources import Status, cite

PARTS = ("rules", "household", "control_unit", "devices", "circuits", "messages", "inherited", "log", "site")


def _odd(value: Any, draw: random.Random, rate: float) -> Any:
    """The value with some facts unknown, flipped, another word of the list, or left out."""
    if isinstance(value, BaseModel):
        facts = {name: _odd(getattr(value, name), draw, rate) for name in type(value).model_fields}
        for name, field in type(value).model_fields.items():
            if not field.is_required() and draw.random() < rate:
                facts[name] = field.get_default(call_default_factory=True)
        return type(value).model_construct(**facts)
    if isinstance(value, tuple):
        return tuple(_odd(item, draw, rate) for item in value if draw.random() > rate / 4)
    if isinstance(value, Enum):
        return draw.choice(list(type(value))) if draw.random() < rate else value
    if isinstance(value, bool):
        return value ^ (draw.random() < rate)
    return value


def _odd_home(home: Home, seed: int) -> Home:
    """A valid home unlike the demo home in many facts; parts whose references would break stay as they are."""
    draw = random.Random(seed)
    for name in draw.sample(PARTS, len(PARTS)):
        changed = home.model_copy(update={name: _odd(getattr(home, name), draw, draw.choice((0.05, 0.2, 0.5)))})
        try:
            home = Home.model_validate(changed.model_dump(warnings=False))
        except ValidationError:
            continue
    return home


@pytest.mark.parametrize("seed", range(8))
def test_an_odd_home_is_assessed_in_full(seed: int) -> None:
    """All checks run; what must be fixed was seen; each finding has a subject, a sentence and a known source."""
    home = _odd_home(demo_home(), seed)
    assert home != demo_home()
    for finding in assess(home, "full", today=date(2026, 11, 25)).findings:
        assert finding.subject
        assert finding.message.rstrip()[-1:] in {".", "!", "?"}, finding
        status = cite(finding.source).status
        assert finding.verdict is not Verdict.MUST or status in {Status.SEEN, Status.OWNER}
