"""The assessment that the cells of a page share."""

from alarmlib.checks.assess import assess
from alarmlib.pages.assessed import assessed
from alarmlib.proof.report.kept import NEVER_RUN
from alarmlib.record.produce import demo_home


def test_assessed__is_what_a_fresh_assessment_says() -> None:
    """The same home is assessed once; a changed one gives what an assessment from nothing gives."""
    home = demo_home()
    first, again = assessed(home), assessed(home)
    assert all(first.results[name] is again.results[name] for name in first.results if name != "proof")
    times = home.control_unit.times.model_copy(update={"entry_s": 5.0})
    changed = home.model_copy(update={"control_unit": home.control_unit.model_copy(update={"times": times})})
    assert assessed(changed) == assess(changed, "quick", proof=NEVER_RUN) != assessed(home)
    assert assessed(home) == assess(home, "quick", proof=NEVER_RUN)
