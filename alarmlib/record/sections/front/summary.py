"""What this record says and what it does not, its cautions, what changed in it, and who may read it."""

from collections.abc import Iterator

from alarmlib.checks.cautions import CAUTIONS
from alarmlib.checks.finding import Verdict
from alarmlib.checks.people.people import may_not_wake
from alarmlib.checks.ranking import ranked
from alarmlib.checks.upkeep.test_walk import never_tested
from alarmlib.model.questions import fitted, planned
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.verdicts import ProofVerdict as Proved
from alarmlib.proof.report.verdicts import too_large_told
from alarmlib.record.blocks import Block, Bullets, Caution, Table, Text, apart, named
from alarmlib.record.compare import differences
from alarmlib.record.context import Context
from alarmlib.record.section import section

_WORDS = {
    Verdict.MUST: "must be fixed",
    Verdict.SHOULD: "should be fixed, or checked",
    Verdict.NOTE: "good to know",
    Verdict.OK: "in order",
}
_WHOLE = (
    "It is the plan and the test log of a home alarm, written from what the owner entered, and what was computed from "
    "it."
)
PART = (
    "It is a part of the record of a home alarm, written from what the owner entered. Much is left out: see “Who may "
    "read this copy”."
)


@section("summary", "What this record says", level=Share.PUBLIC)
def summary(context: Context) -> tuple[Block, ...]:
    """What the record is; for the owner how the home is today and what must be fixed; what was entered."""
    about = Bullets(
        (
            _WHOLE if context.sees(Share.OWNER) else PART,
            # Other copies do not hold the section of calculations, so they don't claim to show how each is worked out.
            *(["Its calculations show the formula, the numbers put in and the source."] * context.sees(Share.OWNER)),
            (
                "It is no approval, no certificate and no promise of safety. Each statement holds within what was "
                "entered. The owner's facts are only as good as the last walk test."
            ),
            "It has no place for codes, names, an address or where a key is kept.",
        )
    )
    if not context.sees(Share.OWNER):
        return (about, _extent(context)) if context.sees(Share.CLASS) else (about,)
    return (about, _open(context), Bullets(tuple(_today(context))), *_must(context), _extent(context))


def _open(context: Context) -> Table:
    findings = context.assessment.findings
    told = [f for f in findings if f.is_open or not f.accepted]
    rows = [(words, str(sum(f.verdict is verdict for f in told))) for verdict, words in _WORDS.items()]
    rows.insert(2, ("causes of what must or should be fixed", str(len(ranked(findings)))))
    lived_with = len(findings) - len(told)
    rows += [("accepted, each with a reason", str(lived_with))] if lived_with else []
    rows.append(("facts not given, so assumed", str(len(context.assessment.missing))))
    return Table("What is open", ("Findings", "How many"), tuple(rows), frozenset({1}))


def _today(context: Context) -> Iterator[str]:
    """How the home is today, beyond the counts: the proof, the tests, who may not wake."""
    yield proof_line(context.kept)
    yield from _tests(context)
    may_not = [
        f"{context.name('person', person.id)} {why}"
        for person in context.home.household.people
        if (why := may_not_wake(person))
    ]
    if may_not:
        yield f"May not wake at the alarm: {', '.join(may_not)}. Nothing in this record says that it wakes them."


def proof_line(kept: KeptProof) -> str:
    """How the proof came out, in a sentence: never run, out of date, or how many properties of each verdict."""
    if kept.proof is None:
        return "The proof on paper: never run, so nothing is proved."
    if not kept.fresh:
        return "The proof on paper: out of date, so nothing is proved of the home as it is."
    found = [each.verdict for each in kept.proof.properties]
    counts = [
        f"{found.count(verdict)} {verdict.text}" for verdict in (Proved.BREACHED, Proved.NOT_SETTLED, Proved.HOLDS)
    ]
    told = f"The proof on paper, of {len(found)} properties: {', '.join(counts)}."
    return f"{told} {too_large_told(kept.proof)}".rstrip()


