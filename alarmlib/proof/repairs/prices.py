"""What changes cost: as the owner typed it, else a stated default; and ids that nothing in the home has yet."""

from collections.abc import Iterator
from itertools import count
from typing import Any

from alarmlib.model.home import Home
from alarmlib.model.proof import ChangeKind
from alarmlib.model.words import DeviceKind

# Our own round figures, no source: only their order matters, and each fix says that its price is assumed.
DEVICE_PRICE = {DeviceKind.CONTACT: 15.0, DeviceKind.MOTION: 40.0, DeviceKind.KEYPAD: 80.0, DeviceKind.FOB: 25.0}
# Bother is put as money. A longer delay gives an intruder the same time, so what moves for people comes before it.
SETTING_PRICE = 1.0
BY_OWN_FOB_PRICE = 10.0
MOVE_PRICE = 20.0
LONGER_DELAY_PRICE = 90.0
HABIT_PRICE = 100.0  # people give up their ways last
_DEFAULT = {ChangeKind.HABIT: HABIT_PRICE, ChangeKind.MOVE: MOVE_PRICE}


class Prices:
    """The prices and the ids of one home."""

    def __init__(self, home: Home) -> None:
        self._devices = {price.kind: price.price for price in home.prices}
        self._changes = {price.kind: price.price for price in home.proof.prices}
        self._taken = frozenset(_ids(home.model_dump(mode="json")))

    def of_device(self, kind: DeviceKind) -> tuple[float, bool]:
        """The price of a device, and whether it is assumed.

        Reference: the owner's price list, else our own figures.
        """
        return self._devices.get(kind, DEVICE_PRICE[kind]), kind not in self._devices

    def of(self, kind: ChangeKind, default: float | None = None) -> tuple[float, bool]:
        """The price of a change of settings or habits, and whether it is assumed: then it is `default`, if given.

        Reference: the owner's price list, else our own figures.
        """
        assumed = _DEFAULT.get(kind, SETTING_PRICE) if default is None else default
        return self._changes.get(kind, assumed), kind not in self._changes

    def unused(self, name: str) -> str:
        """The name itself, or numbered, so that nothing in the home is called so."""
        names = (name if number == 1 else f"{name}_{number}" for number in count(1))
        return next(each for each in names if each not in self._taken)


def _ids(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if isinstance(value.get("id"), str):
            yield value["id"]
        for each in value.values():
            yield from _ids(each)
    elif isinstance(value, list):
        for each in value:
            yield from _ids(each)
