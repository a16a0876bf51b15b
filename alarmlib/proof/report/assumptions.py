"""What the proof takes for granted, in plain sentences; what it does not cover; both are printed with every result."""

from collections.abc import Iterable, Iterator, Mapping

from alarmlib.calc.cells.sights import Sight
from alarmlib.calc.coverage.areas import ASSUMED
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.setup import Setup
from alarmlib.model.home import Home
from alarmlib.model.questions import at_work
from alarmlib.model.site import OpeningKind, Reach
from alarmlib.model.words import DETECTORS
from alarmlib.proof.intruder.intrusions import Intruders
from alarmlib.proof.intruder.ways import sets_of
from alarmlib.proof.report.verdicts import Assumption
from alarmlib.proof.search.budget import OverBudget, not_ready
from alarmlib.units import Kind, show

NOT_READY = "not_ready"
"""The assumption in place of those that were too large to be worked out."""


def assumptions(home: Home, intruders: Intruders) -> tuple[Assumption, ...]:
    """Every assumption: that somebody looks before setting first of all, then what else the owner can change."""
    looks = (_LOOKS,) if home.proof.looks_before_setting else ()
    others = () if looks else (_LOOKS_NOT,)
    detectors = _made_ready(home, intruders)
    return (*looks, *_chosen(home, intruders), *others, *detectors, *_of_the_unit(intruders))


def _made_ready(home: Home, intruders: Intruders) -> tuple[Assumption, ...]:
    """What rests on views, squares and walks; where these were too large to be worked out, that alone."""
    try:
        return tuple(_of_detectors(home, intruders))
    except OverBudget as over:
        why = f"What is assumed of detectors' views, of squares and of walks is not listed. {not_ready(over)}"
        return (Assumption(NOT_READY, why),)


_LOOKS = Assumption(
    "looks",
    "Nobody sets the alarm as “nobody in” while somebody is still in. You ticked this; nothing else makes it so.",
    "proof.looks_before_setting",
)
_LOOKS_NOT = Assumption(
    "looks", "Somebody may set the alarm as “nobody in” while somebody else is still in.", "proof.looks_before_setting"
)


def _chosen(home: Home, intruders: Intruders) -> Iterator[Assumption]:
    proof, system = home.proof, home.units
    speed = show(proof.intruder_m_s, Kind.SPEED, system)
    yield Assumption("intruder", f"An intruder moves at most at {speed}.", "proof.intruder_m_s")
    off = f"{proof.tolerance_percent:g} %"
    yield Assumption(
        "clock",
        f"The control unit's times may all be {off} too short or all {off} too long."
        if proof.tolerance_percent
        else "The control unit keeps its times exactly.",
        "proof.tolerance_percent",
    )
    yield Assumption(
        "within",
        f"“In time” means that a siren or message comes within {intruders.within_s} s of being noticed"
        + ("." if proof.sounds_within_s is not None else ", the longest entry delay with its tolerance."),
        "proof.sounds_within_s",
    )
    yield Assumption(
        "glass",
        "An intruder may come through glass without opening anything: then a contact may or may not trip."
        if proof.breaks_glass
        else "An intruder opens what they come in by: its contact trips. Nobody comes through the glass itself.",
        "proof.breaks_glass",
    )
    yield Assumption("ladder", _ladder(home), "proof.brings_ladder")
    yield Assumption(
        "mains",
        "An intruder may cut the mains from outside and restore it."
        if proof.cuts_mains
        else "Nobody cuts the mains from outside on purpose; a power cut with a flat battery is one of the faults.",
        "proof.cuts_mains",
    )
    rooms = ", ".join(intruders.names.get(room, room) for room in proof.heard_first)
    more = "While a part set is on, an intruder may reach a room where somebody sleeps only after a siren or message"
    yield Assumption(
        "heard_first", f"{more}{f'; in every set, this goes for: {rooms}' if rooms else ''}.", "proof.heard_first"
    )


