"""A new home: nothing known, every point of the survey still to be looked at; the storey of its first room."""

from alarmlib.model.home import Home
from alarmlib.model.site import Site, Storey
from alarmlib.model.survey import POINTS, Answer


def blank_home() -> Home:
    """A home in which nothing has been entered yet."""
    answers = tuple(Answer(id=point.id, heading=point.heading, point=point.text) for point in POINTS)
    return Home(site=Site(answers=answers))


def first_storey(home: Home) -> Storey:
    """The storey that a first room is on when none was entered: the lowest there is, or a new ground floor."""
    known = sorted(home.site.storeys, key=lambda storey: (abs(storey.level), -storey.level))
    return known[0] if known else Storey(id="ground", name="Ground floor")
