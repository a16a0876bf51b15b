"""What a check cell prints: plain text of one subject, from the same assessment that the record is made of."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import groupby

from alarmlib.calc.plan.plan_problems import home_plan_problems
from alarmlib.checks.accepted import with_reasons
from alarmlib.checks.assess import FULL, QUICK, outcome
from alarmlib.checks.check import Check
from alarmlib.checks.finding import Assessment, Finding, Verdict
from alarmlib.draft.short_path import draft_home
from alarmlib.draft.times import door_drafts
from alarmlib.draft.zones import zone_plan
from alarmlib.errors import AlarmProblem
from alarmlib.facts import Facts
from alarmlib.model.home import Home
from alarmlib.model.words import Share
from alarmlib.pages.assessed import assessed, facts_of
from alarmlib.pages.beside import not_used
from alarmlib.pages.habit_answers import habit_blocks
from alarmlib.pages.open_here import OPEN_ON, next_blocks, open_blocks
from alarmlib.pages.proved import kept_here
from alarmlib.proof.report.verdicts import ProofVerdict as Proved
from alarmlib.record.blocks import Block, Bullets, FigureBlock, Findings, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.counterexample_blocks import SIGNS
from alarmlib.record.plain import plain, plain_blocks
from alarmlib.record.proof_blocks import assumption_blocks, state_blocks, verdict_blocks
from alarmlib.record.section import Section
from alarmlib.record.sections import LONG, SHORT
from alarmlib.rules import say_of

HOLDS = Proved.HOLDS
NO_DATE = ""  # check cells show nothing that depends on the day
_SECTIONS: dict[str, Section] = {section.id: section for section in (*LONG, *SHORT)}
_CHECKS: dict[str, tuple[Check, ...]] = {group.name: group.checks for group in (*QUICK, *FULL)}


def section_blocks(
    home: Home, name: str, assessment: Assessment | None = None, whole: bool = False
) -> tuple[Block, ...]:
    """The blocks of one section of the record, for the owner; `whole` with its cautions.

    The pages ask for them without: there the cautions are in the cell before, with their tick.
    """
    said, kept, section = assessment or assessed(home), kept_here(home), _SECTIONS[name]
    with facts_of(home) as facts:
        context = Context(home, said, Share.OWNER, NO_DATE, kept=kept, facts=facts)
        return section.cautioned(context) if whole else section.build(context)


def answer(home: Home, name: str) -> str:
    """The text of a check cell: one of `ANSWERS`, the findings of one of `GROUPS`, or a section of the record.

    It is in the words of the home's country. Raises KeyError for a name that is none of them.
    """
    return answer_and_blocks(home, name)[0]


def answer_and_blocks(home: Home, name: str) -> tuple[str, tuple[Block, ...]]:
    """The text of a check cell, and the same as blocks, in the library's own words; worked out once for both."""
    found = ANSWERS[name](home) if name in ANSWERS else _blocks(home, name)
    if isinstance(found, str):
        return say_of(home)(found), _lines(found)
    return say_of(home)(plain_blocks(found)), found


def _blocks(home: Home, name: str) -> tuple[Block, ...]:
    if name in GROUPS:
        return _found(home, [check for group in GROUPS[name].split() for check in _CHECKS[group]])
    return section_blocks(home, name) or (Text(("Nothing is entered here yet.",)),)


def _lines(text: str) -> tuple[Block, ...]:
    """Lines of text as paragraphs and lists."""
    groups = groupby(text.splitlines(), lambda line: line.startswith("- "))
    return tuple(
        Bullets(tuple(line[2:] for line in lines)) if listed else Text(tuple(line.strip() for line in lines))
        for listed, lines in groups
    )


def _found(home: Home, checks: Sequence[Check]) -> tuple[Block, ...]:
    """What these checks say, heaviest first; those too slow to run at every change run now."""
    with facts_of(home) as facts:
        results = [each for check in checks for each in facts.ask(outcome, check)]
        weights = list(Verdict)
        told = with_reasons(home, [each for each in results if isinstance(each, Finding)])
        found = sorted(told, key=lambda each: weights.index(each.verdict))
        return (Findings(tuple(found)),) if found else (Text((_silent(facts, checks),)),)


def _silent(facts: Facts, checks: Sequence[Check]) -> str:
    """Why checks say nothing: there is nothing to look at yet, or they looked and found nothing."""
    blank = Facts(Home())
    read = {path for check in checks for path in facts.reads(outcome, check)}
    if all(facts.read(path) == blank.read(path) for path in read):
        return "You have not entered anything yet that is checked here."
    return f"Nothing was found in what you entered ({len(checks)} checks)."


def _drafted(section: str) -> Callable[[Home], str]:
    def told(home: Home) -> str:
        if not home.short_path.rooms.strip():
            return "Answer the short path first: rooms and outside doors are enough to begin."
        try:
            return plain_blocks(section_blocks(draft_home(home).home, section))
        except AlarmProblem as problem:
            return f"The draft cannot be made yet. {problem}"

    return told


def _assumptions(home: Home) -> str:
    if not home.short_path.rooms.strip():
        return "Nothing is assumed yet."
    try:
        draft = draft_home(home)
        left_out = (f"Not used, {line}" for line in not_used(draft.wrong))
        return "\n".join(f"- {line}" for line in (*draft.assumptions, *left_out))
    except AlarmProblem as problem:
        return str(problem)


