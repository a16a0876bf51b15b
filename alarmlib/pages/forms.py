"""From what is declared in `tables` to forms on the page."""

from collections.abc import Callable, Sequence
from typing import Any

from alarmlib.draft.lines import slug
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.kind_facts import belongs
from alarmlib.model.words import HAZARD_KINDS, Link
from alarmlib.pages.beside import beside
from alarmlib.pages.csv_forms import CSV_FORMS, wiring_downloads
from alarmlib.pages.declaring import FieldPath, Group, List, Sheet
from alarmlib.pages.drafts import plain_types, time_actions, zone_actions
from alarmlib.pages.household_tables import habit_steps
from alarmlib.pages.proof_repairs import RepairForm
from alarmlib.pages.proof_run import RunForm
from alarmlib.pages.tables import LISTS, SHEETS
from alarmlib.pages.unit_tables import part_set_doors, season_zones
from alarmlib.pages.wiring_tables import run_stops
from alarmlib.store import Edit, Session
from alarmlib.store.secrets import not_secret, warning
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.plan_editor import PlanEditor
from alarmlib.widgets.rows import FormsOfList
from alarmlib.widgets.spec import FieldSpec, FormSpec, TableSpec, fields_of, numbered
from alarmlib.widgets.table import TableForm


def sheet(session: Session, wanted: Sheet, extras: Extras | None = None) -> Form:
    """The form of a sheet."""
    for group in wanted.groups:
        _made(session, group.prefix, group)
    groups = tuple((group.legend, _fields(session, group)) for group in wanted.groups)
    return Form(session, FormSpec(wanted.title, groups, wanted.intro), extras or secrets_watched())


def table(session: Session, wanted: List, extras: Extras | None = None) -> TableForm:
    """The form of a list, a row an element."""
    columns = tuple(field for group in wanted.columns for field in _fields(session, group))
    spec = TableSpec(
        title=wanted.title,
        path=wanted.path,
        columns=columns,
        add_label=f"Add {'an' if wanted.row[0] in 'aeiou' else 'a'} {wanted.row}",
        new_id=numbered(slug(wanted.row)),
        blank=wanted.blank,
        intro=wanted.intro,
        keep=wanted.keep,
        row_word=wanted.row,
        named_by=wanted.named_by,
        needs=wanted.needs,
        whole=whole_devices if wanted.path == ("devices",) else None,
        inherits=_from_type if wanted.path == ("devices",) else lambda _element: "",
        belongs=belongs if wanted.path in {("devices",), ("device_types",)} else None,
    )
    return TableForm(session, spec, extras or secrets_watched())


def whole_devices(home: Home) -> tuple[Device, ...]:
    """The devices with every fact, their types' too."""
    return home.whole_devices


def _from_type(device: Device) -> str:
    return "From its type" if device.type else ""


def secrets_watched() -> Extras:
    """Forms look at free text: what looks like a secret gets a warning, which the owner may clear."""
    return Extras(check_text=warning, not_secret=not_secret, beside=beside)


def _fields(session: Session, group: Group) -> tuple[FieldSpec, ...]:
    system = session.home.units.value
    return fields_of(group.model, group.names.split(), group.prefix, system, group.options)


def _made(session: Session, path: FieldPath, group: Group) -> None:
    """A part that may be left out is put in empty before its fields are asked for."""
    part: Any = session.home
    for name in path:
        part = getattr(part, name)
    if part is None:
        session.apply([Edit(path, None, group.model().model_dump(mode="json"))])


def wireless(session: Session) -> TableForm:
    """The table of wireless devices; those without wireless facts get empty ones first."""
    _give_empty(session, "wireless", lambda device: device.link is Link.WIRELESS)
    return table(session, LISTS["wireless"])


def hazard_devices(session: Session) -> TableForm:
    """The table of smoke, heat and CO devices; those without such facts get empty ones first."""
    _give_empty(session, "hazard", lambda device: device.kind in HAZARD_KINDS)
    return table(session, LISTS["hazard_devices"])


def _give_empty(session: Session, part: str, wanted: Callable[[Device], bool]) -> None:
    home = session.home
    both = zip(home.devices, home.whole_devices, strict=True)
    bare = [entry.id for entry, device in both if getattr(entry, part) is None and wanted(device)]
    if bare:
        session.apply([Edit(("devices", name, part), None, {}) for name in bare])


def types(name: str) -> Callable[[Session], TableForm]:
    """A table of types; those without a part for wireless or hazard facts get an empty one first."""

    def made(session: Session) -> TableForm:
        parts = ("wireless", "hazard")
        bare = [(t.id, part) for t in session.home.device_types for part in parts if getattr(t, part) is None]
        if bare:
            session.apply([Edit(("device_types", *place), None, {}) for place in bare])
        return table(session, LISTS[name])

    return made


def part_set_tables(session: Session) -> FormsOfList:
    """What each entry/exit door does in each part set, a table a part set."""
    return _forms_of(session, lambda home: home.control_unit.part_sets, part_set_doors)


def season_tables(session: Session) -> FormsOfList:
    """How zones differ in each season, a table a season."""
    return _forms_of(session, lambda home: home.control_unit.seasons, season_zones)


def habit_tables(session: Session) -> FormsOfList:
    """The steps of each habit, a table a habit."""
    return _forms_of(session, lambda home: home.household.habits, habit_steps)


def run_tables(session: Session) -> FormsOfList:
    """What each cable feeds, a table a run."""
    return _forms_of(session, lambda home: home.wiring.runs, run_stops)


def cells(session: Session) -> TableForm:
    """The table of what wireless devices' manuals say of their batteries, and their signal."""
    _give_empty(session, "wireless", lambda device: device.link is Link.WIRELESS)
    return table(session, LISTS["cells"])


def _forms_of(session: Session, listed: Callable[[Home], Sequence[Any]], spec: Callable[[Any], List]) -> FormsOfList:
    return FormsOfList(session, listed, lambda each: table(session, spec(each)))


def build(session: Session, name: str) -> Any:
    """The form of that name; KeyError when there is none."""
    if name in SPECIAL:
        return SPECIAL[name](session)
    return sheet(session, SHEETS[name]) if name in SHEETS else table(session, LISTS[name])


SPECIAL: dict[str, Callable[[Session], Any]] = {
    "device_types": types("device_types"),
    "plain_types": plain_types,
    "type_currents": types("type_currents"),
    "type_cells": types("type_cells"),
    "type_sounds": types("type_sounds"),
    "wireless": wireless,
    "hazard_devices": hazard_devices,
    "part_set_doors": part_set_tables,
    "season_zones": season_tables,
    "habit_steps": habit_tables,
    "run_stops": run_tables,
    "cells": cells,
    "wiring_csv": wiring_downloads,
    **CSV_FORMS,
    "zone_actions": zone_actions,
    "time_actions": time_actions,
    "plan": lambda session: PlanEditor(session, extras=secrets_watched()),
    "device_plan": lambda session: PlanEditor(session, "Devices on the plan", True, secrets_watched()),
    "proof_run": RunForm,
    "proof_mends": RepairForm,
}
