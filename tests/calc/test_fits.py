"""Which kind fits where: one fact of the survey turns each verdict, in drawn homes and in table form."""

from typing import Any

import pytest

from alarmlib.calc.choosing.fits import GAP_USUAL_MM, NEEDS_CONTACT, Fit, fits, link_fits, opening_fits, room_fits
from alarmlib.calc.choosing.links import Suits, run_to_unit_m, worst
from alarmlib.model import Home
from alarmlib.model.site import OpeningKind
from alarmlib.model.words import DeviceKind, Link
from alarmlib.sources import cite

CONTACT, SHOCK, GLASS = range(3)
_UNIT = {"id": "unit", "name": "unit", "kind": "control_unit", "room": "hall", "at": [1, 2]}
_CAT = {"id": "cat", "kind": "cat", "mass_kg": 4, "reaches_m": 1.2, "free_when_empty": ["hall"]}


def home(opening: dict[str, Any] | None = None, room: dict[str, Any] | None = None, **parts: Any) -> Home:
    """A hall with one window, in table form."""
    return Home.model_validate(
        {
            "site": {
                "storeys": [{"id": "g", "name": "Ground"}, {"id": "u", "name": "Upstairs", "level": 1}],
                "rooms": [{"id": "hall", "name": "Hall", "storey": "g"} | (room or {})],
                "openings": [
                    {"id": "window", "name": "Window", "room": "hall", "reach": "ground", "glass": "yes"}
                    | (opening or {})
                ],
            }
            | parts.pop("site", {})
        }
        | parts
    )


def at_window(**opening: Any) -> tuple[Fit, ...]:
    """What fits the window with these facts."""
    it = home(opening)
    return opening_fits(it, it.site.openings[0])


def in_hall(**parts: Any) -> Fit:
    """Whether motion fits the hall with these facts."""
    it = home(**parts)
    return room_fits(it, it.site.rooms[0])


@pytest.mark.parametrize(
    ("place", "fine", "bad", "verdict", "word"),
    [
        (CONTACT, {"frame": "wood"}, {"frame": "steel"}, "with care", "Steel"),
        (CONTACT, {"gap_mm": GAP_USUAL_MM}, {"gap_mm": GAP_USUAL_MM + 0.1}, "with care", "gap"),
        (CONTACT, {"kept_open": "never"}, {"kept_open": "night"}, "with care", "open for air"),
        (CONTACT, {"kind": "door"}, {"kind": "garage_door"}, "with care", "overhead"),
        (CONTACT, {"kind": "door"}, {"kind": "letterbox"}, "does not fit", "post"),
        (CONTACT, {"latches_in_wind": "ok"}, {"latches_in_wind": "needs_work"}, "with care", "latched"),
        (SHOCK, {"kind": "window"}, {"kind": "garage_door"}, "does not fit", "Wind"),
        (SHOCK, {"kind": "window"}, {"kind": "pet_flap"}, "does not fit", "Its own use knocks it"),
        (GLASS, {"glass": "yes"}, {"glass": "no"}, "does not fit", "no glass"),
        (GLASS, {"glass": "yes"}, {"glass": "unknown"}, "with care", "not entered whether it has glass"),
        (GLASS, {"width_m": 0.3}, {"width_m": 0.29}, "does not fit", "small"),
    ],
)
def test_one_fact_of_an_opening_decides(
    place: int, fine: dict[str, Any], bad: dict[str, Any], verdict: str, word: str
) -> None:
    """The reason is given with the fact and not without it, and the verdict is as heavy as that reason."""
    before, after = at_window(**fine)[place], at_window(**bad)[place]
    assert not any(word in reason for reason in before.reasons)
    assert any(word in reason for reason in after.reasons)
    assert after.verdict.value == verdict
    assert all(cite(source) for source in after.sources)


def test_on_steel_half_the_gap_is_too_much() -> None:
    """Steel halves what a contact bridges (contact_on_steel, from memory)."""
    assert not any("gap" in r for r in at_window(frame="steel", gap_mm=GAP_USUAL_MM / 2)[CONTACT].reasons)
    assert any("gap" in r for r in at_window(frame="steel", gap_mm=GAP_USUAL_MM / 2 + 0.1)[CONTACT].reasons)


