"""What this record is, what it is not, and what is open."""

from alarmlib.checks.finding import Verdict
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Table, Text, apart
from alarmlib.record.context import Context

ID = "summary"
TITLE = "What this record says"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.PUBLIC

_WORDS = {
    Verdict.MUST: "must be mended",
    Verdict.SHOULD: "should be mended, or checked",
    Verdict.NOTE: "good to know",
    Verdict.OK: "in order",
}


def build(context: Context) -> tuple[Block, ...]:
    """What the record is; the counts; the findings that must be mended."""
    # Copies with fewer facts hold no calculations, so they don't claim to show any.
    shown = (
        " Its calculations show the formula, the numbers put in and the source." if context.sees(Share.HELPER) else ""
    )
    about = Bullets(
        (
            (
                "It is the plan and the test log of a home alarm, written from what the owner entered, and what was "
                f"computed from it.{shown}"
            ),
            (
                "It is no approval, no certificate and no promise of safety: each statement holds within what was "
                "entered, and the owner's facts are only as good as the last test walk."
            ),
            "It has no place for codes, names, an address or where a key is kept.",
        )
    )
    if not context.sees(Share.HELPER):
        return (about, _extent(context))
    return (about, _open(context), *_must(context), _extent(context))


def _open(context: Context) -> Table:
    findings = context.assessment.findings
    rows = [(words, str(sum(f.verdict is verdict for f in findings))) for verdict, words in _WORDS.items()]
    rows.append(("facts not given, taken as assumed", str(len(context.assessment.missing))))
    return Table("What is open", ("Findings", "How many"), tuple(rows), frozenset({1}))


def _must(context: Context) -> tuple[Block, ...]:
    must = [f for f in context.assessment.findings if f.verdict is Verdict.MUST]
    if not must:
        return (Text(("Nothing that was checked must be mended.",)),)
    return (Text(("To be mended first:",)), Bullets(tuple(apart(finding.message) for finding in must), ordered=True))


def _extent(context: Context) -> Table:
    home = context.home
    counts = (
        ("storeys", home.site.storeys),
        ("rooms", home.site.rooms),
        ("ways in", home.site.openings),
        ("devices", home.devices),
        ("zones of the unit", home.unit.zones_used),
        ("part sets", home.unit.part_sets),
        ("people", home.household.people),
    )
    rows = tuple((word, str(len(items))) for word, items in counts)
    return Table("What was entered", ("What", "How many"), rows, frozenset({1}))
