"""The proof kept beside a home file, as NAME.proof.json: read, or ignored in a sentence; never deleted."""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from alarmlib import __version__
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.proof.report.document import document_of, proof_from_document
from alarmlib.proof.report.kept import NEVER_RUN, KeptProof, read_hash
from alarmlib.proof.report.verdicts import Proof
from alarmlib.store.home_file import load, read_bytes, replace

MARK = ".proof.json"
SCHEMA_VERSION = 2


def kept_file(home_file: Path | str) -> Path:
    """Where the proof of a home file is kept: home.json has home.proof.json beside it."""
    place = Path(home_file)
    return place.with_name(f"{place.stem}{MARK}")


def keep(home_file: Path | str, home: Home, proof: Proof) -> Path:
    """Keep the proof of this state of the home beside its file, in one step. Raises AlarmProblem."""
    target = kept_file(home_file)
    if _is_home(target):
        raise AlarmProblem(f"{target.name} is a home, so it was left as it is. Give that home another name.")
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
        replace(kept_file(other), read_bytes(source))


def content_of(home: Home, proof: Proof) -> bytes:
    """What the kept file holds: of which state of the home, by which library, and the proof's own document."""
    document = {
        "schema_version": SCHEMA_VERSION,
        "read": read_hash(home),
        "library": __version__,
        "proof": document_of(proof),
    }
    return (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()


@dataclass(frozen=True)
class ReadProof:
    """What a kept file holds, of whichever home: the proof, a name for what it read, and the library's version."""

    proof: Proof | None = None
    of: str = ""
    library: str = ""
    problem: str = ""

    def about(self, home: Home) -> KeptProof:
        """The proof, and whether it still speaks of this home."""
        if self.proof is None:
            return KeptProof(problem=self.problem) if self.problem else NEVER_RUN
        return KeptProof(self.proof, self.library == __version__ and self.of == read_hash(home))


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
        document = _document(content)
        proof = proof_from_document(document.get("proof"))
    except (AlarmProblem, ValueError, RecursionError):
        return ReadProof(
            problem=f"The kept proof {place.name} cannot be read, so it was ignored. A new proof replaces it."
        )
    return ReadProof(proof, str(document.get("read")), str(document.get("library")))


def _document(content: bytes) -> dict[str, Any]:
    document = json.loads(content)
    if not isinstance(document, dict) or document.get("schema_version") != SCHEMA_VERSION:
        raise ValueError
    return document


def _is_earlier(content: bytes) -> bool:
    """Whether it was kept by an earlier workbook, whose words for its parts were others."""
    try:
        document = json.loads(content)
    except (ValueError, RecursionError):
        return False
    version = document.get("schema_version") if isinstance(document, dict) else None
    return isinstance(version, int) and not isinstance(version, bool) and version < SCHEMA_VERSION
