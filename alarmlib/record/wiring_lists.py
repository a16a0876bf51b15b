"""Wiring to take along: the cable schedule, the power sheet and the cells to change, as CSV (RFC 4180), read only."""

import csv
import io
from collections.abc import Iterable

from alarmlib.calc.electrical.cable_schedule import schedule
from alarmlib.calc.electrical.power import draws, due_day, load
from alarmlib.calc.electrical.radio import replacements
from alarmlib.model import Home
from alarmlib.rules import say_of
from alarmlib.store.columns import harmless
from alarmlib.units import Kind, rounded, show_number, unit_label


def cables_csv(home: Home) -> str:
    """A row a cable: label, circuit or run, devices, length, cores, what of it is planned; in the home's units."""
    names, unit = {d.id: d.name for d in home.whole_devices}, unit_label(Kind.LENGTH, home.units)
    say = say_of(home)
    names |= {circuit.id: circuit.name for circuit in home.circuits} | {run.id: run.name for run in home.wiring.runs}
    rows = (
        (
            harmless(cable.label),
            harmless(names.get(cable.of, "")),
            harmless(", ".join(names[device] for device in cable.devices if device in names)),
            show_number(cable.length_m, Kind.LENGTH, home.units),
            str(cable.cores),
            say(", ".join(cable.planned)),
        )
        for cable in schedule(home).cables
    )
    header = ("Label", "Detector circuit or feed", "Devices", f"Length ({unit})", "Cores", "Planned, not entered")
    return _written(map(say, header), rows)


def power_csv(home: Home) -> str:
    """A row a load, mA quiet and in alarm, and their totals."""
    each, whole = draws(home), load(home)
    rows = [(harmless(draw.name), f"{1000 * draw.quiet_a:g}", f"{1000 * draw.alarm_a:g}") for draw in each]
    rows.append(("Together", rounded(1000 * whole.quiet_a, 6), rounded(1000 * whole.alarm_a, 6)))
    return _written(map(say_of(home), ("Load", "Quiet (mA)", "In alarm (mA)")), rows)


def cells_csv(home: Home) -> str:
    """A row for each device's battery and the standby battery, the first to be changed first; undated ones last."""
    names, say = {d.id: d.name for d in home.whole_devices}, say_of(home)
    rows = [(due.on, harmless(names[due.device]), rounded(due.years), say(due.known_by)) for due in replacements(home)]
    supply = home.wiring.supply
    if supply.lasts_years is not None:
        rows.append((due_day(supply), "Standby battery", rounded(supply.lasts_years), "its manual"))
    rows.sort(key=lambda row: row[0] or "9999")
    return _written(map(say, ("Change on", "Device", "Lasts, years", "Known by")), rows)


def _written(header: Iterable[str], rows: Iterable[tuple[str, ...]]) -> str:
    out = io.StringIO()
    csv.writer(out).writerows((tuple(header), *rows))
    return out.getvalue()
