"""Entry delays, exit delays and the siren time moved to another value that the unit allows, the nearest first."""

from collections.abc import Iterator
from typing import NamedTuple

from alarmlib.calc.times.time_limits import LONGEST_SIREN_S, SHORTEST_SIREN_S
from alarmlib.control.from_home import ENTRY_S, EXIT_S, SIREN_S
from alarmlib.model.control_unit import DoorTimes
from alarmlib.model.home import Home
from alarmlib.model.proof import ChangeKind
from alarmlib.model.unit_facts import AllowedTimes
from alarmlib.proof.repairs.changes import EditWay, FieldPath, RepairChange, RepairEdit
from alarmlib.proof.repairs.prices import LONGER_DELAY_PRICE, Prices
from alarmlib.rules import rules_of
from alarmlib.rules.rule import Bound, Limits

# Taken where the unit's manual say nothing: steps of 5 s (30 s for the siren), our own.
ASSUMED = {
    EditWay.ENTRY: AllowedTimes(low_s=5, high_s=120, step_s=5),
    EditWay.EXIT: AllowedTimes(low_s=5, high_s=240, step_s=5),
    EditWay.SIREN: AllowedTimes(low_s=30, high_s=900, step_s=30),
}
_FIELD = {EditWay.ENTRY: "entry_s", EditWay.EXIT: "exit_s", EditWay.SIREN: "siren_s"}
_DEFAULT = {EditWay.ENTRY: ENTRY_S, EditWay.EXIT: EXIT_S, EditWay.SIREN: SIREN_S}
_NAME = {EditWay.ENTRY: "entry delay", EditWay.EXIT: "exit delay", EditWay.SIREN: "siren time"}


_BECAUSE = {
    (EditWay.ENTRY, True): "people reach the keypad in time; an intruder gets the same time",
    (EditWay.ENTRY, False): "the siren or a message then comes sooner",
    (EditWay.EXIT, True): "people are out before it ends; somebody who slips in gets the same time",
    (EditWay.EXIT, False): "the alarm is set sooner",
    (EditWay.SIREN, True): "the siren is heard longer",
    (EditWay.SIREN, False): "the siren then keeps within the time allowed in an hour",
}


class _Place(NamedTuple):
    """A field that holds such a time: its path, its value; `door` when its row must be added first."""

    path: FieldPath
    now_s: float
    door: str = ""


def delay_changes(home: Home, prices: Prices) -> tuple[RepairChange, ...]:
    """Every other value of the unit's entry and exit delay, of each entry/exit door's, and of the siren time.

    A change reaches every season: making it longer moves all that are shorter, making it shorter all that are longer.
    The unit's own limits, else `ASSUMED`; within the rules (`alarmlib.rules`) and the local siren limit.
    """
    found: list[tuple[float, RepairChange]] = []
    doors = [opening.id for opening in home.site.openings if opening.entry_exit]
    for way in (EditWay.ENTRY, EditWay.EXIT):
        for opening in ("", *doors):
            found += _moved(home, prices, way, opening)
    found += _moved(home, prices, EditWay.SIREN, "")
    return tuple(change for _, change in sorted(found, key=lambda each: each[0]))