def _ladder(home: Home) -> str:
    if home.proof.brings_ladder:
        return "An intruder may bring a ladder: every door, window and hatch counts as a way in."
    high = [o.name for o in home.site.openings if o.reach is Reach.NOT]
    small = [o.name for o in home.site.openings if o.kind in (OpeningKind.LETTERBOX, OpeningKind.PET_FLAP)]
    left_out = "; ".join(
        text
        for names, text in (
            (high, f"not reached without a ladder: {', '.join(high)}"),
            (small, f"no body comes through: {', '.join(small)}"),
        )
        if names
    )
    return f"Ways in are what can be reached from outside{f'. These are left out, {left_out}' if left_out else ''}."


def _of_detectors(home: Home, intruders: Intruders) -> Iterator[Assumption]:
    names = intruders.names
    drawn = [sight for sight in intruders.sights if sight.possible]
    walked = [names[sight.device] for sight in intruders.sights if sight.device in home.proof.sure_detectors]
    blind = [names[sight.device] for sight in intruders.sights if not sight.possible and not sight.sure]
    if drawn:
        yield Assumption(
            "coverage", f"What these see was computed from walls, doors and furniture: {_names(drawn, names)}."
        )
        for number, sentence in enumerate(ASSUMED):
            yield Assumption(f"coverage_{number + 1}", sentence)
    if walked:
        yield Assumption(
            "sure",
            "These are taken to see anybody after four steps (2.44 m) across the room, as your walk test "
            f"showed: {', '.join(walked)}.",
            "proof.sure_detectors",
        )
    if blind:
        yield Assumption(
            "may",
            f"These may see somebody in their room and in rooms open to it, or may not: {', '.join(blind)}. Facts "
            "or a drawing are missing, so where they look cannot be computed.",
            "proof.sure_detectors",
        )
    yield from _of_sleep(home, intruders)
    for number, sentence in enumerate(dict.fromkeys(s for part in intruders.parts for s in part.cells.assumed)):
        yield Assumption(f"floor_{number + 1}", sentence)
    fast = max((part.cells.effective_m_s for part in intruders.parts), default=0.0)
    if fast:
        shown = show(fast, Kind.SPEED, home.units)
        yield Assumption("squares", f"On squares of half a metre an intruder may seem as fast as {shown}.")


def _of_sleep(home: Home, intruders: Intruders) -> Iterator[Assumption]:
    """Detectors that sleep after a trip: what they miss, and when they may be asleep."""
    resting = [device for device in at_work(home, *DETECTORS) if device.sleep_s]
    if not resting:
        return
    said = ", ".join(f"{device.name} ({device.sleep_s:g} s)" for device in resting)
    yield Assumption("rest", f"A detector in its sleep time after a trip detects nothing: {said}.")
    free = [device.name for device in resting if device.id not in intruders.sure]
    if free:
        yield Assumption(
            "rest_may",
            "These have a sleep time and no walk test that shows them sure, so they may miss anybody: "
            f"{', '.join(free)}.",
            "proof.sure_detectors",
        )
    for number, text in enumerate(_left_asleep(home, intruders), 1):
        yield Assumption(f"rest_begin_{number}", text)


def _left_asleep(home: Home, intruders: Intruders) -> Iterator[str]:
    """In each set, which detectors setting it may leave asleep, how long, and where that is not known."""
    setup, names = intruders.setups[0].setup, intruders.names
    for area in setup.areas:
        for part in sets_of(setup, area.id):
            rests = _longest_rests(intruders, area.id, part)
            known = {d: s for d, s in rests.items() if intruders.departures.since_s(d, part) is not None}
            set_ = f"{names.get(area.id, area.id)}, {names.get(part, part) if part else 'set (nobody in)'}"
            lasts = {names.get(d, d): show(s, Kind.TIME, home.units) for d, s in known.items()}
            if lasts:
                each = ", ".join(f"{name} (for up to {most})" for name, most in lasts.items())
                yield f"{set_}: ways in are tried just after setting too, when these may be in sleep time: {each}."
            if free := [names.get(d, d) for d in rests if d not in known]:
                yield (
                    f"{set_}: no walk out from where these look is known, so they may have been tripped just as the "
                    f"alarm was set: {', '.join(free)}."
                )


