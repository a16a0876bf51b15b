"""Mends against brute force: every set of at most three changes, each proved on a copy of a small home."""

import pickle
from collections import Counter
from collections.abc import Callable, Collection, Iterator
from dataclasses import replace
from itertools import combinations
from math import fsum
from random import Random
from typing import Any

import pytest

from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Verdict as Weight
from alarmlib.checks.judged import judge_of
from alarmlib.model import Home
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.repairs.candidates import candidates
from alarmlib.proof.repairs.changes import Change, Way, changed, fit_together
from alarmlib.proof.repairs.cheapest import Repair, Sought, go_on, repairs, seek
from alarmlib.proof.repairs.judge import Objection
from alarmlib.proof.repairs.ways_home import ways_home
from alarmlib.proof.report.verdicts import Proof, Proved, Verdict

RUNS = ("ways", "habits")
HOME = (("open", "front", 3), ("close", "front", 2), ("walk_to", "keypad", 20), ("unset", "house", 3))
SIREN = {"id": "siren", "name": "Siren", "kind": "outside_siren"}
PANE = {"id": "pane", "name": "Pane", "room": "living", "kind": "window"}
PANE_CONTACT = {"id": "pane_contact", "name": "Pane contact", "kind": "contact", "openings": ["pane"], "zone": "pane_z"}
PANE_ZONE = {"id": "pane_z", "label": "Pane", "function": "at_once", "areas": ["house"]}
FRONT = {"id": "front", "name": "Front", "room": "hall", "kind": "door", "entry_exit": True}
THROUGH = {"begins_in": "set_full", "steps": (HOME[0], ("walk_to", "living", 6), ("walk_to", "keypad", 6), HOME[3])}
FOB_PRICE = {"id": "fob", "kind": "fob", "price": 10}
SLOW = {"begins_in": "set_full", "steps": HOME}
ROOMS = {"site.rooms.attic.guarded": False}
SETTINGS = (Way.FUNCTION, Way.PUT_BACK, Way.LEAVE_OUT, Way.DOOR)

Put = Callable[..., Home]
Made = Callable[..., Home]


def proved(home: Home) -> Proof:
    """The proof that a search begins with."""
    return prove(home, "none", asked=Asked(RUNS))


def some(home: Home, *ways: Way, only: Collection[str] = ()) -> tuple[Change, ...]:
    """The changes of these kinds, and those named, in their own order."""
    return tuple(change for change in candidates(home) if change.way in ways or change.id in only)


class Brute:
    """Every set of at most three changes in the order of its cost, each proved once."""

    def __init__(self, home: Home, proof: Proof, changes: tuple[Change, ...]) -> None:
        self.home, self.changes = home, changes
        self.home_before = ways_home(home)
        self.judged_before = musts(home)
        self.before = {each.id: each.verdict for each in proof.properties}
        self.known: dict[tuple[str, ...], dict[str, Verdict] | None] = {}

    def cheapest(self, targets: Collection[str]) -> tuple[str, ...] | None:
        """The ids of the cheapest set that mends these; None when none does."""
        good = (chosen for chosen in self._by_cost() if self.repairs(chosen, targets))
        return next((tuple(change.id for change in chosen) for chosen in good), None)

    def repairs(self, chosen: tuple[Change, ...], targets: Collection[str]) -> bool:
        """Whether all that held and all of these hold, and nothing that wasn't breached is."""
        after = self._after(chosen)
        held = {name for name, verdict in self.before.items() if verdict is Verdict.HOLDS} | set(targets)
        good = after is not None and all(after.get(name, Verdict.HOLDS) is Verdict.HOLDS for name in held)
        bad = {name for name, verdict in (after or {}).items() if verdict is Verdict.BREACHED}
        return good and all(self.before.get(name) is Verdict.BREACHED for name in bad) and self._accepted(chosen)

    def _accepted(self, chosen: tuple[Change, ...]) -> bool:
        """Whether everybody still comes home, and the checks find nothing more that must be fixed."""
        copy = changed(self.home, chosen)
        assert copy is not None
        return self.home_before <= ways_home(copy) and not musts(copy) - self.judged_before

    def _after(self, chosen: tuple[Change, ...]) -> dict[str, Verdict] | None:
        name = tuple(change.id for change in chosen)
        if name not in self.known:
            copy = changed(self.home, chosen)
            found = None if copy is None else {each.id: each.verdict for each in proved(copy).properties}
            self.known[name] = found
        return self.known[name]

    def _by_cost(self) -> Iterator[tuple[Change, ...]]:
        place = {change.id: at for at, change in enumerate(self.changes)}
        sets = [chosen for count in range(4) for chosen in combinations(self.changes, count) if fit_together(chosen)]
        sets.sort(key=lambda chosen: (fsum(c.price for c in chosen), len(chosen), [place[c.id] for c in chosen]))
        return iter(sets)


