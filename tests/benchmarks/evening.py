"""From the first screen to the record for an average home, in the real pages: answers, screens of height, minutes.

    python tests/benchmarks/evening.py [FILE]    writes what was found on each page, separated by tabs

The questions of the short path, then on each page what is in sight at first and that the owner can answer. Nothing is
unfolded that does not hide such a question; every fold that is opened counts. Minutes by `keystrokes`, answers from
`average_home`. The home that comes of it is compared with its twin in which all is entered.
"""

import re
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from average_home import HABITS, KEPT, PICKED, UNSURE, entered, fact_of
from keystrokes import SLOW_KEY_S, Hands
from measure import FULL, ROOT, TINY, Effort, Line
from page_edit import QUIET
from page_sizes import SCREEN, Size, lines_of_sizes, size, window

from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Verdict
from alarmlib.lab.open import prepare
from alarmlib.model import Home
from alarmlib.proof.prove import QUICK, Asked, prove
from alarmlib.proof.report.readiness import NotReady
from alarmlib.proof.report.verdicts import ProofVerdict
from alarmlib.rules import say_of

PORT = 8942
MOST_QUESTIONS = 40
GOALS = "120 answers, 30 screens, 75 minutes; the same musts and breaches"
# Each field of the forms that is in sight, by the path of what it fills in the home file.
FIELDS = """() => {
  const forms = [...(globalThis[Symbol.for('alarm.fields')]?.forms ?? [])].filter((form) => form.box.isConnected);
  const found = [];
  for (const form of forms) for (const [id, field] of form.fields) {
    const { base } = form.structure;
    const { box } = field.control;
    const inSight = box.checkVisibility({ checkVisibilityCSS: true }) && box.getClientRects().length;
    if (base === undefined || !inSight) continue;
    const path = base ? `${base}/${id}` : id;
    box.setAttribute('data-path', path);
    const typed = box.matches('input, textarea') ? 'text' : '';
    const kind = box.matches('select') ? 'list' : box.matches('[type=checkbox]') ? 'tick' : typed;
    found.push([path, kind, field.control.get()]);
  }
  return found;
}"""
CHIP = "input[type=checkbox], input[type=radio]"
# The chips of a question that are picked: under which key each is asked for, and its words.
PICKED_NOW = """(area) => [...area.querySelectorAll('input[type=checkbox]:checked')].map(
  (input) => [input.getAttribute('data-key'), input.labels[0]?.textContent ?? ''])"""
# Each line that can be read now.
LINES = """() => {
  const panel = window.jupyterapp.shell.currentWidget.node.querySelector('.jp-Notebook');
  const walk = document.createTreeWalker(panel, NodeFilter.SHOW_TEXT);
  const found = [];
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const holder = node.parentElement;
    if (!node.data.trim() || holder.closest('select, script, style, textarea, .jp-InputArea')) continue;
    const inSight = holder.checkVisibility({ checkVisibilityCSS: true }) && holder.getClientRects().length;
    if (inSight) found.push(node.data.trim());
  }
  return found;
}"""


@dataclass(frozen=True)
class Visit:
    """One page as it was at first sight, and what was done on it."""

    size: Size
    hands: Hands
    left: tuple[str, ...] = ()


