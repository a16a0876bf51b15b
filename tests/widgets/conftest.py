"""A small home in a temporary file, and a way to speak to a form as the browser does."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.store import Session

ROOMS = [
    {"id": "hall", "name": "Hall", "storey": "ground", "ceiling_m": 2.4, "note": "blue door"},
    {"id": "study", "name": "Study", "storey": "ground", "use": "study"},
]


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """The session of a home with a hall and a study."""
    site = {"storeys": [{"id": "ground", "name": "Ground"}], "rooms": ROOMS}
    return Session.new(tmp_path / "home.json", Home.model_validate({"site": site}))


@pytest.fixture
def ask() -> Callable[..., dict[str, Any]]:
    """Send one browser message to a form and give its answer (files it hands over under "buffers")."""

    def send(form: Any, kind: str, buffers: Any = (), **more: Any) -> dict[str, Any]:
        answers: list[dict[str, Any]] = []
        form.send = lambda content, attached=None: answers.append({**content, "buffers": attached})
        form._handle_custom_msg({"kind": kind, "client": "here", "seq": 7, **more}, list(buffers))
        assert [(each["client"], each["seq"]) for each in answers] == [("here", 7)]
        return answers[0]

    return send
