"""What is right by itself and does not fit the rest of the home: where, what is there, what may be there."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from alarmlib.model.control_unit import Area
    from alarmlib.model.devices import DeviceEntry
    from alarmlib.model.log import Test


class Misfit(ValueError):  # noqa: N818
    """A value that does not fit: `path` leads to it by names of fields and ids, `allowed` says what may be there.

    `value` is "" where no single value is wrong, or where what it leads to is gone.
    """

    def __init__(self, path: tuple[str, ...], value: str, allowed: str) -> None:
        super().__init__(allowed)
        self.path, self.value, self.allowed = path, value, allowed


def led_back(areas: "Iterable[Area]", devices: "Iterable[DeviceEntry]", tests: "Iterable[Test]") -> Iterator[Misfit]:
    """Each area, repeater or test that leads back to itself where nothing in the world could."""
    for area in areas:
        if area.follows == area.id:
            what = "an area cannot wait for its own entry delay; choose another area, or leave it blank"
            yield Misfit(("control_unit", "areas", area.id, "follows"), area.follows, what)
    passed_on = {device.id: device.wireless.repeater for device in devices if device.wireless is not None}
    yield from _rings(
        passed_on,
        lambda name: ("devices", name, "wireless", "repeater"),
        "messages would go round in a ring and never arrive; choose another repeater, or leave it blank",
    )
    yield from _rings(
        {test.id: test.retest_of for test in tests},
        lambda name: ("log", "tests", name, "retest_of"),
        "a test cannot repeat itself, nor one that repeats it; choose an earlier test, or leave it blank",
    )


def _rings(leads: Mapping[str, str], path: Callable[[str], tuple[str, ...]], what: str) -> Iterator[Misfit]:
    """A misfit for each ring, at the first part that is in it; each part is passed once."""
    passed: dict[str, str] = {}
    for start in leads:
        at = start
        while at and at not in passed:
            passed[at] = start
            at = leads.get(at, "")
        if at and passed[at] == start:
            yield Misfit(path(at), leads[at], what)


def repeated(what: str, values: Iterable[tuple[tuple[str, ...], str]]) -> Iterator[Misfit]:
    """A misfit for each value that was there before; the values come with their paths."""
    seen: set[str] = set()
    for path, value in values:
        if value in seen:
            yield Misfit(path, value, f"{what} “{value}” is there twice; it may be there only once")
        seen.add(value)