def _allowed(home: Home, way: EditWay) -> tuple[float, ...]:
    limits = home.control_unit.limits
    typed = {EditWay.ENTRY: limits.entry, EditWay.EXIT: limits.exit, EditWay.SIREN: limits.siren}[way]
    times = typed or ASSUMED[way]
    steps = int((min(times.high_s, 600) - times.low_s) // times.step_s)
    values = (times.low_s + times.step_s * number for number in range(steps + 1))
    return tuple(value_s for value_s in values if _within(value_s, _limits(home, way)))


def _limits(home: Home, way: EditWay) -> Limits:
    """What the rules of this home's country and its local siren limit allow."""
    if way is not EditWay.SIREN:
        return rules_of(home).entry if way is EditWay.ENTRY else rules_of(home).exit
    local_s = home.rules.siren_limit_s or LONGEST_SIREN_S
    most_s = min(local_s, LONGEST_SIREN_S)
    return Limits(Bound(min(SHORTEST_SIREN_S, most_s), "en50131_siren"), Bound(most_s, "en50131_siren"))


def _within(value_s: float, limits: Limits) -> bool:
    least_s = limits.least.value_s if limits.least else 0.0
    return least_s <= value_s and (limits.most is None or value_s <= limits.most.value_s)


def _moved(home: Home, prices: Prices, way: EditWay, opening: str) -> Iterator[tuple[float, RepairChange]]:
    """Each change with how many seconds it moves at most."""
    places = tuple(_places(home, prices, way, opening))
    for value_s in _allowed(home, way):
        shorter = tuple(place for place in places if place.now_s < value_s)
        longer = tuple(place for place in places if place.now_s > value_s)
        for moved, word in ((shorter, "longer"), (longer, "shorter")):
            if moved:
                furthest_s = max(abs(place.now_s - value_s) for place in moved)
                yield furthest_s, _change(home, prices, (way, opening, word), value_s, moved)


def entry_delays(home: Home, opening: str) -> tuple[float, ...]:
    """The entry delays of an entry/exit door (of the unit: "") in s, in the ordinary set and in each season.

    The home file; the unit's own where a door has none.
    """
    return tuple(place.now_s for place in _places(home, Prices(home), EditWay.ENTRY, opening))


def _places(home: Home, prices: Prices, way: EditWay, opening: str) -> Iterator[_Place]:
    """Where that time of the unit (or of a door) is, in the ordinary set and in each season."""
    times, field = home.control_unit.times, _FIELD[way]
    typed = getattr(times, field)
    plain_s = float(_DEFAULT[way] if typed is None else typed)
    if not opening:
        yield _Place(("control_unit", "times", field), plain_s)
        for season in home.control_unit.seasons if way is not EditWay.SIREN else ():
            season_s = getattr(season, field)
            if season_s is not None:
                yield _Place(("control_unit", "seasons", season.id, field), season_s)
        return
    rows = list(_rows(times.doors, ("control_unit", "times", "doors"), opening, field))
    yield from rows or [_Place(("control_unit", "times", "doors"), plain_s, prices.unused(f"{opening[:40]}_times"))]
    for season in home.control_unit.seasons:
        yield from _rows(season.doors, ("control_unit", "seasons", season.id, "doors"), opening, field)


def _rows(doors: tuple[DoorTimes, ...], path: FieldPath, opening: str, field: str) -> Iterator[_Place]:
    for door in doors:
        now_s = getattr(door, field)
        if door.opening == opening and now_s is not None:
            yield _Place((*path, door.id, field), now_s)


def _change(
    home: Home, prices: Prices, what: tuple[EditWay, str, str], value_s: float, places: tuple[_Place, ...]
) -> RepairChange:
    way, opening, word = what
    sooner = word == "shorter" or way is EditWay.SIREN
    price, assumed = prices.of(ChangeKind.DELAY, None if sooner else LONGER_DELAY_PRICE)
    names = {each.id: each.name for each in home.site.openings}
    of = f" of {names[opening]}" if opening else ""
    edits = tuple(
        RepairEdit(place.path, {"id": place.door, "opening": opening, _FIELD[way]: value_s}, "add")
        if place.door
        else RepairEdit(place.path, value_s)
        for place in places
    )
    return RepairChange(
        f"{way.value}/{opening or 'unit'}/{value_s:g}/{word}",
        way,
        sentence=f"Make the {_NAME[way]}{of} {word}: {value_s:g} s.",
        price=price,
        edits=edits,
        about=frozenset({opening}),
        slots=frozenset({f"{way.value}/{opening}", f"row/{opening}"} if opening else {way.value}),
        assumed=assumed,
        value_s=value_s,
        longer=word == "longer",
        because=_BECAUSE[way, word == "longer"],
    )
