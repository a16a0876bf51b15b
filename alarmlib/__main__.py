"""The command line: `python -m alarmlib open | check | prove | record | schema | sources`."""

import argparse
import gc
import json
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import date
from io import StringIO
from math import nan
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING, Any, Literal, NoReturn

from alarmlib.errors import AlarmProblem

if TYPE_CHECKING:
    from alarmlib.model import Home
    from alarmlib.proof.repairs.cheapest import Sought
    from alarmlib.proof.report.verdicts import OnProgress, Proof

FINE, TO_FIX, BAD_INPUT = 0, 1, 2
# of a document for programs, what a person reads
_SENTENCES = ("message", "remedy", "sentence", "why", "state", "place", "output")
STOPPED = 130  # by Ctrl+C: 128 and the signal's number, as shells have it
PORTS = range(1024, 65536)
TELL_EVERY_S = 0.5  # long work says how far it is this often


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; 0 fine, 1 something must be fixed, 2 bad input said in one sentence on stderr, 130 stopped."""
    told = sys.stderr
    with _ctrl_c_noted() as pressed:
        try:
            return _run(arguments)
        except (KeyboardInterrupt, Exception) as end:
            sys.stderr = told
            _silence()
            if pressed or isinstance(end, KeyboardInterrupt):
                print("Stopped. Nothing half done was kept.", file=sys.stderr)
                return STOPPED
            if isinstance(end, BrokenPipeError):
                return FINE
            if not isinstance(end, (AlarmProblem, OSError)):
                raise
            print(_refused(end) if isinstance(end, OSError) else end, file=sys.stderr)
            return BAD_INPUT


def _run(arguments: Sequence[str] | None) -> int:
    asked = _parser().parse_args(arguments)
    run: Callable[[argparse.Namespace], int] = asked.run
    try:
        code = run(asked)
        sys.stdout.flush()
    except AlarmProblem as problem:
        raise AlarmProblem(_in_its_words(getattr(asked, "home", None), str(problem))) from None
    return code


@contextmanager
def _ctrl_c_noted() -> Iterator[list[int]]:
    """A list with the signal in it once Ctrl+C was pressed: some libraries make another exception of it, or a text."""
    pressed: list[int] = []

    def note(number: int, _frame: object) -> NoReturn:
        pressed.append(number)
        sys.unraisablehook = lambda _: None
        sys.stderr = StringIO()  # compiled libraries print an exception of their import themselves
        raise KeyboardInterrupt

    before, hook = signal.getsignal(signal.SIGINT), sys.unraisablehook
    alone = threading.current_thread() is threading.main_thread()
    if not alone or before is not signal.default_int_handler:  # somebody else listens, or nobody may, as by `nohup`
        yield pressed
        return
    signal.signal(signal.SIGINT, note)
    try:
        yield pressed
    finally:
        signal.signal(signal.SIGINT, before)
        sys.unraisablehook = hook


def _refused(error: OSError) -> str:
    """What a disk or device refused, in a sentence; what has no name is the place that the answer goes to."""
    from alarmlib.store.home_file import reason_of

    what = f"{error.filename} cannot be read or written" if error.filename else "The answer could not be written"
    return f"{what}: {reason_of(error)}."


def _silence() -> None:
    """Have what is still to be printed go nowhere, so that Python says nothing more about it as it ends."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


class _Parser(argparse.ArgumentParser):
    """A parser that says what is wrong in one sentence."""

    def error(self, message: str) -> NoReturn:
        """End with 2 and the sentence."""
        self.exit(BAD_INPUT, f"This is not understood: {message}. For the usage write: {self.prog} --help\n")


def _in_its_words(home_file: Path | None, text: str) -> str:
    """The text in the words of the home's country; as it is where no home can be read."""
    from alarmlib.rules import say_of
    from alarmlib.store import load

    try:
        return say_of(load(home_file))(text) if home_file is not None and home_file.is_file() else text
    except (AlarmProblem, OSError):
        return text


