"""A home without wires is asked nothing about wires: its forms wait until there are some, or the owner says so."""

import weakref
from typing import Any

from alarmlib.model.home import Home
from alarmlib.model.questions import present
from alarmlib.model.words import DeviceKind, Link
from alarmlib.store import Session
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.gate import Gate
from alarmlib.widgets.spec import ActionSpec, FormSpec

FIRST = "circuits"
WIRED_FORMS = frozenset({FIRST, "loop_input", "pair_readings", "runs", "run_stops", "type_currents", "currents"})
WIRED_VIEWS = frozenset({"loops", "loop_findings", "cable_findings", "cables", "cable_plan"})
NONE = "No device of yours is wired, and no detector circuit is entered. So nothing is asked here about wires."
_SAID: "weakref.WeakKeyDictionary[Session, list[weakref.ref[Gate]]]" = weakref.WeakKeyDictionary()
_HAVE: "weakref.WeakSet[Session]" = weakref.WeakSet()


def has_wires(home: Home) -> bool:
    """Whether a device other than the control unit is wired, or a circuit or a cable run is entered."""
    wired = any(each.link is Link.WIRED and each.kind is not DeviceKind.CONTROL_UNIT for each in present(home))
    return wired or bool(home.circuits or home.wiring.runs)


def wired(session: Session, name: str, form: Any) -> Any:
    """The form of that name; one about wires is there once the home has some, or once its owner says so."""
    if name not in WIRED_FORMS:
        return form
    asking = _asking(session) if name == FIRST else None
    gate = Gate(session, lambda home: session in _HAVE or has_wires(home), form, lambda _home: "", instead=asking)
    _SAID.setdefault(session, []).append(weakref.ref(gate))
    return gate


def _asking(session: Session) -> Form:
    """One sentence, and the button that brings the forms about wires."""

    def say() -> str:
        _HAVE.add(session)
        for gate in _SAID.get(session, ()):
            if (there := gate()) is not None:
                there.look()
        return "The forms about wires are on this page now."

    return Form(session, FormSpec("Wires", (), NONE), Extras((ActionSpec("I have wires", say),)))
