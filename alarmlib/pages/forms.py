"""From what is declared in `tables` to forms on the page."""

from collections.abc import Callable, Sequence
from typing import Any

from alarmlib.draft.lines import slug
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.kind_facts import belongs
from alarmlib.model.words import UnitSystem
from alarmlib.pages.beside import beside
from alarmlib.pages.csv_forms import CSV_FORMS, wiring_downloads
from alarmlib.pages.declaring import Group, List, Sheet, folded
from alarmlib.pages.drafts import plain_types, time_actions, zone_actions
from alarmlib.pages.habit_forms import HabitOffers
from alarmlib.pages.household_tables import habit_steps
from alarmlib.pages.proof_repairs import RepairForm
from alarmlib.pages.proof_run import RunForm
from alarmlib.pages.survey import hazard_sheet, round_sheet
from alarmlib.pages.tables import LISTS, SHEETS
from alarmlib.pages.unit_tables import part_set_doors, season_zones
from alarmlib.pages.wiring_tables import run_stops
from alarmlib.store import Session
from alarmlib.store.secrets import not_secret, warning
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.plan_editor import PlanEditor
from alarmlib.widgets.rows import FormsOfList
from alarmlib.widgets.spec import FieldSpec, FormSpec, TableSpec, fields_of, numbered
from alarmlib.widgets.table import TableForm


def sheet(session: Session, wanted: Sheet, extras: Extras | None = None) -> Form:
    """The form of a sheet."""

    def spec(units: UnitSystem) -> FormSpec:
        every = folded([f for g in wanted.groups for f in _fields(units, g)], wanted.essential, wanted.may_be_blank)
        by_path = {field.path: field for field in every}
        groups = tuple((g.legend, tuple(by_path[f.path] for f in _fields(units, g))) for g in wanted.groups)
        return FormSpec(
            wanted.title, groups, wanted.intro, wanted.more, summed=True, late=wanted.late, line=wanted.line
        )

    return Form(session, spec, extras or secrets_watched())


def table(session: Session, wanted: List, extras: Extras | None = None) -> TableForm:
    """The form of a list, a row an element."""
    return TableForm(session, lambda units: _table_spec(units, wanted), extras or secrets_watched())


def _table_spec(units: UnitSystem, wanted: List) -> TableSpec:
    fields = [field for group in wanted.columns for field in _fields(units, group)]
    columns = folded(fields, wanted.essential, wanted.may_be_blank)
    return TableSpec(
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
        more=wanted.more,
        summed=True,
        late=wanted.late,
        listed_on=wanted.listed_on,
    )


def whole_devices(home: Home) -> tuple[Device, ...]:
    """The devices with every fact, their types' too."""
    return home.whole_devices


def _from_type(device: Device) -> str:
    return "From its type" if device.type else ""


def secrets_watched() -> Extras:
    """Forms look at free text: what looks like a secret gets a warning, which the owner may clear."""
    return Extras(check_text=warning, not_secret=not_secret, beside=beside)


def _fields(units: UnitSystem, group: Group) -> tuple[FieldSpec, ...]:
    return fields_of(group.model, group.names.split(), group.prefix, units.value, group.options)


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


def _forms_of(session: Session, listed: Callable[[Home], Sequence[Any]], spec: Callable[[Any], List]) -> FormsOfList:
    return FormsOfList(session, listed, lambda each: table(session, spec(each)))


def build(session: Session, name: str) -> Any:
    """The form of that name; KeyError when there is none."""
    if name in SPECIAL:
        return SPECIAL[name](session)
    return sheet(session, SHEETS[name]) if name in SHEETS else table(session, LISTS[name])


SPECIAL: dict[str, Callable[[Session], Any]] = {
    "plain_types": plain_types,
    "part_set_doors": part_set_tables,
    "season_zones": season_tables,
    "habit_offers": HabitOffers,
    "habit_steps": habit_tables,
    "run_stops": run_tables,
    "wiring_csv": wiring_downloads,
    **CSV_FORMS,
    "zone_actions": zone_actions,
    "time_actions": time_actions,
    "round": round_sheet,
    "hazards": hazard_sheet,
    "plan": lambda session: PlanEditor(session, extras=secrets_watched()),
    "device_plan": lambda session: PlanEditor(session, "Devices on the plan", True, secrets_watched()),
    "proof_run": RunForm,
    "proof_mends": RepairForm,
}
