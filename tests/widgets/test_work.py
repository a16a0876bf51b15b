"""Long work in a process of its own: result, progress, an error in words, and a way to stop it."""

import math
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.units import Kind, read
from alarmlib.widgets.work import Progress, StoppedProblem, WorkerError, idle, run_in_worker, start_in_worker


def test_run_in_worker__gives_the_result() -> None:
    progress = Progress("Count")
    assert run_in_worker(math.factorial, (20,), progress=progress) == math.factorial(20)
    assert (progress.said, progress.running) == ("Done.", False)


def test_run_in_worker__first_results_are_handed_over_meanwhile() -> None:
    """What a work hands over arrives in order, before its end."""
    parts: list[int] = []
    progress = Progress("Count")
    assert run_in_worker(counting, (3,), tells=True, progress=progress, part=parts.append) == 3
    assert parts == [0, 1, 2]


def counting(most: int, say: Callable[[str], None], hand: Callable[[int], None]) -> int:
    """Hands over the numbers below `most`."""
    for number in range(most):
        say(f"at {number}")
        hand(number)
    return most


def test_run_in_worker__a_problem_keeps_its_sentence() -> None:
    with pytest.raises(AlarmProblem, match="“tall” is not allowed here"):
        run_in_worker(read, ("tall", Kind.LENGTH, "metric"))


def test_run_in_worker__any_other_error_brings_its_traceback() -> None:
    with pytest.raises(WorkerError, match=r"math domain error|expected a nonnegative input"):
        run_in_worker(math.sqrt, (-1.0,))


def test_run_in_worker__the_stop_button_stops_it() -> None:
    """A work of a minute ends at once when the browser's message arrives."""
    progress = Progress("Sleep")
    progress._handle_custom_msg({"kind": "stop"}, [])
    start = time.monotonic()
    with pytest.raises(StoppedProblem, match="Stopped; nothing was changed"):
        run_in_worker(time.sleep, (60,), progress=progress)
    assert time.monotonic() - start < 30
    assert (progress.said, progress.running) == ("Stopped.", False)


def test_start_in_worker__says_the_end_or_the_error_in_words() -> None:
    """The page reads "Done"-like sentences of its own, a problem's sentence, or the last line of a traceback."""
    works = [
        (start_in_worker(math.factorial, (5,), finish=lambda n: f"It is {n}."), "It is 120."),
        (start_in_worker(read, ("tall", Kind.LENGTH, "metric")), "“tall” is not allowed here"),
        (start_in_worker(math.sqrt, (-1.0,)), "✗ Something went wrong inside: ValueError"),
    ]
    limit = time.monotonic() + 60
    while not all(text in shown.said for shown, text in works) and time.monotonic() < limit:
        time.sleep(0.05)
    for shown, text in works:
        assert text in shown.said


def test_progress__repr_is_stable() -> None:
    assert repr(Progress("Proof")) == "Progress: Proof"


def test_run_in_worker__the_page_hears_that_python_attends_to_it() -> None:
    """While the work runs the beat goes on, so that the page can tell a long work from a lost one."""
    progress = Progress("Sleep")
    run_in_worker(time.sleep, (3.5,), progress=progress)
    assert progress.beat >= 2


def test_start_in_worker__an_idle_progress_is_used_again() -> None:
    """The line that said "not running" runs, ends, and can run once more after it was stopped."""
    progress = idle("Count", "not running.")
    assert not progress.running
    progress.stop.set()
    for number in (5, 6):
        start_in_worker(math.factorial, (number,), finish=lambda n: f"It is {n}.", progress=progress)
        end = time.monotonic() + 60
        while not progress.said.startswith("It is") and time.monotonic() < end:
            time.sleep(0.05)
        assert progress.said == f"It is {math.factorial(number)}."


ORPHAN = """
import os, signal, time
from alarmlib.widgets.work import start_in_worker
if __name__ == "__main__":
    start_in_worker(time.sleep, (600,))
    import multiprocessing
    while not multiprocessing.active_children():
        time.sleep(0.05)
    time.sleep(float(os.environ["WAIT_S"]))
    print(multiprocessing.active_children()[0].pid, flush=True)
    os.kill(os.getpid(), signal.SIGKILL)
"""


def test_a_worker_ends_with_the_kernel_that_started_it(tmp_path: Path) -> None:
    """The kernel is killed outright: no process goes on working for nobody."""
    program = tmp_path / "orphan.py"
    program.write_text(ORPHAN)
    told = subprocess.run(
        [sys.executable, str(program)], capture_output=True, text=True, check=False, env={**os.environ, "WAIT_S": "3"}
    )
    worker = int(told.stdout)
    end = time.monotonic() + 30
    while time.monotonic() < end and _runs(worker):
        time.sleep(0.1)
    assert not _runs(worker)


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True
