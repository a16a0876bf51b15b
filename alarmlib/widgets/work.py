"""Long work in a process of its own, with progress on the page and a button that stops it."""

import multiprocessing
import os
import threading
import traceback
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from alarmlib.errors import AlarmProblem
from alarmlib.widgets.modules import joined, styled

PERIOD_S = 0.1
PERIODS_A_BEAT = 10
STOPPED = "Stopped; nothing was changed."
_HERE = Path(__file__).parent


class StoppedProblem(AlarmProblem):
    """The person stopped the work; nothing was changed."""


class WorkerError(Exception):
    """The work itself failed; the text holds the worker's own traceback."""


class Progress(anywidget.AnyWidget):
    """What a long work says while it runs; `stop` is set when its "Stop" button was pressed.

    `beat` counts up while Python attends to the work: where it stops, the page says that the work is lost.
    The button is there only if the cell has ended (`stoppable`): while a cell runs, no message reaches Python, and
    the notebook's own stop button ends the work.
    """

    _esm = joined(_HERE / "progress.js")
    _css = styled("form.css")
    title = traitlets.Unicode().tag(sync=True)
    said = traitlets.Unicode().tag(sync=True)
    running = traitlets.Bool(True).tag(sync=True)
    beat = traitlets.Int().tag(sync=True)
    stoppable = traitlets.Bool().tag(sync=True)

    def __init__(self, title: str, stoppable: bool = False, words: Callable[[str], str] = str) -> None:
        super().__init__(title=title, stoppable=stoppable)
        self.words = words
        self.stop = threading.Event()
        self.on_msg(self._heard)

    def __repr__(self) -> str:
        return f"Progress: {self.title}"

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return with_text(super()._repr_mimebundle_(**kwargs), repr(self))

    def tell(self, text: str) -> None:
        """Show this line, in the words of the home's country."""
        self.said = self.words(text)

    def _heard(self, _widget: Any, content: dict[str, Any], _buffers: list[Any]) -> None:
        if content.get("kind") == "stop":
            self.stop.set()


def idle(title: str, said: str, words: Callable[[str], str] = str) -> Progress:
    """A progress that is on the page before its work was ever started; `words` puts a text into a country's words."""
    shown = Progress(title, stoppable=True, words=words)
    shown.running, shown.said = False, words(said)
    return shown


def with_text(bundle: Any, text: str) -> Any:
    """A widget's mime bundle whose plain text is `text`: no address, no values, the same in each run."""
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    if data is not None:
        data["text/plain"] = text
    return bundle


def run_in_worker(
    function: Callable[..., Any],
    args: tuple[Any, ...] = (),
    *,
    title: str = "Working",
    tells: bool = False,
    progress: Progress | None = None,
    part: Callable[[Any], None] | None = None,
) -> Any:
    """The result of `function(*args)`, computed in a fresh process while the cell waits and the page shows it.

    The function and its arguments must be importable and picklable. With `tells` it also gets `say=`, a function
    that takes a line of progress, and with `part` also `hand=`, which passes a first result on to `part`. Raises
    StoppedProblem when the person stops it, AlarmProblem with the sentence of the one that the function raised, and
    WorkerError for any other error.
    """
    shown = progress or _displayed(title)
    spawn = multiprocessing.get_context("spawn")
    here, there = spawn.Pipe(duplex=False)
    worker = spawn.Process(target=_work, args=(there, function, args, tells, part is not None), daemon=True)
    worker.start()
    there.close()
    try:
        result = _await(here, shown, part)
        shown.said = "Done."
        return result
    except KeyboardInterrupt:
        shown.said = "Stopped."
        raise StoppedProblem(STOPPED) from None
    except Exception as problem:
        shown.said = "Stopped." if isinstance(problem, StoppedProblem) else "This could not be done."
        raise
    finally:
        shown.running = False
        worker.terminate()
        worker.join()
        here.close()


def start_in_worker(
    function: Callable[..., Any],
    args: tuple[Any, ...] = (),
    *,
    title: str = "Working",
    tells: bool = False,
    finish: Callable[[Any], str] = str,
    progress: Progress | None = None,
    part: Callable[[Any], None] | None = None,
) -> Progress:
    """The progress of `function(*args)` as `run_in_worker` does it, while the cell ends and forms go on saving.

    `finish(result)` is the sentence shown at the end; an error is shown as a sentence in its place. A `progress`
    that is on the page already, idle, is used again.
    """
    shown = progress or Progress(title, stoppable=True)
    shown.stop.clear()
    shown.said, shown.running = "", True

    def wait() -> None:
        try:
            result = run_in_worker(function, args, title=title, tells=tells, progress=shown, part=part)
            shown.tell(finish(result))
        except AlarmProblem as problem:
            shown.tell(str(problem))
        except Exception as problem:
            shown.said = f"✗ Something went wrong inside: {str(problem).strip().splitlines()[-1]}"

    threading.Thread(target=wait, name=title, daemon=True).start()
    return shown


def _displayed(title: str) -> Progress:
    from IPython.core.getipython import get_ipython
    from IPython.display import display

    shown = Progress(title)
    if get_ipython() is not None:
        display(shown)
    return shown


def _await(here: Connection, shown: Progress, part: Callable[[Any], None] | None) -> Any:
    turn = 0
    while True:
        if shown.stop.is_set():
            raise StoppedProblem(STOPPED)
        turn += 1
        if turn % PERIODS_A_BEAT == 0:
            shown.beat += 1
        if not here.poll(PERIOD_S):
            continue
        try:
            kind, value = here.recv()
        except EOFError:
            raise WorkerError(
                "The work ended without a message. It may have been stopped, or have run out of memory."
            ) from None
        if kind == "said":
            shown.tell(value)
        elif kind == "part" and part is not None:
            part(value)
        elif kind == "done":
            return value
        else:
            raise AlarmProblem(value) if kind == "problem" else WorkerError(value)


def _work(there: Connection, function: Callable[..., Any], args: tuple[Any, ...], tells: bool, hands: bool) -> None:
    """In the worker: run the function and send what it says, then its result or what went wrong."""
    threading.Thread(target=_leave_with_parent, daemon=True).start()
    try:
        more: dict[str, Any] = {"say": lambda line: there.send(("said", str(line)))} if tells else {}
        if hands:
            more["hand"] = lambda value: there.send(("part", value))
        there.send(("done", function(*args, **more)))
    except AlarmProblem as problem:
        there.send(("problem", str(problem)))
    except Exception:
        there.send(("failed", traceback.format_exc()))


def _leave_with_parent() -> None:
    """In the worker: a kernel that is gone has no use for the result, so the process ends with it."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