def near(home: Home, *begin: str) -> tuple[Change, ...]:
    """The changes whose ids begin so; of entry delays those from 20 s to 45 s."""
    found = (change for change in candidates(home) if change.id.startswith(begin))
    return tuple(change for change in found if change.way is not Way.ENTRY or 20 <= change.value_s <= 45)


def musts(home: Home) -> Counter[tuple[str, str]]:
    """How many findings each check has of each subject that must be fixed, all checks run from the beginning."""
    return Counter((each.id, each.subject) for each in assess(home).findings if each.verdict is Weight.MUST)


def breached(proof: Proof) -> list[str]:
    """The ids of what is breached."""
    return [each.id for each in proof.properties if each.verdict is Verdict.BREACHED]


def of(sought: Sought, *names: str) -> Repair | None:
    """The mend that was found for all of these."""
    return next((repair for repair in sought.repairs if set(names) <= set(repair.repairs)), None)


def agrees(home: Home, changes: tuple[Change, ...]) -> Sought:
    """Search, and hold each result, one breach at a time and all at once, against brute force; prove each anew."""
    whole, proof = home.model_dump_json(), proved(home)
    sought = seek(home, proof, changes=changes, patience=1000, judge=judge_of(home))
    every = Brute(home, proof, changes)
    names = breached(proof)
    assert names
    for targets in [[name] for name in names] + ([names] if len(names) > 1 else []):
        wanted = every.cheapest(targets)
        found = [
            tuple(c.id for c in repair.changes) for repair in sought.repairs if set(targets) <= set(repair.repairs)
        ]
        assert (wanted in found) if wanted is not None else not found
        label = targets[0] if len(targets) == 1 else "all"
        assert (label in {each.id for each in sought.unrepaired}) is (wanted is None)
    for repair in sought.repairs:
        assert every.repairs(repair.changes, repair.repairs)
        assert repair.home == changed(home, repair.changes)
        assert repair.proof.properties == proved(repair.home).properties
        assert list(repair.still_open) == breached(repair.proof)
    assert home.model_dump_json() == whole
    return sought


@pytest.fixture
def with_siren(two_rooms: Made, put: Put) -> Made:
    """The home of two rooms with a siren, its attic not to be guarded; `edits` change it further."""

    def made(*habits: dict[str, Any], edits: dict[str, Any] | None = None, **more: Any) -> Home:
        plain = two_rooms(*habits, **{"devices": (SIREN,)} | more)
        return put(plain, ROOMS | (edits or {}))

    return made


