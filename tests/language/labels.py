"""Every text that a person can meet, one a line with its place, in one file; with `--measure`, how they are written.

    python tests/language/labels.py FILE             writes the list: kind, place, text
    python tests/language/labels.py FILE --measure   also prints lengths of sentences and counts of words

The texts are read from the sources themselves, so a new label, finding or page is in the list without being named here.
What a sentence is filled with shows as {…}.
"""

import argparse
import ast
import json
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

PROJECT = Path(__file__).parents[2]
FILLED = "{…}"


@dataclass(frozen=True)
class Text:
    """One text: what it is, the file and line (or cell) where it is written, and its words."""

    kind: str
    place: str
    words: str


# -- Python -----------------------------------------------------------------------------------------------------------

# name of the call and of its argument (or the argument's number), what a text there is
ARGUMENTS = {
    ("fact", "1"): "label", ("fact", "help"): "help", ("fact", "label"): "label",
    ("Sheet", "0"): "section title", ("Group", "0"): "section title", ("List", "0"): "section title",
    ("Button", "0"): "button", ("Button", "label"): "button", ("Action", "0"): "button",
    ("Finding", "message"): "finding", ("Finding", "remedy"): "finding",
    ("add_parser", "help"): "command",
    ("add_argument", "help"): "command", ("ArgumentParser", "description"): "command",
    ("AlarmProblem", "0"): "error", ("ValueError", "0"): "error", ("Advice", "1"): "caution",
}  # fmt: skip
NAMED = {"help": "help", "intro": "help", "label": "label", "title": "section title", "heading": "section title",
         "message": "finding", "remedy": "finding", "button": "button", "description": "help"}  # fmt: skip
FOLDERS = {"checks": "finding", "record": "record", "pages": "page", "widgets": "form", "sources": "source",
           "proof": "proof", "calc": "figure", "draft": "draft", "store": "store", "lab": "page", "model": "model",
           "control": "unit", "units": "unit of measure"}  # fmt: skip
CODE_CALLS = {"compile", "getattr", "setattr", "hasattr", "columns", "import_module", "Literal", "field_validator",
              "model_validator", "computed_field", "StringConstraints", "TypeVar", "cast", "split", "join", "Path",
              "encode", "startswith", "endswith", "removeprefix", "removesuffix", "strptime"}  # fmt: skip


class _Reader(ast.NodeVisitor):
    """Collects the texts of one module; `kind` is what a text is by where it is handed on."""

    def __init__(self, place: str, folder: str) -> None:
        self.place, self.kind, self.found = place, FOLDERS.get(folder, "text"), list[Text]()
        self.as_choice = False

    def _add(self, node: ast.expr, words: str) -> None:
        words = re.sub(r"\s+", " ", words).strip()
        if is_read(words):
            kind = "choice" if self.as_choice else self.kind
            self.found.append(Text(kind, f"{self.place}:{node.lineno}", words))

    def visit_Constant(self, node: ast.Constant) -> None:
        if isinstance(node.value, str):
            self._add(node, node.value)

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        self._add(node, "".join(str(p.value) if isinstance(p, ast.Constant) else FILLED for p in node.values))
        for part in node.values:  # a text chosen inside another one is met too
            if isinstance(part, ast.FormattedValue):
                self.visit(part.value)

    def visit_Expr(self, node: ast.Expr) -> None:
        if not isinstance(node.value, ast.Constant):  # a text alone is a docstring
            self.generic_visit(node)

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        before, self.as_choice = self.as_choice, any("Word" in ast.unparse(base) for base in node.bases)
        for each in node.body:
            self.visit(each)
        self.as_choice = before

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        before, self.as_choice = self.as_choice, False
        for each in (*node.args.defaults, *(d for d in node.args.kw_defaults if d), *node.decorator_list, *node.body):
            self.visit(each)  # annotations hold no text
        self.as_choice = before

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None:
            self.visit(node.value)

    def visit_Subscript(self, node: ast.Subscript) -> None:
        self.visit(node.value)  # keys are code

    def visit_Compare(self, node: ast.Compare) -> None:
        return  # what is compared is code

    def visit_Assert(self, node: ast.Assert) -> None:
        return

    def visit_Call(self, node: ast.Call) -> None:
        self.visit(node.func)
        name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
        if name in CODE_CALLS:
            if name == "join":  # what is joined may be texts
                for argument in node.args:
                    self.visit(argument)
            return
        arguments = [*((str(n), a) for n, a in enumerate(node.args)), *((k.arg or "", k.value) for k in node.keywords)]
        for where, argument in arguments:
            before = self.kind
            self.kind = ARGUMENTS.get((name, where), NAMED.get(where, before))
            self.visit(argument)
            self.kind = before


