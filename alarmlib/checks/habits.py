"""Every habit of the household, played through the unit: whether it leads where it should; at full depth only."""

from collections.abc import Iterator

from alarmlib.checks.check import Findings, check, note, ok, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said
from alarmlib.control.simulate import HabitRun, simulate_all
from alarmlib.model import Home
from alarmlib.model.household import Expected

_REMEDY = {
    Expected.ALARM: "Change the delay, a zone or the part set, or do it another way; then play it again.",
    Expected.REFUSED: "Shut what is open first, leave its zone out of this set, or expect the refusal.",
    Expected.WARNING: "Find what is shown, or expect the warning.",
    Expected.QUIET: "It passes unnoticed: change the zone or the part set if it should be noticed.",
}


@check(
    "rules", "site", "household", "devices", "messages.paths", "unit.areas", "unit.zones", "unit.part_sets",
    "unit.seasons", "unit.times", "unit.behaviour",
)  # fmt: skip
def leads_where_it_should(home: Home) -> Findings:
    """One finding a habit, in the season in which it fares worst; movement is taken as always and as never seen."""
    for run in simulate_all(home):
        yield from _spoken(run)


def _spoken(run: HabitRun) -> Iterator[Finding]:
    name, reached = said(run.name), run.reached
    season = f" in the season {said(run.season)}" if run.season else ""
    margin = f"{run.margin_s} s" if run.margin_s is not None else ""
    if reached is None:
        yield note(run.habit, f"{name} could not be played: {run.problem}", "Complete its steps.", "computed")
    elif run.as_expected:
        yield ok(run.habit, f"{name} leads to {reached.text}{season}, as it should.", "computed", margin=margin)
    else:
        message = f"{name} leads to {reached.text}{season}, but should lead to {run.expected.text}."
        yield should(run.habit, message, _REMEDY[reached], "computed", margin=margin)


CHECKS = (leads_where_it_should,)
