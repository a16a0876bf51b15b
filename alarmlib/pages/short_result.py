"""What the short path leads to, read in a minute: three sentences, a sketch, fixes, parts, what to do tomorrow."""

from collections.abc import Iterator

from alarmlib.checks.assess import Assessed, assess
from alarmlib.checks.finding import Verdict
from alarmlib.checks.ranking import ranked
from alarmlib.draft.short_path import Draft, draft_home
from alarmlib.model.home import Home
from alarmlib.model.questions import present
from alarmlib.model.short_path import ShortPath
from alarmlib.model.site import Yes
from alarmlib.model.unit_facts import Recognises
from alarmlib.pages.answers import section_blocks
from alarmlib.pages.beside import not_used
from alarmlib.pages.pictures import blocks_html, folded_html
from alarmlib.record.blocks import Block, Bullets, Causes, Subheading, Text
from alarmlib.record.room_sketch import room_sketch
from alarmlib.rules import say_of
from alarmlib.store import Session
from alarmlib.widgets.view import Drawn, View

MOST_FIXES, MOST_STEPS = 5, 5
FOLDED = (("zones", "Draft zone chart"), ("times", "Draft times"), ("test_plan", "Test list"))


def short_outcome(session: Session) -> View:
    """The draft, drawn again after each answer."""
    return View(session, "The draft", lambda home: Drawn("The draft", _outcome(home)))


def _outcome(home: Home) -> str:
    say = say_of(home)
    if not (home.short_path.rooms.strip() and home.short_path.outside_doors.strip()):
        words = say("The draft appears here as soon as rooms and outside doors are answered.")
        return blocks_html("draft", [Text((words,))], say)
    draft = draft_home(home)
    found = assess(draft.home, "quick")
    folds = [(title, section_blocks(draft.home, name, found, whole=True)) for name, title in FOLDED]
    folds.append(("What the draft assumes", (Bullets(draft.assumptions),)))
    shown = blocks_html("draft", tuple(_first(draft, found)), say) + "".join(
        folded_html(say(title), blocks_html(f"draft-{number}", blocks, say), False)
        for number, (title, blocks) in enumerate(folds)
    )
    return folded_html(say("The draft that these answers gave"), shown, False) if home.site.rooms else shown


def _first(draft: Draft, found: Assessed) -> Iterator[Block]:
    """What is read without unfolding anything."""
    if draft.wrong:
        yield Subheading("Answers that could not be used")
        yield Bullets(not_used(draft.wrong))
    yield Subheading("In three sentences")
    yield Text(three_sentences(draft.home, found))
    yield room_sketch(draft.home)
    yield Subheading("The fixes that matter most")
    gaps = ranked(each for each in found.findings if each.is_open)[:MOST_FIXES]
    yield Causes(gaps) if gaps else Text(("The checks found nothing to fix in what you answered.",))
    yield Subheading("Parts list")
    yield from section_blocks(draft.home, "parts", found, whole=True)
    yield Subheading("What to do tomorrow")
    yield Bullets(tomorrow(draft.home.short_path), ordered=True)


def three_sentences(home: Home, found: Assessed) -> tuple[str, ...]:
    """What is planned, how much time you have at the door, and how much is to fix."""
    site, count = home.site, len(present(home))
    doors = [f"“{opening.name}”" for opening in site.openings if opening.entry_exit]
    entry_s = home.control_unit.times.entry_s
    must = sum(each.verdict is Verdict.MUST for each in found.findings)
    causes = len(ranked(each for each in found.findings if each.is_open))
    first = f"The draft plans {count} devices for {_count(len(site.rooms), 'room')} and {len(site.openings)} ways in."
    second = f"You come home by {' or '.join(doors)}"
    second += f" and have {entry_s:g} seconds to unset." if entry_s else ", and no delay could be worked out yet."
    gravest = f"; you must fix {_count(must, 'finding')} behind them" if must else ""
    third = f"The checks found {_count(causes, 'cause')} to fix{gravest}."
    return first, second, third


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def tomorrow(answers: ShortPath) -> tuple[str, ...]:
    """The next steps outside this workbook, by what is not known or not in order, the gravest first."""
    steps = (
        (
            answers.smoke_alarms is not Yes.YES,
            "Look whether a smoke alarm is on every level and at every bedroom. Fit what is missing first.",
        ),
        (
            answers.fuel is not Yes.NO,
            "Look whether a CO alarm is near each boiler, stove and fireplace, as its manual asks.",
        ),
        (
            answers.zones is None or answers.recognises is Recognises.UNKNOWN,
            "Look up in the manual of your control unit how many zones it has and what it shows separately.",
        ),
        (answers.walk_s is None, "Walk from the door to the keypad with a stopwatch, at the slowest pace."),
        (answers.answers_siren is Yes.UNKNOWN, "Ask somebody near whether they would answer a siren."),
        (True, "Walk round the home with page 01, and replace what the draft assumes by what you see."),
    )
    wanted = [words for holds, words in steps if holds]
    return tuple(wanted[: MOST_STEPS - 1] + wanted[-1:]) if len(wanted) > MOST_STEPS else tuple(wanted)
