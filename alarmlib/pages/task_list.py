"""The start page's list of tasks: what is next and why, three ways to begin, each task with its state."""

from collections.abc import Sequence
from html import escape

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.pages.assessed import assessed
from alarmlib.pages.progress import SHORT_PATH, Task, TaskState, next_task, progress
from alarmlib.record.produce import DEMO, FINISHED, demo_home, workbook_folder
from alarmlib.record.wording import Say
from alarmlib.rules import say_of
from alarmlib.store import Session, text_of
from alarmlib.store.kept_proofs import take_along
from alarmlib.widgets.tasks import TaskView
from alarmlib.widgets.view import Drawn

TITLE = "Your tasks"


def task_list(session: Session) -> TaskView:
    """The tasks of this home, drawn again after each change here or in another window."""

    def drawn(home: Home) -> Drawn:
        tasks, say = progress(home, assessed(home), recorded(session)), say_of(home)
        ways = _ways(say) if is_blank(home) else ""
        return Drawn(TITLE, _next(tasks, say) + ways + _table(tasks, say))

    return TaskView(session, TITLE, drawn, {"demo": lambda: _demo(session)})


def is_blank(home: Home) -> bool:
    """Whether nothing of the home itself is entered yet."""
    return not (home.site.rooms or home.site.openings or home.whole_devices or home.short_path.rooms.strip())


def recorded(session: Session) -> bool | None:
    """Whether the last record tells the home as it is now; None where there is no record."""
    kept = [save for save in session.saves() if save.for_record]
    if not kept:
        return None
    try:
        return session.kept.content(kept[-1]) == text_of(session.home)
    except AlarmProblem:
        return False


def open_demo(session: Session, name: str = FINISHED) -> str:
    """Put a demo home in place, finished or as first planned (`DEMO`), with the result of its proof."""
    take_along(workbook_folder() / name, session.path)
    session.replace(demo_home(name))
    return _IN_PLACE[name]


_IN_PLACE = {
    FINISHED: "The demo home is in place; all in it is invented.",
    DEMO: "The demo home as first planned is in place, with what was still to fix. All in it is invented.",
}


def _demo(session: Session) -> str:
    """As `open_demo`, where nothing can be lost by it. Raises AlarmProblem where something is entered by now."""
    if not is_blank(session.refresh()):
        raise AlarmProblem("Something is entered by now. “Load the demo home”, under “Your home file”, replaces it.")
    return open_demo(session)


def _link(task: Task, words: str, kind: str = "") -> str:
    """A link to the task's page; on this very page a button that leads to its form."""
    if task.at:
        return f'<button type="button" data-goto="{escape(task.at)}"{kind}>{escape(words)}</button>'
    return f'<a href="{task.page}.ipynb"{kind}>{escape(words)}</a>'


def _next(tasks: Sequence[Task], say: Say) -> str:
    """What is done, what is next and why, and the one button that leads there."""
    done = sum(task.state is TaskState.DONE for task in tasks)
    told = f"<p>{escape(say(f'{done} of {len(tasks)} tasks are done.'))}</p>"
    task = next_task(tasks)
    if task is None:
        words = "No task is open. When something in the home changes, look here again."
        return f'<div class="next"><div><p><strong>{escape(say(words))}</strong></p>{told}</div></div>'
    left = f"{task.left[:1].upper()}{task.left[1:]}." if task.left else ""
    minutes = f"It takes about {_minutes(task.minutes)}." if task.minutes else ""
    why = escape(say(" ".join(filter(None, (task.why, left, minutes)))))
    title = escape(say(f"Next: {task.title}"))
    button = _link(task, say("Go on"), f' class="go" aria-label="{escape(say(f"Go on: {task.title}"))}"')
    return f'<div class="next"><div><p><strong>{title}</strong></p><p>{why}</p>{told}</div>{button}</div>'


def _minutes(minutes: int) -> str:
    if minutes > 100:
        return f"{round(minutes / 60)} hours"
    return "a minute" if minutes == 1 else f"{minutes} minutes"


def _ways(say: Say) -> str:
    """Three ways to begin, while nothing is entered."""
    short = f'<button type="button" data-goto="{SHORT_PATH}">{escape(say("Answer the short path"))}</button>'
    ways = (
        (short, "You pick answers to single questions. After eight minutes you have a draft of it all."),
        (f'<a href="01_survey.ipynb">{escape(say("Walk your home"))}</a>', "You enter it room by room on page 01."),
        (
            f'<button type="button" data-do="demo">{escape(say("Open the demo home"))}</button>',
            "An invented home, finished, shows you what each page does.",
        ),
    )
    items = "".join(f"<li>{control}<p>{escape(say(words))}</p></li>" for control, words in ways)
    return f'<h3>{escape(say("Three ways to begin"))}</h3><ul class="ways">{items}</ul>'


def _table(tasks: Sequence[Task], say: Say) -> str:
    columns = ("Task", "State", "Done, and left", "Minutes")
    head = "".join(f'<th scope="col">{escape(say(words))}</th>' for words in columns)
    rows = "".join(_row(task, say) for task in tasks)
    caption = escape(say("All tasks, in the order that saves work"))
    table = f"<caption>{caption}</caption><thead><tr>{head}</tr></thead><tbody>{rows}</tbody>"
    return f'<table class="tasks">{table}</table>'


def _row(task: Task, say: Say) -> str:
    told = ". ".join(f"{part[:1].upper()}{part[1:]}" for part in (task.done, task.left) if part)
    kind = task.state.name.lower()
    return (
        f'<tr><th scope="row">{_link(task, say(task.title))}</th>'
        f'<td><span class="state {kind}">{escape(say(task.state.value))}</span></td>'
        f"<td>{escape(say(told))}</td><td>{task.minutes or ''}</td></tr>"
    )
