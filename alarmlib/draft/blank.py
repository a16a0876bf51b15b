"""A new home: nothing known, every point of the survey still to be looked at."""

from alarmlib.model.home import Home
from alarmlib.model.site import Site
from alarmlib.model.survey import POINTS, Answer


def blank_home() -> Home:
    """A home in which nothing has been entered yet."""
    answers = tuple(Answer(id=point.id, heading=point.heading, point=point.text) for point in POINTS)
    return Home(site=Site(answers=answers))
