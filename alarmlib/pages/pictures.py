"""What a picture cell shows: pictures and tables of the record's sections, the progress table, the drafts."""

from html import escape

from alarmlib.model.home import Home
from alarmlib.pages.answers import section_blocks
from alarmlib.pages.assessed import assessed
from alarmlib.pages.progress import PageState, progress
from alarmlib.pages.shown import Sentence, Shown
from alarmlib.record.markup import block_html


def drawn(home: Home, name: str) -> Sentence | Shown:
    """The picture of that name with its table."""
    if name == "progress":
        return Shown("Progress", _progress_html(progress(home, assessed(home))))
    blocks = section_blocks(home, name)
    if not blocks:
        return Sentence("There is nothing to draw yet.")
    html = "".join(block_html(block, f"{name}-{number}") for number, block in enumerate(blocks))
    return Shown(f"Picture: {name.replace('_', ' ')}", f'<div class="alarm-page">{html}</div>')


def _progress_html(states: tuple[PageState, ...]) -> str:
    rows = "".join(
        f'<tr><th scope="row"><a href="{state.page}.ipynb">{escape(state.title)}</a></th>'
        f"<td>{escape(state.done)}</td><td>{escape(state.open)}</td></tr>"
        for state in states
    )
    head = '<tr><th scope="col">Page</th><th scope="col">Done</th><th scope="col">Open</th></tr>'
    caption = "<caption>What is done and what is open</caption>"
    return f'<div class="alarm-page"><table>{caption}<thead>{head}</thead><tbody>{rows}</tbody></table></div>'