@pytest.fixture
def porch() -> Home:
    """A drawn porch with two bare windows, not to be guarded itself, and the guarded room behind it."""
    window = {"room": "porch", "kind": "window"}
    return Home.model_validate({
        "site": {
            "storeys": [{"id": "ground", "name": "Ground"}],
            "rooms": [
                {"id": "porch", "name": "Porch", "storey": "ground", "guarded": False,
                 "outline": [(0, 0), (3, 0), (3, 9), (0, 9)]},
                {"id": "vault", "name": "Vault", "storey": "ground", "outline": [(0, 9), (3, 9), (3, 11), (0, 11)]},
            ],
            "openings": [
                {"id": "left", "name": "Left", "at": (1, 0), **window},
                {"id": "right", "name": "Right", "at": (2, 0), **window},
                {"id": "front", "name": "Front", "room": "vault", "kind": "door", "entry_exit": True, "at": (3, 10)},
            ],
            "passages": [{"id": "between", "first": "porch", "second": "vault", "at": (1.5, 9)}],
        },
        "control_unit": {
            "areas": [{"id": "house", "name": "House"}],
            "zones": [{"id": "door", "label": "Door", "function": "entry_exit", "areas": ["house"]}],
            "times": {"entry_s": 30},
        },
        "devices": [
            {"id": "contact", "name": "Contact", "kind": "contact", "openings": ["front"], "zone": "door"},
            {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "vault", "at": (2, 10)},
            SIREN,
        ],
        "proof": {"intruder_m_s": 1.2},
        "prices": [{"id": "contact", "kind": "contact", "price": 15}, {"id": "motion", "kind": "motion", "price": 20}],
    })  # fmt: skip


def ids(repair: Repair | None) -> list[str]:
    """What a mend changes."""
    assert repair is not None
    return [change.id for change in repair.changes]


def test_bare_window__a_contact(with_siren: Made) -> None:
    """A window without a detector gets a contact with a zone of its own; nothing cheaper mends it."""
    home = with_siren(edits={"site.openings.+": PANE})
    settings = ("function/living_zone/entry_route", "put_back/night/hall_zone", "entry/unit/25/shorter")
    sought = agrees(home, some(home, Way.CONTACT, only=settings))
    repair = of(sought, "noticed_first/house/set_full", "noticed_first/house/night")
    assert ids(repair) == ["contact/pane"]
    assert repair is not None
    assert repair.cost == 15
    assert "Fit a contact on Pane" in repair.sentence
    assert "Prices assumed: a contact on a way in 15" in repair.sentence


def test_window_missed_in_the_night_set__put_back(with_siren: Made) -> None:
    """A window left out of a part set is put back into it: one setting, no device."""
    home = with_siren(edits={
        "site.openings.+": PANE, "devices.+": PANE_CONTACT, "control_unit.zones.+": PANE_ZONE,
        "control_unit.part_sets.night.left_out": ["hall_zone", "pane_z"],
    })  # fmt: skip
    sought = agrees(home, some(home, Way.PUT_BACK, Way.CONTACT, Way.DOOR, only=("function/pane_z/day",)))
    assert ids(of(sought, "noticed_first/house/night")) == ["put_back/night/pane_z"]


def test_entry_delay_shorter_than_the_walk__the_next_that_is_long_enough(with_siren: Made) -> None:
    """One walk in twenty takes 31.9 s to unset: of 5 s steps from 20 s on, 35 s is the first that will do."""
    home = with_siren(SLOW, entry_s=20)
    sought = agrees(home, near(home, "entry/unit/", "entry/front/", "habit/"))
    assert ids(of(sought, "habit/habit_0")) == ["entry/unit/35/longer"]


def test_people_before_longer_delays__and_the_reason_told(with_siren: Made) -> None:
    """Where a fob helps as well as a longer delay, the fob is found first: the delay helps an intruder too."""
    home = with_siren(SLOW, entry_s=20)
    repair = of(agrees(home, near(home, "entry/unit/", "entry/front/", "fob/", "habit/")), "habit/habit_0")
    assert ids(repair) == ["fob/owner"]
    assert repair is not None
    assert "Reason: the alarm is unset before the door opens, so no delay has to run." in repair.sentence
    longer = next(change for change in candidates(home) if change.id == "entry/unit/35/longer")
    assert "an intruder gets the same time" in longer.because
    assert longer.price > repair.cost


def test_at_once_detector_on_the_way_in__another_function(with_siren: Made) -> None:
    """A detector at once between door and keypad is made to wait for the running delay."""
    home = with_siren(SLOW, entry_s=40, functions={"hall_zone": "at_once"})
    sought = agrees(home, some(home, *SETTINGS, Way.FOB))
    assert ids(of(sought, "habit/habit_0")) == ["function/hall_zone/entry_route"]


