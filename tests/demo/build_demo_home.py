"""Writes the two demo homes, as first planned and finished: all in them is invented. Run from the project's folder."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import demo_finished
import demo_finished_devices
import demo_finished_log
from demo_devices import circuits, devices, prices
from demo_finished_reasons import with_reasons
from demo_household import household
from demo_records import inherited, log, messages
from demo_short_path import short_path
from demo_site import site
from demo_types import typed
from demo_unit import unit
from demo_wiring import read_circuits, sound, wiring, with_figures

from alarmlib.checks.cautions import CAUTIONS
from alarmlib.model.home import Home, Rules
from alarmlib.model.proof import ProofChoices
from alarmlib.model.words import RuleSet, StartPoint, UnitSystem
from alarmlib.store.document import text_of

FOLDER = Path(__file__).parents[2] / "workbook"


def first_plan() -> Home:
    """The invented home as it was first planned and fitted."""
    fitted = with_figures(devices())
    types, entries = typed(fitted)
    home = Home(
        name="The demo home",
        units=UnitSystem.METRIC,
        start_point=StartPoint.OLD_UNKNOWN,
        rules=Rules(rule_set=RuleSet.EUROPE, grade=2, siren_limit_s=600, siren_limit_hour_s=900, permit_asked=True),
        cautions_read=tuple(advice.id for advice in CAUTIONS),
        short_path=short_path(),
        site=site(),
        household=household(),
        control_unit=unit(),
        device_types=types,
        devices=entries,
        circuits=read_circuits(circuits()),
        sound=sound(),
        messages=messages(),
        inherited=inherited(),
        log=log(fitted),
        prices=prices(),
        proof=ProofChoices(looks_before_setting=True),  # this household ticked it: its proof names that first
        note="Invented for learning: no such house, household or control unit exists.",
    )
    return home.model_copy(update={"wiring": wiring(home)})


def finished() -> Home:
    """The same home after what its proof and its findings led the family to change, all of it tested."""
    first = first_plan()
    before = with_figures(devices())
    now = (*map(demo_finished_devices.changed, before), *with_figures(demo_finished_devices.added()))
    types, entries = typed(now)
    home = first.model_copy(
        update={
            "site": demo_finished.site(first.site),
            "household": demo_finished.household(first.household),
            "control_unit": demo_finished.unit(first.control_unit),
            "device_types": types,
            "devices": entries,
            "log": demo_finished_log.log(first.log, now),
        }
    )
    return with_reasons(home.model_copy(update={"wiring": demo_finished.wiring(wiring(home))}))


HOMES = {"demo_home.json": first_plan, "demo_home_finished.json": finished}


def demo_bytes(name: str) -> bytes:
    """One demo home's file, as the store writes it."""
    return text_of(Home.model_validate(HOMES[name]().model_dump()))


if __name__ == "__main__":
    for name in HOMES:
        (FOLDER / name).write_bytes(demo_bytes(name))