def test_the_owners_own_contact_wins_over_the_usual_one() -> None:
    """A contact whose manual says 40 mm bridges 30 mm; taken out it no longer counts."""
    wide = {"id": "c", "name": "c", "kind": "contact", "contact_gap_mm": 40, "state": "fitted"}
    for state, told in (("fitted", False), ("removed", True)):
        it = home({"gap_mm": 30}, devices=[wide | {"state": state}])
        assert any("gap" in reason for reason in opening_fits(it, it.site.openings[0])[CONTACT].reasons) is told


@pytest.mark.parametrize("kind", [kind.value for kind in OpeningKind])
def test_shock_and_sound_alone_never_simply_fit_what_opens(kind: str) -> None:
    """UL 1641 15.4.1 (excerpt, seen): on a movable opening a contact is needed as well."""
    _, shock, glass = at_window(kind=kind)
    if kind in ("letterbox", "pet_flap"):
        assert shock.verdict is Suits.NOT
        return
    for fit in (shock, glass):
        assert NEEDS_CONTACT in fit.reasons
        assert "ul1641_shock" in fit.sources
        assert fit.verdict is not Suits.FITS


@pytest.mark.parametrize(
    "disturbance", ["heater", "draught", "sun", "fan", "curtain", "hanging", "fireplace", "insects", "hot"]
)
def test_each_disturbance_asks_for_care(disturbance: str) -> None:
    """A quiet room fits; each object that trips or blinds a motion detector asks for care, never more."""
    assert in_hall().verdict is Suits.FITS
    found = in_hall(room={"disturbances": [disturbance]})
    assert (found.verdict, len(found.reasons)) == (Suits.CARE, 1)


def test_heat_counts_from_where_coverage_counts_it() -> None:
    """The temperature above which coverage halves the range is the one that asks for care."""
    assert in_hall(room={"hottest_c": 30}).verdict is Suits.FITS
    assert in_hall(room={"hottest_c": 30.1}).verdict is Suits.CARE


@pytest.mark.parametrize(
    ("kind", "told"), [("ceiling_fan", True), ("air_outlet", True), ("heater", True), ("light", False)]
)
def test_fixtures_disturb_as_what_is_ticked_does(kind: str, told: bool) -> None:
    """A fan that is drawn counts like one that is ticked, and once where it is both."""
    fixture = {"id": "f", "name": "f", "room": "hall", "kind": kind}
    assert bool(in_hall(site={"fixtures": [fixture]}).reasons) is told
    both = in_hall(room={"disturbances": ["fan", "heater"]}, site={"fixtures": [fixture]})
    assert len(both.reasons) == 2


def test_a_pet_counts_by_how_high_it_gets_and_where_it_is_free() -> None:
    """A climber shuts motion out; one on the floor asks for care; one kept out of the room changes nothing."""
    for pet, verdict in (
        (_CAT, Suits.NOT),
        (_CAT | {"reaches_m": 0.3}, Suits.CARE),
        (_CAT | {"reaches_m": 0, "mass_kg": None}, Suits.CARE),
        (_CAT | {"free_when_empty": []}, Suits.FITS),
        (_CAT | {"free_when_empty": [], "free_in_night": ["hall"]}, Suits.FITS),
    ):
        assert in_hall(household={"pets": [pet]}).verdict is verdict


def link(home_: Home, which: Link, room: bool = False) -> tuple[Suits, str]:
    """The verdict on a link and its reasons as one text."""
    found = {each.link: each for each in link_fits(home_, home_.site.rooms[0] if room else None)}
    return found[which].verdict, " ".join(found[which].reasons)


