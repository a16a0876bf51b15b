"""The sections of the record, one module each: ID, TITLE, NEEDS, LEVEL, build(context).

NEEDS are the parts of the home without which the section has nothing to say; LEVEL is the widest circle
that may see it; PAPER sections begin a new page in print.
"""

from types import ModuleType

from alarmlib.record.sections.detectors import choice, coverage, devices, hazards, walk_sheet
from alarmlib.record.sections.electrical import cables, fitting, loops, power, radio, sound
from alarmlib.record.sections.front import (
    assumptions,
    cautions,
    changes,
    findings,
    sharing,
    sources_used,
    summary,
    to_do,
)
from alarmlib.record.sections.front import calculations as sums
from alarmlib.record.sections.home import contacts, diary, gaps, handover, house, household, inherited, parts, plan
from alarmlib.record.sections.settings import messages, proof, sets, settings, system_faults, times, zones
from alarmlib.record.sections.upkeep import test_log, test_plan, upkeep

LONG: tuple[ModuleType, ...] = (
    summary,
    cautions,
    findings,
    to_do,
    house,
    plan,
    household,
    inherited,
    devices,
    coverage,
    choice,
    zones,
    sets,
    times,
    sums,
    proof,
    loops,
    radio,
    cables,
    power,
    sound,
    fitting,
    hazards,
    messages,
    system_faults,
    settings,
    test_plan,
    test_log,
    upkeep,
    changes,
    assumptions,
    sources_used,
    sharing,
    handover,
    contacts,
    diary,
    walk_sheet,
)
SHORT: tuple[ModuleType, ...] = (
    summary,
    cautions,
    gaps,
    zones,
    times,
    parts,
    test_plan,
    assumptions,
    sources_used,
    sharing,
)
