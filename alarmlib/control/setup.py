"""What is entered in a control unit and how it behaves where units differ: all that `step` is told."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

from alarmlib.control.functions import TABLE, FunctionTable
from alarmlib.control.layout import Layout, State, Z
from alarmlib.control.setup_parts import AreaSetup, WatchSetup, ZoneSetup
from alarmlib.model.words import Word


class OffRouteTrip(Word):
    """What a trip off the way out does during the exit delay."""

    ALARM = "alarm", "alarm at once"
    BLOCKS = "blocks", "an indication, and setting waits for it"


class DoorAtEnd(Word):
    """What an entry/exit door does that is open when the exit time ends."""

    EXIT_ERROR = "exit_error", "sounds inside, then an alarm marked as exit error"
    NOT_SET = "not_set", "setting is not completed"


class ZoneAtEnd(Word):
    """What any other listening zone does that is open when the exit time ends."""

    ALARM = "alarm", "alarm at once"
    NOT_SET = "not_set", "setting is not completed"


class Override(Word):
    """How a person may set it although something prevents it."""

    NOT_OFFERED = "not_offered", "not offered"
    INHIBITS_OPEN = "inhibits_open", "what is open is left out; faults still stop setting"
    ONE_SET_PERIOD = "one_set_period", "everything is accepted, for this set period only"


@dataclass(frozen=True)
class Behaviour:
    """Facts of the unit where units and countries differ; the defaults are those stated to the owner."""

    off_route: OffRouteTrip = OffRouteTrip.ALARM
    door_at_end: DoorAtEnd = DoorAtEnd.EXIT_ERROR
    zone_at_end: ZoneAtEnd = ZoneAtEnd.ALARM
    override: Override = Override.INHIBITS_OPEN
    exit_restarts_once: bool = True
    exit_ends_by_door: bool = False
    exit_after_door_s: int = 5
    exit_ends_by_button: bool = False
    exit_delay_from_outside: bool = False
    later_door_shortens: bool = False
    common_needs_all: bool = True
    hold_up_silent: bool = False
    tamper_outside_unset: bool = False
    notification_lost_stops: bool = True
    recent_closing_s: int = 120
    exit_last_s: int = 10
    wrong_code_limit: int = 0
    wrong_code_lock_s: int = 0
    test_s: int = 1200
    ignore_after_power_s: int = 60
    life_heard_after_power: bool = False
    siren_cap_s: int = 0
    siren_cap_quiet_s: int = 3600


@dataclass(frozen=True)
class Setup:
    """The whole of it. `layout` (places of everything in the state) is computed once."""

    areas: tuple[AreaSetup, ...]
    zones: tuple[ZoneSetup, ...]
    watches: tuple[WatchSetup, ...] = ()
    behaviour: Behaviour = field(default_factory=Behaviour)
    table: FunctionTable = TABLE

    @cached_property
    def layout(self) -> Layout:
        """Where each part is in the state, and what each zone does where."""
        return Layout.of(self.areas, self.zones, self.watches, self.table)

    def only(self, zones: Iterable[str]) -> "Setup":
        """The same unit with these zones alone (in their old order); the other parts keep their semantics.

        Our own construction; a test shows that zones that stay still don't change the rest.
        """
        kept = frozenset(zones)
        return replace(
            self,
            zones=tuple(
                replace(zone, partners=tuple(partner for partner in zone.partners if partner in kept))
                for zone in self.zones
                if zone.id in kept
            ),
            watches=tuple(
                replace(watch, zones=tuple(zone for zone in watch.zones if zone in kept)) for watch in self.watches
            ),
        )


def start_state(setup: Setup) -> State:
    """Everything unset, closed and quiet; zones out of use stay so."""
    state = [0] * setup.layout.size
    for zone in setup.layout.zones:
        state[zone.base + Z.OUT] = 2 if zone.setup.out_of_use else 0
    return tuple(state)