def test_two_holes__one_dearer_change_for_both(porch: Home, put: Put) -> None:
    """A motion detector dearer than one contact and cheaper than two is taken where it guards two windows."""
    sought = agrees(porch, some(porch, Way.CONTACT, Way.MOTION))
    repair = of(sought, "noticed_first/house/set_full")
    assert ids(repair) == ["motion/porch"]
    assert repair is not None
    assert repair.cost == 20
    assert "if your walk test shows that it sees whoever walks four steps" in repair.sentence
    one = put(porch, {"site.openings.right": None})
    assert ids(of(agrees(one, some(one, Way.CONTACT, Way.MOTION)), "noticed_first/house/set_full")) == ["contact/left"]


def test_four_holes__no_mend_and_said_so(with_siren: Made) -> None:
    """Four windows without a detector need four changes: there is no mend, and the reason is said."""
    home = with_siren(
        edits={"site.openings": [FRONT, *({**PANE, "id": f"pane_{n}", "name": f"Pane {n}"} for n in "abcd")]}
    )
    sought = agrees(home, some(home, Way.CONTACT, only=("put_back/night/hall_zone",)))
    assert not of(sought, "noticed_first/house/set_full")
    said = {each.id: each.sentence for each in sought.unrepaired}
    assert "No set of at most 3" in said["noticed_first/house/set_full"]
    assert "need 4 changes at least" in said["noticed_first/house/set_full"]
    assert "need 4 changes at least" in said["all"]


def test_patience_at_its_end__said(with_siren: Made) -> None:
    """A search that is given up says so, and claims nothing."""
    home = with_siren(SLOW, entry_s=20)
    sought = seek(home, proved(home), changes=near(home, "entry/unit/", "habit/"), patience=1)
    assert not sought.repairs
    assert [each.id for each in sought.unrepaired] == ["habit/habit_0"]
    assert sought.unrepaired[0].sentence.startswith(
        "Looked at 1 set of changes up to a cost of 90, with 1 of the 5 changes that may be tried. Nothing was found"
    )


def test_give_up_and_go_on__equals_one_long_search(with_siren: Made) -> None:
    """One set at a time, each time through a pickle as between processes: what one long search finds, nothing twice."""
    home = with_siren(SLOW, entry_s=20, edits={"site.openings.+": PANE})
    proof, changes = proved(home), near(home, "entry/unit/", "contact/", "put_back/", "habit/")
    long = seek(home, proof, changes=changes, patience=1000, judge=judge_of(home))
    short, goes = seek(home, proof, changes=changes, patience=1, judge=judge_of(home)), 1
    while short.left is not None:
        assert any("Continue the search" in each.sentence for each in short.unrepaired)
        short, goes = go_on(pickle.loads(pickle.dumps(short.left)), patience=1), goes + 1
    assert long.left is None
    assert goes > 1
    assert (short.repairs, set(short.unrepaired)) == (long.repairs, set(long.unrepaired))
    assert of(short, "all", "habit/habit_0") or of(short, "habit/habit_0")


def test_go_on__tries_nothing_twice(with_siren: Made) -> None:
    """A search for one goal in two parts looks at as many sets, and proves as often, as in one."""
    home = with_siren(SLOW, entry_s=20)
    proof, changes = proved(home), near(home, "entry/unit/", "exit/unit/", "habit/")
    long, first = (seek(home, proof, changes=changes, patience=patience) for patience in (1000, 2))
    assert first.left is not None
    assert first.tried < long.tried
    second = go_on(first.left)
    assert (second.tried, second.proofs, second.repairs) == (long.tried, long.proofs, long.repairs)


TWO = ("owner", "lodger")
ASLEEP = {"site.rooms.living.sleeps_here": True}


