"""What each question of the short path offers to pick, from the answers before."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from alarmlib.draft.lines import commas
from alarmlib.draft.picks import FLOORS, ListedWay, Picks, base_of, outbuildings
from alarmlib.model.short_path import Pace, ShortPath
from alarmlib.model.site import RoomUse, Yes

APART = ("Shed", "Garage", "Workshop", "Garden room")
NEEDS = (
    ("slow", "Somebody walks slowly"),
    ("very_slow", "Somebody walks very slowly or with a stick"),
    ("carries", "Somebody comes home with full hands"),
    ("wont_wake", "Somebody would not wake by an alarm: a child, or who sleeps deeply or hears badly"),
)
_GROUND = ("Hall", "Kitchen", "Living room", "Dining room", "Study", "Bedroom", "Bathroom", "Toilet", "Utility room",
           "Pantry", "Garage", "Conservatory")  # fmt: skip
_UPPER = ("Landing", "Bedroom", "Bathroom", "Toilet", "Study", "Box room", "Living room", "Kitchen")
_OFFERED = {"cellar": ("Cellar", "Utility room", "Store", "Boiler room"), "attic": ("Attic", "Bedroom", "Bathroom")}
_SILENT = frozenset({"pets", "pets_at_night", "night_set"})  # what a blank holds could be an answer too
_OFTEN = frozenset({"Bedroom", "Bathroom", "Toilet", "Living room", "Study", "Hall"})


@dataclass(frozen=True)
class Option:
    """A thing to pick: the key by which it is asked for, its words, whether it is picked; `more` adds another one."""

    key: str
    label: str
    on: bool = False
    more: str = ""


@dataclass(frozen=True)
class OptionGroup:
    """Options under one legend; `add` is the label of a field for a name that is not among them."""

    key: str
    legend: str
    options: tuple[Option, ...]
    add: str = ""


def floor_offers(picks: Picks) -> tuple[OptionGroup, ...]:
    there = {floor.casefold() for floor in picks.floors}
    names = (*FLOORS, *(floor for floor in picks.floors if floor not in FLOORS))
    return (OptionGroup("", "", tuple(Option(name, name, name.casefold() in there) for name in names)),)


def room_offers(picks: Picks) -> tuple[OptionGroup, ...]:
    return tuple(OptionGroup(floor, floor, tuple(_rooms_on(picks, floor)), "Another room") for floor in picks.floors)


def offered_on(picks: Picks, floor: str) -> tuple[str, ...]:
    """The names that are offered for the rooms of a floor."""
    usual = _UPPER if picks.is_upper(floor) else _GROUND
    return _OFFERED.get(floor.casefold(), usual)


def _rooms_on(picks: Picks, floor: str) -> Iterator[Option]:
    names = [room.name for room in picks.on(floor)]
    offered = offered_on(picks, floor)
    for base in (*offered, *dict.fromkeys(base_of(name) for name in names if base_of(name) not in offered)):
        own = [name for name in names if base_of(name) == base]
        for number, name in enumerate(own or [base]):
            last = own and number == len(own) - 1 and base in _OFTEN
            yield Option(f"{base}:{number}", name, bool(own), f"One more {base.lower()}" if last else "")


def apart_offers(picks: Picks) -> tuple[OptionGroup, ...]:
    there = outbuildings(picks.answers)
    names = (*APART, *(name for name in there if name not in APART))
    return (OptionGroup("", "", tuple(Option(name, name, name in there) for name in names), "Another building"),)


def way_offers(field: str, noun: str, upper: bool | None = None) -> Callable[[Picks], tuple[OptionGroup, ...]]:
    """A group a floor with each room, and each door or window that is listed there."""

    def groups(picks: Picks) -> tuple[OptionGroup, ...]:
        floors = [floor for floor in picks.floors if upper is None or picks.is_upper(floor) is upper]
        return tuple(
            OptionGroup(floor, floor, tuple(_in_rooms(picks, floor, field, noun, bool(upper)))) for floor in floors
        )

    return groups


def reached(line: ListedWay, upper: bool) -> bool:
    """Whether a way in counts: above the ground only where its line tells how somebody gets there."""
    return not upper or (bool(line.how) and "ladder" not in ", ".join(line.how))


def _in_rooms(picks: Picks, floor: str, field: str, noun: str, upper: bool) -> Iterator[Option]:
    found = picks.lines(field)
    for room in picks.on(floor):
        own = [line for line in found if line.room.casefold() == room.name.casefold() and reached(line, upper)]
        for number, line in enumerate(own):
            last = number == len(own) - 1
            label = line.name if room.name.casefold() in line.name.casefold() else f"{line.name}, {room.name}"
            yield Option(f"{room.name}:{number}", label, True, f"One more {noun}, {room.name}" if last else "")
        if not own:
            yield Option(f"{room.name}:0", room.name)


def home_by_offers(picks: Picks) -> tuple[OptionGroup, ...]:
    doors = [line.name for line in picks.lines("outside_doors")]
    picked = picks.chosen("home_by", doors) or tuple(doors[:1])
    return (OptionGroup("", "", tuple(Option(door, door, door in picked) for door in doors)),)


def _hubs(picks: Picks) -> tuple[str, ...]:
    halls = tuple(room.name for room in picks.rooms if picks.use(room.name) is RoomUse.HALL)
    return halls or tuple(dict.fromkeys(first for first, _ in picks.site.guessed()))


def joined_offers(picks: Picks) -> tuple[OptionGroup, ...]:
    pairs = {frozenset(pair) for pair in picks.joined()}
    hubs = _hubs(picks)
    floor = {room.name: room.storey.casefold() for room in picks.rooms}

    def near(hub: str, other: str) -> bool:
        return other != hub and (floor[hub] == floor[other] or (other in hubs and hubs.index(hub) < hubs.index(other)))

    return tuple(
        OptionGroup(hub, f"From {_the(hub)} you walk to", tuple(
            Option(other, other, frozenset((hub, other)) in pairs) for other in floor if near(hub, other)
        ))
        for hub in hubs
    )  # fmt: skip


def _the(room: str) -> str:
    return f"“{room}”"


def rest_offers(picks: Picks) -> tuple[OptionGroup, ...]:
    pairs = {frozenset(pair) for pair in picks.joined()}
    alone = [name for name in (room.name for room in picks.rooms) if name not in _hubs(picks)]
    shown = [name for name in alone if not any(frozenset((name, hub)) in pairs for hub in _hubs(picks))]
    return tuple(
        OptionGroup(name, f"To {_the(name)} you walk from", tuple(
            Option(room.name, room.name, frozenset((name, room.name)) in pairs)
            for room in picks.rooms if room.name != name
        ))
        for name in shown
    )  # fmt: skip


def one_room(field: str) -> Callable[[Picks], tuple[OptionGroup, ...]]:
    """Each room, one of which is picked."""

    def groups(picks: Picks) -> tuple[OptionGroup, ...]:
        now = str(getattr(picks.answers, field)).casefold().strip()
        return (_one((room.name, room.name, room.name.casefold() == now) for room in picks.rooms),)

    return groups


def several_rooms(field: str, use: RoomUse | None = None) -> Callable[[Picks], tuple[OptionGroup, ...]]:
    """Each room, several of which may be picked; at first those of a use."""

    def groups(picks: Picks) -> tuple[OptionGroup, ...]:
        names = [room.name for room in picks.rooms]
        picked = picks.chosen(field, names)
        first = () if use is None or picked else tuple(name for name in names if picks.use(name) is use)
        return (_one((name, name, name in (picked or first)) for name in names),)

    return groups


def _one(rows: Iterator[tuple[str, str, bool]]) -> OptionGroup:
    return OptionGroup("", "", tuple(Option(*row) for row in rows))


def choice_of(field: str, words: Sequence[tuple[str, str]]) -> Callable[[Picks], tuple[OptionGroup, ...]]:
    """Values of a field with their words; “not known” is none of them."""

    def groups(picks: Picks) -> tuple[OptionGroup, ...]:
        now = getattr(picks.answers, field)
        value = ("yes" if now else "no") if isinstance(now, bool) else str(now.value)
        said = field not in _SILENT or not _is_open(picks, field)
        return (_one((key, label, said and key == value) for key, label in words),)

    return groups


def _is_open(picks: Picks, field: str) -> bool:
    """Whether a field still holds what a blank home holds and nobody said so."""
    return getattr(picks.answers, field) == getattr(ShortPath(), field) and field not in commas(picks.answers.asked)


def need_offers(picks: Picks) -> tuple[OptionGroup, ...]:
    answers = picks.answers
    on = {
        "slow": answers.pace is Pace.SLOW,
        "very_slow": answers.pace is Pace.VERY_SLOW,
        "carries": answers.carries,
        "wont_wake": answers.wont_wake is Yes.YES,
    }
    return (_one((key, label, on[key]) for key, label in NEEDS),)


def yes_or_no(field: str) -> Callable[[Picks], tuple[OptionGroup, ...]]:
    return choice_of(field, (("yes", "Yes"), ("no", "No")))
