"""For each field of the model a change of it changes something that is worked out, or a list below says why not.

A field that only comes back in the inventories of the record (devices, house, household), as it was entered, does
nothing: whoever fills it in is told nothing for it. `derived` says what counts, `changing` how a value is changed.
"""

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import islice, product, zip_longest
from typing import Any

import pytest
from changing import Where, changed, held_parts, models, other_values, places
from derived import FAST, REST, STAGES, Known
from drafted_homes import british_home, wintry_home
from drawn_home import drawn_home

from alarmlib.checks import assess as assessing
from alarmlib.checks.assess import CHECKS
from alarmlib.checks.fixes import gains
from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.device_types import entry_of
from alarmlib.model.devices import DeviceEntry
from alarmlib.pages.declaring import Group, List, Sheet
from alarmlib.pages.tables import LISTS, SHEETS
from alarmlib.store.upgrade_device_types import with_device_types

ELEMENTS, BESIDE, VALUES = 6, 2, 6
FEW = ELEMENTS  # changes of each home, one an element, that are tried before the many others: most fields show there

CARRIED = {
    "Home.name": "The title of the record and the name of its copies.",
    "DeviceType.name": "What the owner calls a type: forms, CSV and the record choose and name it by that.",
    "ShortPath.asked": "Which questions are answered: the page goes on at the first that is not (tests/draft).",
    "Home.cleared_texts": "Decides whether forms warn of a text and copies leave it out (tests/store/test_sharing.py).",
    **{
        f"{model.__name__}.note": "A note of the owner's, for people."
        for model in models()
        if "note" in model.model_fields
    },
}
"""Carried for people: field by field, why nothing is worked out from it."""
IDENTITY = frozenset({"id", "schema_version"})
"""What names an element or the file's own form: nothing is worked out from a name that nobody types."""


@cache
def known() -> tuple[Known, ...]:
    """The homes that are changed: all small, so that a try costs a tenth of a second at most."""
    return Known(typed(wintry_home())), Known(typed(drawn_home())), Known(typed(british_home()))


def typed(home: Home) -> Home:
    """The home with its devices' facts in types; two of these say that their values are assumed; one is of no type."""
    document = with_device_types(home.model_dump(mode="json"))
    for each in document["device_types"][:2]:
        each["assumed"] = True
    document["devices"][-1] = entry_of(home.whole_devices[-1]).model_dump(mode="json")
    return Home.model_validate(document)


def fields_of(model: type[Part]) -> list[str]:
    """The fields of a part that hold no parts themselves."""
    return [
        name
        for name, field in model.model_fields.items()
        if name not in IDENTITY and not any(held_parts(field.annotation))
    ]


def dead(model: type[Part], names: Sequence[str] = (), homes: Sequence[Known] = ()) -> list[str]:
    """The fields of a part (or those named) whose change shows in nothing, whichever home, element and value."""
    waiting = [name for name in names or fields_of(model) if f"{model.__name__}.{name}" not in CARRIED]
    for (first, last), stages in product(((0, FEW), (FEW, None)), (FAST, REST)):
        for home in homes or known():
            waiting = [name for name in waiting if not _shows(home, model, name, stages, (first, last))]
    return waiting


def _shows(home: Known, model: type[Part], name: str, stages: Sequence[Any], tries: tuple[int, int | None]) -> bool:
    return any(home.differs(other, stages) for other in islice(_changed(home, model, name), *tries))


def _changed(home: Known, model: type[Part], name: str) -> Iterator[Home]:
    """Homes in which that field of one element has another value, first one of each element."""
    field = model.model_fields[name]
    found = [(where, getattr(part, name)) for where, part in places(home.derived.home, model)]
    found.sort(key=lambda each: each[1] == field.get_default())
    first, rest = found[: ELEMENTS // 2], found[ELEMENTS // 2 :]
    apart = rest[:: max(1, 2 * len(rest) // ELEMENTS)]
    each = [_values(home, field, (*where, name), (now, found)) for where, now in (*first, *apart[: ELEMENTS // 2])]
    for tries in zip_longest(*each):
        yield from (other for other in tries if other is not None)


def _values(home: Known, field: Any, where: Where, known: tuple[Any, list[Any]]) -> Iterator[Home]:
    """Homes in which one field has another value: at first those of other elements."""
    now, found = known
    beside = dict.fromkeys(value for _, value in found if isinstance(value, str | int | float) and value != now)
    others = (*islice(beside, BESIDE), *other_values(field, now, home.ids))
    homes = (changed(home.derived.home, home.document, where, value) for value in others)
    yield from islice((each for each in homes if each is not None), VALUES)


@pytest.mark.parametrize("model", models(), ids=lambda model: model.__name__)
def test_a_change_of_every_field_shows(model: type[Part]) -> None:
    """In a finding, figure, picture, draft, what the proof is given or a section that tells more than the fact."""
    assert dead(model) == []


def test_only_what_is_for_people_is_carried() -> None:
    """Labels and notes: each is a text that the model still has, with its reason."""
    for place, reason in CARRIED.items():
        name, _, field = place.partition(".")
        (model,) = (each for each in models() if each.__name__ == name)
        assert "str" in str(model.model_fields[field].annotation)
        assert reason.endswith(".")


def test_no_form_asks_what_nothing_uses() -> None:
    """Each question of a form is one of the fields above; what is carried for people alone is never asked first."""
    asked = [(form, group) for form in (*LISTS.values(), *SHEETS.values()) for group in groups_of(form)]
    assert len(asked) > 60
    for form, group in asked:
        assert group.model in models(), group.model
        carried = {name for name in group.names.split() if f"{group.model.__name__}.{name}" in CARRIED} - {"name"}
        assert not form.essential or not carried & set(form.essential.split()), (form.title, carried)


def groups_of(form: List | Sheet) -> Sequence[Group]:
    """The groups of fields that a form asks."""
    return form.groups if isinstance(form, Sheet) else form.columns


def test_nothing_shows_where_nothing_changed() -> None:
    """The measure itself: the same home, read again, is the same in every stage; a note that nobody reads too."""
    for home in known():
        again = Home.model_validate(home.document)
        assert home.differs(again, STAGES) == ""


def test_a_change_is_seen_by_the_stage_that_it_belongs_to() -> None:
    """The measure itself: a delay shows in what is simulated, a survey's answer in the findings."""
    home = known()[0]
    siren = changed(home.derived.home, home.document, ("control_unit", "times", "siren_s"), 17.0)
    switch = changed(home.derived.home, home.document, ("site", "breaker"), "no")
    assert siren is not None
    assert switch is not None
    assert home.differs(siren, STAGES) == "setup"
    assert home.differs(switch, STAGES) == "findings"


def test_a_field_that_nothing_reads_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """The measure itself, on one home: with its one reader taken away, a field is dead; with it, it is not."""
    whole = (Known(typed(drawn_home())),)
    assert "slowest_m_s" not in dead(DeviceEntry, ["slowest_m_s"], whole)
    checks = tuple(check for check in CHECKS if check.id != "detectors.too_fast_for_a_slow_walk")
    for module in (assessing, gains):
        monkeypatch.setattr(module, "CHECKS", checks)
    assert dead(DeviceEntry, ["slowest_m_s"], (Known(typed(drawn_home())),)) == ["slowest_m_s"]
