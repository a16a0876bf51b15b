"""The proof kept beside a home file, as NAME.proof.json: read, or ignored in a sentence; never deleted."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from dataclasses import replace as replaced
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from alarmlib import __version__
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.proof.pieces.code import code_digest
from alarmlib.proof.pieces.content import content_of as content_name
from alarmlib.proof.pieces.recorded import every_field, names_marked
from alarmlib.proof.pieces.said import InWords
from alarmlib.proof.report.document import document_of, proof_from_document
from alarmlib.proof.report.kept import NEVER_RUN, KeptProof
from alarmlib.proof.report.verdicts import Basis, Proof
from alarmlib.store.home_file import load, locked, read_bytes, replace

MARK = ".proof.json"
SCHEMA_VERSION = 3
OLDEST_READ = 2
"""The version of the workbook before this one: its proof is shown, and called out of date."""
_FIELDS = TypeAdapter(dict[str, tuple[str, ...]])
_NAMES = TypeAdapter(dict[str, str])


def kept_file(home_file: Path | str) -> Path:
    """Where the proof of a home file is kept: home.json has home.proof.json beside it."""
    place = Path(home_file)
    return place.with_name(f"{place.stem}{MARK}")


def keep(home_file: Path | str, home: Home, proof: Proof) -> Path:
    """Keep the proof of this state of the home beside its file, in one step. Raises AlarmProblem."""
    target = kept_file(home_file)
    if _is_home(target):
        raise AlarmProblem(f"{target.name} is a home, so it was left as it is. Give that home another name.")
    with locked(target):
        replace(target, content_of(home, proof))
    return target


def _is_home(place: Path) -> bool:
    """Whether a home has the name that a kept proof would have."""
    try:
        load(place)
    except AlarmProblem:
        return False
    return True


def take_along(home_file: Path | str, other: Path | str) -> None:
    """Where a home was copied from one file to another, its kept proof, if any, goes with it. Raises AlarmProblem."""
    source = kept_file(home_file)
    if source.exists():
        with locked(kept_file(other)):
            replace(kept_file(other), read_bytes(source))


def content_of(home: Home, proof: Proof) -> bytes:
    """What the kept file holds: the proof with marks for names, what it read of the home, and what it rests on.

    Of a proof that does not say what it read, every field counts as read.
    """
    basis = proof.basis or Basis(every_field(Home))
    marked = proof if basis.marked is None else replaced(basis.marked, seconds=proof.seconds)
    told = json.dumps(document_of(marked), ensure_ascii=False)
    document = {
        "schema_version": SCHEMA_VERSION,
        "library": __version__,
        "code": code_digest(),
        "fields": basis.reads,
        "read": content_name(home, basis.reads),
        "names": {mark: name for mark, name in names_marked(home).items() if mark in told},
        "proof": document_of(marked),
    }
    return (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()


@dataclass(frozen=True)
class ReadProof:
    """What a kept file holds, of whichever home: the proof, a name for what it read, the library's and code's names.

    The proof has marks for names; `names` are those of the home that it is of.
    """

    proof: Proof | None = None
    of: str = ""
    library: str = ""
    problem: str = ""
    code: str = ""
    fields: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    _told: list[tuple[Any, Proof]] = field(default_factory=list, compare=False, repr=False)

    def about(self, home: Home) -> KeptProof:
        """The proof in the names and units of this home, and whether it still speaks of it."""
        if self.proof is None:
            return KeptProof(problem=self.problem) if self.problem else NEVER_RUN
        return KeptProof(self._in_words(self.proof, home), self._speaks_of(home))

    def _in_words(self, proof: Proof, home: Home) -> Proof:
        """The proof in words; the same object as last time where no name in it has changed, nor the units."""
        words = InWords(home, self.names)
        told = home.units, tuple(words.names[mark] for mark in self.names)
        if not self._told or self._told[-1][0] != told:
            basis = Basis(self.fields, marked=proof) if self.fields else None
            self._told[:] = [(told, replaced(words.of(proof), basis=basis))]
        return self._told[-1][1]

    def _speaks_of(self, home: Home) -> bool:
        same_code = (self.library, self.code) == (__version__, code_digest())
        return same_code and self.of == content_name(home, self.fields)


def kept(home_file: Path | str, home: Home) -> KeptProof:
    """The proof kept beside a home file, and whether it still speaks of this home."""
    return read_kept(home_file).about(home)


def read_kept(home_file: Path | str) -> ReadProof:
    """The proof kept beside a home file. One that cannot be read is left alone and ignored: `problem` says so."""
    place = kept_file(home_file)
    if not place.exists():
        return ReadProof()
    try:
        content = read_bytes(place)
        if _is_earlier(content):
            return ReadProof(problem=f"The kept proof {place.name} is of an earlier workbook. Run the proof again.")
        return _read(_document(content))
    except (AlarmProblem, ValueError, RecursionError):
        return ReadProof(
            problem=f"The kept proof {place.name} cannot be read, so it was ignored. A new proof replaces it."
        )


def _read(document: dict[str, Any]) -> ReadProof:
    """What a document holds. Raises AlarmProblem or ValueError."""
    proof = proof_from_document(document.get("proof"))
    if document["schema_version"] < SCHEMA_VERSION:
        return ReadProof(proof, library=str(document.get("library")))  # it does not say what it read: out of date
    return ReadProof(
        proof,
        of=str(document.get("read")),
        library=str(document.get("library")),
        code=str(document.get("code")),
        fields=_FIELDS.validate_python(document.get("fields")),
        names=_NAMES.validate_python(document.get("names")),
    )


def _document(content: bytes) -> dict[str, Any]:
    document = json.loads(content)
    if not isinstance(document, dict) or document.get("schema_version") not in (OLDEST_READ, SCHEMA_VERSION):
        raise ValueError
    return document


def _is_earlier(content: bytes) -> bool:
    """Whether it was kept by an earlier workbook, whose words for its parts were others."""
    try:
        document = json.loads(content)
    except (ValueError, RecursionError):
        return False
    version = document.get("schema_version") if isinstance(document, dict) else None
    return isinstance(version, int) and not isinstance(version, bool) and version < OLDEST_READ
