"""The walk test's four steps, against the standard's inches."""

import pytest

from alarmlib.calc.coverage.detection import STEP_M, STEPS_M


@pytest.mark.outside
def test_four_steps():
    """UL 1641 15.3.1, seen: four steps of 24 in, one a second: 2.44 m; pint gives the metres."""
    import pint

    inches = pint.UnitRegistry().Quantity
    assert inches(24, "inch").to("metre").magnitude == pytest.approx(STEP_M, abs=1e-3)
    assert inches(4 * 24, "inch").to("metre").magnitude == pytest.approx(STEPS_M, abs=5e-3)
