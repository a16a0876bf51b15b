"""A proof is the same whenever and wherever it is run: nothing depends on the order in which Python hashes."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from alarmlib.model import Home

PROGRAM = """
import sys
from alarmlib.model import Home
from alarmlib.proof.prove import prove
print(repr(prove(Home.model_validate_json(sys.stdin.read()), "single")))
"""


def test_the_order_of_hashes_changes_nothing(two_rooms: Callable[..., Home]) -> None:
    """Two runs with other hash seeds give the same proof to the letter, counterexamples and faults included."""
    coming = {"steps": [("open", "front", 2), ("walk_to", "living", None), ("walk_to", "keypad", None)]}
    leaving: dict[str, object] = {"who": "other", "begins_in": "unset", "starts_at": "living"}
    leaving |= {"steps": [("set_full", "", 3), ("open", "front", 2), ("close", "front", 2)]}
    home = two_rooms(coming, leaving, people=("owner", "other"), tolerance_percent=10).model_dump_json()
    texts = [
        subprocess.run(
            [sys.executable, "-c", PROGRAM],
            input=home,
            capture_output=True,
            text=True,
            check=True,
            env=os.environ | {"PYTHONHASHSEED": seed},
            cwd=Path(__file__).parents[2],
        ).stdout
        for seed in ("1", "2")
    ]
    assert texts[0] == texts[1]
    assert texts[0].count("breached") >= 1
