"""The sections of the record, in the order of the long record and of the short one."""

from alarmlib.record.section import Section
from alarmlib.record.sections.detectors.choice import choice
from alarmlib.record.sections.detectors.coverage import coverage
from alarmlib.record.sections.detectors.devices import devices, parts
from alarmlib.record.sections.detectors.hazards import hazards
from alarmlib.record.sections.electrical.fitting import cables, fitting
from alarmlib.record.sections.electrical.loops import loops
from alarmlib.record.sections.electrical.power import power
from alarmlib.record.sections.electrical.radio import radio
from alarmlib.record.sections.electrical.sound import sound
from alarmlib.record.sections.front.calculations import calculations, sources_used
from alarmlib.record.sections.front.findings import assumptions, findings, gaps, to_do
from alarmlib.record.sections.front.next_steps import do_next
from alarmlib.record.sections.front.summary import cautions, changes, sharing, summary
from alarmlib.record.sections.home.house import house, household, inherited, plan
from alarmlib.record.sections.home.sheets import contacts, diary, handover, walk_sheet
from alarmlib.record.sections.settings.messages import messages, system_faults
from alarmlib.record.sections.settings.proof import proof
from alarmlib.record.sections.settings.settings import settings, times
from alarmlib.record.sections.settings.zones import sets, zones
from alarmlib.record.sections.upkeep.upkeep import upkeep
from alarmlib.record.sections.upkeep.walk_test import test_log, test_plan

LONG: tuple[Section, ...] = (
    do_next,
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
    calculations,
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
SHORT: tuple[Section, ...] = (
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
