"""What a search sees of a fault: without what it does not look at, so that a change of that moves nothing it says."""

from alarmlib.proof.faults.fault import Fault


def to_an_intruder(fault: Fault) -> Fault:
    """What a search of the ways in sees of a fault.

    By `alarmlib.proof.intruder.search`.
    """
    return Fault(
        "", "", dead=fault.dead, no_siren=fault.no_siren, no_message=fault.no_message, unit_dead=fault.unit_dead,
        restarts=fault.restarts, inhibited=fault.inhibited, not_set=fault.not_set, wrong_set=fault.wrong_set,
        spent=fault.spent,
    )  # fmt: skip


def in_a_habit(fault: Fault) -> Fault:
    """What a search of a habit sees of a fault: what sounds or is told is counted whether it arrives or not.

    By `alarmlib.proof.habits.habit_search`.
    """
    return Fault(
        "", "", dead=fault.dead, dead_keypads=fault.dead_keypads, unit_dead=fault.unit_dead, restarts=fault.restarts,
        inhibited=fault.inhibited, not_set=fault.not_set, wrong_set=fault.wrong_set, spent=fault.spent,
    )  # fmt: skip
