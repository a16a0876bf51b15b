"""A proof that was worked out earlier, and whether it still speaks of the home as it is."""

import json
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from alarmlib.model import Home
from alarmlib.proof.report.verdicts import Proof

READS = ("rules", "site", "household", "control_unit", "devices", "circuits", "wiring", "messages", "proof")
"""The parts of the home that a proof reads; the others (name, logs, cautions ...) may change without moving it."""
UNREAD = frozenset(
    {"note", "answers", "prices", "price", "made_on", "fitted_on", "battery_fitted_on", "to_do", "left_bare_because"}
    | {"done", "runs", "measured_ohm", "open_ohm", "earth_ohm", "charger_a", "most_a", "lasts_years", "tone_hz"}
    | {"type"}  # a device's facts are read whole, its type's too
    | {"season_by", "season_now"}
    | {"battery_mah", "rests_at_ua", "report_mas", "trips_a_day", "least_v"}
)
"""Fields inside those parts that it does not read: notes, days, prices, the survey's points, ticks and readings of the
fitting day, cable that feeds devices, cells, and which season is in force: all are proved."""


@dataclass(frozen=True)
class KeptProof:
    """A proof kept beside the home file; `fresh` says that what it read, and the library, have not moved since.

    `proof` is None when there is none; `problem` then says, in a sentence, why what was kept could not be read.
    """

    proof: Proof | None = None
    fresh: bool = False
    problem: str = ""


NEVER_RUN = KeptProof()


def read_hash(home: Home) -> str:
    """A name for all that a proof reads of the home: homes alike in that have the same one."""
    whole = {"devices": [device.model_dump(mode="json") for device in home.whole_devices]}
    read = _without(home.model_dump(mode="json", include=set(READS)) | whole)
    return sha256(json.dumps(read, ensure_ascii=False).encode()).hexdigest()


def _without(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _without(inner) for name, inner in value.items() if name not in UNREAD}
    return [_without(inner) for inner in value] if isinstance(value, list) else value
