"""Writes `constraints.txt` again: one version of each part that is installed, for every kind of computer.

    python tests/pins.py [--upgrade]

Versions that still fit the ranges of `pyproject.toml` stay; `--upgrade` takes the newest that fit. Then each kind of
computer is asked for all parts of the workbook as built wheels, so that no owner needs a compiler. Needs the package
registry, and `uv` of the test extra.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PINS = ROOT / "constraints.txt"
PYTHONS = ("3.11", "3.12", "3.13")
COMPUTERS = (
    "x86_64-unknown-linux-gnu",
    "aarch64-unknown-linux-gnu",
    "aarch64-apple-darwin",
    "x86_64-apple-darwin",
    "x86_64-pc-windows-msvc",
)
HELD = {"argon2-cffi-bindings": "argon2-cffi-bindings<26"}  # 26.2 has no wheel for a Mac with an Intel processor
HEAD = """\
# One version of each part: what the tests run with, and what workbook/start.py and Binder install.
# Written by `python tests/pins.py`; edit the ranges in pyproject.toml instead. An ordinary `pip install` needs no pins.
"""


def main(words: list[str] | None = None) -> int:
    """Write the file and look for the wheels; 0 when every kind of computer has them, 1 when one has not."""
    parser = argparse.ArgumentParser(prog="pins.py", description="Write constraints.txt again.")
    parser.add_argument("--upgrade", action="store_true", help="take the newest versions that the ranges allow")
    write(upgrade=parser.parse_args(words).upgrade)
    return 1 if sum(missing(python, computer) for python in PYTHONS for computer in COMPUTERS) else 0


def write(*, upgrade: bool) -> None:
    """The pins of library and test extra: one version for all where one can be, else several with markers."""
    with tempfile.TemporaryDirectory() as scratch:
        held = Path(scratch) / "held.txt"
        held.write_text("\n".join(HELD.values()), encoding="utf-8")
        words = ["--universal", "--fork-strategy", "fewest", "--python-version", PYTHONS[0], "--extra", "test"]
        words += ["--strip-extras", "--no-annotate", "--no-header", "--constraints", str(held)]
        words += ["--upgrade"] if upgrade else []
        subprocess.run([*compile_words(PINS), *words], cwd=ROOT, check=True)
    PINS.write_text(HEAD + PINS.read_text(encoding="utf-8"), encoding="utf-8", newline="\n")


def missing(python: str, computer: str) -> bool:
    """Whether that computer lacks a wheel of some part of the workbook; says which."""
    with tempfile.TemporaryDirectory() as scratch:
        words = ["--only-binary", ":all:", "--python-version", python, "--python-platform", computer]
        command = [*compile_words(Path(scratch) / "found.txt"), *words, "--constraints", str(PINS)]
        done = subprocess.run(command, cwd=ROOT, check=False, capture_output=True, text=True)
    print(f"Python {python} on {computer}: {done.stderr.strip() if done.returncode else 'every part has a wheel'}")
    return done.returncode != 0


def compile_words(target: Path) -> list[str]:
    """The tool, asked to choose versions for the project's requirements and to write them to `target`."""
    return [sys.executable, "-m", "uv", "pip", "compile", "--quiet", "pyproject.toml", "--output-file", str(target)]


if __name__ == "__main__":
    sys.exit(main())
