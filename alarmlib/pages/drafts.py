"""Buttons that put a computed draft into the home."""

from typing import Any

from alarmlib.draft.times import with_times
from alarmlib.draft.zones import with_zones
from alarmlib.store import Session
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import ActionSpec, FormSpec


def zone_actions(session: Session) -> Any:
    """Put the proposed zones in."""

    def put() -> str:
        home = session.replace(with_zones(session.home))
        return f"{len(home.control_unit.zones)} zones are in place; undo brings the earlier ones back."

    confirm = "The proposed zones take the place of the zones entered so far. Go on?"
    return Form(
        session, FormSpec("Take the proposal", ()), Extras((ActionSpec("Put the proposed zones in", put, confirm),))
    )


def time_actions(session: Session) -> Any:
    """Put the proposed times in."""

    def put() -> str:
        session.replace(with_times(session.home))
        return "The proposed times are in place; undo brings the earlier ones back."

    return Form(session, FormSpec("Take the proposal", ()), Extras((ActionSpec("Put the proposed times in", put),)))