def _worded(document: Any, say: Callable[[str], str]) -> Any:
    """A document for programs with its sentences in the words of a country; keys, ids and choices stay."""
    if isinstance(document, dict):
        said = {key: _worded(part, say) for key, part in document.items() if not isinstance(part, str)}
        return document | said | {key: say(document[key]) for key in _SENTENCES if isinstance(document.get(key), str)}
    if isinstance(document, list):
        return [say(each) if isinstance(each, str) and " " in each else _worded(each, say) for each in document]
    return document


def _parser() -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = _Parser(prog="python -m alarmlib", description=__doc__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for add in COMMANDS:
        add(commands)
    return parser


def _open(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    parser = commands.add_parser("open", help="open the workbook of a home in the browser")
    parser.add_argument("home", nargs="?", type=Path, default=Path("my-home"), help="its folder or its home file")
    parser.add_argument("--port", type=_port, default=0, help="the first port to try, such as 8888")
    parser.add_argument("--no-browser", action="store_true")
    parser.add_argument(
        "--notebook-tools", action="store_true", help="begin with Jupyter's own menus and bars in sight, for teachers"
    )
    parser.add_argument(
        "--group",
        help="let the users of this group of the computer read and change the home too, such as a class. "
        "It stays so until you write --group - once. Without this option the home is yours alone",
    )
    parser.set_defaults(run=_run_open)


def _port(word: str) -> int:
    """A port that a person may use. Raises AlarmProblem."""
    if not (word.isascii() and word.isdigit() and len(word) < 6 and int(word) in PORTS):
        raise AlarmProblem(
            f"{word} is no port. Write a whole number from {PORTS.start} to {PORTS.stop - 1}, such as 8888."
        )
    return int(word)


def _run_open(asked: argparse.Namespace) -> int:
    from alarmlib.lab.open import prepare, serve
    from alarmlib.lab.place import place_of

    place = place_of(asked.home)
    if asked.group is not None:
        from alarmlib.lab.sharing import share

        prepare(place.folder)
        share(place, asked.group)
    return serve(place, asked.port, not asked.no_browser, tools=asked.notebook_tools)


def _check(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    parser = commands.add_parser("check", help="say what you must fix in a home")
    parser.add_argument("home", type=Path)
    parser.add_argument("--json", action="store_true", help="one JSON document on stdout and nothing else")
    parser.set_defaults(run=_run_check)


def _run_check(asked: argparse.Namespace) -> int:
    from alarmlib.checks.assess import assess
    from alarmlib.rules import say_of
    from alarmlib.store import load
    from alarmlib.store.kept_proofs import kept

    home = load(asked.home)
    assessment = assess(home, "quick", today=date.today(), proof=kept(asked.home, home))
    say = say_of(home)
    if asked.json:
        print(json.dumps(_worded(check_document(home.name, assessment), say), ensure_ascii=False, indent=2))
    else:
        from alarmlib.record.plain import finding_line

        for finding in assessment.findings:
            print(say(finding_line(finding)))
        print(f"{assessment.open} findings must be fixed.")
    return TO_FIX if assessment.open else FINE


def check_document(name: str, assessment: object) -> dict[str, object]:
    """What `check --json` prints."""
    from alarmlib.checks.finding import Assessment

    assert isinstance(assessment, Assessment)
    keys = ("id", "subject", "verdict", "message", "remedy", "source", "figure", "accepted")
    findings = [{key: str(getattr(finding, key)) for key in keys} for finding in assessment.findings]
    return {"schema_version": 1, "home": name, "findings": findings, "open": assessment.open}


def _prove(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    parser = commands.add_parser(
        "prove",
        help="try to prove, within printed assumptions, that no way in goes unheard and no habit sets off the alarm",
    )
    parser.add_argument("home", type=Path)
    parser.add_argument("--json", action="store_true", help="one JSON document on stdout and nothing else")
    parser.add_argument(
        "--faults", choices=["none", "single", "pairs"], default="single", help="which faults are tried (single)"
    )
    parser.add_argument(
        "--minutes", type=_within(0.1, 1440), help="longest time that it may take, 0.1 to 1,440 (as the home says, 30)"
    )
    parser.add_argument(
        "--gigabytes", type=_within(0.1, 64), help="most memory that it may take, 0.1 to 64 (as the home says, 2)"
    )
    parser.add_argument(
        "--fixes", nargs="?", type=int, const=20, default=0, metavar="SETS",
        help="search for fixes too: so many sets of changes are proved for each breach (20); may take minutes",
    )  # fmt: skip
    parser.set_defaults(run=_run_prove)


def _within(least: float, most: float) -> "Callable[[str], float]":
    """A number between these two, as an argument."""

    def read(text: str) -> float:
        try:
            number = float(text)
        except ValueError:
            number = nan
        if not least <= number <= most:
            raise argparse.ArgumentTypeError(f"{text} is no number from {least:g} to {most:,g}")
        return number

    return read


def _run_prove(asked: argparse.Namespace) -> int:
    """0 when all holds, 1 when not; a home that is not ready gets the list of what is missing, and 2."""
    from alarmlib.proof.report.readiness import NotReady
    from alarmlib.rules import say_of
    from alarmlib.store import load

    home = load(asked.home)
    say = say_of(home)
    try:
        proof = _proved(asked.home, home, asked.faults, (asked.minutes, asked.gigabytes))
    except NotReady as problem:
        print(*map(say, problem.missing), sep="\n", file=sys.stderr)
        return BAD_INPUT
    if asked.faults != "none":
        _keep(asked.home, home, proof)
    sought = _sought(home, proof, asked.fixes) if asked.fixes > 0 else None
    if asked.json:
        from alarmlib.proof.report.document import document_of
        from alarmlib.record.fix_text import fixes_document

        fixes = {} if sought is None else {"fixes": fixes_document(sought)}
        print(json.dumps(_worded(document_of(proof) | fixes, say), ensure_ascii=False, indent=2))
    else:
        from alarmlib.record.fix_text import fixes_text
        from alarmlib.record.proof_blocks import proof_text

        print(say(proof_text(home, proof)))
        if sought is not None:
            print(say(fixes_text(home, proof, sought, asked.fixes)))
    return FINE if proof.holds else TO_FIX


def _sought(home: "Home", proof: "Proof", patience: int) -> "Sought":
    """The search for fixes of what is breached; each step is told on stderr."""
    from alarmlib.checks.judged import judge_of
    from alarmlib.proof.repairs.cheapest import seek

    return seek(home, proof, _on_stderr(home), patience=patience, judge=judge_of(home))


def _proved(
    home_file: Path,
    home: "Home",
    faults: Literal["none", "single", "pairs"],
    limits: tuple[float | None, float | None] = (None, None),
) -> "Proof":
    """The proof with the seconds that it took; each step, and how much was kept, is told on stderr.

    `limits`: minutes and gigabytes, None: as the home says.
    """
    from alarmlib.proof.prove import Asked, prove
    from alarmlib.proof.report.verdicts import worked_again
    from alarmlib.proof.search.budget import GIGABYTE, Budget, budget_of, late_after
    from alarmlib.rules import say_of
    from alarmlib.store.kept_pieces import keep_pieces, kept_pieces

    minutes, gigabytes = limits
    begun, pieces = monotonic(), kept_pieces(home_file)
    late = late_after(home.proof.most_minutes if minutes is None else minutes, monotonic)
    budget = budget_of(home) if gigabytes is None else Budget(round(gigabytes * GIGABYTE))
    proof = prove(home, faults, _on_stderr(home), Asked(budget=budget, late=late), pieces=pieces)
    if faults != "none":
        keep_pieces(home_file, pieces.document())
    if again := worked_again(proof):
        print(say_of(home)(again), file=sys.stderr)
    return replace(proof, seconds=round(monotonic() - begun, 2))


def _on_stderr(home: "Home") -> "OnProgress":
    """Tells how far long work is, now and then."""
    from alarmlib.rules import say_of

    last, say = monotonic(), say_of(home)

    def on_progress(what: str, done: int, of: int) -> None:
        nonlocal last
        if monotonic() - last >= TELL_EVERY_S:
            last = monotonic()
            print(say(f"{what} ({done} of {of})"), file=sys.stderr)

    return on_progress


def _keep(home_file: Path, home: "Home", proof: "Proof") -> None:
    """Keep the result beside the home file, for page and record; why it can't be written goes to stderr."""
    from alarmlib.store.kept_proofs import keep

    try:
        keep(home_file, home, proof)
    except AlarmProblem as problem:
        print(_in_its_words(home_file, f"The proof was not kept. {problem}"), file=sys.stderr)


def _record(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    from alarmlib.model.words import Share

    parser = commands.add_parser("record", help="write the record of a home as one HTML file")
    parser.add_argument("home", type=Path)
    parser.add_argument("--out", type=Path, required=True, help="the HTML file to write")
    parser.add_argument("--copy", choices=[share.value for share in Share], required=True, help="who will read it")
    parser.add_argument("--date", default=date.today().isoformat(), help="the day of the record, as 2026-11-25")
    parser.add_argument("--short", action="store_true", help="the short record")
    parser.add_argument(
        "--replace", action="store_true", help="write over a file that holds no record; a home is never written over"
    )
    parser.add_argument(
        "--previous", type=Path, help="a home file to compare with; without it, the last record kept beside the home"
    )
    parser.set_defaults(run=_run_record)


def _run_record(asked: argparse.Namespace) -> int:
    with _nothing_collected():
        return _write_record(asked)


def _write_record(asked: argparse.Namespace) -> int:
    from alarmlib.model.words import Share
    from alarmlib.record.out_file import place_for_record
    from alarmlib.record.produce import made
    from alarmlib.store import load
    from alarmlib.store.home_file import replace as put_in_place
    from alarmlib.store.kept_proofs import kept

    home = load(asked.home)
    place = place_for_record(asked.out, asked.home, asked.previous, asked.replace)
    since, previous = ("", load(asked.previous)) if asked.previous else _last_record(asked.home, home, asked.date)
    proof = kept(asked.home, home)
    if proof.problem:
        print(_in_its_words(asked.home, proof.problem), file=sys.stderr)
    _, content = made(
        home, Share(asked.copy), asked.date, short=asked.short, previous=previous, kept=proof, since=since
    )
    put_in_place(place, content)
    _keep_record(asked.home)
    print(f"{asked.out}: {len(content) / 1000:.0f} kB, the copy for {Share(asked.copy).text}.", file=sys.stderr)
    return FINE


def _last_record(home_file: Path, home: "Home", written: str) -> tuple[str, "Home | None"]:
    """The day and the home of the record to compare with, as page 11 finds it; a date that is none finds nothing."""
    from alarmlib.record.context import day_of
    from alarmlib.store.kept_saves import KeptSaves
    from alarmlib.store.session import now

    day = day_of(written)
    return ("", None) if day is None else KeptSaves(home_file.resolve(), now).since(home, day)


def _keep_record(home_file: Path) -> None:
    """Keep the state that a record was made of, as page 11 does; not beside a home that nobody has edited here."""
    from alarmlib.store import Session

    session = Session.open(home_file)
    if session.kept.folder.is_dir():
        session.keep_for_record()


@contextmanager
def _nothing_collected() -> Iterator[None]:
    """No looking for garbage meanwhile: a record is one short process that needs nearly all it makes to its end."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def _schema(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    commands.add_parser("schema", help="print the JSON Schema of a home file").set_defaults(run=_run_schema)


def _run_schema(_asked: argparse.Namespace) -> int:
    from alarmlib.store.schema import schema_text

    print(schema_text(), end="")
    return FINE


def _sources(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    commands.add_parser("sources", help="print every source and how far it was seen").set_defaults(run=_run_sources)


def _run_sources(_asked: argparse.Namespace) -> int:
    from alarmlib.sources import every_source

    for source in every_source():
        print(f"{source.key}: {source.told}")
    return FINE


COMMANDS = (_open, _check, _prove, _record, _schema, _sources)

if __name__ == "__main__":
    sys.exit(main())