def test_only_door_at_once__is_no_mend_without_fobs(with_siren: Made) -> None:
    """At night the room one sleeps in is reached before the siren. The door at once would end that and lock all out.

    So it is taken only together with a fob for each of the two, who then unset before the door opens.
    """
    home = with_siren(edits=ASLEEP, entry_s=40, people=TWO, functions={"living_zone": "entry_route"})
    assert "sounds_first/house/night" in breached(proved(home))
    alone = ("function/door/perimeter", "door/night/door")
    assert of(agrees(home, some(home, only=alone)), "sounds_first/house/night") is None
    unjudged = seek(home, proved(home), changes=some(home, only=alone), patience=1000)
    assert of(unjudged, "sounds_first/house/night") is None
    with_fobs = agrees(home, some(home, Way.FOB, only=alone))
    assert ids(of(with_fobs, "sounds_first/house/night")) == ["door/night/door", "fob/owner", "fob/lodger"]


def test_another_door_to_come_home_by__the_delay_is_taken_out_of_one(with_siren: Made, put: Put) -> None:
    """With a second entry/exit door that is far from the bedroom, the near one may alarm at once in the night set."""
    back = {**FRONT, "id": "back", "name": "Back", "room": "attic"}
    contact = {"id": "back_c", "name": "Back contact", "kind": "contact", "openings": ["back"], "zone": "back_z"}
    zone = {"id": "back_z", "label": "Back", "function": "entry_exit", "areas": ["house"]}
    pad = {"id": "attic_pad", "name": "Attic keypad", "kind": "keypad", "room": "attic"}
    edits = {
        "site.rooms.hall.sleeps_here": True,
        "site.openings.+": back,
        "devices.+": contact,
        "control_unit.zones.+": zone,
        "control_unit.part_sets.night.left_out": ["hall_zone", "living_zone"],
        "site.passages.ladder.seconds": 90,
    }
    home = put(with_siren(edits=edits, entry_s=30), {"devices.+": pad})
    assert "sounds_first/house/night" in breached(proved(home))
    sought = agrees(home, some(home, only=("function/door/perimeter", "door/night/door")))
    assert ids(of(sought, "sounds_first/house/night")) == ["door/night/door"]


def test_what_a_mend_brings__is_listed(with_siren: Made) -> None:
    """A contact that hears a window which stands open at night should be looked at again: said with the mend."""
    night = {**PANE, "kept_open": "night"}
    home = with_siren(edits={"site.openings.+": night})
    sought = seek(home, proved(home), changes=some(home, Way.CONTACT), judge=judge_of(home))
    repair = of(sought, "noticed_first/house/set_full")
    assert repair is not None
    new = {each.message for each in assess(repair.home).findings} - {each.message for each in assess(home).findings}
    assert repair.brings
    assert set(repair.brings) <= new


def test_not_all_at_once__what_stays_open_is_said(with_siren: Made) -> None:
    """Where one breach has a mend and the other has none, the mend says what stays open, and so does the search."""
    home = with_siren(SLOW, entry_s=20, edits={"site.openings.+": PANE})
    sought = agrees(home, near(home, "entry/unit/"))
    repair = of(sought, "habit/habit_0")
    assert ids(repair) == ["entry/unit/35/longer"]
    assert repair is not None
    assert "noticed_first/house/set_full" in repair.still_open
    (whole,) = (each.sentence for each in sought.unrepaired if each.id == "all")
    assert "this stays open: House, armed away: whoever comes in" in whole


def test_what_held_still_holds(with_siren: Made) -> None:
    """A longer delay would mend the habit and is cheap, but siren or message would come too late: a fob is taken."""
    home = with_siren(SLOW, entry_s=20, proof={"sounds_within_s": 30})
    assert not any(name.startswith("sounds_in_time") for name in breached(proved(home)))
    sought = agrees(home, near(home, "entry/unit/", "fob/", "habit/"))
    assert ids(of(sought, "habit/habit_0")) == ["fob/owner"]


def test_equally_dear__the_first_listed_every_time(with_siren: Made) -> None:
    """Of equally dear mends the one listed first is taken, however often one searches."""
    home = with_siren(SLOW, entry_s=20)
    proof, changes = proved(home), near(home, "entry/unit/35", "entry/front/35")
    first, again, turned = (seek(home, proof, changes=each) for each in (changes, changes, changes[::-1]))
    assert first == again
    assert ids(first.repairs[0]) == ["entry/unit/35/longer"]
    assert ids(turned.repairs[0]) == ["entry/front/35/longer"]