@dataclass
class Evening:
    """A person at the pages; `open` are questions and fields in sight that the data answers and that found no place."""

    shown: Any
    folder: Path
    hands: Hands = field(default_factory=Hands)
    seen: set[str] = field(default_factory=set)

    def read(self) -> None:
        """Every line on the page that was not read on it before."""
        lines = set(self.shown.evaluate(LINES)) - self.seen
        self.seen |= lines
        self.hands.read(sum(any(letter.isalnum() for letter in word) for line in lines for word in line.split()))

    @property
    def home(self) -> Home:
        """The home as it is saved."""
        return Home.model_validate_json((self.folder / "home.json").read_text(encoding="utf-8"))

    def tick_cautions(self) -> None:
        """The tick that opens the short path."""
        box = self.shown.get_by_role("group", name="Read this first", exact=True).get_by_role("checkbox").first
        if not box.is_checked():
            box.check()
            self.hands.choose(1)
            self.shown.evaluate(QUIET)

    def questions(self, most: int = MOST_QUESTIONS) -> tuple[str, ...]:
        """The short path, one question after the other; gives those that the data has no answer for."""
        unknown, say = [], say_of(self.home)
        area = self.shown.locator(".alarm-form .question")
        if not area.count():
            return ("the short path, which does not ask single questions",)
        for _ in range(most):
            title = area.locator("h3").inner_text()
            if title == "Check your answers":
                break
            self.read()
            answer = next((known for asked, known in PICKED.items() if title.startswith(say(asked))), None)
            if answer is None:
                unknown.append(title)
            self._answer(area, UNSURE if answer is None else answer)
            self.shown.wait_for_function(
                "(was) => document.querySelector('.question h3')?.textContent !== was", arg=title
            )
        self.shown.evaluate(QUIET)
        return tuple(unknown)

    def _answer(self, area: Any, answer: str | tuple[str, ...]) -> None:
        self.hands.answer()
        unsure = area.get_by_role("button", name=UNSURE, exact=True)
        if answer == UNSURE and unsure.count():
            self.hands.point()
            unsure.click()
            return
        if isinstance(answer, str) and answer != UNSURE:
            area.locator("input[type=text]").first.fill(answer)
            self.hands.keyed(answer, by_tab=False)
        elif isinstance(answer, tuple) and answer != KEPT:
            self._pick(area, answer)
        self.hands.point()
        area.locator('[data-key="next"]').click()

    def _pick(self, area: Any, wanted: tuple[str, ...]) -> None:
        """These chips and no others."""
        for words in wanted:
            legend, _, label = words.rpartition(" > ")
            part = area.get_by_role("group", name=legend, exact=True) if legend else area
            if words.startswith("+ "):
                area.get_by_role("button", name=words, exact=True).click()
                self.hands.point()
                self.shown.evaluate(QUIET)
            else:
                self._turn(part.get_by_label(label, exact=True).and_(self.shown.locator(CHIP)).first, True)
        if not any(words.startswith("+ ") or " > " in words for words in wanted):
            for key, label in area.evaluate(PICKED_NOW):
                if not any(
                    label == words or label.endswith(f", {words}") or label.startswith(words) for words in wanted
                ):
                    self._turn(area.locator(f'[data-key="{key}"]'), False)

    def _turn(self, chip: Any, on: bool) -> None:
        if chip.is_checked() is not on:
            chip.evaluate("(input) => input.labels[0].click()")
            self.hands.point()
            self.shown.evaluate(QUIET)

    def use_draft(self) -> None:
        """The draft becomes the home."""
        self.shown.get_by_role("button", name=re.compile("^Use (it|this draft) as my home$")).click()
        self.hands.press()
        self.shown.locator(".alarm-form [role=status]", has_text="The draft is now your home.").first.wait_for()
        self.shown.evaluate(QUIET)

    def answer_page(self) -> None:
        """Each field in sight of which the owner knows something that the home does not hold yet."""
        document, before = self.home.model_dump(mode="json"), ""
        for path, kind, value in self.shown.evaluate(FIELDS):
            known = fact_of(document, tuple(path.split("/")))
            if known is None or not kind or value not in ("", "unknown", "not_looked_at"):
                continue
            self._fill(self.shown.locator(f'[data-path="{path}"]').first, kind, known, by_tab=before == "text")
            before = kind
        self.shown.keyboard.press("Tab")
        self.shown.evaluate(QUIET)

    def press_habits(self) -> None:
        """The habits of this household, where a page offers them: one press each."""
        offered = self.shown.get_by_role("group", name="Habits to choose from", exact=True)
        for name in HABITS if offered.count() else ():
            button = offered.get_by_role("button", name=re.compile(f"^{name}")).first
            if button.count():
                button.click()
                self.hands.choose(1)
                self.shown.evaluate(QUIET)

    def _fill(self, control: Any, kind: str, known: Any, by_tab: bool) -> None:
        self.hands.answer()
        if kind == "text":
            text = f"{known:g}" if isinstance(known, float | int) else str(known)
            control.fill(text)
            self.hands.keyed(text, by_tab)
            return
        if kind == "tick":
            control.check()
        else:
            control.select_option("yes" if known is True else "no" if known is False else str(known))
        self.hands.point()
        if kind == "list":
            self.hands.point()


