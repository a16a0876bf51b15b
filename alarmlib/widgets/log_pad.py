"""The pad for the walk test: a row for each test, planned or added on the way, kept in the home's log."""

from collections.abc import Sequence

from alarmlib.model import Home
from alarmlib.model.log import Test
from alarmlib.store import Edit, Session
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.spec import Choices, TableSpec, fields_of, numbered
from alarmlib.widgets.table import TableForm

PATH = ("log", "tests")
COLUMNS = ("device", "kind", "expected", "seen", "seen_zone", "cause", "action", "on", "at", "by")


class LogPad(TableForm):
    """The test log as a table; `today` (ISO date) and `by` (a role) stand in each new row."""

    def __init__(
        self,
        session: Session,
        today: str = "",
        by: str = "",
        extras: Extras | None = None,
        raising: bool | None = None,
    ) -> None:
        system = session.home.units
        columns = fields_of(Test, COLUMNS, (), system, {"device": _devices, "seen_zone": _zones})
        spec = TableSpec(
            title="Test log",
            path=PATH,
            columns=columns,
            add_label="Add a test",
            new_id=numbered("test"),
            blank=lambda _home: {"on": today, "by": by},
            row_word="test",
        )
        super().__init__(session, spec, extras, raising)


def add_planned(session: Session, planned: Sequence[Test]) -> int:
    """Put planned tests whose id is not in the log yet at its end, in their order; gives how many were added."""
    there = {test.id for test in session.home.log.tests}
    new = [test for test in planned if test.id not in there]
    if new:
        session.apply([Edit((*PATH, test.id), None, test) for test in new])
    return len(new)


def _devices(home: Home) -> Choices:
    return tuple((device.id, device.name) for device in home.whole_devices)


def _zones(home: Home) -> Choices:
    return tuple((zone.id, zone.label) for zone in home.control_unit.zones)
