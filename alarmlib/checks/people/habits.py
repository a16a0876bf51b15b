"""Every habit of the household, played through the unit: whether it leads where it should; at full depth only."""

from alarmlib.checks.check import CheckGroup, Said, check, note, ok, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said
from alarmlib.control.habit_events import can_unset
from alarmlib.control.simulate import HabitRun, simulate_all
from alarmlib.model import Home
from alarmlib.model.household import BeginsIn, Expected, Habit
from alarmlib.model.questions import by_id

_REMEDY = {
    Expected.ALARM: "Change the delay, a zone or the part set, or do it another way; then play it again.",
    Expected.REFUSED: "Close what is open first, leave its zone out of this part set, or expect the refusal.",
    Expected.WARNING: "Find what is shown, or expect the warning.",
    Expected.QUIET: "It passes unnoticed: change the zone or the part set if it should be noticed.",
}
_CANNOT = "Tick “Can unset” for them and show them how, or let somebody do it who can."


@check
def leads_where_it_should(home: Home) -> Said:
    """One finding a habit, in the season in which it fares worst; movement is taken as always and as never seen."""
    habits = by_id(home.household.habits)
    for run in simulate_all(home):
        yield _spoken(run, _helpless(home, habits[run.habit], run))


def _helpless(home: Home, habit: Habit, run: HabitRun) -> str:
    """The role of somebody who comes into a set home and cannot unset it; "" where that is not so."""
    if run.play is None or habit.begins_in is BeginsIn.UNSET or can_unset(home, habit.who):
        return ""
    told = run.play.told
    return told.done[0].who if told.in_vain or (told.rooms and told.done) else ""


def _spoken(run: HabitRun, helpless: str) -> Finding:
    name, reached = said(run.name), run.reached
    season = f" in the season {said(run.season)}" if run.season else ""
    margin = f"{run.margin_s} s" if run.margin_s is not None else ""
    if reached is None:
        return note(run.habit, f"{name} could not be played. {run.problem}", "Complete its steps.", "computed")
    leads = f"{name} leads to {reached.text}{season}"
    if run.play is not None and run.play.told.in_vain:
        message = f"{leads}: {helpless} unsets the alarm in it but cannot, as “Can unset” says."
        return should(run.habit, message, _CANNOT, "computed", margin=margin)
    if run.as_expected and helpless:
        message = f"{leads}, as it should. But {helpless} cannot unset the alarm."
        return note(run.habit, message, "Somebody who can must be with them.", "computed", margin=margin)
    if run.as_expected:
        return ok(run.habit, f"{leads}, as it should.", "computed", margin=margin)
    message = f"{leads}, but should lead to {run.expected.text}."
    return should(run.habit, message, _REMEDY[reached], "computed", margin=margin)


GROUP = CheckGroup("habits", (leads_where_it_should,))
