"""On which page a field of the home is filled in."""

from alarmlib.pages.declaring import FieldPath, Group
from alarmlib.pages.tables import LISTS, SHEETS

FORMS: dict[str, str] = {
    "00_start": "rules short_path inherited_ticks found",
    "01_survey": "card storeys rooms room_facts passages furniture openings opening_facts people pets visitors absence "
    "responders",
    "02_detectors": "device_types devices detection wireless device_prices hazard_rules fixtures hazard_devices",
    "03_zones": "unit_limits areas part_sets part_set_doors zones unit_times unit_behaviour seasons season_zones "
    "season_now",
    "04_times": "walks door_times times habits habit_steps paths messages messages_self",
    "05_wiring_power": "circuits loop_input pair_readings runs run_stops type_currents currents type_cells cells boxes "
    "supply fitting_day",
    "06_sounders": "type_sounds sounders sound_doors sound heard",
    "08_proof": "proof_assumptions change_prices",
    "10_test_walk": "tests events upkeep",
    "11_record": "accepted",
}
"""The tables and forms of each page, in the order of the pages: a field of several is filled in on the first."""
_LISTS_IN_LISTS: dict[FieldPath, str] = {
    ("control_unit", "part_sets", "doors"): "part_set_doors",
    ("control_unit", "seasons", "zones"): "season_zones",
    ("household", "habits", "steps"): "habit_steps",
    ("wiring", "runs", "stops"): "run_stops",
}


def page_of(path: str) -> str | None:
    """The page on which what is at that path of the home ("devices/hall/range_m") is filled in; None: on none."""
    form = form_of(tuple(path.split("/")))
    return next((page for page, forms in FORMS.items() if form in forms.split()), None)


def form_of(path: FieldPath) -> str | None:
    """The first form, in the order of the pages, that holds a field, a row or a list of the home."""
    inside = _LISTS_IN_LISTS.get((*path[:2], *path[3:4]))
    if inside:
        return inside
    names = (name for forms in FORMS.values() for name in forms.split())
    return next((name for name in names if _holds(name, path)), None)


def _holds(name: str, path: FieldPath) -> bool:
    if name in SHEETS:
        return any(_in_group(group, path) for group in SHEETS[name].groups)
    if name not in LISTS or path[: len(LISTS[name].path)] != LISTS[name].path:
        return False
    inside = path[len(LISTS[name].path) + 1 :]
    own = LISTS[name].listed_on is None
    return any(_in_group(group, inside) for group in LISTS[name].columns) if inside else own


def _in_group(group: Group, path: FieldPath) -> bool:
    return path[:-1] == group.prefix and path[-1] in group.names.split()
