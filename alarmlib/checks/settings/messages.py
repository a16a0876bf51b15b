"""Who is told of what, whether somebody can come, and whether the message gets out."""

from collections.abc import Iterator

from alarmlib.checks.check import CheckGroup, Said, check, must, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.messages import Message, MessagePath, PathKind, Responder
from alarmlib.model.questions import at_work, by_id, present
from alarmlib.model.site import Yes
from alarmlib.model.wiring import FedBy
from alarmlib.model.words import BURGLARY, DeviceKind, EventKind, Function

_EVENTS = {
    Function.FIRE: EventKind.FIRE,
    Function.CARBON_MONOXIDE: EventKind.CARBON_MONOXIDE,
    Function.HOLD_UP: EventKind.HOLD_UP,
    Function.ALWAYS_MESSAGE: EventKind.HOLD_UP,
    Function.TAMPER: EventKind.TAMPER,
    Function.WATER: EventKind.WATER,
    Function.LOW_TEMPERATURE: EventKind.LOW_TEMPERATURE,
}
_LIFE = frozenset({EventKind.FIRE, EventKind.CARBON_MONOXIDE})
_CAN_WAIT = frozenset({EventKind.SET_UNSET, EventKind.FAULT})


def events_possible(home: Home) -> frozenset[EventKind]:
    """The kinds of event that the zones in use, and buttons for a threat on keypads and fobs, can give."""
    functions = {zone.function for zone in home.control_unit.zones}
    found = {event for function, event in _EVENTS.items() if function in functions}
    if any(device.has_hold_up for device in present(home)):
        found.add(EventKind.HOLD_UP)
    return frozenset(found | ({EventKind.BURGLARY} if functions & BURGLARY else set()))


@check
def nobody_is_told(home: Home) -> Said:
    """Every kind of event that can happen reaches somebody."""
    for event in sorted(events_possible(home)):
        if not _told(home, event):
            message = f"Nobody is told of {event.text}."
            remedy = "Name somebody for it, even if that is only a neighbour who hears the siren."
            yield should(event.value, message, remedy)


def _told(home: Home, event: EventKind) -> list[Responder]:
    responders = by_id(home.messages.responders)
    return [responders[r] for m in home.messages.messages if m.event is event for r in m.to if r in responders]


@check
def nobody_can_come(home: Home) -> Said:
    """Of a burglary somebody is told who is not you, holds a key, can unset and can be there."""
    told = _told(home, EventKind.BURGLARY)
    if not told or EventKind.BURGLARY not in events_possible(home):
        return
    for message, remedy, good in (
        ("Only people who live here are told of a burglary.", "Name a key-holder who is not you.",
         [r for r in told if not r.lives_here]),
        ("Nobody who is told of a burglary is known to be able to come.", "Say how soon each of them can be there.",
         [r for r in told if r.minutes_away is not None]),
        ("Nobody who lives elsewhere is told of a burglary, has a key, and can unset the alarm.",
         "Give a key to somebody you trust, and show them how to unset the alarm.",
         [r for r in told if not r.lives_here and r.holds_key and r.can_unset]),
    ):  # fmt: skip
        if not good:
            yield should(EventKind.BURGLARY.value, message, remedy, "false_alarm_guide")


@check
def not_agreed(home: Home) -> Said:
    """Everybody who is told has agreed, and knows what to do."""
    told = {name for message in home.messages.messages for name in message.to}
    for responder in home.messages.responders:
        if responder.id in told and not responder.lives_here and responder.agreed is not Yes.YES:
            message = f"{said(responder.role)} is to be told, but has not agreed yet."
            yield should(responder.id, message, "Ask them, and tell them what they should do.")
        if responder.id in told and not responder.does:
            message = f"{said(responder.role)}: you have not written down what they do when they are told."
            yield note(responder.id, message, "Write it in a sentence.", "owner")


@check
def first_leave(home: Home) -> Said:
    """At fire and gas everybody leaves first and calls from outside."""
    for event in sorted(_LIFE & events_possible(home)):
        message = f"In case of {event.text}, everybody leaves first and calls from outside; nobody goes back in."
        remedy = "Tell everybody on the list; a message from this system never replaces that call."
        yield note(event.value, message, remedy, "caution_carbon_monoxide")