def _tests(context: Context) -> Iterator[str]:
    home = context.home
    untested = never_tested(home)
    if untested:
        yield f"Fitted and never tested: {', '.join(context.name('device', device.id) for device in untested)}."
    elif fitted(home):
        yield "Every fitted device has a test in the log; the log says how each came out."
    to_fit = len(planned(home))
    if to_fit:
        yield f"Planned and not fitted yet: {to_fit} {'device' if to_fit == 1 else 'devices'}."


def _must(context: Context) -> tuple[Block, ...]:
    must = [f for f in context.assessment.findings if f.verdict is Verdict.MUST]
    if not must:
        told = "No check found anything that must be fixed. That does not answer for the lines above."
        return (Text((told,)),)
    lines = tuple(f"{apart(f.message)}{f' Accepted: {named(f.accepted)}' if f.accepted else ''}" for f in must)
    return (Text(("To be fixed first:",)), Bullets(lines, ordered=True))


def _extent(context: Context) -> Table:
    home = context.judged
    counts = (
        ("storeys", home.site.storeys),
        ("rooms", home.site.rooms),
        ("ways in", home.site.openings),
        ("devices", home.whole_devices),
        ("zones of the control unit", home.control_unit.zones_used),
        ("part sets", home.control_unit.part_sets),
        ("people", home.household.people),
    )
    rows = tuple((word, str(len(items))) for word, items in counts)
    return Table("What was entered", ("What", "How many"), rows, frozenset({1}))


_INTRO = (
    "Read these before each step that can hurt you or others. Each comes again in the section of its step.",
    "Each device's manual says more.",
)


@section("cautions", "Cautions", level=Share.PUBLIC)
def cautions(_context: Context) -> tuple[Block, ...]:
    """The cautions in the order of the work."""
    return (Text(_INTRO), *(Caution(advice.text, advice.source) for advice in CAUTIONS))


@section("changes", "Changed since the last record", level=Share.HELPER)
def changes(context: Context) -> tuple[Block, ...]:
    """Each changed field with its value before and its value now."""
    if context.previous is None:
        return (Text(("No earlier record of this home is kept beside it.",)),)
    told = f"Compared with the record of {context.since}." if context.since else "Compared with the home file named."
    rows = tuple(
        (named(change.where), named(change.before), named(change.after))
        for change in differences(context.previous, context.home, context.copy)
    )
    if not rows:
        return (Text((told, "Nothing changed since then.")),)
    return (Text((told,)), Table("Changes", ("What", "Before", "Now"), rows))


_LEFT_OUT = {
    Share.OWNER: "Nothing is left out of this copy. Keep it where you keep other private documents.",
    Share.HELPER: "This copy is for a helper you trust. It leaves out what is still open, tests, your notes, "
    "habits, and when people are away. It leaves out where devices are, ways in without a detector, blind spots, "
    "cable routes, and who sleeps where. Names of rooms, doors and devices are as you typed them: "
    "look whether one tells too much.",
    Share.CLASS: "This copy is for a class. Names, devices' places, times, messages and everything that is still open "
    "are left out.",
    Share.PUBLIC: "This copy is for anybody. Only what says nothing about where the home is weak is left in.",
}


@section("sharing", "Who may read this copy", level=Share.PUBLIC)
def sharing(context: Context) -> tuple[Block, ...]:
    """The notice for the copy at hand."""
    return (
        Text((_LEFT_OUT[context.copy],)),
        Bullets(
            (
                (
                    "No field of the workbook asks for a code, a password, a key's place, a date of absence, an "
                    "address or a list of valuables. Write them nowhere near this record."
                ),
                (
                    "A text that looks like one of these is left out of every copy but the owner's. Detection of "
                    "secrets can't be complete: read the copy before you hand it on."
                ),
                "Contacts, phone numbers and permit numbers are for you to write on the printed page by hand.",
            )
        ),
        Caution("Do not say when your home is empty, except to people who must know.", "caution_police_secrecy"),
    )
