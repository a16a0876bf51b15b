"""The logs of the finished home: those of the first plan, and what was tested after the changes."""

from demo_finished_devices import CHANGED, CHANGED_ON, added
from demo_records import tested

from alarmlib.model.devices import Device
from alarmlib.model.log import Event, Log, Seen, Test, TestKind, Upkeep

TESTED_ON = "2026-11-07"
_OTHERS = (
    Test(id="walk_control_unit", on=TESTED_ON, by="First parent", device="control_unit", kind=TestKind.BATTERY,
         expected="Mains off and on: it stays as it was set", seen=Seen.AS_EXPECTED),
    Test(id="walk_repeater", on=TESTED_ON, by="First parent", device="repeater",
         expected="Unplugged, it is reported missing; the studio still answers when it is back", seen=Seen.AS_EXPECTED),
    Test(id="walk_power_supply", on=TESTED_ON, by="First parent", device="power_supply", kind=TestKind.BATTERY,
         expected="Runs for an hour without mains; router and fibre box stay on", seen=Seen.AS_EXPECTED),
    Test(id="messages_again", on=TESTED_ON, by="First parent", device="communicator", kind=TestKind.MESSAGE,
         expected="All four are told in order, with the mains off", seen=Seen.AS_EXPECTED),
    Test(id="time_back_entry", on=TESTED_ON, by="Second parent", device="utility_keypad", kind=TestKind.TIMER,
         expected="Entry delay from the back door lasts 40 s", seen=Seen.AS_EXPECTED),
)  # fmt: skip
_EVENTS = (
    Event(id="stove_lit", on="2026-10-28", zone="living_motion",
          cause="The stove was lit; the detector saw the warm air in its view.",
          changed="The detector was turned until the stove was out of its view."),
    Event(id="gate_again", on="2026-11-14", zone="garage_blows",
          cause="The gate was shaken while the car was put away.",
          changed="Nothing: it was shown, and no siren sounded."),
)  # fmt: skip
_UPKEEP = (
    Upkeep(id="batteries_looked_at", on="2026-11-07", done="Dates of all batteries looked at; none is due.",
           device="control_unit"),
    Upkeep(id="drill", on="2026-11-08",
           done="Everybody out at night, doors closed: out in two minutes, helped as agreed."),
    Upkeep(id="standby_supply", on=CHANGED_ON, done="Standby supply fitted for router and fibre box."),
)  # fmt: skip


def log(first: Log, now: tuple[Device, ...]) -> Log:
    """All the logs, the tests after the changes last."""
    again = {*CHANGED, *(device.id for device in added())}
    tests = (tested(each, TESTED_ON, f"again_{each.id}") for each in now if each.id in again)
    return first.model_copy(
        update={
            "tests": (*first.tests, *tests, *_OTHERS),
            "events": (*first.events, *_EVENTS),
            "upkeep": (*first.upkeep, *_UPKEEP),
        }
    )
