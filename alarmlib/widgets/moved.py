"""A widget that sends the page only what has moved since it sent last, not all that it holds."""

from bisect import bisect_left
from collections.abc import Mapping
from typing import Any, ClassVar

import anywidget
import traitlets

LONG = 400  # characters; of a longer text only the stretch that differs is sent


def differing(before: Any, after: Any) -> dict[str, Any]:
    """What makes `after` of `before`, for `after` in `moved.js`.

    By keys `{"keys": {...}, "gone": [...]}`; for things with ids `{"things": {...}, "order": [...]}`; the stretch of a
    long text `{"at": from, "to": to, "text": ...}`; of all else the whole `{"all": ...}`.
    """
    if isinstance(before, dict) and isinstance(after, dict):
        keys = {key: differing(before.get(key), part) for key, part in after.items() if _other(before, key, part)}
        return {"keys": keys, "gone": [key for key in before if key not in after]}
    if isinstance(before, str) and isinstance(after, str) and len(after) > LONG and _one_unit_each(before + after):
        return _stretch(before, after)
    if _things(before) and _things(after):
        was = {each["id"]: each for each in before}
        things = {each["id"]: differing(was.get(each["id"]), each) for each in after if _other(was, each["id"], each)}
        return {"things": things, "order": [each["id"] for each in after]}
    return {"all": after}


def _other(before: Mapping[str, Any], key: str, part: Any) -> bool:
    return key not in before or before[key] != part


def _things(part: Any) -> bool:
    """Whether it is a list of things, each with an id of its own."""
    if not (isinstance(part, list) and part and all(isinstance(each, dict) and "id" in each for each in part)):
        return False
    return len({each["id"] for each in part}) == len(part)


def _one_unit_each(text: str) -> bool:
    """Whether the browser counts the text's characters as Python does."""
    return len(text.encode("utf-16-le", "surrogatepass")) == 2 * len(text)


def _stretch(before: str, after: str) -> dict[str, Any]:
    shorter = min(len(before), len(after))
    start = bisect_left(range(1, shorter + 1), True, key=lambda n: before[:n] != after[:n])
    most = shorter - start
    end = bisect_left(range(1, most + 1), True, key=lambda n: before[len(before) - n :] != after[len(after) - n :])
    return {"at": start, "to": len(before) - end, "text": after[start : len(after) - end]}


class Moving(anywidget.AnyWidget):
    """The traits named in `parts` are sent whole when the line to the browser opens, from then on what differs.

    `turn` is the number of the last that was sent: a page that missed one asks for the whole (`moved.js`).
    """

    parts: ClassVar[tuple[str, ...]] = ()
    turn = traitlets.Int().tag(sync=True)
    moved = traitlets.Dict({"turn": 0}).tag(sync=True)
    _sent: Mapping[str, Any] = {}

    def hold(self, **parts: Any) -> None:
        """These parts hold that from now on; one message tells the browser what differs from what it was told last."""
        for name, part in parts.items():
            setattr(self, name, part)
        now = {name: getattr(self, name) for name in self.parts}
        if self.comm is None:
            self._sent = now
        elif now != self._sent:
            self.moved = {"turn": self.turn + 1, **differing(self._sent, now)}

    def send_whole(self) -> None:
        """All of it, for a page that missed something."""
        self.send_state(("turn", *self.parts))

    def send_state(self, key: Any = None) -> None:
        """As every widget does, but what has moved first: what else is sent is read beside the state that it makes."""
        names = (key,) if isinstance(key, str) else self.keys if key is None else key
        if "moved" in names:
            self._sent, self.turn = {name: getattr(self, name) for name in self.parts}, self.moved["turn"]
        super().send_state(sorted(names, key=lambda name: name != "moved"))

    def get_state(self, key: Any = None, drop_defaults: bool = False) -> dict[str, Any]:
        """As every widget's; beside the whole, what moved last is told no second time."""
        state: dict[str, Any] = super().get_state(key, drop_defaults)
        return state | ({"moved": {"turn": self.turn}} if key is None else {})

    def _should_send_property(self, key: str, value: Any) -> bool:
        if key == "turn" or key in self.parts:
            return False
        return bool(super()._should_send_property(key, value))
