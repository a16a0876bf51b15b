"""How far the home has come, page by page."""

from dataclasses import dataclass, replace

from alarmlib.calc.electrical.fitting_day import halted_at
from alarmlib.calc.sound.heard import sounders
from alarmlib.checks.cautions import on_page
from alarmlib.checks.finding import Assessment, Verdict
from alarmlib.model.home import Home
from alarmlib.model.log import Seen
from alarmlib.model.questions import at_work, detectors, guards, present
from alarmlib.model.site import Reach
from alarmlib.model.survey import Found


@dataclass(frozen=True)
class PageState:
    """One page: its file, title, what is done on it and what is open, in words."""

    page: str
    title: str
    done: str
    open: str


def progress(home: Home, assessment: Assessment) -> tuple[PageState, ...]:
    """The state of each page of this home."""
    states = (
        _start(home),
        _survey(home),
        _detectors(home),
        _zones(home),
        _times(home),
        _wiring(home),
        _sounders(home, assessment),
        _proof(assessment),
        _tests(home),
        _record(assessment),
    )
    return tuple(_with_unread(home, state) for state in states)


def _with_unread(home: Home, state: PageState) -> PageState:
    """The state, with the cautions before the page's steps that are not ticked yet."""
    unread = sum(advice.id not in home.cautions_read for advice in on_page(state.page))
    words = f"{unread} {'caution' if unread == 1 else 'cautions'} to read"
    return replace(state, open="; ".join(filter(None, (words if unread else "", state.open))))


def _start(home: Home) -> PageState:
    read = sum(advice.id in home.cautions_read for advice in on_page("00_start"))
    return PageState("00_start", "Start", f"{read} cautions ticked", "")


def _survey(home: Home) -> PageState:
    site = home.site
    unknown = sum(opening.reach is Reach.UNKNOWN for opening in site.openings)
    points = sum(answer.found is Found.NOT_LOOKED_AT for answer in site.answers)
    done = f"{len(site.rooms)} rooms, {len(site.openings)} ways in"
    return PageState("01_survey", "Survey", done, f"{points} points and {unknown} ways in still to be looked at")


def _detectors(home: Home) -> PageState:
    bare = [o for o in home.site.openings if not guards(home, o.id) and not o.left_bare_because]
    return PageState(
        "02_detectors",
        "Detectors",
        f"{len(present(home))} devices",
        f"{len(bare)} ways in without a detector of their own",
    )


def _zones(home: Home) -> PageState:
    without = sum(not device.zone for device in detectors(home))
    return PageState(
        "03_zones", "Zones", f"{len(home.control_unit.zones_used)} zones", f"{without} detectors without a zone"
    )


def _times(home: Home) -> PageState:
    doors_home = [opening.id for opening in home.site.openings if opening.entry_exit]
    timed = {door.opening for door in home.control_unit.times.doors if door.entry_s is not None}
    return PageState(
        "04_times",
        "Times",
        f"{len(timed)} entry/exit doors timed",
        f"{len(set(doors_home) - timed)} entry/exit doors without times",
    )


def _wiring(home: Home) -> PageState:
    read = sum(circuit.measured_ohm is not None for circuit in home.circuits)
    halt = halted_at(home)
    left = "" if halt.step is None or not present(home) else f"fitting day: {halt.why or halt.step.text}"
    return PageState("05_wiring_power", "Wiring and power", f"{read} of {len(home.circuits)} pairs read", left)


def _sounders(home: Home, assessment: Assessment) -> PageState:
    quiet = sum(finding.id == "sound.at_the_pillow" for finding in assessment.findings)
    count = len(sounders(home))
    return PageState(
        "06_sounders", "Sounders", f"{count} with a level", f"{quiet} pillows to fix or measure" if quiet else ""
    )


def _proof(assessment: Assessment) -> PageState:
    """From what the checks say of the kept proof."""
    said = {finding.id.removeprefix("proof."): finding for finding in assessment.findings}
    held = said["holds"].message.split(" properties")[0] + " properties hold" if "holds" in said else ""
    words = {"never_run": "never run", "out_of_date": "out of date: run it again"}
    still = next((text for name, text in words.items() if name in said), "")
    broken = sum(finding.id in {"proof.breached", "proof.not_settled"} for finding in assessment.findings)
    return PageState("08_proof", "Proof", held, still or (f"{broken} properties to fix" if broken else ""))


def _tests(home: Home) -> PageState:
    tested = {test.device for test in home.log.tests if test.seen is Seen.AS_EXPECTED}
    there = at_work(home)
    well = sum(device.id in tested for device in there)
    return PageState("10_test_walk", "Walk test", f"{well} devices tested well", f"{len(there) - well} devices to test")


def _record(assessment: Assessment) -> PageState:
    better = sum(finding.is_open and finding.verdict is Verdict.SHOULD for finding in assessment.findings)
    return PageState(
        "11_record", "Record", "", f"{assessment.open} findings that you must fix, {better} that you should fix"
    )
