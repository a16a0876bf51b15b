"""One fault, two at once, and faults as bits of a number for a search that carries all of them along."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

_NO_NAMES: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Fault:
    """Something that no longer works, or that somebody did wrong; it stays so for the whole of a search.

    `dead`: devices from which nothing arrives; `dead_keypads`: keypads, fobs and key switches that do nothing;
    `dead_sounders`, `lost_paths`: what is silent, `no_siren`, `no_message`: nothing is left of them;
    `unit_dead`: neither siren nor message nor log; `restarts`: the unit loses its power and starts again at the
    intruder's will, and ignores detectors for a while; `inhibited`: zones left out; `not_set`: areas that are
    unset although nobody is in; `spent`: zones that have given as many alarms in this set period as the unit
    listens to; `wrong_set`: "area/set" in which an area is set whatever was meant, at most
    one an area. `watches`: ids by which the unit may notice the fault, `trips`: devices that it holds tripped;
    `parts`: the single faults of a pair.
    """

    id: str
    sentence: str
    dead: frozenset[str] = _NO_NAMES
    dead_keypads: frozenset[str] = _NO_NAMES
    dead_sounders: frozenset[str] = _NO_NAMES
    lost_paths: frozenset[str] = _NO_NAMES
    no_siren: bool = False
    no_message: bool = False
    unit_dead: bool = False
    restarts: bool = False
    inhibited: frozenset[str] = _NO_NAMES
    not_set: frozenset[str] = _NO_NAMES
    wrong_set: tuple[str, ...] = ()
    watches: tuple[str, ...] = ()
    trips: frozenset[str] = _NO_NAMES
    parts: tuple["Fault", ...] = ()
    spent: frozenset[str] = _NO_NAMES


NONE = Fault("none", "Everything works.")


@dataclass(frozen=True)
class Outlets:
    """All sounders, and all paths by which a burglary message gets out: when all are lost, nothing is left.

    `silent`, `untold`: there was no sounder, or nobody who is told, before anything broke.
    """

    sounders: frozenset[str] = _NO_NAMES
    paths: frozenset[str] = _NO_NAMES
    silent: bool = False
    untold: bool = False

    def canonical(self, fault: Fault) -> Fault:
        """The fault with `no_siren` and `no_message` as they follow from what is lost."""
        no_siren = fault.no_siren or self.silent or (bool(self.sounders) and self.sounders <= fault.dead_sounders)
        no_message = fault.no_message or self.untold or (bool(self.paths) and self.paths <= fault.lost_paths)
        return replace(fault, no_siren=no_siren, no_message=no_message)


def both(first: Fault, second: Fault, outlets: Outlets) -> Fault:
    """The two faults at once; of two wrong sets of one area the second was chosen last and counts.

    Our own construction.
    """
    not_set = first.not_set | second.not_set
    sets = {_area(name): name for name in (*first.wrong_set, *second.wrong_set)}
    return outlets.canonical(
        Fault(
            f"{first.id}+{second.id}",
            f"{first.sentence} {second.sentence}",
            dead=first.dead | second.dead,
            dead_keypads=first.dead_keypads | second.dead_keypads,
            dead_sounders=first.dead_sounders | second.dead_sounders,
            lost_paths=first.lost_paths | second.lost_paths,
            no_siren=first.no_siren or second.no_siren,
            no_message=first.no_message or second.no_message,
            unit_dead=first.unit_dead or second.unit_dead,
            restarts=first.restarts or second.restarts,
            inhibited=first.inhibited | second.inhibited,
            not_set=not_set,
            wrong_set=tuple(name for area, name in sets.items() if area not in not_set),
            watches=(*first.watches, *second.watches),
            trips=first.trips | second.trips,
            parts=(*(first.parts or (first,)), *(second.parts or (second,))),
            spent=first.spent | second.spent,
        )
    )


def _area(area_and_set: str) -> str:
    return area_and_set.split("/", maxsplit=1)[0]


@dataclass(frozen=True)
class FaultMasks:
    """Faults as bits: bit i of each number is the i-th fault.

    `all` has every bit; the mappings give, for a device, keypad, zone, area or "area/set", the faults that
    concern it (0 is left out: ask with `.get(name, 0)`).
    """

    all: int = 0
    no_siren: int = 0
    no_message: int = 0
    unit_dead: int = 0
    restarts: int = 0
    dead_of: Mapping[str, int] = field(default_factory=dict)
    dead_keypad_of: Mapping[str, int] = field(default_factory=dict)
    inhibited_of: Mapping[str, int] = field(default_factory=dict)
    not_set_of: Mapping[str, int] = field(default_factory=dict)
    wrong_set_of: Mapping[str, int] = field(default_factory=dict)
    spent_of: Mapping[str, int] = field(default_factory=dict)

    @staticmethod
    def of(faults: Sequence[Fault]) -> "FaultMasks":
        """The masks of these faults in their order."""
        return FaultMasks(
            (1 << len(faults)) - 1,
            _mask(faults, lambda fault: fault.no_siren),
            no_message=_mask(faults, lambda fault: fault.no_message),
            unit_dead=_mask(faults, lambda fault: fault.unit_dead),
            restarts=_mask(faults, lambda fault: fault.restarts),
            dead_of=_by_name(faults, lambda fault: fault.dead),
            dead_keypad_of=_by_name(faults, lambda fault: fault.dead_keypads),
            inhibited_of=_by_name(faults, lambda fault: fault.inhibited),
            not_set_of=_by_name(faults, lambda fault: fault.not_set),
            wrong_set_of=_by_name(faults, lambda fault: fault.wrong_set),
            spent_of=_by_name(faults, lambda fault: fault.spent),
        )


def _mask(faults: Sequence[Fault], concerned: Callable[[Fault], bool]) -> int:
    return sum(1 << place for place, fault in enumerate(faults) if concerned(fault))


def _by_name(faults: Sequence[Fault], names_of: Callable[[Fault], Iterable[str]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for place, fault in enumerate(faults):
        for name in names_of(fault):
            found[name] = found.get(name, 0) | 1 << place
    return found