def is_read(words: str) -> bool:
    """Whether this looks like words for a person: no name in code, no pattern, no markup alone."""
    plain = words.replace(FILLED, "").strip()
    if len(re.findall(r"[^\W\d_]", plain)) < 2 or re.search(r"[\\^$]|</|/>|=\"|\(\?", plain):
        return False
    if re.fullmatch(r"[\w.\-:/#%*,;|=<>\[\]]+", plain):  # one word: a label begins with a capital letter
        return bool(re.fullmatch(r"[A-Z][a-zäöüéèµ'’\-]+[.:,?!]?|CO|PIR", plain))
    names = all(re.fullmatch(r"[a-z][a-z0-9_]*", word) for word in plain.split())
    return not (names and "_" in plain)  # a list of names in code


def python_texts(file: Path) -> Iterator[Text]:
    """The texts of one module of the library; a package's own help is its first docstring."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    place = file.relative_to(PROJECT).as_posix()
    reader = _Reader(place, file.relative_to(PROJECT / "alarmlib").parts[0].removesuffix(".py"))
    if file.name == "__main__.py":
        yield Text("command", f"{place}:1", ast.get_docstring(tree) or "")
    if file == PROJECT / "alarmlib" / "__init__.py":
        yield Text("package", f"{place}:1", ast.get_docstring(tree) or "")
    reader.visit(tree)
    yield from reader.found


# -- JavaScript, templates, pages -------------------------------------------------------------------------------------

_SCRIPT_TEXT = re.compile(r"//[^\n]*|\"((?:[^\"\\\n]|\\.)*)\"|`((?:[^`\\]|\\.)*)`", re.DOTALL)


def script_texts(file: Path) -> Iterator[Text]:
    """The texts of one script: its strings that look like words for a person."""
    source, place = file.read_text(encoding="utf-8"), file.relative_to(PROJECT).as_posix()
    for match in _SCRIPT_TEXT.finditer(source):
        words = match[1] if match[1] is not None else match[2]
        if words is None:
            continue
        words = re.sub(r"\$\{[^{}]*(\{[^{}]*\}[^{}]*)*\}", FILLED, words)
        words = re.sub(r"\s+", " ", words).strip()
        if is_read(words) and not re.fullmatch(r"[a-z\-]+( [a-z\-]+)?", words):
            yield Text("form", f"{place}:{source.count(chr(10), 0, match.start()) + 1}", words)


def template_texts(file: Path) -> Iterator[Text]:
    """What a template says by itself, between its tags."""
    place = file.relative_to(PROJECT).as_posix()
    for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
        words = re.sub(r"\{%.*?%\}|\{#.*?#\}|<[^>]*>", " ", re.sub(r"\{\{.*?\}\}", FILLED, line)).strip()
        if " " in words and is_read(words) and not re.search(r"[{};]\s*$|^\s*[.#@\w\-]+\s*[{:]", words):
            yield Text("record", f"{place}:{number}", words)


def markdown_texts(place: str, source: str, kind: str) -> Iterator[Text]:
    """Paragraphs, list items and headings of Markdown; code left out."""
    source = re.sub(r"```.*?```", "", source, flags=re.DOTALL)
    for part in re.split(r"\n\s*\n|\n(?=\s*(?:[-*]|\d+\.|#|\|))", source):
        words = re.sub(r"\s+", " ", part).strip()
        if words:
            yield Text("page heading" if words.startswith("#") else kind, place, words.lstrip("#-* "))


def page_texts(file: Path) -> Iterator[Text]:
    """The Markdown cells of one page."""
    for number, cell in enumerate(json.loads(file.read_text(encoding="utf-8"))["cells"], 1):
        if cell["cell_type"] == "markdown":
            yield from markdown_texts(f"workbook/{file.name}, cell {number}", "".join(cell["source"]), "page")


@cache
def texts() -> tuple[Text, ...]:
    """Every text, in the order of files and lines; read once for all tests."""
    library = PROJECT / "alarmlib"
    found: list[Text] = []
    for file in sorted(library.rglob("*.py")):
        found += python_texts(file)
    for file in sorted(library.rglob("*.js")):
        found += script_texts(file)
    for file in sorted((library / "record" / "template").rglob("*.j2")):
        found += template_texts(file)
    for file in sorted((PROJECT / "workbook").glob("*.ipynb")):
        found += page_texts(file)
    return (*found, *markdown_texts("README.md", (PROJECT / "README.md").read_text(encoding="utf-8"), "readme"))


# -- measure ----------------------------------------------------------------------------------------------------------

# What must not come back (name, pattern with its inflections). A fair use is in the pattern: paper to write on, to
# stand on a ladder, Peukert's name in the README's table of calculations. Sharing a zone is fair; a share of an amount
# is not, save of time.
_SHARE = (
    r"\bshares? (?:of(?! time\b)|above|below|between|at rest)\b|^shares?\b(?! (?:a|an|the|one|zone)\b)"
    r"|\b(?:its|their|this|as a|’s|'s) shares?\b"
)
WATCHED: tuple[tuple[str, str], ...] = (
    ("mend", r"\bmend(s|ed|ing)?\b"),
    ("papers", r"\bpapers\b|(?<!\bon )(?<!\bor )(?<!\btracing )\bpaper\b"),
    ("hangs", r"\b(hangs?|hung|hanging)\b"),
    ("stands", r"\b(stands?|stood|standing)\b(?! on the top step)"),
    ("the town", r"\bthe town\b"),
    ("tells apart", r"\b(tells?|told|telling)\b[^.]{0,40}\bapart\b"),
    ("anew", r"\banew\b"),
    ("belongs into", r"\bbelong(s|ed|ing)? into\b"),
    ("shut", r"\bshut(s|ting)?\b"),
    ("borne", r"\bborne\b"),
    ("sums", r"\bsums?\b(?! by the GUM)"),
    ("wire-free", r"\bwire-?free\b"),
    ("is said", r"\b(is|are|was|were|be) said\b"),
    ("thing", r"\bthings?\b"),
    ("the same in words", r"\bthe same in words\b"),
    ("Peukert", r"\bpeukert\b(?!'s rule in its rated form)"),
    ("pull-up", r"\bpull-?ups?\b"),
    ("share", _SHARE),
    ("loop", r"\bloops?\b(?! fitting$)|\bwired circuits?\b"),  # a detector circuit
    ("plural by (s)", r"\w\(s\)"),
    ("an id", r"(?<![\w`/.])[a-z]+(_[a-z]+)+(?![\w`/.(=])"),
    ("an exponent", r"\d[eE][+-]?\d"),
)  # fmt: skip
LONGEST = 25


def sentences(words: str) -> list[str]:
    """The whole sentences of a text: those that end with a full stop, a question or an exclamation mark."""
    plain = re.sub(r"`[^`]*`|\[([^\]]*)\]\([^)]*\)", lambda m: m[1] or "code", words)
    return [
        part.strip()
        for part in re.findall(r"[^.!?]+(?:\.(?=\d)[^.!?]*)*[.!?]+(?=\s|$)", plain)
        if len(part.split()) > 2
    ]


def words_of(sentence: str) -> int:
    """How many words a sentence has; what it is filled with counts as one."""
    return len(re.findall(rf"{re.escape(FILLED)}|[\w’'\-]*\w[\w’'\-]*", sentence))


def matches(name: str, words: str) -> list[str]:
    """Every place in these words where the watched word of that name is used."""
    pattern = dict(WATCHED)[name]
    return [each[0] for each in re.finditer(pattern, words, 0 if name == "an id" else re.IGNORECASE)]


def measure(found: list[Text]) -> str:
    """Counts to print: of texts by kind, of sentences by length, of the watched words."""
    lengths = [(words_of(sentence), text.place, sentence) for text in found for sentence in sentences(text.words)]
    long = sorted((each for each in lengths if each[0] > LONGEST), reverse=True)
    average = sum(length for length, _, _ in lengths) / max(len(lengths), 1)
    counts = [(name, sum(len(matches(name, text.words)) for text in found)) for name, _ in WATCHED]
    lines = [f"{len(found)} texts, {len(lengths)} sentences, {average:.1f} words on average",
             f"{len(long)} sentences have more than {LONGEST} words; the longest:"]  # fmt: skip
    lines += [f"  {length:3} {place}: {sentence}" for length, place, sentence in long[:10]]
    lines += ["words that must not come back (each with its inflections):"]
    lines += [f"  {count:4} {name}" for name, count in counts]
    return "\n".join([*lines, f"  {sum(count for _, count in counts):4} together"])


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("file", type=Path, help="where the list goes")
    parser.add_argument("--measure", action="store_true", help="print how the texts are written")
    asked = parser.parse_args()
    found = list(texts())
    asked.file.write_text("".join(f"{t.kind}\t{t.place}\t{t.words}\n" for t in found), encoding="utf-8")
    sys.stdout.write(f"{len(found)} texts in {asked.file}\n")
    if asked.measure:
        sys.stdout.write(measure(found) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