def _longest_rests(intruders: Intruders, area: str, part: str) -> dict[str, int]:
    """By detector the most that it may still sleep, in whichever season and at whichever end of the clock."""
    found: dict[str, int] = {}
    for at in intruders.setups:
        for device, left_s in intruders.departures.rests(at.setup, area, part).items():
            found[device] = max(left_s, found.get(device, 0))
    return found


def _names(sights: Iterable[Sight], names: Mapping[str, str]) -> str:
    return ", ".join(names[sight.device] for sight in sights)


def _of_the_unit(intruders: Intruders) -> Iterator[Assumption]:
    yield Assumption("unit", "The control unit does what its manual says, and what you entered about it on page 03.")
    yield Assumption(
        "entered",
        "Everything that you typed on these pages is true, and is entered in the control unit in the same way.",
    )
    if intruders.home.control_unit.behaviour.stops_siren_in_hour:
        yield Assumption(
            "siren_hour",
            "The control unit stops its siren by itself when the local limit for an hour is reached, as "
            "its manual says.",
            "control_unit.behaviour.stops_siren_in_hour",
        )
    whole = setup_from_home(intruders.home)
    yield Assumption("power_return", _after_power(whole), "control_unit.behaviour.ignores_after_power_s")
    yield from _limited(intruders.home, whole)
    for number, sentence in enumerate(_behaviour(intruders.timed[0].setup)):
        yield Assumption(f"unit_{number + 1}", sentence)


def _after_power(setup: Setup) -> str:
    """The seconds of which no claim speaks, whoever cuts the mains or nobody."""
    seconds = setup.behaviour.ignore_after_power_s
    if not seconds:
        return "The control unit listens to every detector as soon as its power returns."
    fire = "except for fire and carbon monoxide" if setup.behaviour.life_heard_after_power else "fire and CO included"
    return (
        f"For {seconds} s after its power returns the control unit ignores detectors, {fire}. No claim here is "
        "about these seconds, or about a control unit without power, unless it says so."
    )


def _limited(home: Home, setup: Setup) -> Iterator[Assumption]:
    """Zones that are no longer heard after so many alarms in a set period: no claim is about the time after that."""
    label = {zone.id: zone.label for zone in home.control_unit.zones}
    by_limit: dict[int, list[str]] = {}
    for zone in setup.layout.zones:
        if zone.limit:
            by_limit.setdefault(zone.limit, []).append(label[zone.id])
    for limit, names in sorted(by_limit.items()):
        times = "one alarm" if limit == 1 else f"{limit} alarms"
        yield Assumption(
            f"limit_{limit}",
            f"After {times} in one set period these zones are no longer heard until the alarm is unset: "
            f"{', '.join(names)}. The claims are about the time before that. The table of faults says what each "
            "zone opens after it.",
            "control_unit.behaviour.repeat_trip_limit",
        )


def _behaviour(setup: Setup) -> Iterable[str]:
    facts = setup.behaviour
    yield f"A trip off the way out during the exit delay: {facts.off_route.text}."
    yield f"An entry/exit door open at the end of the exit delay: {facts.door_at_end.text}."
    if facts.later_door_shortens:
        yield "A later entry/exit door may shorten a running entry delay; nothing lengthens it."


NOT_COVERED = (
    "Two intruders at once; one who leaves and comes in again by another way, or opens further ways in from inside.",
    "Jamming that changes while somebody is inside, forged radio messages, a code that somebody has watched you enter.",
    "What happens after the siren: whether a neighbour listens, whether anybody comes.",
    "Three or more people on habits of their own at once.",
    "An intruder who follows a person through the very door that the person has opened.",
    "Pets, and people at home, that trip a detector just while an intruder comes in; they are tried in the habits.",
    "A detector that a pet sends to sleep while the alarm is being set.",
    "A fault while a detector is still asleep from somebody's leaving; each is tried by itself.",
    "An intruder who closes doors again (beside a person both are tried), or crosses the yard between buildings.",
)
