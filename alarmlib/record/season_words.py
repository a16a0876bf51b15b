"""Which season's values are on a sheet, and what is different in the other sets."""

from collections.abc import Iterator

from alarmlib.calc.times.seasons import months_of, unit_in
from alarmlib.model.control_unit import ControlUnit, SeasonBy, Times
from alarmlib.record.blocks import Block, Table, Text, named
from alarmlib.record.context import Context
from alarmlib.units import Kind, show

ORDINARY = "The ordinary settings"


def season_note(context: Context) -> Iterator[Block]:
    """The set whose values follow, by name, and who decided that; nothing where there are no seasons."""
    unit, season = context.home.control_unit, context.season
    if not unit.seasons:
        return
    name = f"the season {named(season.name)}" if season else "the ordinary settings"
    if unit.season_by is SeasonBy.OWNER:
        why = "as the owner decided"
    elif context.date:
        why = f"in force on {context.date}" if season else f"since no season is in force on {context.date}"
    else:
        why = "since the day decides which season is in force"
    yield Text((f"These are the values of {name}, {why}.",))


def other_sets(context: Context, caption: str, zones: bool = True) -> Iterator[Block]:
    """What is otherwise in each set not in force: times, entry/exit doors and, where they are told of, zones."""
    unit = context.home.control_unit
    others = [each for each in (None, *unit.seasons) if each != context.season] if unit.seasons else []
    rows = tuple(
        (
            named(each.name) if each else ORDINARY,
            months_of(each) if each else "the other months",
            "; ".join(_differs(context, unit_in(unit, each), zones)) or "nothing",
        )
        for each in others
    )
    if rows:
        yield Table(caption, ("Season", "When", "Different"), rows)


def door_times(times: Times, door: str) -> tuple[float | None, float | None]:
    """Entry and exit delay of an entry/exit door in seconds: its own, or the unit's where it has none."""
    own = next((each for each in times.doors if each.opening == door), None)
    entry_s, exit_s = (own.entry_s, own.exit_s) if own else (None, None)
    return times.entry_s if entry_s is None else entry_s, times.exit_s if exit_s is None else exit_s


def _differs(context: Context, other: ControlUnit, zones: bool) -> Iterator[str]:
    """Times, entry/exit doors and zones of another set that are not as in the set in force."""
    now = context.control_unit
    for word, field in (("entry delay", "entry_s"), ("exit delay", "exit_s")):
        if getattr(other.times, field) != getattr(now.times, field):
            yield f"{word} {_seconds(getattr(other.times, field))}"
    for door in (opening.id for opening in context.home.site.openings if opening.entry_exit):
        if door_times(other.times, door) != door_times(now.times, door):
            entry, leaving = map(_seconds, door_times(other.times, door))
            yield f"{context.name('opening', door)}: entry {entry}, exit {leaving}"
    for zone, as_now in zip(other.zones, now.zones, strict=True):
        if zones and (zone.function, zone.out_of_use) != (as_now.function, as_now.out_of_use):
            yield f"{context.name('zone', zone.id)}: {'out of use' if zone.out_of_use else zone.function.text}"


def _seconds(value: float | None) -> str:
    return "not set" if value is None else show(value, Kind.TIME, "metric")