def test_typed_prices_decide(with_siren: Made) -> None:
    """Where the owner's price for another delay is higher than that of a fob, the fob is taken; nothing is assumed."""
    prices = [{"kind": "delay", "price": 30}]
    home = with_siren(SLOW, entry_s=20, proof={"prices": prices}, more={"prices": [FOB_PRICE]})
    repair = of(seek(home, proved(home), changes=near(home, "entry/unit/", "fob/")), "habit/habit_0")
    assert ids(repair) == ["fob/owner"]
    assert repair is not None
    assert repair.cost == 10
    assert "assumed" not in repair.sentence


def test_whole_list_and_whole_proof(with_siren: Made) -> None:
    """With every change there is and every run: the mend's proof is that of the mended home, faults and pairs too."""
    home = with_siren(SLOW, edits={"site.openings.+": PANE}, entry_s=40)
    proof = prove(home, "single")
    heard: list[tuple[str, int, int]] = []
    (repair,) = repairs(home, proof, lambda *said: heard.append(said))
    assert ids(repair) == ["contact/pane"]
    assert repair.proof == prove(repair.home, "single")
    assert heard
    assert all(0 <= done < of_all for _, done, of_all in heard)


def test_pairs_are_not_sought_and_said_so(with_siren: Made) -> None:
    """A breach of a pair of habits is named as one for which no mend is sought."""
    home = with_siren()
    pair = Proved("pair/one/other", "One beside other.", Verdict.BREACHED)
    sought = seek(home, replace(proved(home), properties=(pair,)))
    assert not sought.repairs
    assert [(each.id, "No mend is sought" in each.sentence) for each in sought.unrepaired] == [(pair.id, True)]


@pytest.mark.parametrize("seed", range(10))
def test_drawn_changes_and_prices__as_brute_force(with_siren: Made, seed: int) -> None:
    """Nine changes drawn by lot at prices drawn by lot, on a home with a hole of each kind: what brute force finds."""
    drawn = Random(seed)
    edits = {
        "site.openings": [FRONT, PANE, {**PANE, "id": "bare", "name": "Bare"}],
        "devices.+": PANE_CONTACT, "control_unit.zones.+": PANE_ZONE,
        "control_unit.part_sets.night.left_out": drawn.choice([["hall_zone"], ["hall_zone", "pane_z"]]),
        "proof.heard_first": drawn.choice([[], ["living"]]),
    }  # fmt: skip
    functions = {"hall_zone": drawn.choice(["entry_route", "at_once", "entry_exit"])}
    home = with_siren(SLOW, THROUGH, edits=edits, entry_s=drawn.choice([20, 40]), functions=functions)
    useful = [c for c in candidates(home) if c.way in (Way.CONTACT, Way.FOB, Way.HABIT, *SETTINGS)]
    useful += near(home, "entry/unit/", "exit/unit/50")
    kept = sorted(drawn.sample(range(len(useful)), 9))
    priced = tuple(replace(useful[place], price=float(drawn.randint(1, 5))) for place in kept)
    agrees(home, priced)


@pytest.fixture
def sleepy_porch(porch: Home, put: Put) -> Home:
    """The porch with a wireless detector that is sure there and sleeps for 150 s after a trip."""
    eye = {"id": "eye", "name": "Porch eye", "kind": "motion", "room": "porch", "link": "wireless", "zone": "eye_z",
           "sleep_s": 150}  # fmt: skip
    zone = {"id": "eye_z", "label": "Porch", "function": "at_once", "areas": ["house"]}
    return put(porch, {"devices.+": eye, "control_unit.zones.+": zone, "proof.sure_detectors": ["eye"]})


