"""How the unit behaves against what the country's rules ask; confirmation by a second zone."""

from alarmlib.checks.check import CheckGroup, Said, check, must, note, should, weigh
from alarmlib.checks.finding import Finding
from alarmlib.checks.home.ways import rooms_between
from alarmlib.checks.lookup import said, zones
from alarmlib.control.from_home import behaviour_of
from alarmlib.model import Home
from alarmlib.model.control_unit import Zone
from alarmlib.model.questions import at_work_of_zones
from alarmlib.model.unit_facts import OffRoute, StillOpen
from alarmlib.model.words import LIFE_SAFETY
from alarmlib.rules import rules_of
from alarmlib.rules.rule import Bound
from alarmlib.sources import cite

QUIET_START_S = 60.0


@check
def repeat_trips(home: Home) -> Said:
    """One zone cannot sound the siren without end."""
    limit, most = home.control_unit.behaviour.repeat_trip_limit, rules_of(home).setting.most_repeat_trips
    if limit is not None and limit > most.value:
        yield weigh(
            most.binds,
            "unit",
            f"Control unit: one zone may alarm {limit} times in a set period. With a faulty detector the "
            "neighbours soon stop listening.",
            "Choose two, or six at most.",
            most.source,
            figure=str(limit),
            limit=f"{most.value:g}",
            margin=f"{most.value - limit:g}",
        )


@check
def quiet_start(home: Home) -> Said:
    """The unit ignores detectors long enough after power returns."""
    quiet_s = home.control_unit.behaviour.ignores_after_power_s
    if quiet_s is not None and quiet_s < QUIET_START_S:
        yield should(
            "unit",
            f"Control unit: after a power cut it ignores detectors for only {quiet_s:g} s, and some detectors "
            "wake up tripped.",
            "Choose 60 s or more, if the control unit lets you.",
            "cp01_power",
            figure=f"{quiet_s:g} s",
            limit=f"{QUIET_START_S:g} s",
            margin=f"{quiet_s - QUIET_START_S:g} s",
        )


@check
def fire_after_power(home: Home) -> Said:
    """Fire and carbon monoxide are heard when power has just come back."""
    zones_of_life = [zone for zone in home.control_unit.zones if zone.function in LIFE_SAFETY]
    quiet_s = behaviour_of(home).ignore_after_power_s
    said_so = home.control_unit.behaviour.life_heard_after_power
    if not zones_of_life or not quiet_s or said_so:
        return
    names = ", ".join(f"“{zone.label}”" for zone in zones_of_life)
    figure = {"figure": f"{quiet_s} s", "limit": "0 s"}
    if said_so is None:
        message = f"Control unit: it may not hear fire or CO for {quiet_s} s after its power returns. Zones: {names}."
        remedy = "Look in its manual under power loss or restart, and answer on page 03. Until then it counts as deaf."
        yield should("unit", f"{message} Nobody would be told of smoke or CO then.", remedy, "owner", **figure)
    else:
        message = f"Control unit: it hears no fire and no CO for {quiet_s} s after its power returns. Zones: {names}."
        remedy = "Have listed smoke and CO alarms that sound by themselves. Ask the maker whether the time can be cut."
        yield should("unit", f"{message} Nobody is told of smoke or CO then.", remedy, "owner", **figure)


@check
def setting_unlike_the_rule_set(home: Home) -> Said:
    """What the unit does at setting is known where it departs from the habit of the country's rules."""
    behaviour, setting = home.control_unit.behaviour, rules_of(home).setting
    if setting.holds_up and behaviour.off_route_in_exit is OffRoute.AT_ONCE:
        message = (
            "Control unit: in the exit delay, a trip off the exit route sounds at once. The European rule holds "
            "up setting instead."
        )
        yield note("unit", message, "Close everything before you set the alarm.", setting.holds_up.source)
    if setting.holds_up and behaviour.still_open_at_end is StillOpen.EXIT_ERROR:
        message = (
            "Control unit: an entry/exit door left open gives an alarm. Under the European rule, setting is "
            "not completed instead."
        )
        yield note("unit", message, "Close the door before the exit delay ends.", setting.holds_up.source)
    if setting.tamper_inside and behaviour.tamper_outside_when_unset:
        message = (
            "Control unit: tamper sounds the outside siren even while unset. EN 50131-1 keeps it to the inside "
            "sounder then."
        )
        yield should("unit", message, "Set tamper to the inside sounder while unset.", setting.tamper_inside.source)


