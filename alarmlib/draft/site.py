"""The home itself from the answers of the short path: storeys, rooms, ways in and doors inside."""

from collections.abc import Iterable, Iterator

from alarmlib.draft.lines import Reader, commas, lines, slug
from alarmlib.draft.rooms import GROUND, NamedRoom, level_of, named_rooms, use_of
from alarmlib.model.control_unit import Area
from alarmlib.model.home import Home
from alarmlib.model.site import Opening, OpeningKind, Passage, PassageKind, Reach, Room, RoomUse, Site, Storey, Yes
from alarmlib.rules import rules_of

_HOW = (
    ("ladder", Reach.NOT),
    ("roof", Reach.FLAT_ROOF),
    ("balcon", Reach.FLAT_ROOF),
    ("terrace", Reach.FLAT_ROOF),
    ("tree", Reach.CLIMB),
    ("pipe", Reach.CLIMB),
    ("bin", Reach.CLIMB),
    ("climb", Reach.CLIMB),
    ("ground", Reach.GROUND),
    ("stairs", Reach.GROUND),
)
_BURNS = ("boiler", "furnace", "fireplace", "stove", "heating")


class SiteDraft:
    """Reads the site; elements that `home` already has by the same name keep the ids they have there."""

    def __init__(self, home: Home, reader: Reader) -> None:
        self.home, self.reader, self.answers = home, reader, home.short_path
        self.area = _area(home)
        self.named = named_rooms(reader)
        self.apart = self._apart()
        self.storeys = tuple(self._storeys())
        self.rooms = tuple(self._rooms())
        self.by_name = {room.name: room.id for room in self.rooms}
        self.level = {storey.id: storey.level for storey in self.storeys}
        self.doors = self._doors()
        self.windows = self._windows()
        self.home_by = self._home_by()
        self.burning = frozenset(reader.chosen("fuel_rooms", self.by_name, "rooms"))

    def site(self) -> Site:
        """Everything together."""
        joined = tuple(self._passages())
        return Site(
            storeys=self.storeys,
            rooms=tuple(self._burning(room) for room in self.rooms),
            openings=(*self.doors, *self.windows),
            passages=joined,
            fuel_appliances=self.answers.fuel,
            attached_garage=self._garage(joined),
        )

    def upstairs(self, room: str) -> bool:
        """Whether a room lies above the ground floor."""
        return any(r.id == room and self.level[r.storey] > 0 for r in self.rooms)

    def _apart(self) -> tuple[NamedRoom, ...]:
        """The buildings apart that are no rooms of the house already, on its ground floor."""
        house = {room.name.casefold() for room in self.named}
        ground = next((room.storey for room in self.named if room.storey.casefold() == GROUND), GROUND)
        names = dict.fromkeys(name for line in lines(self.answers.outbuildings) for name in commas(line))
        return tuple(NamedRoom(name, ground) for name in names if name.casefold() not in house)

    def guessed(self) -> tuple[tuple[str, str], ...]:
        """Rooms that are assumed to be joined: a hall with each room of its storey, and halls above each other.

        Where a storey has no hall, its first room replaces it. Reference: common practice, no source.
        """
        hubs: list[str] = []
        pairs: list[tuple[str, str]] = []
        for storey in sorted(self.storeys, key=lambda each: each.level):
            on_it = [room for room in self.rooms if room.storey == storey.id and room.name not in self._apart_names]
            halls = [room.name for room in on_it if room.use is RoomUse.HALL] or [room.name for room in on_it[:1]]
            pairs += [(hub, halls[0]) for hub in hubs[-1:] if halls]
            pairs += [(halls[0], room.name) for room in on_it if room.name != halls[0]]
            hubs += halls[:1]
        return tuple(pairs)

    @property
    def _apart_names(self) -> frozenset[str]:
        return frozenset(room.name for room in self.apart)

    def _storeys(self) -> Iterator[Storey]:
        american = rules_of(self.home).first_floor_on_the_ground
        names = {room.storey.casefold(): room.storey for room in (*self.named, *self.apart)}
        for number, name in enumerate(names.values()):
            yield Storey(id=_kept(name, self.home.site.storeys), name=name, level=level_of(name, american, number))

    def _rooms(self) -> Iterator[Room]:
        storeys = {storey.name.casefold(): storey.id for storey in self.storeys}
        sleeping = self._sleeping()
        taken: list[str] = []
        for room in (*self.named, *self.apart):
            taken.append(_kept(room.name, self.home.site.rooms, taken))
            yield Room(
                id=taken[-1],
                name=room.name,
                storey=storeys[room.storey.casefold()],
                use=use_of(room.name),
                area=self.area.id,
                sleeps_here=room.name.casefold() in sleeping,
            )

    def _sleeping(self) -> frozenset[str]:
        """The rooms where somebody sleeps; where none is answered, each that is called a bedroom."""
        names = {room.name: room.name.casefold() for room in self.named}
        told = self.reader.chosen("bedrooms", names, "rooms")
        self.beds_told = bool(told)
        return frozenset(told or (fold for name, fold in names.items() if use_of(name) is RoomUse.BEDROOM))

    def _doors(self) -> tuple[Opening, ...]:
        taken: list[str] = []
        found = []
        for name, (room, *more) in self.reader.pairs("outside_doors"):
            where = self.reader.find("outside_doors", ", ".join((room, *more)), self.by_name, "rooms")
            if where is not None:
                taken.append(_kept(name, self.home.site.openings, taken))
                found.append(Opening(id=taken[-1], name=name, room=where, kind=_door_kind(name)))
        if found:
            found += self._doors_apart(found, taken)
        coming = self._coming_by(tuple(found))
        return tuple(door.model_copy(update={"entry_exit": door.id in coming, "reach": self._door_reach(door, coming)})
                     for door in found)  # fmt: skip

    def _doors_apart(self, doors: Iterable[Opening], taken: list[str]) -> Iterator[Opening]:
        """A door for each building apart that none is listed of."""
        listed = {door.room for door in doors}
        for room in self.apart:
            if self.by_name[room.name] not in listed:
                name = f"{room.name} door"
                taken.append(_kept(name, self.home.site.openings, taken))
                yield Opening(id=taken[-1], name=name, room=self.by_name[room.name], kind=_door_kind(name))

    def _coming_by(self, doors: tuple[Opening, ...]) -> tuple[str, ...]:
        named = self.reader.chosen("home_by", {door.name: door.id for door in doors}, "doors") if doors else ()
        return named or tuple(door.id for door in doors[:1])

    def _door_reach(self, door: Opening, coming: tuple[str, ...]) -> Reach:
        """A door upstairs that nobody comes home by leads to a balcony or a roof, or it isn't known where."""
        if door.id in coming or not self.upstairs(door.room):
            return Reach.GROUND
        return _how(door.name) or Reach.UNKNOWN

    def _windows(self) -> tuple[Opening, ...]:
        taken = [door.id for door in self.doors]
        found = []
        for name, (room, *more) in self.reader.pairs("windows"):
            where = self.reader.find("windows", room, self.by_name, "rooms")
            if where is None:
                continue
            told = _how(", ".join(more))
            if more and told is None:
                wanted = "say how it is reached: from the ground, a flat roof, a balcony, a tree, or with a ladder"
                self.reader.refuse("windows", ", ".join(more), wanted)
            reach = told or (Reach.NOT if self.upstairs(where) else Reach.GROUND)
            taken.append(_kept(name, self.home.site.openings, taken))
            found.append(Opening(id=taken[-1], name=name, room=where, kind=OpeningKind.WINDOW, reach=reach))
        return tuple(found)

    def _home_by(self) -> tuple[Opening, ...]:
        return tuple(door for door in self.doors if door.entry_exit)

    def _passages(self) -> Iterator[Passage]:
        storey = {room.id: room.storey for room in self.rooms}
        known = {frozenset((p.first, p.second)): p.id for p in self.home.site.passages}
        taken = [passage.id for passage in self.home.site.passages]
        seen: set[frozenset[str]] = set()
        for name, others in self._listed_pairs():
            first = self.reader.find("inner_doors", name, self.by_name, "rooms")
            for other in others if first is not None else ():
                second = self.reader.find("inner_doors", other, self.by_name, "rooms")
                if first is None or second is None or first == second or frozenset((first, second)) in seen:
                    continue
                seen.add(frozenset((first, second)))
                kind = PassageKind.DOOR if storey[first] == storey[second] else PassageKind.STAIRS
                own = known.get(frozenset((first, second))) or slug(f"{first[:19]}_to_{second[:17]}", taken)
                taken.append(own)
                yield Passage(id=own, first=first, second=second, kind=kind)

    def _listed_pairs(self) -> Iterator[tuple[str, tuple[str, ...]]]:
        """The rooms that are joined as listed; those that are assumed where the answer is that nobody knows."""
        if self.answers.inner_doors.strip() or "joined" not in commas(self.answers.not_known):
            return self.reader.pairs("inner_doors")
        return ((first, (second,)) for first, second in self.guessed())

    def _burning(self, room: Room) -> Room:
        """A room has what burns where that is answered or its name says so, unless the answer is no."""
        named = any(word in room.name.casefold() for word in _BURNS)
        burns = self.answers.fuel is not Yes.NO and (named or room.id in self.burning)
        return room.model_copy(update={"fuel_appliance": burns})

    def _garage(self, joined: Iterable[Passage]) -> Yes:
        """A garage with a door into the house is joined to it; otherwise nobody has said."""
        garages = {room.id for room in self.rooms if room.use is RoomUse.GARAGE}
        if any({p.first, p.second} & garages for p in joined):
            return Yes.YES
        return Yes.NO if self.answers.fuel is Yes.NO else Yes.UNKNOWN


