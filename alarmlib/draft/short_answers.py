"""What an answer to one question of the short path makes of what is stored."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from alarmlib.draft.lines import commas
from alarmlib.draft.offers import OptionGroup, reached
from alarmlib.draft.picks import (
    UPSTAIRS,
    ListedWay,
    Picks,
    base_of,
    fresh,
    joined_text,
    lines_text,
    outbuildings,
    plain_name,
    rooms_text,
)
from alarmlib.draft.questions import CHECK, QUESTIONS, ShortQuestion, asked_now, is_answered, is_unknown
from alarmlib.draft.rooms import NamedRoom
from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.short_path import Pace, ShortPath
from alarmlib.model.site import RoomUse, Yes

Changes = Mapping[str, Any]
_BY_ID = {question.id: question for question in QUESTIONS}
_HOW_UP = "flat roof"
_FIRST_DOOR = {
    RoomUse.HALL: "Front door",
    RoomUse.PORCH: "Front door",
    RoomUse.KITCHEN: "Back door",
    RoomUse.GARAGE: "Garage door",
}


def question_of(name: str) -> ShortQuestion:
    """The question of that id. Raises AlarmProblem."""
    if name not in _BY_ID:
        raise AlarmProblem("This question is not asked any more. Run the page again.")
    return _BY_ID[name]


def picked(home: Home, name: str, group: str, key: str, on: bool) -> Changes:
    """The fields after an option was picked, or taken away again. Raises AlarmProblem."""
    picks, question = Picks(home), question_of(name)
    if name in _PICKED:
        return _PICKED[name](picks, group, key, on)
    if question.kind == "one":
        value = key == "yes" if question.id in _TICKS else key
        return {question.id: value, **_noted(home, name, known=True)}
    names = [option.label for each in question.groups(picks) for option in each.options if option.on]
    chosen = [each for each in names if each != key] + ([key] if on else [])
    return {question.id: ", ".join(chosen)}


def one_more(home: Home, name: str, group: str, key: str) -> Changes:
    """The fields after “one more” of an option."""
    picks = Picks(home)
    base = key.rpartition(":")[0]
    if name == "rooms":
        return _with_room(picks, group, base)
    return _with_line(picks, name, base)


def added(home: Home, name: str, group: str, text: str) -> Changes:
    """The fields after a name was typed. Raises AlarmProblem for none."""
    picks, typed = Picks(home), plain_name(text)
    if name == "outbuildings":
        return {"outbuildings": "\n".join(dict.fromkeys((*outbuildings(picks.answers), typed)))}
    return _with_room(picks, group, typed)


def written(name: str, text: str) -> Changes:
    """The fields after a number was written; none where it is blank. Raises AlarmProblem in one sentence."""
    question = question_of(name)
    stripped = text.strip().replace(",", ".")
    if not stripped:
        return {question.id: None}
    most = {"people": 30, "zones": 2000, "walk_s": 600}[question.id]
    whole = question.id != "walk_s"
    try:
        number = float(stripped)
    except ValueError:
        number = -1.0
    if not 1 <= number <= most or (whole and number != int(number)):
        raise AlarmProblem(f"Write a {'whole ' if whole else ''}number from 1 to {most}, like {min(12, most)}.")
    return {question.id: int(number) if whole else number}


def passed(home: Home, name: str) -> Changes:
    """The fields after Next: what is shown is the answer; nothing picked where “I do not know” is one means that.

    Raises AlarmProblem where something must be picked.
    """
    question, picks = question_of(name), Picks(home)
    on = [option for group in question.groups(picks) for option in group.options if option.on]
    value = getattr(home.short_path, question.id, None) if question.kind == "number" else None
    if question.least and not on:
        raise AlarmProblem(question.least)
    if question.unsure and not on and value is None:
        return unknown(home, name)
    return {**_shown(picks, question, on), **_noted(home, name, known=True)}


def unknown(home: Home, name: str) -> Changes:
    """The fields after “I do not know”: blank again, and noted."""
    question, blank = question_of(name), ShortPath()
    return {**{field: getattr(blank, field) for field in question.fields}, **_noted(home, name, known=False)}


def said(home: Home, question: ShortQuestion) -> str:
    """The answer that is stored, in words."""
    if is_unknown(home, question):
        return "I do not know"
    picks = Picks(home)
    if question.kind == "number":
        value = getattr(home.short_path, question.id)
        return "" if value is None else f"{value:g}"
    groups = question.groups(picks)
    told = [_group_said(group, len(groups) > 1) for group in groups]
    words = "; ".join(each for each in told if each)
    return words or (question.none if question.kind == "many" else "")


def _group_said(group: OptionGroup, several: bool) -> str:
    names = ", ".join(option.label for option in group.options if option.on)
    return f"{group.legend}: {names}" if names and several and group.legend else names


def after(home: Home, name: str) -> str:
    """The question that follows one in the order of those asked now."""
    ids = [question.id for question in asked_now(home)]
    place = ids.index(name) if name in ids else -1
    return ids[place + 1] if 0 <= place < len(ids) - 1 else CHECK


def _noted(home: Home, name: str, known: bool) -> Changes:
    """The lists of questions answered, and of those that nobody could answer."""
    before = [question.id for question in asked_now(home) if is_answered(home, question)]
    unsure = [each for each in commas(home.short_path.not_known) if each != name]
    asked = [each for each in before if each not in {name, *unsure}]
    return {
        "asked": ", ".join([*asked, *([name] if known else [])]),
        "not_known": ", ".join(unsure if known else [*unsure, name]),
    }


def _shown(picks: Picks, question: ShortQuestion, on: Sequence[Any]) -> Changes:
    """What is shown as picked though nobody picked it, written out as the answer."""
    names = ", ".join(option.label for option in on)
    match question.id:
        case "home_by" | "bedrooms" | "floors":
            return {question.id: names}
        case "joined" | "rest":
            return {"inner_doors": joined_text(picks.joined())}
        case "needs" if picks.answers.wont_wake is Yes.UNKNOWN:
            return {"wont_wake": Yes.NO.value}
    return {}


# What a pick does to the lists.


def _room(picks: Picks, floor: str, key: str, on: bool) -> Changes:
    base, _, number = key.rpartition(":")
    if on:
        return _with_room(picks, floor, base)
    own = [room for room in picks.on(floor) if base_of(room.name) == base]
    gone = own[int(number)] if int(number) < len(own) else None
    return {"rooms": rooms_text(room for room in picks.rooms if room is not gone)}


def _with_room(picks: Picks, floor: str, name: str) -> Changes:
    taken = [room.name for room in picks.rooms]
    new = NamedRoom(fresh(name, [*taken, *outbuildings(picks.answers)]), floor.lower() or UPSTAIRS)
    return {"rooms": rooms_text((*picks.rooms, new))}


def _line(field: str, upper: bool = False) -> Callable[[Picks, str, str, bool], Changes]:
    """A door or a window of a room comes, or goes."""

    def changed(picks: Picks, _group: str, key: str, on: bool) -> Changes:
        room, _, number = key.rpartition(":")
        if on:
            return _with_line(picks, "upper_windows" if upper else field, room)
        found = picks.lines(field)
        own = [each for each in found if each.room.casefold() == room.casefold() and reached(each, upper)]
        gone = own[int(number)] if int(number) < len(own) else None
        return {field: lines_text(each for each in found if each is not gone)}

    return changed


def _with_line(picks: Picks, name: str, room: str) -> Changes:
    """One more door or window in a room, with a name of its own."""
    field = "windows" if name == "upper_windows" else name
    found = picks.lines(field)
    taken = [each.name for which in ("outside_doors", "windows") for each in picks.lines(which)]
    usual = _FIRST_DOOR.get(picks.use(room), "")
    if field == "windows" or not usual or usual in taken:
        usual = f"{room} {'window' if field == 'windows' else 'door'}"
    new = ListedWay(fresh(usual, taken), room, (_HOW_UP,) if name == "upper_windows" else ())
    return {field: lines_text((*found, new))}


def _outbuilding(picks: Picks, _group: str, key: str, on: bool) -> Changes:
    there = [name for name in outbuildings(picks.answers) if name != key]
    return {"outbuildings": "\n".join([*there, key] if on else there)}


def _pair(picks: Picks, group: str, key: str, on: bool) -> Changes:
    wanted = frozenset((group, key))
    pairs = [pair for pair in picks.joined() if frozenset(pair) != wanted]
    return {"inner_doors": joined_text([*pairs, (group, key)] if on else pairs)}


def _floor(picks: Picks, _group: str, key: str, on: bool) -> Changes:
    if not on and picks.on(key):
        raise AlarmProblem(f"“{key}” has rooms. Take its rooms away first, in the next question.")
    floors = [floor for floor in picks.floors if floor != key]
    return {"floors": ", ".join([*floors, key] if on else floors)}


def _need(_picks: Picks, _group: str, key: str, on: bool) -> Changes:
    match key:
        case "carries":
            return {"carries": on}
        case "wont_wake":
            return {"wont_wake": (Yes.YES if on else Yes.NO).value}
    return {"pace": (Pace(key) if on else Pace.ORDINARY).value}


_TICKS = frozenset({"pets_at_night", "night_set"})
_PICKED: dict[str, Callable[[Picks, str, str, bool], Changes]] = {
    "floors": _floor,
    "rooms": _room,
    "outbuildings": _outbuilding,
    "outside_doors": _line("outside_doors"),
    "windows": _line("windows"),
    "upper_windows": _line("windows", upper=True),
    "joined": _pair,
    "rest": _pair,
    "needs": _need,
}
