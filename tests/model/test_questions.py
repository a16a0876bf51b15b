"""What is asked of a home: each question by the state of a device, by opening, zone and room."""

import pytest

from alarmlib.model import Home, questions
from alarmlib.model.devices import DeviceState
from alarmlib.model.words import DeviceKind

STATES = [state.value for state in DeviceState]


def _device(name: str, kind: str = "contact", **more: object) -> dict[str, object]:
    return {"id": name, "name": name, "kind": kind, "room": "hall", "zone": "door"} | more


@pytest.fixture
def home() -> Home:
    """One contact in each state on the same door, a keypad in each state, a smoke alarm of the household's own."""
    site = {
        "storeys": [{"id": "ground", "name": "Ground"}],
        "rooms": [
            {"id": "hall", "name": "Hall", "storey": "ground"},
            {"id": "den", "name": "Den", "storey": "ground", "sleeps_here": True},
        ],
        "openings": [{"id": "door", "name": "Door", "room": "hall", "kind": "door"}],
    }
    return Home.model_validate(
        {
            "site": site,
            "household": {"people": [{"id": "one", "role": "one", "sleeps_in": "hall"}]},
            "control_unit": {"zones": [{"id": "door", "label": "door", "function": "at_once"}]},
            "devices": [
                *(_device(f"{state}_contact", state=state, openings=["door"]) for state in STATES),
                *(_device(f"{state}_keypad", "keypad", state=state, zone="") for state in STATES),
                _device("alarm", "smoke", link="own", zone="", openings=["door"]),
                _device("eye", "motion", openings=["door"]),
            ],
        }
    )


def _ids(devices: tuple[object, ...]) -> list[str]:
    return [str(getattr(device, "id", "")) for device in devices]


@pytest.mark.parametrize(
    ("question", "states"),
    [
        (questions.present, ["planned", "fitted", "out_of_use"]),
        (questions.at_work, ["planned", "fitted"]),
    ],
)
def test_by_state_and_kind(home: Home, question: object, states: list[str]) -> None:
    """Present is all but taken out; at work is neither taken out nor out of use; kinds narrow it."""
    assert callable(question)
    assert _ids(question(home, DeviceKind.KEYPAD)) == [f"{state}_keypad" for state in states]
    contacts, keypads = ([f"{state}_{what}" for state in states] for what in ("contact", "keypad"))
    assert _ids(question(home)) == [*contacts, *keypads, "alarm", "eye"]


def test_how_far_they_have_come(home: Home) -> None:
    """Planned, fitted and out of use are three answers; a device without a state is planned."""
    assert _ids(questions.fitted(home)) == ["fitted_contact", "fitted_keypad"]
    assert _ids(questions.out_of_use(home)) == ["out_of_use_contact", "out_of_use_keypad"]
    assert _ids(questions.planned(home)) == ["planned_contact", "planned_keypad", "alarm", "eye"]


def test_what_is_on_an_opening_and_what_guards_it(home: Home) -> None:
    """One out of use is on the opening and guards nothing; a motion detector that looks at a door is not on it."""
    assert _ids(questions.guards(home, "door")) == ["planned_contact", "fitted_contact"]
    assert _ids(questions.on_opening(home, "door")) == ["planned_contact", "fitted_contact", "out_of_use_contact"]
    assert questions.guards(home, "elsewhere") == ()


def test_detectors_are_joined_to_the_unit(home: Home) -> None:
    """An alarm that works alone is none of the unit's."""
    at_work = ["planned_contact", "fitted_contact", "eye"]
    assert _ids(questions.detectors_at_work(home)) == at_work
    assert _ids(questions.detectors(home)) == [*at_work[:2], "out_of_use_contact", "eye"]


def test_of_zones(home: Home) -> None:
    """The devices of each zone; one that has only what is out of use has nothing at work."""
    assert _ids(questions.of_zones(home)["door"]) == ["planned_contact", "fitted_contact", "out_of_use_contact", "eye"]
    assert _ids(questions.at_work_of_zones(home)["door"]) == ["planned_contact", "fitted_contact", "eye"]


def test_who_sleeps_where(home: Home) -> None:
    """As entered for the person, or for the room."""
    assert questions.sleeping_rooms(home) == {"hall", "den"}


def test_by_id(home: Home) -> None:
    """The elements of a list by their id."""
    assert list(questions.by_id(home.site.rooms)) == ["hall", "den"]
    assert questions.by_id(home.site.rooms)["den"].sleeps_here
