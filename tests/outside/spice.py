"""Circuits handed to ngspice (Debian's package) and what it makes of them."""

import re
import subprocess
from collections.abc import Sequence
from pathlib import Path

_VALUE = re.compile(r"^(\S+) = ([-+0-9.e]+)\s*$", re.MULTILINE)


def solved(lines: Sequence[str], prints: Sequence[str], folder: Path, analysis: str = "op") -> dict[str, float]:
    """Run an analysis on a netlist and read what was printed, by name; a circuit that does not run fails the test."""
    netlist = ["* a circuit of these tests", *lines, ".control", "set numdgt=9", analysis]
    netlist += [f"print {each}" for each in prints] + [".endc", ".end"]
    file = folder / "circuit.cir"
    file.write_text("\n".join(netlist) + "\n", encoding="utf-8")
    run = subprocess.run(["ngspice", "-b", str(file)], capture_output=True, text=True, timeout=60, check=False)
    found = {name: float(value) for name, value in _VALUE.findall(run.stdout)}
    assert set(prints) <= set(found), run.stdout + run.stderr
    return found
