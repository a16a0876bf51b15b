"""Buttons that put a computed draft into the home."""

from typing import Any

from alarmlib.draft.times import with_times
from alarmlib.draft.zones import with_zones
from alarmlib.model.devices import DeviceType
from alarmlib.model.plain_types import PLAIN_TYPES, with_plain_type
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


def plain_types(session: Session) -> Any:
    """Buttons that add a plain type each."""

    def adding(wanted: DeviceType) -> ActionSpec:
        def put() -> str:
            session.replace(with_plain_type(session.home, wanted))
            return f"“{wanted.name}” is among your types. Its values are assumed until you enter those of its manual."

        return ActionSpec(f"Add “{wanted.name}”", put)

    intro = "No manual yet? Begin with a plain type. Its values are assumed, and the record says so."
    late = bool(session.home.device_types)  # who has types of their own needs these no more
    return Form(
        session,
        FormSpec("Plain types", (), intro, summed=True, late=late, line=intro),
        Extras(tuple(adding(each) for each in PLAIN_TYPES)),
    )


def time_actions(session: Session) -> Any:
    """Put the proposed times in."""

    def put() -> str:
        session.replace(with_times(session.home))
        return "The proposed times are in place; undo brings the earlier ones back."

    return Form(session, FormSpec("Take the proposal", ()), Extras((ActionSpec("Put the proposed times in", put),)))
