"""SPIN's verifier on a model: every reachable state, without reduction, and what it counted."""

import re
import subprocess
import time
from dataclasses import dataclass
from pathlib import Path

COMPILE = ("gcc", "-w", "-DSAFETY", "-DNOREDUCE", "-DMEMLIM=2000", "-o", "pan", "pan.c")
INCLUDE = r'c_decl { \#include "tables.h" }'
_STORED = re.compile(r"(\d+) states, stored")
_ERRORS = re.compile(r"errors: (\d+)")
_TOO_SHALLOW = "max search depth too small"


@dataclass(frozen=True)
class Model:
    """A model in SPIN's language, and the tables in C that it looks into."""

    tables: str
    text: str


@dataclass(frozen=True)
class Verified:
    """States stored, failed assertions, seconds of the verifier alone (writing and compiling left out)."""

    states: int
    errors: int
    seconds: float


def verify(model: Model, folder: Path, depth: int = 1_000_000, hash_bits: int = 20, optimise: str = "-O0") -> Verified:
    """Write, compile and run the verifier to its end (it does not stop at a failed assertion).

    `optimise` is gcc's: by default little time goes into compiling, since most of these models are small.

    Raises RuntimeError when a tool fails or the search was cut short.
    """
    (folder / "tables.h").write_text(model.tables, encoding="utf-8")
    (folder / "model.pml").write_text(f"{INCLUDE}\n{model.text}\n", encoding="utf-8")
    _run(["spin", "-a", "model.pml"], folder)
    _run([*COMPILE, optimise], folder)
    begun = time.perf_counter()
    told = _run(["./pan", f"-m{depth}", f"-w{hash_bits}", "-c0", "-E"], folder)
    seconds = time.perf_counter() - begun
    stored, errors = _STORED.search(told), _ERRORS.search(told)
    if stored is None or errors is None or _TOO_SHALLOW in told or "Search not completed" in told:
        raise RuntimeError(f"SPIN did not search to the end:\n{told}")
    return Verified(int(stored[1]), int(errors[1]), seconds)


def _run(words: list[str], folder: Path) -> str:
    ended = subprocess.run(words, cwd=folder, capture_output=True, text=True, timeout=600, check=False)
    if ended.returncode:
        raise RuntimeError(f"{words[0]} failed:\n{ended.stdout}{ended.stderr}")
    return ended.stdout
