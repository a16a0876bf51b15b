"""The tick sheets of the survey page: one for the round, one for fire, gas, water and frost behind its cautions."""

from alarmlib.model.survey import Heading
from alarmlib.pages.beside import beside
from alarmlib.store import Session
from alarmlib.store.secrets import not_secret, warning
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.survey_sheet import SurveySheet


def round_sheet(session: Session) -> SurveySheet:
    """What is looked at outside, before long absences and with the neighbours."""
    return SurveySheet(session, "Points of your round", lambda heading: heading is not Heading.HAZARDS, _watched())


def hazard_sheet(session: Session) -> SurveySheet:
    """What is looked at for fire, gas, water and frost."""
    return SurveySheet(session, "Points to look at", lambda heading: heading is Heading.HAZARDS, _watched())


def _watched() -> Extras:
    return Extras(check_text=warning, not_secret=not_secret, beside=beside)
