"""The pieces of proofs kept for a home file, in the hidden folder beside it: read, or worked out again, never an error.

They are for this folder on this disk alone: what came along with a copy of it is not taken for what was found here.
"""

import contextlib
import json
from pathlib import Path
from typing import Any

from alarmlib.errors import AlarmProblem
from alarmlib.proof.pieces.pieces import MOST_BYTES, Pieces
from alarmlib.store.home_file import locked, read_bytes, replace
from alarmlib.store.modes import HIDDEN, make_folder

MARK = ".pieces.json"


def pieces_file(home_file: Path | str) -> Path:
    """Where the pieces of a home file's proofs are kept: home.json has .workbook/home.pieces.json beside it."""
    place = Path(home_file)
    return place.parent / HIDDEN / f"{place.stem}{MARK}"


def kept_pieces(home_file: Path | str) -> Pieces:
    """The pieces kept for a home file; none where the file is broken, too large, or was made elsewhere."""
    return Pieces(kept_document(home_file))


def kept_document(home_file: Path | str) -> Any:
    """What is kept, as plain JSON values for `Pieces`; None where there is nothing to rely on."""
    place = pieces_file(home_file)
    try:
        if place.stat().st_size > 2 * MOST_BYTES:
            return None
        document = json.loads(read_bytes(place))
        return document["pieces"] if document["folder"] == _folder(place.parent) else None
    except (AlarmProblem, OSError, ValueError, RecursionError, KeyError, TypeError):
        return None


def keep_pieces(home_file: Path | str, document: Any) -> None:
    """Keep what `Pieces.document` says, in one step. Where that cannot be, they are worked out again next time."""
    place = pieces_file(home_file)
    with contextlib.suppress(AlarmProblem, OSError):
        make_folder(place.parent)
        content = json.dumps({"folder": _folder(place.parent), "pieces": document}, ensure_ascii=False).encode()
        with locked(Path(home_file).with_name(place.name)):
            replace(place, content)


def _folder(place: Path) -> list[int]:
    """What tells this folder on this disk from a copy of it."""
    found = place.stat()
    return [found.st_dev, found.st_ino]
