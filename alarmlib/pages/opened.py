"""The home a page works on: `home.json` beside the page, else where `ALARM_HOME` points; made if there is none."""

import os
from pathlib import Path

from alarmlib.draft.blank import blank_home
from alarmlib.errors import AlarmProblem
from alarmlib.store import Session, session_for

HOME_FILE = "home.json"


def home_path() -> Path:
    """Where the home file of this page is."""
    beside = Path.cwd() / HOME_FILE
    given = os.environ.get("ALARM_HOME", "")
    return beside if beside.exists() or not given else Path(given)


def open_home() -> Session:
    """The session of this page's home; a blank home is made where there is no file. Raises AlarmProblem."""
    path = home_path()
    if not path.exists():
        Session.new(path, blank_home())
    return session_for(path)


def problem() -> str:
    """Why there is no home to show; "" when there is one."""
    try:
        open_home()
    except AlarmProblem as found:
        return str(found)
    return ""
