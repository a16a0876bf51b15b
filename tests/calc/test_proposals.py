"""Which function a detector gets and why."""

import pytest

from alarmlib.calc.zoning.proposals import PlacedDetector, propose_functions
from alarmlib.model.words import DETECTORS, DeviceKind, Function

K, F = DeviceKind, Function


@pytest.mark.outside
@pytest.mark.parametrize(
    ("device", "function"),
    [
        (PlacedDetector("a", K.CONTACT, entry_exit=True, on_route=True), F.ENTRY_EXIT),
        (PlacedDetector("a", K.CONTACT, on_route=True), F.ENTRY_ROUTE),
        (PlacedDetector("a", K.CONTACT), F.AT_ONCE),
        (PlacedDetector("a", K.MOTION, on_route=True), F.ENTRY_ROUTE),
        (PlacedDetector("a", K.MOTION), F.AT_ONCE),
    ],
)
def test_only_entry_exit_doors_and_what_must_be_passed_wait(device: PlacedDetector, function: Function) -> None:
    """NFPA 731 5.1.6.1 (seen): only entry doors and interior detectors that must be passed may be delayed."""
    (proposal,) = propose_functions([device])
    assert proposal.function is function


@pytest.mark.parametrize("kind", sorted(DETECTORS))
def test_every_detector_gets_a_function_and_a_reason(kind: DeviceKind) -> None:
    """No detector stays unused; a fire detector never gets a burglary function (common practice)."""
    (proposal,) = propose_functions([PlacedDetector("a", kind)])
    assert proposal.function is not F.UNUSED
    assert proposal.reason
    assert (proposal.function is F.FIRE) == (kind in {K.SMOKE, K.HEAT})


def test_a_keypad_is_no_detector() -> None:
    """A keypad has nothing to trip."""
    (proposal,) = propose_functions([PlacedDetector("a", K.KEYPAD)])
    assert proposal.function is F.UNUSED


def test_only_motion_where_people_move_rests_at_night() -> None:
    """A landing detector rests at night, a cellar one and the landing window listen (UL 1641 16.1, seen)."""
    landing = PlacedDetector("landing", K.MOTION, moved_at_night=True)
    cellar = PlacedDetector("cellar", K.MOTION)
    window = PlacedDetector("window", K.CONTACT, moved_at_night=True)
    assert [p.listens_at_night for p in propose_functions([landing, cellar, window])] == [False, True, True]


def test_a_pet_is_named_in_the_reason() -> None:
    """The reason names a pet that trips the detector, and none that does not."""
    with_pet, without = propose_functions(
        [PlacedDetector("a", K.MOTION, pet_trips_it=True), PlacedDetector("b", K.MOTION)]
    )
    assert "pet" in with_pet.reason
    assert "pet" not in without.reason
