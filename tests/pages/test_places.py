"""A link to a field leads to the page on which the field is filled in."""

import json
import re
from pathlib import Path

import pytest

from alarmlib.pages.places import FORMS, form_of, page_of
from alarmlib.pages.tables import LISTS, SHEETS

WORKBOOK = Path(__file__).parents[2] / "workbook"


@pytest.mark.parametrize("page", FORMS)
def test_each_form_is_on_its_page(page: str) -> None:
    """As the pages themselves have it."""
    cells = json.loads((WORKBOOK / f"{page}.ipynb").read_text(encoding="utf-8"))["cells"]
    code = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    assert set(FORMS[page].split()) <= set(re.findall(r"pages\.form\(\"(\w+)\"\)", code))


def test_each_declared_form_has_its_page() -> None:
    assert set(LISTS) | set(SHEETS) <= {name for forms in FORMS.values() for name in forms.split()}


@pytest.mark.parametrize(
    ("path", "form", "page"),
    [
        ("devices/hall/range_m", "detection", "02_detectors"),
        ("devices/hall", "devices", "02_detectors"),
        ("devices", "devices", "02_detectors"),
        ("devices/hall/wireless/signal", "cells", "05_wiring_power"),
        ("devices/hall/wireless/battery_fitted_on", "wireless", "02_detectors"),
        ("device_types/plain/level_dba", "type_sounds", "06_sounders"),
        ("control_unit/part_sets/night/doors/front/delayed", "part_set_doors", "03_zones"),
        ("control_unit/behaviour/off_route_in_exit", "unit_behaviour", "03_zones"),
        ("circuits", "circuits", "05_wiring_power"),
        ("wiring/supply/end_v", "supply", "05_wiring_power"),
        ("nothing/of/the/kind", None, None),
    ],
)
def test_the_page_of_a_field(path: str, form: str | None, page: str | None) -> None:
    assert form_of(tuple(path.split("/"))) == form
    assert page_of(path) == page
