"""What a proof takes for granted of detectors that sleep after a trip: of those that are at work alone."""

from collections.abc import Callable

import pytest

from alarmlib.model import Home
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.intruder.intrusions import Intruders
from alarmlib.proof.report.assumptions import assumptions


@pytest.mark.parametrize(
    ("state", "told"), [("planned", True), ("fitted", True), ("out_of_use", False), ("removed", False)]
)
def test_nothing_is_taken_for_granted_of_a_detector_that_is_not_at_work(
    two_rooms: Callable[..., Home], put: Callable[..., Home], state: str, told: bool
) -> None:
    """A detector out of use or taken out has no part in the proof, so its sleep time is no assumption of it."""
    home = put(two_rooms(), {"devices.living_eye.sleep_s": 60, "devices.living_eye.state": state})
    found = assumptions(home, Intruders(home, faults_of(home, "single"), None, 1.0))
    assert any("Living eye" in each.sentence for each in found) is told