def _zone_plan(home: Home) -> str:
    """The best arrangement of zones found, with its bound, and what does not fit."""
    plan = zone_plan(home)
    if not plan.zones:
        return "There are no detectors to arrange yet."
    lines = [f"The arrangement proposed has {len(plan.zones)} zones, {plan.quality}."]
    lines += [f"- {zone.label} ({zone.function.text}): {zone.reason}" for zone in plan.zones]
    lines += [f"- In place of {rule.wanted.text}: {rule.lost}." for rule in plan.substitutes]
    lines += [str(missing) for missing in plan.not_fitting]
    return "\n".join(lines)


def _door_times(home: Home) -> str:
    return "\n".join(_door_lines(home)) or "There is no entry/exit door from which somebody can reach a keypad yet."


def _door_lines(home: Home) -> Iterator[str]:
    names = {opening.id: opening.name for opening in home.site.openings}
    for draft in door_drafts(home):
        choice = draft.choice
        entry, leaving = choice.entry, choice.exit
        yield f"{names[choice.door]}: entry {entry.set_s:g} s, exit {leaving.set_s:g} s are proposed."
        yield from (f"  {each.why}." for each in (entry, leaving) if each.why)
        yield from (plain(FigureBlock(_who(home, f.key), f)) for f in draft.figures)


def _who(home: Home, key: str) -> str:
    roles = {person.id: person.role for person in home.household.people}
    what, _, rest = key.partition(".")
    person = roles.get(rest.rpartition(".")[2], "")
    return " ".join(part for part in (what.replace("_", " "), person and f"({person})") if part)


def _plan_problems(home: Home) -> str:
    problems = home_plan_problems(home)
    return "\n".join(problem.message for problem in problems) or "Nothing on the plan contradicts itself."


def _proof(home: Home) -> str:
    """How much was found to hold, a line for each property that does not, and what was assumed."""
    kept = kept_here(home)
    if kept.proof is None:
        return plain_blocks(state_blocks(kept))
    context = Context(home, assessed(home), Share.OWNER, NO_DATE)
    found = [*verdict_blocks(context, kept.proof)]
    counts = [block.caption for block in found if isinstance(block, Table)]
    broken = [row for block in found if isinstance(block, Table) for row in block.rows if SIGNS[HOLDS] not in row[1]]
    lines = [f"{verdict}: {sentence}. {worst}." for sentence, verdict, worst in broken]
    told = (
        *state_blocks(kept),
        found[0],
        Bullets(tuple(counts)),
        Bullets(tuple(lines)),
        *assumption_blocks(kept.proof),
    )
    return plain_blocks(told)


GROUPS: dict[str, str] = {
    "survey_findings": "people hazards inherited readiness short_path left_alone by_day unlikely",
    "way_findings": "site",
    "detector_findings": "detectors placement glass devices placement_walks",
    "seen": "coverage choice",
    "alarms": "household_alarms alarm_places carbon_monoxide british_alarms alarm_walks",
    "zone_findings": "zones capacity",
    "part_set_findings": "part_sets",
    "time_findings": "times",
    "control_findings": "control",
    "message_findings": "messages",
    "loop_findings": "loops fitting",
    "radio_findings": "radio",
    "cable_findings": "cable",
    "battery_findings": "battery",
    "sound_findings": "sound",
    "test_walk_findings": "test_walk",
}
"""The findings that a page shows together, by the groups of their checks."""

ANSWERS: dict[str, Callable[[Home], str | tuple[Block, ...]]] = {
    "short_zones": _drafted("zones"),
    "short_times": _drafted("times"),
    "short_gaps": _drafted("gaps"),
    "short_parts": _drafted("parts"),
    "short_tests": _drafted("test_plan"),
    "short_assumptions": _assumptions,
    "zone_plan": _zone_plan,
    "door_times": _door_times,
    "habits": habit_blocks,
    "plan_problems": _plan_problems,
    "proof": _proof,
    "next": next_blocks,
    "open": open_blocks,
    **{name: partial(open_blocks, page=page) for name, page in OPEN_ON.items()},
}
TITLES: dict[str, str] = {
    "short_zones": "Zones of the draft",
    "short_times": "Times of the draft",
    "short_gaps": "Gaps of the draft",
    "short_parts": "Parts of the draft",
    "short_tests": "Tests of the draft",
    "short_assumptions": "Assumptions of the draft",
    "zone_plan": "Proposed zones",
    "door_times": "Proposed times of each door",
    "habits": "Where habits lead",
    "plan_problems": "Contradictions on the plan",
    "proof": "What the proof found",
    "next": "Do this next",
    "open": "What is open",
    **dict.fromkeys(OPEN_ON, "What is open here"),
    "survey_findings": "Findings about the survey",
    "way_findings": "Findings about ways in",
    "detector_findings": "Findings about detectors",
    "seen": "What detectors see and leave out",
    "alarms": "Findings about smoke, heat and CO alarms",
    "zone_findings": "Findings about zones",
    "part_set_findings": "Findings about part sets",
    "time_findings": "Findings about times",
    "control_findings": "Findings about the control unit",
    "message_findings": "Findings about messages",
    "loop_findings": "Findings about detector circuits",
    "radio_findings": "Findings about wireless devices",
    "cable_findings": "Findings about cables",
    "battery_findings": "Findings about the standby battery",
    "sound_findings": "Findings about sound",
    "test_walk_findings": "Findings about the walk test",
}
"""What a page calls each of them when it says that it has changed; a section has its own title."""


def title_of(name: str) -> str:
    """What a page calls the answer, or the picture, of that name."""
    return TITLES.get(name) or _SECTIONS[name].title
