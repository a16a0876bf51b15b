"""What a finding is about: a life, a way in, a false alarm, a message, or upkeep."""

from enum import IntEnum

from alarmlib.checks.finding import Finding


class Concern(IntEnum):
    """What a finding is about, the gravest first; `text` is its heading."""

    LIFE = 0
    UNNOTICED = 1
    FALSE_ALARM = 2
    MESSAGE = 3
    UPKEEP = 4

    @property
    def text(self) -> str:
        """What a page and the record call it."""
        return _TEXTS[self]


_TEXTS = {
    Concern.LIFE: "Life safety",
    Concern.UNNOTICED: "Somebody may come in unnoticed",
    Concern.FALSE_ALARM: "False alarms",
    Concern.MESSAGE: "Whether anybody hears of it",
    Concern.UPKEEP: "Upkeep",
}
CONCERNS: dict[Concern, frozenset[str]] = {
    Concern.LIFE: frozenset(
        {"household_alarms", "alarm_places", "alarm_walks", "carbon_monoxide", "british_alarms"}
        | {"people.would_not_wake", "site.locked_in", "sound.at_the_pillow", "messages.first_leave"}
        | {"messages.emergency_calls", "loops.fire_circuits", "short_path.smoke_alarms_missing"}
        | {"hazards.smoke_alarm_too_old", "hazards.one_way_out", "devices.sensor_too_old", "control.fire_after_power"}
        | {"zones.life_safety_apart", "zones.life_safety_held_back", "part_sets.leaves_out_what_counts_always"}
        | {"proof.life_safety", "proof.hold_up", "readiness.cautions_unread", "readiness.before_drilling"}
    ),
    Concern.FALSE_ALARM: frozenset(
        {"times", "habits", "detectors.disturbed_motion", "detectors.pet_trips_motion", "placement.warm_air_in_view"}
        | {"placement.window_in_view", "placement_walks.pet_on_furniture", "placement_walks.pet_seen_from_another_room"}
        | {"part_sets.listens_where_people_are", "part_sets.listens_to_an_open_window"}
        | {"part_sets.nobody_can_come_home_late", "people.person_cannot_unset", "people.visitor_cannot_unset"}
        | {"people.visitor_never_tried", "people.door_without_a_way_to_unset", "by_day.pet_rings_the_chime"}
        | {"zones.delay_off_the_route", "zones.entry_exit_door_at_once", "control.repeat_trips"}
        | {"control.confirmation_window", "loops.damp", "site.loose_latch"}
        | {"proof.habit", "proof.pairs", "proof.unset_is_silent", "proof.siren_has_cause", "proof.code_in_time"}
        | {"proof.left_out_is_still", "proof.code_unsets", "proof.siren_time", "proof.siren_in_an_hour"}
    ),
    Concern.MESSAGE: frozenset(
        {"messages", "sound", "battery", "radio.cell_ends_sooner", "short_path.siren_unanswered"}
        | {"left_alone.empty_without_key_holder", "devices.low_battery_unreported", "devices.hold_up_button_zone"}
        | {"proof.water_and_low_temperature", "proof.fault_shown", "proof.left_out_shown", "proof.log_has_cause"}
        | {"by_day.cover_unheard"}
    ),
    Concern.UPKEEP: frozenset(
        {
            "hazards",
            "capacity",
            "choice.adds_nothing",
            "zone_plan",
            "plan_drawn",
            "cable",
            "fitting",
            "inherited",
            "readiness",
            "unlikely",
        }
        | {"zones.labels", "zones.detectors_sharing", "devices.battery_due", "battery.battery_due"}
        | {"battery.battery_undated", "people.person_not_shown", "test_walk.overdue", "test_walk.cause_not_found"}
        | {"sound.ears_beside_it", "left_alone.event_list", "by_day.terminals_shared"}
    ),
}
"""Checks, their modules, and causes, by what they are about; what is named nowhere is about ways in."""


def concern(finding: Finding) -> Concern:
    """What the finding is about: by its cause, else its check, else the module of its check."""
    names = (finding.cause, finding.id, finding.id.partition(".")[0])
    placed = (each for name in names for each, listed in CONCERNS.items() if name in listed)
    return next(placed, Concern.UNNOTICED)
