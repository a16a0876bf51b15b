"""The device schedule as CSV: a row a device, in the home's units; and the list whose facts go out and in again."""

import csv
import io
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from alarmlib.calc.coverage.areas import coverages
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.pages.csv_forms import csv_form
from alarmlib.record.device_schedule import schedule_csv
from alarmlib.record.floor_plan import marks
from alarmlib.record.produce import demo_home
from alarmlib.store import Session
from alarmlib.store.edits import with_edits
from alarmlib.store.tables import CsvTable, preview, to_csv

Put = Callable[[Home, dict[str, Any]], Home]
EYE = {"id": "pir", "name": "=Corner eye", "kind": "motion", "room": "big", "at": [5, 5], "height_m": 2.2,
       "mount": "inside_wall", "facing_deg": 0, "range_m": 12, "angle_deg": 360, "straight_range_m": 12,
       "looks_down_deg": 90, "zone": "inside", "price": 39.5, "link": "wireless",
       "wireless": {"battery": "lithium", "battery_fitted_on": "2026-01-10", "battery_lasts_years": 3}}  # fmt: skip


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """The demo home in a file of its own."""
    shutil.copyfile(Path(__file__).parents[2] / "workbook" / "demo_home.json", tmp_path / "home.json")
    return Session.open(tmp_path / "home.json")


@pytest.fixture
def house() -> Home:
    """A room of 10 m by 10 m and a den that isn't drawn; an eye, a contact on window and door, a fob."""
    return Home.model_validate(
        {
            "site": {
                "storeys": [{"id": "ground", "name": "Ground floor"}],
                "rooms": [
                    {"id": "big", "name": "Great, room", "storey": "ground",
                     "outline": [[0, 0], [10, 0], [10, 10], [0, 10]]},
                    {"id": "den", "name": "Den", "storey": "ground"},
                ],
                "openings": [{"id": "bay", "name": "Bay", "room": "big"}],
                "passages": [{"id": "way", "first": "big", "second": "den"}],
            },
            "control_unit": {"zones": [{"id": "inside", "label": "Inside"}]},
            "devices": [
                EYE,
                {"id": "c", "name": "Contact", "kind": "contact", "room": "big", "openings": ["bay"],
                 "passages": ["way"]},
                {"id": "fob", "name": "Fob", "kind": "fob"},
            ],
        }
    )  # fmt: skip


def rows(home: Home) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(schedule_csv(home), newline="")))


def test_every_cell_of_a_row(house: Home) -> None:
    """Mark, names that no spreadsheet runs, place, zone, share, battery, price; what is not known stays blank."""
    eye, contact, fob = rows(house)
    assert eye == {
        "Mark": "M1", "Device": "'=Corner eye", "Kind": "motion detector", "Connection": "wireless",
        "State": "planned", "Room": "Great, room", "Floor": "Ground floor", "Height above the floor [m]": "2.2",
        "Fixed to": "inside wall", "Place on the plan [m]": "5 5", "Direction that it faces, degrees": "0",
        "Guards": "", "Zone": "Inside", "Part of its room computed to be seen, %": "100", "Battery": "lithium battery",
        "Battery fitted on": "2026-01-10", "Battery life, years": "3", "Price": "39.5",
    }  # fmt: skip
    assert contact["Guards"] == "Bay; door between Great, room and Den"
    assert (contact["Mark"], contact["Battery"], contact["Part of its room computed to be seen, %"]) == ("C1", "", "")
    assert (fob["Mark"], fob["Room"], fob["Floor"], fob["Place on the plan [m]"]) == ("B1", "", "", "")


def test_the_share_is_that_of_the_detector_alone(house: Home, put: Put) -> None:
    """From a corner, a view of 45° along one wall sees half of a square."""
    corner = {"devices.pir.at": [0, 0], "devices.pir.facing_deg": 22.5, "devices.pir.angle_deg": 45,
              "devices.pir.range_m": 15, "devices.pir.straight_range_m": 15}  # fmt: skip
    assert rows(put(house, corner))[0]["Part of its room computed to be seen, %"] == "50"
    assert rows(put(house, {"devices.pir.range_m": None}))[0]["Part of its room computed to be seen, %"] == ""


def test_in_us_units_and_without_what_was_taken_out(house: Home, put: Put) -> None:
    """Heights in feet, as the header says; a device taken out has no row, the marks stay."""
    home = put(house, {"units": "us", "devices.c.state": "removed"})
    eye, fob = rows(home)
    assert (eye["Height above the floor [ft]"][:3], fob["Mark"]) == ("7.2", "B1")


def test_rows_end_as_rfc_4180_asks(house: Home) -> None:
    assert schedule_csv(house).count("\r\n") == 4
    assert '"Great, room"' in schedule_csv(house)


