"""Asks public lists of known holes about every version in `constraints.txt`, by the tool pip-audit.

    python tests/audit.py [--osv-url ADDRESS]

Ends with 0 when all were asked about and none has a known hole, with 1 when one has, and with 3 when no list can be
had. A list counts as had only when it first names a hole that everybody knows: by itself pip-audit takes a part that
its list does not know for a part without holes.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
PINS = ROOT / "constraints.txt"
CLEAN, HOLES, NOT_HAD = 0, 1, 3
LIMIT_S = 300.0
# CVE-2021-33503, in every urllib3 before 1.26.5 (github.com/tpm2-software/tpm2-pytss, pull request 157)
KNOWN_HOLE = "urllib3==1.26.4"
SERVICES = ("pypi", "osv")  # the registry's own list, and the open database behind it


class NotHad(Exception):  # noqa: N818
    """A list that did not answer, or did not answer for all, with the reason."""


def main(words: list[str] | None = None) -> int:
    """Ask the first list that answers; print what it says."""
    parser = argparse.ArgumentParser(prog="audit.py", description="Look for known holes in the pinned versions.")
    parser.add_argument("--osv-url", metavar="ADDRESS", help="ask only this server, as the open database is asked")
    options = parser.parse_args(words)
    pins = [line for line in PINS.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    asked = [["osv", "--osv-url", options.osv_url]] if options.osv_url else [[name] for name in SERVICES]
    reasons = []
    for service in asked:
        try:
            holes = holes_in(pins, service)
        except NotHad as reason:
            reasons.append(f"{service[0]}: {reason}")
            continue
        print("\n".join(holes) or f"No known hole in {len(pins)} versions, by the list of {service[0]}.")
        return HOLES if holes else CLEAN
    print(f"Known holes were not looked up, because no list could be had. {' '.join(reasons)}")
    return NOT_HAD


def holes_in(pins: Iterable[str], service: list[str]) -> list[str]:
    """One line for each version with known holes; NotHad when the list does not answer for all."""
    if not answers([KNOWN_HOLE], service)[0]:
        raise NotHad("it does not name a hole that everybody knows.")
    holes: list[str] = []
    for group in groups(pins):
        found, unknown = answers(group, service)
        if unknown:
            raise NotHad(f"it does not know {', '.join(unknown)}.")
        holes += found
    return holes


def groups(pins: Iterable[str]) -> list[list[str]]:
    """The pins without their markers, so that other computers' parts are asked about too; each part once a group."""
    found: list[dict[str, str]] = []
    for pin in pins:
        bare = pin.split(";")[0].strip()
        name = bare.split("==")[0]
        room = next((group for group in found if name not in group), None)
        if room is None:
            found.append(room := {})
        room[name] = bare
    return [list(group.values()) for group in found]


def answers(pins: list[str], service: list[str]) -> tuple[list[str], list[str]]:
    """What the tool says of these versions: a line for each with holes, and the names that its list does not know."""
    with tempfile.TemporaryDirectory() as scratch:
        asked, told = Path(scratch) / "asked.txt", Path(scratch) / "told.json"
        asked.write_text("\n".join(pins), encoding="utf-8")
        words = ["--vulnerability-service", *service, "--requirement", str(asked), "--no-deps", "--disable-pip"]
        words += ["--format", "json", "--output", str(told), "--progress-spinner", "off", "--cache-dir", scratch]
        run_tool([sys.executable, "-m", "pip_audit", *words])
        try:
            parts = json.loads(told.read_text(encoding="utf-8"))["dependencies"]
        except (OSError, ValueError, KeyError):
            raise NotHad("it does not answer.") from None
    unknown = [part["name"] for part in parts if "skip_reason" in part]
    return [line_of(part) for part in parts if part.get("vulns")], unknown


def run_tool(command: list[str]) -> None:
    """Run it; what matters is the file that it writes."""
    try:
        subprocess.run(command, cwd=ROOT, check=False, capture_output=True, timeout=LIMIT_S)
    except subprocess.TimeoutExpired:
        raise NotHad(f"it gave no answer in {LIMIT_S:.0f} s.") from None


def line_of(part: dict[str, Any]) -> str:
    """A version, its holes and where they are closed."""
    closed = sorted({version for hole in part["vulns"] for version in hole["fix_versions"]})
    names = ", ".join(str(hole["id"]) for hole in part["vulns"])
    return f"{part['name']} {part['version']}: {names}. Closed in: {', '.join(closed) or 'no version yet'}."


if __name__ == "__main__":
    sys.exit(main())
