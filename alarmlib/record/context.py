"""What every section is built from: the home, its assessment, and for whom this copy is."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.proof.kept import NEVER_RUN, KeptProof
from alarmlib.record.blocks import named
from alarmlib.store.sharing import sees


@dataclass(frozen=True)
class Context:
    """A home to be written up, once, for one circle of readers."""

    home: Home
    assessment: Assessment
    copy: Share
    date: str
    previous: Home | None = None
    kept: KeptProof = NEVER_RUN
    since: str = ""  # the day of the record that `previous` was written up in, where that is known

    def sees(self, level: Share) -> bool:
        """Whether this copy shows what is declared for that level."""
        return sees(self.copy, level)

    def name(self, kind: str, element_id: str) -> str:
        """The name of an element as the owner typed it, kept apart; its id when it is gone; "" for none."""
        return named(self._names.get((kind, element_id), element_id)) if element_id else ""

    def any_name(self, element_id: str) -> str:
        """The name of an id whose kind isn't known (a finding's subject, a step's place)."""
        return next((named(name) for (_, known), name in self._names.items() if known == element_id), element_id)

    @cached_property
    def _names(self) -> dict[tuple[str, str], str]:
        home = self.home
        named_lists: dict[str, tuple[Any, ...]] = {
            "room": home.site.rooms,
            "opening": home.site.openings,
            "storey": home.site.storeys,
            "device": home.devices,
            "zone": home.unit.zones,
            "area": home.unit.areas,
            "part set": home.unit.part_sets,
            "season": home.unit.seasons,
            "circuit": home.circuits,
            "person": home.household.people,
            "visitor": home.household.visitors,
            "pet": home.household.pets,
            "responder": home.messages.responders,
            "message path": home.messages.paths,
            "habit": home.household.habits,
            "piece of furniture": home.site.furniture,
            "run": home.wiring.runs,
            "box": home.wiring.boxes,
        }
        names = {(kind, item.id): _own_name(item) for kind, items in named_lists.items() for item in items}
        joined = {
            ("passage", p.id): " – ".join(names.get(("room", end), end) for end in (p.first, p.second))
            for p in home.site.passages
        }
        return names | joined


def _own_name(item: Any) -> str:
    fields = ("name", "label", "role", "kind")
    return next((str(value) for field in fields if (value := getattr(item, field, ""))), str(item.id))
