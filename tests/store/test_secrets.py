"""Free text that looks like a secret is warned of; ordinary remarks are left in peace. Both lists are our own."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.model import Home
from alarmlib.store import Session
from alarmlib.store.secrets import free_texts, looks_secret, not_secret, warnings

SECRETS = [
    "4711", "the number is 4711", "ours: 47 11", "4-7-1-1", "4 7 1 1", "2580#", "47110815", "1984",
    "birthday 2011", "four seven one one", "４７１１", "4\u200b711", "4711 m", "entry_4711", "combination 12-34-56",
    "code 12", "our codes are on the list", "PIN", "password tulip", "pass code", "duress word tulip", "pw: tulip",
    "key under the mat", "under the flowerpot", "spare key at the neighbour's", "The key hangs in the shed",
    "key in the box by the gate", "key safe by the door", "safe is behind the painting", "in the safe",
    "holiday 1 to 14 August", "we are away from 3 July", "on vacation in March", "empty until 3 May", "abroad in June",
    "call 030 123 4567", "+49 30 1234567", "(555) 010-4477", "anna@example.org", "anna (at) example.org",
    "12 Elm Street", "221b Long Lane", "Hauptstraße 12", "Birkenweg 7a", "52.5200, 13.4050",
    "grandmother's jewellery in the bedroom", "cash in the drawer", "gold coins",
]  # fmt: skip
REMARKS = [
    "", "Sticks in damp weather", "Fitted in 2025", "built 1978", "Looked at 2026-03-01", "March 2026",
    "EN 50131-1 grade 2", "UL 1641", "2200 ohm end resistor", "Battery 1200 mAh", "width 2500 mm", "CR2032 cell",
    "Motion detector rests 180 s", "Ask about the local code", "Colour code of the resistor", "Needs two screws",
    "Retest after 3 days", "Mend the hinge", "Slot 3 is the cleaner", "Magnet 12 mm off", "Zone 12",
    "1. hall 2. kitchen",
    "Dog jumps on the sofa", "Trips when the stove is lit", "Replace in 2031", "Signal 45 of 100", "Test 1, 2, 3",
    "Neighbour holds a key", "Window is on the latch at night", "reads 2.21 kΩ shut", "Key switch", "Keypad",
    "Outside siren, 104 dB(A) at 1 m", "walk 12.5, 13.1 and 12.8 s", "battery is 7 Ah, 12 V", "From the year 2019",
    "2 of 4 screws missing", "key-holder comes within 20 minutes",
]  # fmt: skip


@pytest.mark.parametrize("text", SECRETS)
def test_a_text_that_looks_secret_is_warned_of(text: str) -> None:
    sentence = looks_secret(text)
    assert sentence is not None
    assert text not in sentence or text == "PIN"


@pytest.mark.parametrize("text", REMARKS)
def test_an_ordinary_remark_is_not(text: str) -> None:
    assert looks_secret(text) is None


@given(digits=st.text("0123456789", min_size=4, max_size=8), before=st.sampled_from(["", "it is ", "x", "#"]))
def test_any_code_of_four_to_eight_digits_is_warned_of(digits: str, before: str) -> None:
    """Even one that could be a year, unless the words say that it is a year."""
    assert looks_secret(f"{before}{digits}") is not None


def test_the_owner_may_say_that_it_is_none(session: Session) -> None:
    """The warning ends for that text, in every field that holds it; the file keeps no second copy of it."""
    from alarmlib.store import Edit

    path = ("site", "rooms", "hall", "note")
    session.apply([Edit(path, "", "ISBN 12345678")])
    assert list(warnings(session.home)) == [path]
    session.apply([not_secret(session.home, "ISBN 12345678")])
    assert warnings(session.home) == {}
    assert session.path.read_bytes().count(b"12345678") == 1
    session.apply([Edit(path, "ISBN 12345678", "ISBN 12345679")])
    assert list(warnings(session.home)) == [path]


def test_every_free_text_is_looked_at(home: Home) -> None:
    """Names, labels, roles and notes; no ids, references, dates or words of a list."""
    found = dict(free_texts(home))
    assert found[("devices", "d_hall", "name")] == "Hall motion"
    assert found[("household", "people", "first", "role")] == "first adult"
    assert ("site", "rooms", "hall", "storey") not in found
    assert ("log", "tests", "t1", "on") not in found
