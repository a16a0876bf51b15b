"""All tables and forms of the pages by their name: which part of the home, which columns, in which order."""

from alarmlib.pages.accepting import ACCEPTED_LISTS
from alarmlib.pages.declaring import List, Sheet
from alarmlib.pages.device_tables import DEVICE_LISTS, DEVICE_SHEETS
from alarmlib.pages.home_tables import HOME_LISTS, HOME_SHEETS
from alarmlib.pages.household_tables import HOUSEHOLD_LISTS, HOUSEHOLD_SHEETS
from alarmlib.pages.log_tables import LOG_LISTS, LOG_SHEETS
from alarmlib.pages.unit_tables import UNIT_LISTS, UNIT_SHEETS
from alarmlib.pages.wiring_tables import WIRING_LISTS, WIRING_SHEETS

SHEETS: dict[str, Sheet] = {
    **HOME_SHEETS,
    **HOUSEHOLD_SHEETS,
    **DEVICE_SHEETS,
    **UNIT_SHEETS,
    **LOG_SHEETS,
    **WIRING_SHEETS,
}

LISTS: dict[str, List] = {
    **HOME_LISTS,
    **HOUSEHOLD_LISTS,
    **DEVICE_LISTS,
    **UNIT_LISTS,
    **LOG_LISTS,
    **WIRING_LISTS,
    **ACCEPTED_LISTS,
}