@check
def emergency_calls(home: Home) -> Said:
    """The unit does not call the emergency service by itself unasked, and permits have been asked about."""
    if home.messages.calls_emergency_by_itself:
        message = "The control unit calls the emergency service by itself. Many places forbid that."
        yield should(
            "messages", message, "Ask your city or council, or have a person called first.", "ordinances_calls"
        )
    if not home.rules.permit_asked:
        message = "You have not asked whether you need a permit for an alarm."
        yield should(
            "rules", message, "Ask your city or council, or the police by their ordinary number.", "caution_permit"
        )


@check
def path_in_a_power_cut(home: Home) -> Said:
    """A message gets out when the mains is lost, most of all one about cold."""
    silent = {path.id for path in _silent_paths(home)}
    urgent = [message for message in home.messages.messages if message.event not in _CAN_WAIT]
    if urgent and all(_stops(home, message, silent) for message in urgent):
        yield _nothing_gets_out(home, urgent)
        return
    for message in home.messages.messages:
        if _stops(home, message, silent):
            because = " A power cut also stops the heating." if message.event is EventKind.LOW_TEMPERATURE else ""
            text = f"The message about {message.event.text} does not get out in a power cut.{because}"
            say = note if message.event in _CAN_WAIT else should
            yield say(message.id, text, "Add a standby supply for the boxes on its way, or a path that needs no mains.")


def _goes_by(home: Home, message: Message) -> tuple[str, ...]:
    """The paths of a message; where none is named, every path there is, as the proof reads it."""
    return message.paths or tuple(path.id for path in home.messages.paths)


def _stops(home: Home, message: Message, silent: set[str]) -> bool:
    paths = _goes_by(home, message)
    return bool(paths) and silent.issuperset(paths)


def _nothing_gets_out(home: Home, urgent: list[Message]) -> Finding:
    """Every message that can't wait goes by paths that stop with the mains, by the owner's own facts."""
    names = by_id(home.messages.paths)
    used = list(dict.fromkeys(path for message in urgent for path in _goes_by(home, message)))
    ways = " and ".join(said(names[path].name) for path in used)
    stops = "stops" if len(used) == 1 else "stop"
    cold = any(message.event is EventKind.LOW_TEMPERATURE for message in urgent)
    because = " A power cut also stops the heating." if cold else ""
    text = f"All your messages go by {ways}, which {stops} in a power cut: then no message gets out.{because}"
    return must(used[0], text, "Add a standby supply for the boxes on its way, or a path that needs no mains.", "owner")


def _silent_paths(home: Home) -> Iterator[MessagePath]:
    """The paths that stop with the mains: the owner says so, or one of their boxes has the mains alone."""
    boxes = {device.id: device.standby for device in present(home)}
    on_mains = {path for box in home.wiring.boxes if box.fed_by is FedBy.MAINS for path in box.paths}
    for path in home.messages.paths:
        dead_box = any(boxes.get(box) is Yes.NO for box in path.boxes)
        if path.works_without_mains is Yes.NO or dead_box or path.id in on_mains:
            yield path


@check
def only_the_siren(home: Home) -> Said:
    """Who relies on the siren alone has a neighbour who answers it and a siren that can be heard outside."""
    paths = home.messages.paths
    if paths and all(path.kind is PathKind.SIREN for path in paths):
        message = "The siren is the only message: while you are away it depends on who hears it."
        yield note("messages", message, "Agree with a neighbour what to do when it sounds.", "home_visit")
    if EventKind.BURGLARY in events_possible(home) and not any(
        device.kind in {DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SIREN} for device in at_work(home)
    ):
        yield should("devices", "There is no sounder, so nobody hears a burglary.", "Add an inside or outside sounder.")


GROUP = CheckGroup(
    "messages",
    (
        nobody_is_told,
        nobody_can_come,
        not_agreed,
        first_leave,
        emergency_calls,
        path_in_a_power_cut,
        only_the_siren,
    ),
)