def test_detector_that_sleeps__a_shorter_sleep_time_or_a_wired_one(sleepy_porch: Home, put: Put) -> None:
    """Setting the alarm leaves it asleep. The longest sleep time that is over in time is taken; else a wired one."""
    ways = (Way.REST, Way.WIRED, Way.CONTACT)
    sought = agrees(sleepy_porch, some(sleepy_porch, *ways))
    (rest,) = ids(of(sought, "noticed_first/house/set_full"))
    assert rest.startswith("rest/eye/")
    dear = put(sleepy_porch, {"proof.prices": [{"kind": "rest", "price": 90}], "prices.contact.price": 60})
    repair = of(agrees(dear, some(dear, *ways)), "noticed_first/house/set_full")
    assert ids(repair) == ["wired/eye"]
    assert repair is not None
    assert "does not sleep after a trip" in repair.sentence
    (device,) = (each for each in repair.home.whole_devices if each.id == "eye")
    assert (device.link.value, device.wireless, device.sleep_s) == ("wired", None, 0)


@pytest.fixture
def corridor(put: Put, porch: Home) -> Home:
    """A hall of 2 m by 14 m, the front door at one end and the keypad 13 m away at the other; 20 s of entry delay."""
    habit = {"id": "back", "name": "Back home", "who": "owner", "starts_at": "front", "begins_in": "set_full",
             "steps": [
        {"id": "a", "deed": "open", "place": "front", "seconds": 3},
        {"id": "b", "deed": "walk_to", "place": "keypad", "seconds": 14},
        {"id": "c", "deed": "unset", "place": "house", "seconds": 3},
    ]}  # fmt: skip
    hall = {"id": "hall", "name": "Hall", "storey": "ground", "outline": [(0, 0), (2, 0), (2, 14), (0, 14)]}
    return put(porch, {
        "site.rooms": [hall],
        "site.openings": [FRONT | {"room": "hall", "at": (1, 0)}], "site.passages": [],
        "devices.keypad.room": "hall", "devices.keypad.at": (1, 13), "control_unit.times.entry_s": 20,
        "household.people": [{"id": "owner", "role": "Owner", "speed_m_s": 1.0}], "household.habits": [habit],
        "proof.tolerance_percent": 0, "rules.rule_set": "australasia",
    })  # fmt: skip


def test_keypad_too_far__moved_by_so_many_metres(corridor: Home) -> None:
    """The walk takes one in twenty 13 m / (1 - 1.645 * 0.1) = 15.6 s, and 6 s at door and keypad: 20 s are too short.

    Moved by 2.1 m (a sixth of the walk) 10.9 m are left: 13.05 s and 6 s end after second 19, and the alarm comes in
    second 20. Moved by twice that, 8.8 m are left: 10.5 s and 6 s end in time.
    """
    assert breached(proved(corridor)) == ["habit/back"]
    longer = ("entry/unit/25/longer", "entry/unit/30/longer")
    sought = agrees(corridor, some(corridor, Way.MOVED, Way.KEYPAD, only=longer))
    repair = of(sought, "habit/back")
    assert repair is not None
    assert [change.way for change in repair.changes] == [Way.MOVED]
    assert "Move Keypad 4.2 m towards Front: to Hall, 8.8 m of walk from that door." in repair.sentence
    (keypad,) = (device for device in repair.home.whole_devices if device.id == "keypad")
    assert keypad.at is not None
    assert keypad.at[1] == pytest.approx(13 - 4.2, abs=0.1)
    (walk,) = (step for step in repair.home.household.habits[0].steps if step.place == "keypad")
    assert walk.seconds is None


def test_checks_that_refuse_all__it_ends_and_says_so(with_siren: Made) -> None:
    """A judge whom nothing pleases: no fix, whether the search ends by itself or gives up, and never a wrong one."""
    home = with_siren(SLOW, entry_s=20)
    proof, changes = proved(home), near(home, "entry/unit/", "fob/", "habit/", "door/")

    def judge(made: Home) -> tuple[Objection, ...]:
        return () if made == home else (Objection("any", "thing", True, "It is not as it was."),)

    whole = seek(home, proof, changes=changes, patience=1000, judge=judge)
    assert (whole.repairs, whole.left) == ((), None)
    assert "No set of at most 3" in whole.unrepaired[0].sentence
    short = seek(home, proof, changes=changes, patience=1, judge=judge)
    assert short.left is not None
    assert short.repairs == ()
    assert seek(home, proof, changes=changes, patience=1000).repairs
