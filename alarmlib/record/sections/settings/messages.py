"""Who is told of what, in which order, by which path, roles only; faults that the control unit may show."""

from collections.abc import Iterator

from alarmlib.control.from_home import behaviour_of, stops_setting
from alarmlib.control.setup import Override
from alarmlib.model import Home
from alarmlib.model.words import FaultKind, Share
from alarmlib.record.blocks import Block, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_table, fact_text, part_table
from alarmlib.record.section import section
from alarmlib.rules import rules_of

_RESPONDERS = ("role", "lives_here", "minutes_away", "holds_key", "can_unset", "agreed", "does")
_PATHS = ("name", "kind", "boxes", "works_without_mains", "failure_reported")


@section("messages", "Messages", level=Share.HELPER, needs=("messages.messages",))
def messages(context: Context) -> Iterator[Block]:
    """For each kind of event the plan; then the paths, then the people by role."""
    messages = context.home.messages
    yield part_table(context, "Who is told of what", messages.messages, ("event", "to", "paths", "wait_s"), keep=3)
    if messages.paths:
        yield part_table(context, "Paths", messages.paths, _PATHS, keep=2)
    if messages.responders:
        yield part_table(context, "Who is told", messages.responders, _RESPONDERS)
    yield fact_table(context, "Calls by itself", (messages,))


# What each fault leaves working, and what is done about it; common practice, in our own words.
_ADVICE = {
    FaultKind.MAINS: (
        "The system runs on its battery; messages may stop when the router has no power.",
        "Look at fuse and plug; ask how long it will last.",
    ),
    FaultKind.STANDBY_BATTERY: (
        "Everything works while there is mains. Without it nothing does.",
        "Fit a new battery; write the date on it.",
    ),
    FaultKind.DEVICE_MISSING: (
        "That device guards nothing.",
        "Look at it, its battery and what is in front of it. Test it.",
    ),
    FaultKind.LOW_BATTERY: (
        "That device still works, for days or weeks.",
        "Fit a new battery soon, and test the device.",
    ),
    FaultKind.TAMPER: ("A cover is open or a cable cut.", "Look before you clear it; then test that device."),
    FaultKind.TRANSMISSION_PATH: (
        "The siren works; nobody is told by that path.",
        "Look at router and communicator; send a test message.",
    ),
    FaultKind.SIREN_LINE: (
        "The siren may not sound.",
        "Find the cable or siren fault before you leave the home empty.",
    ),
    FaultKind.CLOCK: ("Everything works, but times in the event list are wrong.", "Set the clock."),
}
_INSISTS = {
    Override.NOT_OFFERED: "Yes. Nobody can override it.",
    Override.INHIBITS_OPEN: "Yes. Only open zones can be overridden, so put it right first.",
    Override.ONE_SET_PERIOD: "Yes, unless a person overrides it for that one time.",
}


@section("troubles", "Faults and what to do", level=Share.HELPER)
def system_faults(context: Context) -> tuple[Block, ...]:
    """Each fault in words, and how long the unit waits before it says so, where that is known."""
    rows = tuple((fault.text, *_ADVICE[fault], _stops_setting(context.home, fault)) for fault in FaultKind)
    hold = fact_text(context, context.home.control_unit.behaviour, "mains_hold_s")
    return (
        Table("Faults", ("Shown", "What it means", "What to do", "Stops you setting it"), rows),
        Text((_basis(context.home), f"Lost mains is reported after: {hold}.")),
    )


def fault_sources(home: Home) -> Iterator[str]:
    """The source of what stops setting, where the rules of the home have one."""
    if rule := rules_of(home).setting.faults_prevent:
        yield rule.source


def _stops_setting(home: Home, fault: FaultKind) -> str:
    """What the simulated control unit does, from the facts that it is run with."""
    return _INSISTS[behaviour_of(home).override] if stops_setting(home, fault) else "No, it can be set."


def _basis(home: Home) -> str:
    basis = (
        f"EN 50131-1, table 4, at grade {home.rules.grade}"
        if list(fault_sources(home))
        else "the rules, as none seen asks for more"
    )
    insist = " unless a person overrides it" if behaviour_of(home).override is Override.ONE_SET_PERIOD else ""
    return (
        f"The last column says what the simulated control unit does, by {basis}. It also refuses to be set while every "
        f"message path and every siren line is down{insist}. Your control unit's manual decides."
    )
