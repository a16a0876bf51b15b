"""Whether the plan as drawn can be right: every calculation that reads it depends on that."""

from alarmlib.calc.plan.plan_problems import home_plan_problems
from alarmlib.checks.check import CheckGroup, Said, check, should
from alarmlib.model import Home

_REMEDY = "Correct it on the plan or in the survey. Until then, what is computed from the plan may be wrong."


@check
def cannot_be_right(home: Home) -> Said:
    """Every part of the plan lies where it can: rooms apart, ways in on outside walls, devices in their rooms."""
    for problem in home_plan_problems(home):
        yield should(problem.subject, problem.message, _REMEDY, "computed")


GROUP = CheckGroup("plan_drawn", (cannot_be_right,))
