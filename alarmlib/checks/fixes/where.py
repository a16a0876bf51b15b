"""The page of the workbook on which what a check is about is entered."""

from alarmlib.checks.finding import Finding

PAGES = {
    "00_start": ("short_path", "inherited"),
    "01_survey": ("site", "unlikely", "plan_drawn", "people", "hazards", "readiness", "left_alone"),
    "02_detectors": (
        *("detectors", "placement", "glass", "devices", "placement_walks", "coverage", "choice"),
        *("household_alarms", "alarm_places", "alarm_walks", "carbon_monoxide", "british_alarms"),
    ),
    "03_zones": ("zones", "capacity", "zone_plan", "part_sets", "control"),
    "04_times": ("times", "habits", "by_day"),
    "05_wiring_power": ("loops", "radio", "cable", "battery", "fitting"),
    "06_sounders": ("sound", "messages"),
    "08_proof": ("proof",),
    "10_test_walk": ("test_walk",),
}
"""Groups of checks by page."""


def page_of(finding: Finding) -> str:
    """The page that a finding is about; page 01 where none is known."""
    group = finding.id.partition(".")[0]
    return next((page for page, groups in PAGES.items() if group in groups), "01_survey")
