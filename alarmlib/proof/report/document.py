"""A proof as one JSON document, and back: what `prove --json` prints and what is kept beside the home file."""

from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from alarmlib.errors import AlarmProblem
from alarmlib.proof.report.verdicts import Proof

SCHEMA_VERSION = 2


def document_of(proof: Proof, with_basis: bool = False) -> dict[str, Any]:
    """The document of a proof, of plain JSON values: `schema_version`, then the fields of `Proof` in their order.

    `with_basis`: also on what it rests, for a process that keeps it.
    """
    fields: dict[str, Any] = _shape().dump_python(proof, mode="json", exclude=None if with_basis else {"basis"})
    return {"schema_version": SCHEMA_VERSION, **fields}


def proof_from_document(document: Any) -> Proof:
    """The proof that a document holds. Raises AlarmProblem, in one sentence, for anything else."""
    if not isinstance(document, dict) or document.get("schema_version") != SCHEMA_VERSION:
        raise AlarmProblem(f"This is no proof of schema version {SCHEMA_VERSION}.")
    fields = {name: value for name, value in document.items() if name != "schema_version"}
    try:
        return _shape().validate_python(fields)
    except ValidationError as error:
        place = ".".join(map(str, error.errors(include_url=False)[0]["loc"]))
        raise AlarmProblem(f"This is no whole proof: {place} cannot be read.") from None


@cache
def _shape() -> TypeAdapter[Proof]:
    return TypeAdapter(Proof)
