"""Choice of detectors: what fits where and why, the best sets with their bound, what each adds, the parts list."""

from collections import Counter
from collections.abc import Iterator
from itertools import groupby

from alarmlib.calc.choosing.device_candidates import LEAST_SHARE, Candidate
from alarmlib.calc.choosing.device_choice import DeviceChoice, choose, parts_list
from alarmlib.calc.choosing.fits import NEEDS_CONTACT, TELLS_OPENING, Fit, fits, link_fits, opening_fits, room_fits
from alarmlib.calc.choosing.links import cable_reason, run_to_unit_m
from alarmlib.calc.choosing.needs import Cover
from alarmlib.errors import AlarmProblem
from alarmlib.model.questions import present
from alarmlib.model.site import Opening, Room
from alarmlib.model.words import DETECTORS, DeviceKind, Share
from alarmlib.record.blocks import Block, Subheading, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.section import section
from alarmlib.sources import cite
from alarmlib.units import Kind, rounded, show


@section("choice", "Choice of detectors", level=Share.OWNER, needs=("site.rooms", "site.openings"))
def choice(context: Context) -> Iterator[Block]:
    """Fits, sets and parts."""
    home = context.home
    yield Table(
        "Wired or wireless",
        ("Connection", "Suits", "Because"),
        tuple((fit.link.text, fit.verdict.value, " ".join(fit.reasons)) for fit in link_fits(home)),
    )
    links = tuple(row for room in home.site.rooms if room.guarded and any((row := _link_row(context, room))[3:]))
    if links:
        header = ("Room", "Wired", "Wireless", "Shortest cable", "Because")
        yield Table("Wired or wireless, room by room", header, links, frozenset({3}))
    yield Text((f"Shock and glass-break detectors: {NEEDS_CONTACT} Contacts on glass: {TELLS_OPENING}",))
    rows = tuple(_opening_row(context, opening) for opening in home.site.openings)
    yield Table("What fits each way in", ("Way in", "Contact", "Shock", "Glass break", "Because"), rows)
    rooms = tuple(_room_row(context, room_fits(home, room)) for room in home.site.rooms if room.guarded)
    yield Table("Where a motion detector fits", ("Room", "Suits", "Because"), rooms)
    told = dict.fromkeys(source for fit in fits(home) for source in fit.sources)
    if told:
        yield Text((f"These reasons come from: {'; '.join(str(cite(source)) for source in told)}.",))
    try:
        found = choose(context.asked)
    except AlarmProblem as problem:
        yield Text((str(problem),))
        return
    yield from _sets(context, found)


def _link_row(context: Context, room: Room) -> tuple[str, str, str, str, str]:
    """What a room adds to what holds for the whole home; the length of cable has a column of its own."""
    everywhere = {reason for fit in link_fits(context.home) for reason in fit.reasons}
    wired, free = link_fits(context.home, room)
    run_m = run_to_unit_m(context.home, room)
    told = {*everywhere, cable_reason(run_m)}
    own = (reason for reason in (*wired.reasons, *free.reasons) if reason not in told)
    cable = "" if run_m is None else show(run_m, Kind.LENGTH, context.home.units)
    return context.name("room", room.id), wired.verdict.value, free.verdict.value, cable, " ".join(own)


def _opening_row(context: Context, opening: Opening) -> tuple[str, ...]:
    found = opening_fits(context.home, opening)
    told = {NEEDS_CONTACT, TELLS_OPENING}
    reasons = dict.fromkeys(reason for fit in found for reason in fit.reasons if reason not in told)
    return context.name("opening", opening.id), *(fit.verdict.value for fit in found), " ".join(reasons)


def _room_row(context: Context, fit: Fit) -> tuple[str, str, str]:
    return context.name("room", fit.subject), fit.verdict.value, " ".join(fit.reasons)


def _sets(context: Context, found: DeviceChoice) -> Iterator[Block]:
    yield Subheading("The best choices")
    yield Text((_claim(found),))
    yield Table(
        "Choices that cover all of it",
        ("Choice", "Detectors", "Costs", "At least"),
        tuple(_set_rows(context, found)),
    )
    if found.unpriced and context.sees(Share.OWNER):
        yield Text((f"No price is entered for: {', '.join(kind.text for kind in found.unpriced)}.",))
    yield Table(
        "The choice with the fewest detectors",
        ("Kind", "Where", "Covers"),
        tuple(_chosen(context, found, found.fewest)),
    )
    if found.missing.chosen:
        yield Table(
            "What is missing beside the detectors there",
            ("Kind", "Where", "Covers"),
            tuple(_chosen(context, found, found.missing)),
        )
    yield Table(
        "The most that so many detectors can cover, from nothing",
        ("Detectors", "Covered", "Of all", "Each of them adds"),
        tuple(_most_rows(found)),
        frozenset({0, 1, 2, 3}),
    )
    alone = tuple(
        (context.name("device", found.candidate(name).device), _things(context, covered))
        for name, covered in found.alone.items()
        if covered
    )
    if alone:
        yield Table("What each detector alone covers", ("Detector", "No other covers"), alone)
    yield _parts(context)