@check
def confirmation_window(home: Home) -> Said:
    """Zones that confirm one another do so within a window that the country's rules allow."""
    window_s, limits = home.control_unit.behaviour.confirmation_s, rules_of(home).confirmation
    partners = [zone for zone in home.control_unit.zones if zone.confirmed_by]
    if partners and window_s is None:
        message = (
            "Control unit: some zones wait for one another, but you have not entered the time within which both "
            "must trip."
        )
        yield should("unit", message, "Look in your control unit's manual.", "owner")
    if not partners or window_s is None:
        return
    for bound, low in ((limits.least, True), (limits.most, False)):
        if bound is not None and (window_s < bound.value_s if low else window_s > bound.value_s):
            yield _outside(window_s, bound, low)


def _outside(window_s: float, bound: Bound, low: bool) -> Finding:
    """The finding on a window outside a bound; Britain's is about watched systems, so it is a note here."""
    margin_s = window_s - bound.value_s if low else bound.value_s - window_s
    numbers = {"figure": f"{window_s:g} s", "limit": f"{bound.value_s:g} s", "margin": f"{margin_s:g} s"}
    word = "shorter" if low else "longer"
    if cite(bound.cite).elsewhere:
        message = (
            f"Control unit: two zones must trip within {window_s:g} s. In Britain, police ask for a time that is "
            f"not {word}, where an alarm receiving centre watches the system."
        )
        remedy = f"If such a centre watches yours, ask it and set {bound.value_s / 60:g} min. Otherwise choose freely."
        return note("unit", message, remedy, bound.cite, **numbers)
    message = f"Control unit: two zones must trip within {window_s:g} s, which is {word} than usual."
    remedy = f"Set it to {bound.value_s:g} s, or let the zones alarm alone. Check with your control unit's manual."
    return should("unit", message, remedy, bound.cite, **numbers)


@check
def partners_apart(home: Home) -> Said:
    """Two zones that confirm one another can both notice one person."""
    known = zones(home)
    for zone in home.control_unit.zones:
        partner = known.get(zone.confirmed_by)
        if partner is None:
            continue
        if partner.id == zone.id:
            message = f"Zone {said(zone.label)} waits for itself."
            yield must(zone.id, message, "Name another zone, or none.", "owner")
        elif partner.function in LIFE_SAFETY:
            message = (
                f"Zone {said(zone.label)} waits for the {partner.function.text} zone {said(partner.label)}: "
                "an intruder alone never trips both, so it stays silent."
            )
            remedy = "Name a burglary zone, or none. Check with your control unit's manual."
            yield should(zone.id, message, remedy, "life_safety_zones")
        elif not _one_person_trips_both(home, zone, partner):
            yield should(
                zone.id,
                f"Zone {said(zone.label)} alarms only if {said(partner.label)} trips too, "
                "but their rooms do not lie next to one another: one intruder may never trip both.",
                "Let it alarm alone, or choose a partner in the same or the next room.",
            )


def _one_person_trips_both(home: Home, zone: Zone, partner: Zone) -> bool:
    """Whether some device of the one lies in the room of, or next to, a device of the other."""
    held = at_work_of_zones(home)
    one, other = ({d.room for d in held.get(z.id, ()) if d.room} for z in (zone, partner))
    if not one or not other or one & other:
        return True
    return any(0 < len(rooms_between(home, room, other)) <= 2 for room in one)


GROUP = CheckGroup(
    "control",
    (repeat_trips, quiet_start, fire_after_power, setting_unlike_the_rule_set, confirmation_window, partners_apart),
)
