"""A proof that was worked out earlier, and whether it still speaks of the home as it is."""

from dataclasses import dataclass

from alarmlib.proof.report.verdicts import Proof


@dataclass(frozen=True)
class KeptProof:
    """A proof kept beside the home file; `fresh` says that nothing on which it rests has moved since.

    `proof` is None when there is none; `problem` then says, in a sentence, why what was kept could not be read.
    """

    proof: Proof | None = None
    fresh: bool = False
    problem: str = ""


NEVER_RUN = KeptProof()
