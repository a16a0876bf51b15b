"""How far the home has come, task by task: a task is a page or a part of one, with its state and the minutes left."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from math import ceil

from alarmlib.calc.electrical.fitting_day import halted_at
from alarmlib.calc.sound.heard import sounders
from alarmlib.checks.cautions import STEPS, Advice, before, on_page
from alarmlib.checks.finding import Assessment, Verdict
from alarmlib.draft.questions import asked_now, is_answered
from alarmlib.draft.survey_round import survey_places
from alarmlib.model.home import Home
from alarmlib.model.log import Seen
from alarmlib.model.questions import at_work, detectors, guards, present
from alarmlib.model.site import Reach
from alarmlib.model.survey import Found
from alarmlib.model.words import DeviceKind
from alarmlib.pages.answers import GROUPS

SHORT_PATH, CAUTIONS, KIT = "The short path", "Three cautions", "Kit that came with the home"
KIT_FORM = "What came with the home: what is done"
_SOUNDERS = (DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SIREN)


class TaskState(Enum):
    """How a task is, in the words that are shown."""

    NOT_STARTED = "not started"
    BEGUN = "begun"
    DONE = "done"
    LOOK_AGAIN = "look again"


@dataclass(frozen=True)
class Task:
    """One task: the file of its page, its title, its state, and in words what is done, what is left and why do it.

    `minutes` is about what is left to do, by our own estimate; `at` is the title of its form on the page, or "".
    """

    page: str
    title: str
    state: TaskState
    minutes: int
    done: str
    left: str
    why: str
    at: str = ""


def progress(home: Home, assessment: Assessment, recorded: bool | None = None) -> tuple[Task, ...]:
    """The tasks of this home in their order; `recorded`: whether the last record tells the home as it is now.

    None: there is no record yet. Minutes are our own estimate; common practice, no source.
    """
    tasks = (
        *_start(home),
        _rooms(home),
        _points(home),
        _detectors(home),
        _zones(home),
        _times(home),
        _wiring(home),
        _sounders(home),
        _proof(assessment),
        _fitting(home),
        _tests(home),
        _record(assessment, recorded),
    )
    wrong = _to_fix(assessment)
    return tuple(_unread(home, _looked_at(task, wrong.get(task.page, 0))) for task in tasks)


def next_task(tasks: Sequence[Task]) -> Task | None:
    """The first task that is not done; None when all are."""
    return next((task for task in tasks if task.state is not TaskState.DONE), None)


def _state(begun: object, left: object) -> TaskState:
    """Not started, begun, or done when nothing is left."""
    if not begun:
        return TaskState.NOT_STARTED
    return TaskState.BEGUN if left else TaskState.DONE


def _to_fix(assessment: Assessment) -> dict[str, int]:
    """How many findings that must be fixed are told by the checks of each page."""
    told = ((page, name) for page, names in _CHECKED.items() for name in names.split())
    page_of = {group: page for page, name in told for group in GROUPS[name].split()}
    found: dict[str, int] = {}
    for finding in assessment.findings:
        page = page_of.get(finding.id.partition(".")[0])
        if page and finding.verdict is Verdict.MUST:
            found[page] = found.get(page, 0) + 1
    return found


def _looked_at(task: Task, wrong: int) -> Task:
    """A task that was done needs another look where something on its page must be fixed."""
    if task.state is not TaskState.DONE:
        return task
    if not wrong:
        return replace(task, minutes=0)
    words = f"{_count(wrong, 'finding')} to fix"
    return replace(task, state=TaskState.LOOK_AGAIN, left=words, minutes=max(2, 2 * wrong))


def _unread(home: Home, task: Task) -> Task:
    """The task, with the cautions before its steps that are not ticked yet."""
    unread = sum(advice.id not in home.cautions_read for advice in _advice(task))
    if not unread:
        return task
    left = "; ".join(filter(None, (task.left, f"{_count(unread, 'caution')} to read")))
    state = TaskState.BEGUN if task.state is TaskState.DONE else task.state
    return replace(task, state=state, left=left, minutes=max(1, task.minutes))


def _advice(task: Task) -> tuple[Advice, ...]:
    """The cautions that are read for a task: those of its page, told by the first task there."""
    own = {CAUTIONS: "short_path", KIT: "found"}.get(task.title)
    if own:
        return before(own)
    return () if task.page == "00_start" or task.title in _LATER else on_page(task.page)


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _words(*counted: tuple[int, str, str]) -> str:
    """What is left, each part with its number, those of nought left out."""
    return "; ".join(f"{_count(number, word)} {rest}" for number, word, rest in counted if number)


def _start(home: Home) -> Iterator[Task]:
    """The cautions; the short path unless the home was entered without it; the old kit where there is some."""
    read = sum(advice.id in home.cautions_read for advice in before("short_path"))
    state = TaskState.DONE if read == len(before("short_path")) else TaskState.NOT_STARTED
    why = "They say what can hurt you, and what this workbook is not."
    yield Task(
        "00_start",
        CAUTIONS,
        state,
        minutes=0 if read else 1,
        done=f"{_count(read, 'caution')} ticked",
        left="",
        why=why,
        at=STEPS["short_path"].title,
    )
    answered = bool(home.short_path.rooms.strip())
    if answered or not home.site.rooms:
        used = bool(home.site.rooms)
        asked = asked_now(home)
        still = sum(not is_answered(home, question) for question in asked)
        done = (
            "made into your home" if used else _count(len(asked) - still, "question") + " answered" if answered else ""
        )
        left = "" if used else f"{_count(still, 'question')} to answer" if still else "the draft to be made your home"
        why = "It drafts the whole home from a few answers; each later page makes the draft better."
        yield Task(
            "00_start",
            SHORT_PATH,
            _state(answered, not used),
            minutes=0 if used else max(1, ceil(still / 3)),
            done=done,
            left=left,
            why=why,
            at=SHORT_PATH,
        )
    if home.inherited.items:
        ticks = (home.inherited.contract_ended, home.inherited.users_removed, home.inherited.factory_access_changed)
        left = _words((ticks.count(False), "tick", "open"))
        why = "Old kit may be live, may still call somebody, or may still know old users."
        found = _count(len(home.inherited.items), "found item")
        yield Task(
            "00_start", KIT, _state(True, left), minutes=ticks.count(False), done=found, left=left, why=why, at=KIT_FORM
        )


def _rooms(home: Home) -> Task:
    site = home.site
    unknown = sum(opening.reach is Reach.UNKNOWN for opening in site.openings)
    left = _words((unknown, "way", "in still to be looked at")) if unknown == 1 else (
        f"{unknown} ways in still to be looked at" if unknown else "")  # fmt: skip
    if not site.rooms or not site.openings:
        left = "rooms and ways in to enter" if not site.rooms else "ways in to enter"
    done = f"{_count(len(site.rooms), 'room')}, {_ways(len(site.openings))}" if site.rooms else ""
    minutes = unknown if site.openings else 15
    why = "Every other result rests on the rooms and on the ways in."
    return Task(
        "01_survey", "Rooms and ways in", _state(site.rooms, left), minutes=minutes, done=done, left=left, why=why
    )


def _ways(number: int) -> str:
    return f"{number} {'way' if number == 1 else 'ways'} in"


def _points(home: Home) -> Task:
    points = [answer for place in survey_places(home) for answer in place.answers]
    left = sum(answer.found is Found.NOT_LOOKED_AT for answer in points)
    looked = len(points) - left
    why = "You see from outside what a stranger sees, and find what can be put right at once."
    return Task(
        "01_survey",
        "Walk round the home",
        _state(looked, left),
        minutes=ceil(left / 3),
        done=f"{_count(looked, 'point')} looked at" if looked else "",
        left=_words((left, "point", "still to be looked at")),
        why=why,
    )


def _detectors(home: Home) -> Task:
    bare = [o for o in home.site.openings if not guards(home, o.id) and not o.left_bare_because]
    there = detectors(home)
    left = f"{_ways(len(bare))} without a detector of {'its' if len(bare) == 1 else 'their'} own" if bare else ""
    done = _count(len(present(home)), "device") if present(home) else ""
    why = "A way in without a detector is noticed late or not at all."
    minutes = 2 * len(bare) if there else max(10, 2 * len(bare))
    return Task("02_detectors", "Detectors", _state(there, left), minutes=minutes, done=done, left=left, why=why)


def _zones(home: Home) -> Task:
    without = sum(not device.zone for device in detectors(home))
    zones = len(home.control_unit.zones_used)
    left = _words((without, "detector", "without a zone")) or ("" if zones else "zones to draft")
    why = "The zones decide which name you read, what sounds, and when."
    return Task(
        "03_zones",
        "Zones",
        _state(zones, left),
        minutes=5,
        done=_count(zones, "zone") if zones else "",
        left=left,
        why=why,
    )


def _times(home: Home) -> Task:
    doors_home = {opening.id for opening in home.site.openings if opening.entry_exit}
    timed = {door.opening for door in home.control_unit.times.doors if door.entry_s is not None}
    nobody = not home.household.people
    untimed = len(doors_home - timed)
    left = "; ".join(filter(None, (_words((untimed, "entry/exit door", "without times")), "who lives here" * nobody)))
    done = f"{_count(len(timed), 'entry/exit door')} timed" if timed else ""
    why = "Too short a delay brings false alarms, too long a delay gives a stranger time."
    return Task(
        "04_times",
        "Times",
        _state(timed or not nobody, left),
        minutes=3 * untimed + 5 * nobody,
        done=done,
        left=left,
        why=why,
    )


def _wiring(home: Home) -> Task:
    supply = home.wiring.supply
    missing = supply.standby_battery_ah is None
    left = "the standby battery to enter" if missing else ""
    done = _count(len(home.circuits), "pair") if home.circuits else ""
    why = "The standby battery must carry the system through a power cut."
    begun = home.circuits or home.wiring.runs or not missing
    return Task(
        "05_wiring_power",
        "Wiring and power",
        _state(begun, left),
        minutes=5 if missing else 0,
        done=done,
        left=left,
        why=why,
    )


def _sounders(home: Home) -> Task:
    loud, all_of_them = len(sounders(home)), len(present(home, *_SOUNDERS))
    silent = max(0, all_of_them - loud)
    left = _words((silent, "sounder", "without a level")) if all_of_them else "a sounder to choose"
    why = "A sounder that nobody hears at the pillow wakes nobody."
    done = f"{loud} with a level" if loud else ""
    return Task(
        "06_sounders",
        "Sounders",
        _state(loud, left),
        minutes=2 * silent if all_of_them else 5,
        done=done,
        left=left,
        why=why,
    )


def _proof(assessment: Assessment) -> Task:
    """From what the checks say of the kept proof."""
    said = {finding.id.removeprefix("proof."): finding for finding in assessment.findings}
    held = said["holds"].message.split(" properties")[0] + " properties hold" if "holds" in said else ""
    broken = sum(finding.id in {"proof.breached", "proof.not_settled"} for finding in assessment.findings)
    stale = "out_of_date" in said
    left = "out of date: run it again" if stale else f"{broken} properties to fix" if broken else ""
    ran = held or left
    state = TaskState.NOT_STARTED if not ran else TaskState.LOOK_AGAIN if left else TaskState.DONE
    left = left if ran else "never run"
    why = "It tries every order of steps that a stranger and your family can take."
    return Task("08_proof", "Proof", state, minutes=5 if left else 0, done=held, left=left, why=why)


def _fitting(home: Home) -> Task:
    halt = halted_at(home)
    done = len(home.wiring.done)
    wanted = halt.step is not None and bool(present(home))
    left = (halt.why or halt.step.text) if halt.step is not None and wanted else ""
    left = left.rstrip(".") if present(home) else "nothing to fit yet"
    state = TaskState.NOT_STARTED if not present(home) else _state(done or not left, left)
    why = "The order of steps keeps you away from live parts and finds a wrong pair before it is joined."
    said = f"{_count(done, 'step')} done" if done else ""
    return Task(
        "05_wiring_power",
        "The day of fitting",
        state,
        minutes=0 if state is TaskState.DONE else 120,
        done=said,
        left=left,
        why=why,
    )


def _tests(home: Home) -> Task:
    tested = {test.device for test in home.log.tests if test.seen is Seen.AS_EXPECTED}
    there = at_work(home)
    well = sum(device.id in tested for device in there)
    left = len(there) - well
    why = "Only a test of each device shows that it does what you planned."
    done = f"{_count(well, 'device')} tested well" if well else ""
    words = _words((left, "device", "to test")) if there else "nothing to test yet"
    return Task(
        "10_test_walk",
        "Walk test",
        _state(well, left),
        minutes=left,
        done=done,
        left=words if left or not there else "",
        why=why,
    )


def _record(assessment: Assessment, recorded: bool | None) -> Task:
    must = sum(finding.verdict is Verdict.MUST for finding in assessment.findings)
    should = sum(finding.is_open and finding.verdict is Verdict.SHOULD for finding in assessment.findings)
    left = f"{_count(must, 'finding')} that you must fix, {should} that you should fix"
    state = TaskState.NOT_STARTED if recorded is None else TaskState.DONE if recorded else TaskState.LOOK_AGAIN
    done = "" if recorded is None else "written" if recorded else "written before your last change"
    why = "It is what you print, keep and hand on."
    return Task("11_record", "Record", state, minutes=0 if recorded else 2, done=done, left=left, why=why)


_LATER = frozenset({"Walk round the home", "The day of fitting"})
"""Tasks whose page has an earlier task, which tells the cautions of the page."""
_CHECKED = {
    "01_survey": "survey_findings",
    "02_detectors": "way_findings detector_findings seen alarms",
    "03_zones": "zone_findings part_set_findings",
    "04_times": "time_findings control_findings message_findings",
    "05_wiring_power": "loop_findings radio_findings cable_findings battery_findings",
    "06_sounders": "sound_findings",
    "10_test_walk": "test_walk_findings",
}
"""The checks that are told on each page, by their names in `GROUPS`."""