def _area(home: Home) -> Area:
    """The area that the draft is for: the home's first."""
    first = home.control_unit.areas[:1]
    return first[0].model_copy(update={"follows": ""}) if first else Area(id="house", name="House")


def _door_kind(name: str) -> OpeningKind:
    return OpeningKind.GARAGE_DOOR if "garage" in name.casefold() else OpeningKind.DOOR


def _how(text: str) -> Reach | None:
    return next((reach for word, reach in _HOW if word in text.casefold()), None)


def _kept(name: str, entered: Iterable[Opening | Room | Storey], taken: Iterable[str] = ()) -> str:
    """The id that an element of this name has already, else one unlike all."""
    taken = tuple(taken)
    same = (each.id for each in entered if each.name.casefold() == name.casefold() and each.id not in taken)
    return next(same, None) or slug(name, (*taken, *(each.id for each in entered)))


def rooms_read(named: Iterable[NamedRoom]) -> Iterator[str]:
    """How lines with several rooms were read, a sentence a storey."""
    storeys: dict[str, list[NamedRoom]] = {}
    for room in named:
        storeys.setdefault(room.storey, []).append(room)
    for storey, rooms in storeys.items():
        if any(room.beside for room in rooms):
            yield f"Rooms read from your answer, {storey}: {', '.join(room.name for room in rooms)}."
