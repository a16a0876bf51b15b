"""Measure how fast the workbook is, all in one run, and print one table.

    python tests/benchmarks/run.py [--quick | --tiny] [--only NAME]

Times depend on the machine and on what else it does, so ratios are told where there is something to compare with.
"""

import argparse
import sys
from collections.abc import Callable, Iterator

import chance_in_time
import edit_and_check
import edit_and_prove
import evening
import headless_pages
import moving_device
import page_edit
import proof_speed
import quick_findings
import record_process
import starting
import two_movers
import wiring_figures
import zone_assignment
from measure import FULL, QUICK, TINY, Effort, Line, load

BENCHMARKS: dict[str, Callable[[Effort], Iterator[Line]]] = {
    module.__name__: module.measured
    for module in (
        edit_and_check,
        quick_findings,
        moving_device,
        chance_in_time,
        zone_assignment,
        wiring_figures,
        record_process,
        starting,
        headless_pages,
        page_edit,
        evening,
        proof_speed,
        edit_and_prove,
        two_movers,
    )
}


def main() -> int:
    """Run the benchmarks asked for and print their rows as they come, as a Markdown table."""
    parser = argparse.ArgumentParser(prog="run.py", description="Measure how fast the workbook is.")
    effort = parser.add_mutually_exclusive_group()
    effort.add_argument("--quick", dest="effort", action="store_const", const=QUICK, help="fewer runs")
    effort.add_argument("--tiny", dest="effort", action="store_const", const=TINY, help="only see that all of it runs")
    parser.add_argument("--only", choices=BENCHMARKS, metavar="NAME", help=f"one of: {', '.join(BENCHMARKS)}")
    parser.set_defaults(effort=FULL)
    asked = parser.parse_args()
    show(f"Load of the machine at the start: {load()}\n\n| what | measured | target |\n|---|---|---|")
    for name, measured in BENCHMARKS.items():
        for line in measured(asked.effort) if asked.only in (None, name) else ():
            show(f"| {line.what} | {line.measured} | {line.target} |")
    show(f"\nLoad of the machine at the end: {load()}")
    return 0


def show(text: str) -> None:
    """Print at once."""
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
