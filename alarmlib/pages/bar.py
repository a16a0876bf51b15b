"""What the bar over a page asks the page's Python: to undo the last change, a sheet to print, where the home file is.

The bar is no widget: it must be there before the page has run and after its kernel has stopped, and no cell shows it.
It asks by a comm, one for each question, which `pages.setup()` has the kernel listen to.
"""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from alarmlib.errors import AlarmProblem
from alarmlib.pages.opened import home_path, open_home
from alarmlib.record.compare import ABSENT, FieldChange, differences
from alarmlib.rules import say_of
from alarmlib.widgets.engine import MOST_DOWNLOAD_BYTES, sentence
from alarmlib.widgets.follower import ONE_AT_A_TIME

TARGET = "alarmlib-bar"


def listen() -> None:
    """Answer the bar from now on; without a kernel there is no bar."""
    from IPython import get_ipython

    shell = get_ipython()
    if shell is not None and hasattr(shell, "kernel"):
        shell.kernel.comm_manager.register_target(TARGET, _asked)


def answer(question: Mapping[str, Any]) -> dict[str, str]:
    """What the bar is told: a sentence as `say`, or as `error` why it could not be done."""
    try:
        with ONE_AT_A_TIME:
            return DEEDS[str(question.get("kind"))](question)
    except AlarmProblem as problem:
        return {"error": sentence(problem)}
    except Exception as problem:  # shown in the bar: nobody looks at the kernel's log
        return {"error": f"Something went wrong inside: {type(problem).__name__}: {problem}"}


def undo(_question: Mapping[str, Any]) -> dict[str, str]:
    """Take back the last change of the home, whichever page made it. Raises AlarmProblem when there is none."""
    session = open_home()
    before = session.refresh()
    return {"say": say_of(session.home)(undone(differences(before, session.undo())))}


def undone(changes: tuple[FieldChange, ...]) -> str:
    """What taking back a change came to, in a sentence or two: its first field, and how many more there are."""
    if not changes:
        return "The last change is undone."
    more = len(changes) - 1
    rest = {0: "", 1: " One more field went back with it."}.get(more, f" {more} more fields went back with it.")
    return f"Undone. {_again(changes[0])}{rest}"


def _again(change: FieldChange) -> str:
    where = f"“{change.where.removeprefix('The home, ')}”"
    match change:
        case FieldChange(after="taken out"):
            return f"{where} is taken out again."
        case FieldChange(after="added"):
            return f"{where} is back."
        case FieldChange(before="in another order"):
            return f"{where} is in its earlier order."
        case FieldChange(after=after) if after == ABSENT:
            return f"{where} is blank again."
    return f"{where} is again: {change.after}."


def printed(question: Mapping[str, Any]) -> dict[str, str]:
    """The sheet of the page whose cells are told, as it is now. Raises AlarmProblem where it is too large to send."""
    from alarmlib.pages.sheet import sheet

    cells = [(str(kind), str(text)) for kind, text in question["cells"]]
    made = sheet(str(question["title"]), cells, open_home().refresh(), date.today().isoformat())
    if len(made.encode()) > MOST_DOWNLOAD_BYTES:
        raise AlarmProblem("This page is too large for one sheet. Print the record of page 11 instead.")
    return {"sheet": made}


def place(_question: Mapping[str, Any]) -> dict[str, str]:
    """Where the home file of this page is."""
    return {"say": str(home_path())}


DEEDS: dict[str, Callable[[Mapping[str, Any]], dict[str, str]]] = {"undo": undo, "sheet": printed, "home": place}


def _asked(comm: Any, message: Mapping[str, Any]) -> None:
    comm.send(answer(message["content"]["data"]))