def test_the_demo_home_has_a_row_a_device_and_a_share_for_each_detector_computed() -> None:
    home = demo_home()
    told = rows(home)
    assert [row["Mark"] for row in told] == [marks(home)["device", device.id] for device in home.devices]
    assert sum(row["Part of its room computed to be seen, %"] != "" for row in told) == len(coverages(home)) > 0


def test_the_form_offers_it_beside_the_list_of_devices(session: Session) -> None:
    """A second file to download; of the other lists only the tests' has one, the walk in its order."""
    own, schedule = csv_form(CsvTable.DEVICES, session).extras.downloads
    assert own.handler()[0] == "devices.csv"
    name, content = schedule.handler()
    assert (name, content.decode("utf-8-sig")) == ("device_schedule.csv", schedule_csv(session.home))
    two = {table for table in CsvTable if len(csv_form(table, session).extras.downloads) == 2}
    assert two == {CsvTable.DEVICES, CsvTable.TESTS}


# --- the list of devices, out and in ---

NEW = {"mount": "ceiling", "straight_range_m": 7.5, "looks_down_deg": 60.0}
HAZARD = {
    "sense": "photoelectric", "hush": "yes", "resists_cooking": "no", "sounds_with_others": "yes", "from_wall_m": 0.3,
    "below_ceiling_m": 0.1, "from_peak_m": 1.5, "below_peak_m": 0.2, "in_air_stream": "no", "rating_c": 58.0,
    "listed_spacing_m": 15.25,
}  # fmt: skip


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_new_facts_of_a_device_go_out_and_in(house: Home, put: Put, units: str) -> None:
    """Mount, straight range, steepest beam and every fact of smoke, heat and CO, into a home that lacks them."""
    full = put(house, {"units": units, "devices.pir.hazard": HAZARD} | {f"devices.pir.{k}": v for k, v in NEW.items()})
    lacking = put(full, {"devices.pir.hazard": None, "devices.pir.straight_range_m": None,
                         "devices.pir.looks_down_deg": None, "devices.pir.mount": "unknown"})  # fmt: skip
    found = preview(to_csv(full, CsvTable.DEVICES), CsvTable.DEVICES, lacking)
    assert (found.problems, found.changed) == ((), ("pir",))
    taken = Home.model_validate(with_edits(lacking.model_dump(mode="json"), found.edits))
    assert near(taken.whole_devices[0], full.whole_devices[0])
    assert preview(to_csv(full, CsvTable.DEVICES), CsvTable.DEVICES, full).edits == ()


def near(one: Device, other: Device) -> bool:
    """Alike, lengths to the thousandth of a metre that a cell in feet may round off."""
    pairs = [(one.model_dump(mode="json"), other.model_dump(mode="json"))]
    pairs += [(pairs[0][0].pop(name), pairs[0][1].pop(name)) for name in ("hazard", "wireless")]
    return all(
        value == pytest.approx(there[name], abs=1e-3) if isinstance(value, float) else value == there[name]
        for mine, there in pairs
        for name, value in mine.items()
    )


def test_a_new_row_with_hazard_facts_makes_a_whole_device(house: Home) -> None:
    """And one without them gets none."""
    text = (
        "Id,Device,Kind,Fixed to,\"Smoke, heat and CO facts: How it senses smoke\"\n"
        "s1,Smoke,smoke detector,ceiling,photoelectric\ns2,Smoke two,smoke detector,ceiling,\n"
    )  # fmt: skip
    found = preview(text, CsvTable.DEVICES, house)
    assert (found.problems, found.added) == ((), ("s1", "s2"))
    taken = Home.model_validate(with_edits(house.model_dump(mode="json"), found.edits)).whole_devices[-2:]
    assert [device.hazard is None for device in taken] == [False, True]
    assert taken[0].hazard is not None and taken[0].hazard.sense.value == "photoelectric"


def test_a_list_goes_whole_into_a_home_that_has_none_of_its_devices(house: Home, put: Put) -> None:
    """Regression: blank cells of a device that is not wireless, or no smoke detector, were asked to be filled."""
    emptied = put(house, {"devices": []})
    found = preview(to_csv(house, CsvTable.DEVICES), CsvTable.DEVICES, emptied)
    assert (found.problems, found.added) == ((), ("pir", "c", "fob"))
    assert Home.model_validate(with_edits(emptied.model_dump(mode="json"), found.edits)).devices == house.devices


def test_a_new_row_must_still_say_what_it_is(house: Home) -> None:
    """Neither its kind nor a type: a problem of its row."""
    (problem,) = preview("Id,Device,Kind\ns1,Smoke,\n", CsvTable.DEVICES, house).problems
    assert problem == "Row 2: Choose its type, or say what kind it is."