@pytest.mark.parametrize(
    ("which", "fine", "bad", "verdict", "word"),
    [
        (Link.WIRED, {"site": {"tenure": "owned"}}, {"site": {"tenure": "rented"}}, Suits.CARE, "landlord"),
        (Link.WIRED, {"control_unit": {"limits": {"circuits": 1}}}, {"control_unit": {"limits": {"circuits": 0}}},
         Suits.CARE, "terminals"),
        (Link.WIRELESS, {"control_unit": {"limits": {"wireless_slots": 1}}},
         {"control_unit": {"limits": {"wireless_slots": 0}}},
         Suits.NOT, "no wireless place"),
        (Link.WIRELESS, {"room": {"coldest_c": 0}}, {"room": {"coldest_c": -0.1}}, Suits.CARE, "Frost"),
    ],
)  # fmt: skip
def test_one_fact_of_the_home_decides_on_the_link(
    which: Link, fine: dict[str, Any], bad: dict[str, Any], verdict: Suits, word: str
) -> None:
    """Rented walls and full terminals speak against cable, full places and frost against radio; not the other way."""
    assert word not in link(home(**fine), which)[1]
    found, reasons = link(home(**bad), which)
    assert word in reasons
    assert found is verdict
    other = Link.WIRED if which is Link.WIRELESS else Link.WIRELESS
    assert word not in link(home(**bad), other)[1]


def test_places_taken_are_counted_and_places_given_up_are_not() -> None:
    """Of two places one is taken by a device at work; a device taken out leaves its place free."""
    free = {"id": "a", "name": "a", "kind": "contact", "link": "wireless"}
    gone = free | {"id": "b", "state": "removed"}
    it = home(devices=[free, gone], control_unit={"limits": {"wireless_slots": 2}})
    assert "places left for wireless devices: 1." in link(it, Link.WIRELESS)[1]


def test_no_zone_left_speaks_against_both() -> None:
    """Without a free zone a detector must share one, however it is joined."""
    it = home(control_unit={"limits": {"zones": 1}, "zones": [{"id": "z", "label": "z", "function": "at_once"}]})
    assert {link(it, which)[0] for which in (Link.WIRED, Link.WIRELESS)} == {Suits.CARE}


def test_the_cable_is_measured_where_the_room_is_drawn() -> None:
    """From the middle of a 6 m by 10 m room, (3, 5), to a unit at (1, 2): √13 m; upstairs 2.7 m higher."""
    drawn = {"outline": [[0, 0], [6, 0], [6, 10], [0, 10]]}
    it = home(room=drawn, devices=[_UNIT])
    assert run_to_unit_m(it, it.site.rooms[0]) == pytest.approx(13**0.5)
    above = {"id": "bed", "name": "Bed", "storey": "u", "outline": drawn["outline"]}
    both = home(site={"rooms": [{"id": "hall", "name": "Hall", "storey": "g"} | drawn, above]}, devices=[_UNIT])
    assert run_to_unit_m(both, both.site.rooms[1]) == pytest.approx((13 + 2.7**2) ** 0.5)
    assert run_to_unit_m(home(devices=[_UNIT]), home().site.rooms[0]) is None
    far = home(room={"outline": [[0, 0], [62, 0], [62, 4], [0, 4]]}, devices=[_UNIT])
    assert link(far, Link.WIRED, room=True)[0] is Suits.CARE
    assert link(it, Link.WIRED, room=True)[0] is Suits.FITS


def test_each_kind_is_weighed_for_both_links() -> None:
    """Three kinds at the window and motion in the hall, wired and wireless: eight, as heavy as the worst reason."""
    it = home({"frame": "steel"}, control_unit={"limits": {"wireless_slots": 0}})
    found = {(fit.subject, fit.kind, fit.link): fit for fit in fits(it)}
    assert len(found) == 8
    assert found["window", DeviceKind.CONTACT, Link.WIRED].verdict is Suits.CARE
    assert {fit.verdict for key, fit in found.items() if key[2] is Link.WIRELESS} == {Suits.NOT}
    assert found["hall", DeviceKind.MOTION, Link.WIRED].verdict is Suits.FITS


def test_the_worst_of_none_is_that_it_fits() -> None:
    """Verdicts are ordered; without any reason something fits."""
    assert worst([]) is Suits.FITS
    assert worst([Suits.CARE, Suits.FITS, Suits.NOT]) is Suits.NOT


def test_the_cable_is_measured_to_the_unit_that_is_there_now() -> None:
    """A unit that was taken out is no end of a cable: from (3, 5) to the new one at (1, 2), √13 m."""
    drawn = {"outline": [[0, 0], [6, 0], [6, 10], [0, 10]]}
    old = _UNIT | {"id": "old", "at": [6, 10], "state": "removed"}
    it = home(room=drawn, devices=[old, _UNIT])
    assert run_to_unit_m(it, it.site.rooms[0]) == pytest.approx(13**0.5)
