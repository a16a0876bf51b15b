"""The tables and forms of the pages, declared: messages, tests, diaries, and what the proof may assume."""

from alarmlib.model.log import Event, Test, Upkeep
from alarmlib.model.messages import Message, MessagePath, Messages, Responder
from alarmlib.model.proof import ChangePrice, ProofChoices
from alarmlib.pages import choices as c
from alarmlib.pages.declaring import Group, List, Sheet, columns

LOG_SHEETS: dict[str, Sheet] = {
    "proof_assumptions": Sheet(
        "What the proof may assume",
        (
            Group("The intruder", ProofChoices, "intruder_m_s breaks_glass brings_ladder cuts_mains", ("proof",)),
            Group(
                "The alarm and the household",
                ProofChoices,
                "tolerance_percent sounds_within_s looks_before_setting sure_detectors heard_first",
                ("proof",),
                {"sure_detectors": c.motion_detectors},
            ),
        ),
        intro="The result names each of these. A change here makes an earlier result out of date.",
        essential="breaks_glass brings_ladder cuts_mains looks_before_setting sure_detectors",
        more="With these the proof keeps to your own figures. If you leave one blank, the value in its help is used.",
        may_be_blank="breaks_glass brings_ladder cuts_mains looks_before_setting sure_detectors",
    ),
    "messages_self": Sheet("Emergency calls", (Group("", Messages, "calls_emergency_by_itself", ("messages",)),)),
}

LOG_LISTS: dict[str, List] = {
    "paths": List(
        "Ways that a message takes",
        ("messages", "paths"),
        columns(MessagePath, "name kind boxes works_without_mains failure_reported"),
        "path",
        blank=lambda _home: {"name": ""},
        essential="name kind works_without_mains",
        more="These show which box stops a message, and whether you would hear of it.",
    ),
    "responders": List(
        "Who is told",
        ("messages", "responders"),
        columns(Responder, "role lives_here minutes_away holds_key can_unset agreed does"),
        "person told",
        blank=lambda _home: {"role": ""},
        essential="role holds_key can_unset agreed",
        more="These show how long it takes until somebody is there.",
    ),
    "messages": List(
        "Messages",
        ("messages", "messages"),
        columns(Message, "event to paths wait_s"),
        "message",
        blank=lambda _home: {"event": "burglary"},
        essential="event to paths",
        intro="In a fire, everybody leaves first. Call from outside.",
        more="A message that waits can still be called back.",
    ),
    "change_prices": List(
        "What another change costs",
        ("proof", "prices"),
        columns(ChangePrice, "kind price"),
        "price",
        blank=lambda _home: {"price": 0},
        intro="In money, or what the effort is worth to you.",
        named_by="kind",
    ),
    "tests": List(
        "Test log",
        ("log", "tests"),
        columns(
            Test,
            "on at by device kind expected seen seen_zone cause action retest_of",
            retest_of=c.tests,
        ),
        "test",
        essential="on device kind seen",
        more="These tell a device that failed from one that slept, and what you put right.",
        may_be_blank="device",
    ),
    "events": List("Event diary", ("log", "events"), columns(Event, "on zone cause changed"), "event", late=True),
    "upkeep": List("Maintenance diary", ("log", "upkeep"), columns(Upkeep, "on done device"), "line"),
}
