"""Who is told of what: roles, paths and order; never a name, number or address."""

from alarmlib.model.base import Id, Name, Note, Part, fact, identity, ref
from alarmlib.model.site import Yes
from alarmlib.model.words import EventKind, Share, Word
from alarmlib.units import Kind

HELPER, CLASS = Share.HELPER, Share.CLASS


class PathKind(Word):
    """How a message leaves the home."""

    INTERNET = "internet", "internet through the router"
    MOBILE = "mobile", "mobile network"
    LINE = "line", "telephone line"
    SIREN = "siren", "the siren itself, heard by a neighbour"


class MessagePath(Part):
    """One way for a message, with the boxes it needs to have power."""

    id: Id = identity()
    name: Name = fact(..., "Path", share=HELPER)
    kind: PathKind = fact(PathKind.INTERNET, "Kind", share=CLASS)
    boxes: tuple[Id, ...] = ref(
        "devices",
        (),
        "Boxes that it needs",
        help="Such as router, hub or communicator. If one has no power, no message leaves by this path.",
        share=HELPER,
    )
    works_without_mains: Yes = fact(
        Yes.UNKNOWN,
        "Does it work in a power cut?",
        help="Try it with the mains off, or ask your provider.",
        share=CLASS,
    )
    failure_reported: Yes = fact(
        Yes.UNKNOWN,
        "Does the control unit notice when it is down?",
        help="In its manual, under communicator.",
        share=CLASS,
    )


class Responder(Part):
    """Somebody who is told, by role."""

    id: Id = identity()
    role: Name = fact(..., "Who (a role, no name)", share=HELPER)
    lives_here: bool = fact(False, "Lives here", share=HELPER)
    minutes_away: float | None = fact(None, "Minutes until they can be there", ge=0, le=1440, share=HELPER)
    holds_key: bool = fact(False, "Holds a key", share=HELPER)
    can_unset: bool = fact(False, "Can unset the alarm", share=HELPER)
    agreed: Yes = fact(Yes.UNKNOWN, "Has agreed", share=HELPER)
    does: Note = fact("", "What they do then", share=HELPER)


class Message(Part):
    """For one kind of event: who hears, in which order, by which paths."""

    id: Id = identity()
    event: EventKind = fact(..., "Event", share=HELPER)
    to: tuple[Id, ...] = ref("messages.responders", (), "Who is told, in this order", share=HELPER)
    paths: tuple[Id, ...] = ref("messages.paths", (), "Paths that it takes", share=HELPER)
    wait_s: float | None = fact(
        None, "Wait before the next person is told", kind=Kind.TIME, ge=0, le=3600, share=HELPER
    )


class Messages(Part):
    """The plan of messages."""

    paths: tuple[MessagePath, ...] = fact((), "Paths", share=HELPER, noun="message path")
    responders: tuple[Responder, ...] = fact((), "Who is told", share=HELPER, noun="responder")
    messages: tuple[Message, ...] = fact((), "Messages", share=HELPER, noun="message")
    calls_emergency_by_itself: bool = fact(
        False, "Calls the emergency service by itself", help="Many places forbid it. Ask first.", share=HELPER
    )
