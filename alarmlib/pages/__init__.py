"""What a notebook cell calls, one line each: `setup`, `form`, `check`, `picture`.

Nothing here calculates; forms write to the home file, checks and pictures read the assessment of it.
"""

from typing import Any

from alarmlib.pages.shown import Sentence

__all__ = ["check", "form", "picture", "setup"]


def setup() -> Any:
    """Find this page's home, make a blank one where there is none, and say in a sentence what is open, also later."""
    from alarmlib.pages.bar import listen
    from alarmlib.pages.opened import open_home, problem
    from alarmlib.pages.views import opened

    listen()
    sentence = problem()
    if sentence:
        then = "Page 00_start can bring back the last good save. Then run this page again."
        return Sentence(f"{sentence} Nothing was changed. {then}")
    return opened(open_home())


def form(name: str) -> Any:
    """The form of that name under the cautions before it, or a sentence why it cannot be shown."""
    from alarmlib.pages.opened import open_home, problem
    from alarmlib.pages.start_forms import RESCUE, START

    sentence = problem()
    if sentence:
        return RESCUE[name](sentence) if name in RESCUE else Sentence(sentence)
    from alarmlib.pages.cautions import gated
    from alarmlib.pages.folded import folded
    from alarmlib.pages.forms import build
    from alarmlib.pages.on_page import keep
    from alarmlib.pages.wires import wired

    session = open_home()
    made = START[name](session) if name in START else build(session, name)
    return keep("form", name, folded(name, wired(session, name, gated(session, name, made))))


def check(name: str) -> Any:
    """What is found about one subject; it is written again by itself after each change."""
    from alarmlib.pages.on_page import keep
    from alarmlib.pages.opened import open_home, problem
    from alarmlib.pages.views import answered

    sentence = problem()
    return Sentence(sentence) if sentence else keep("check", name, answered(open_home(), name))


def picture(name: str) -> Any:
    """A picture of one subject, with the table that says the same; it is drawn again by itself after each change."""
    from alarmlib.pages.on_page import keep
    from alarmlib.pages.opened import open_home, problem
    from alarmlib.pages.views import pictured

    sentence = problem()
    return Sentence(sentence) if sentence else keep("picture", name, pictured(open_home(), name))