def measured(effort: Effort) -> Iterator[Line]:
    """How large the pages are, then the path of the average home."""
    if effort is not TINY:
        yield from lines_of_sizes(effort)
    visits, home = spent(effort)
    hands = together(visits)
    screens = sum(visit.size.pixels for visit in visits) / SCREEN
    figures = [
        f"{hands.answers} answers", f"{hands.folds} folds opened", f"{screens:.1f} screens of height",
        f"{hands.minutes():.0f} minutes ({hands.minutes(SLOW_KEY_S):.0f} for a slow typist)",
    ]  # fmt: skip
    if effort is not TINY:
        figures.append(compared(home))
    left = [each for visit in visits for each in visit.left]
    figures += [f"without an answer in the data: {', '.join(left)}"] if left else []
    yield Line(f"an average home from the first screen to the record, {len(visits)} pages", "; ".join(figures), GOALS)


def spent(effort: Effort) -> tuple[tuple[Visit, ...], Home]:
    """Every page once, in the order in which they are read, and the home that came of it."""
    visits = []
    with tempfile.TemporaryDirectory(prefix="alarm-evening-") as place:
        folder = prepare(Path(place) / "home")
        with window(folder, PORT) as turn:
            for page in sorted(each.stem for each in (ROOT / "workbook").glob("*.ipynb"))[: effort.pages]:
                visits.append(visited(turn(page), folder, page, effort))
        home = Home.model_validate_json((folder / "home.json").read_text(encoding="utf-8"))
    return tuple(visits), home


def visited(shown: Any, folder: Path, page: str, effort: Effort) -> Visit:
    """One page: its size at first sight, then all that is done on it."""
    first, evening, left = size(shown, page), Evening(shown, folder), ()
    evening.read()
    if page == "00_start":
        evening.tick_cautions()
        left = evening.questions(2 if effort is TINY else MOST_QUESTIONS)
        if effort is not TINY and evening.hands.answers > 1:
            evening.read()
            evening.use_draft()
    evening.answer_page()
    evening.press_habits()
    evening.read()
    return Visit(first, evening.hands, left)


def together(visits: tuple[Visit, ...]) -> Hands:
    """What the hands did on all pages."""
    names = ("keys", "points", "moves", "thoughts", "answers", "folds", "words")
    return replace(Hands(), **{name: sum(getattr(visit.hands, name) for visit in visits) for name in names})


def compared(home: Home) -> str:
    """Whether the home has the musts and breaches of its twin in which all is entered."""
    twin = entered(home)
    more = [f"only {name}: {each}" for name, one, other in (("of the home", home, twin), ("of the twin", twin, home))
            for each in sorted(grave(one) - grave(other))]  # fmt: skip
    return f"{len(grave(home))} musts and breaches; " + ("; ".join(more) or "the same as of the twin")


def grave(home: Home) -> frozenset[str]:
    """What must be fixed and what is breached."""
    musts = {f"{each.id} ({each.subject})" for each in assess(home, "full").findings if each.verdict is Verdict.MUST}
    try:
        proved = prove(home, "none", None, Asked(QUICK)).properties
    except NotReady as problem:
        return frozenset(musts | {f"the proof lacks: {problem}"})
    return frozenset(musts | {each.id for each in proved if each.verdict is ProofVerdict.BREACHED})


def main() -> int:
    """Print what was found on each page, and write it where a file is named."""
    visits, home = spent(FULL)
    rows = ["page\tpixels\tfields in sight\tfields folded\tanswers\tfolds opened\twords read\tminutes"]
    for name, size_, hands in (*((v.size.page, v.size, v.hands) for v in visits), ("all", None, together(visits))):
        sizes = [size_.pixels, size_.fields, size_.folded] if size_ else [sum(v.size.pixels for v in visits), "", ""]
        told = [name, *sizes, hands.answers, hands.folds, hands.words, f"{hands.minutes():.1f}"]
        rows.append("\t".join(map(str, told)))
    rows.append(f"musts and breaches\t{compared(home)}")
    sys.stdout.writelines(f"{row}\n" for row in rows)
    for file in sys.argv[1:]:
        Path(file).write_text("".join(f"{row}\n" for row in rows), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