def _set_rows(context: Context, found: DeviceChoice) -> Iterator[tuple[str, str, str, str]]:
    priced = context.sees(Share.OWNER)
    yield _set("Fewest, from nothing", found.fewest, "detectors")
    if found.cheapest is not None and priced:
        yield _set("Cheapest, from nothing", found.cheapest, "", 100)
    if found.missing.chosen and found.unpriced:
        yield _set("Fewest, beside those there", found.missing, "detectors")
    elif found.missing.chosen and priced:
        yield _set("Cheapest, beside those there", found.missing, "", 100)


def _most_rows(found: DeviceChoice) -> Iterator[tuple[str, str, str, str]]:
    """A row for each stretch of numbers in which each further detector adds as much."""
    before, gains = 0, []
    for count, covered in found.most_by_count:
        gains.append((covered - before, count, covered))
        before = covered
    for gain, stretch in groupby(gains, key=lambda each: each[0]):
        rows = list(stretch)
        first, (_, last, covered) = rows[0][1], rows[-1]
        numbers = f"{first}" if first == last else f"{first} to {last}"
        yield numbers, str(covered), f"{covered / len(found.wanted):.0%}", str(gain)


def _claim(found: DeviceChoice) -> str:
    counts = Counter(thing.partition(":")[0] for thing in found.wanted)
    left = f" {len(found.fewest.left)} of them can be covered by no candidate." if found.fewest.left else ""
    return (
        f"{counts['opening']} ways in are to be covered, each by a contact. The glass of {counts['glass']} of them is "
        "covered by a shock or glass-break detector, or by a watched room behind it while that listens. "
        f"In {counts['room']} guarded rooms, motion detectors, together if need be, are computed to see "
        f"at least {LEAST_SHARE:.0%} of the free floor.{left} Candidates are the detectors there, and contacts, shock "
        "and glass-break detectors where they fit. A motion detector is tried in each corner of a room, turned to its "
        "middle. The last column says what is proven: less would not cover the same."
    )


def _set(name: str, cover: Cover, unit: str, parts: int = 1) -> tuple[str, str, str, str]:
    cost, bound = (f"{rounded(value / parts, 9)} {unit}".strip() for value in (cover.cost, cover.bound))
    return name, str(len(cover.chosen)), cost, bound if cover.proven else f"{bound}, not reached in time"


def _chosen(context: Context, found: DeviceChoice, cover: Cover) -> Iterator[tuple[str, str, str]]:
    """The devices of a set, new contacts in one row: each is at its own way in."""
    chosen = [found.candidate(name) for name in cover.chosen]
    contacts = [each for each in chosen if each.kind is DeviceKind.CONTACT and not each.device]
    if contacts:
        covered = frozenset[str]().union(*(each.covers for each in contacts))
        yield contacts[0].kind.text, f"{len(contacts)}, one at each", _things(context, covered)
    for each in (each for each in chosen if each not in contacts):
        added = _things(context, found.added(each.id, cover.chosen))
        yield each.kind.text, _where(context, each), added or _in_part(context, found, each)


def _where(context: Context, each: Candidate) -> str:
    if each.device:
        return context.name("device", each.device)
    corner = f", corner at {each.at[0]:g}, {each.at[1]:g} m" if each.at and each.kind is DeviceKind.MOTION else ""
    return f"{context.name('room', each.room)}{corner}"


def _in_part(context: Context, found: DeviceChoice, each: Candidate) -> str:
    """What a detector covers only together with others."""
    return f"{_things(context, found.takes_part(each.id))} (with others)"


def _things(context: Context, things: frozenset[str]) -> str:
    return ", ".join(_thing(context, *thing.split(":", 1)) for thing in sorted(things))


def _thing(context: Context, what: str, name: str) -> str:
    return f"{context.name('opening', name)} (glass)" if what == "glass" else context.name(what, name)


def _parts(context: Context) -> Table:
    """All detectors that are there or planned, by kind, with the owner's prices in the owner's copy."""
    listed = parts_list(context.home, present(context.home, *DETECTORS))
    priced = context.sees(Share.OWNER)
    rows = [(kind.text, str(count), "" if cost is None else f"{cost:.2f}") for kind, count, cost in listed]
    if priced:
        known = sum(cost for _, _, cost in listed if cost is not None)
        rows.append(("All that have a price", str(sum(count for _, count, _ in listed)), f"{known:.2f}"))
        return Table("Parts by kind", ("Kind", "Number", "Cost"), tuple(rows), frozenset({1, 2}))
    return Table("Parts by kind", ("Kind", "Number"), tuple(row[:2] for row in rows), frozenset({1}))
