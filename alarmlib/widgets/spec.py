"""What a form holds, as plain data: fields read from the model's own labels, units, limits and help."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import cache, partial
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, TypeAlias, TypeGuard, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from alarmlib.model.base import Point
from alarmlib.model.naming import choices_of
from alarmlib.model.references import lists_referred_to
from alarmlib.model.words import Share, UnitSystem, Word
from alarmlib.units import Kind, show, unit_label

FieldPath = tuple[str, ...]
Choices = tuple[tuple[str, str], ...]
Options = Callable[[Any], Sequence[tuple[str, str]]]
Control = Literal["text", "longtext", "number", "choice", "tick", "multi", "date"]
LISTS = frozenset({"strs", "ints"})
"""What is ticked out of a list of choices."""
Holds = Literal["str", "int", "float", "bool", "strs", "ints", "point", "points"]

MEASURED = frozenset({"int", "float", "point", "points"})
LONG_TEXT = 200  # characters; a field that may hold more gets a box of several lines


@dataclass(frozen=True)
class FieldSpec:
    """One field of a form: where its value is (`path`), how it is asked, and the limits (SI) it keeps.

    `options(home)` gives choices that follow the home (its rooms, say); `choices` are the fixed ones.
    A tick with `words` puts these words in the list at `path`; the other words there are left alone. `more` is folded
    behind "More"; the next result waits for what is `needed`. `default` is what it begins with.
    """

    path: FieldPath
    label: str
    control: Control = "text"
    kind: Kind = Kind.PLAIN
    system: str = "metric"
    help: str = ""
    choices: Choices = ()
    options: Options | None = None
    ge: float | None = None
    le: float | None = None
    share: Share = Share.OWNER
    required: bool = False
    holds: Holds = "str"
    words: tuple[str, ...] = ()
    blank: str = "not answered yet"
    more: bool = False
    needed: bool = False
    default: Any = None

    @property
    def unit(self) -> str:
        """The unit of a bare number in this field, as the label has it."""
        return unit_label(self.kind, self.system) if self.holds in MEASURED else ""

    @property
    def caption(self) -> str:
        """Label and unit, as the screen and a screen reader say them."""
        return f"{self.label} ({self.unit})" if self.unit else self.label

    @property
    def allowed(self) -> str:
        """The range that may be typed, in the field's own units; "" when there is none."""
        low, high = ("" if end is None else show(end, self.kind, self.system) for end in (self.ge, self.le))
        if low and high:
            return f"{low} to {high}"
        return f"{low} or more" if low else f"{high} or less" if high else ""

    def choices_in(self, home: Any) -> Choices:
        """Every choice, the fixed ones first; a blank one leads where no answer is needed."""
        given = (*self.choices, *(self.options(home) if self.options else ()))
        blank = self.control == "choice" and not self.required and all(value for value, _ in given)
        return (("", self.blank), *given) if blank else given


@dataclass(frozen=True)
class FormSpec:
    """A form of groups of fields; `groups` are (legend, fields), the legend may be "".

    `more` says what the fields behind "More" would improve. With `summed`, a form that lacks nothing begins folded
    behind a line that says so; with `late` it always does. `line` takes the place of that line.
    """

    title: str
    groups: tuple[tuple[str, tuple[FieldSpec, ...]], ...]
    intro: str = ""
    more: str = ""
    summed: bool = False
    late: bool = False
    line: str = ""

    @property
    def fields(self) -> tuple[FieldSpec, ...]:
        """All fields in the order of the page."""
        return tuple(each for _, fields in self.groups for each in fields)


S = TypeVar("S")
Specs: TypeAlias = S | Callable[[UnitSystem], S]
"""What a form holds: always the same, or by the units in which it is asked."""


def spec_of(given: Specs[S]) -> Callable[[UnitSystem], S]:
    """What a form holds by its units, each worked out once."""
    return cache(given) if callable(given) else lambda _units: given


def numbered(word: str) -> Callable[[frozenset[str]], str]:
    """A maker of ids: `word_1`, `word_2` ..., the first that is not taken."""

    def new_id(taken: frozenset[str]) -> str:
        return next(f"{word}_{n}" for n in range(1, len(taken) + 2) if f"{word}_{n}" not in taken)

    return new_id


def nothing_more(_home: Any) -> Mapping[str, Any]:
    """A new row needs nothing beside its id."""
    return {}


@dataclass(frozen=True)
class TableSpec:
    """A table for bulk entry: a row for each element of the collection at `path`, a column for each field.

    The columns' paths start at the element, e.g. ("ceiling_m",). `blank(home)` gives what a new row needs
    beside its id. `keep(element)` picks the rows to show; the others stay untouched. `named_by` is the field that
    names a row which has no id of its own; a new row takes the first choice that has none yet. `needs(home)` gives
    the edits that come with a new row because it cannot be without them. `whole(home)` gives the elements, in
    their order, with facts that they get from elsewhere: `keep` judges those, and so does `belongs(element, path)`,
    which says whether a row has that column at all. `inherits(element)` says from where, such as “From its type”; it
    is shown with the fact in a cell that is blank ("" where there is nothing such). `more` says what the columns
    behind "More" would improve. With `summed`, a long list, or one that lacks nothing, begins folded behind a line
    that says so; with `late` it always does. A list that is kept elsewhere (`listed_on`: the page's file, what it is
    called) shows its rows' names as they are there; they come and go there.
    """

    title: str
    path: FieldPath
    columns: tuple[FieldSpec, ...]
    add_label: str = "Add a row"
    new_id: Callable[[frozenset[str]], str] = field(default_factory=lambda: numbered("row"))
    blank: Callable[[Any], Mapping[str, Any]] = field(default_factory=lambda: nothing_more)
    intro: str = ""
    keep: Callable[[Any], bool] | None = None
    row_word: str = "row"
    named_by: str = "id"
    needs: Callable[[Any], Sequence[Any]] = lambda _home: ()
    whole: Callable[[Any], Sequence[Any]] | None = None
    belongs: Callable[[Any, FieldPath], bool] | None = None
    inherits: Callable[[Any], str] = lambda _element: ""
    more: str = ""
    summed: bool = False
    late: bool = False
    listed_on: tuple[str, str] | None = None


@dataclass(frozen=True)
class ActionSpec:
    """A button: `handler()` does the work and returns the sentence to show; `confirm` is asked first.

    What is asked may depend on the home as it is then; "": nothing is asked. Slow work is done on a thread of its own:
    the page answers meanwhile.
    """

    label: str
    handler: Callable[[], str | None]
    confirm: str | Callable[[Any], str] = ""
    slow: bool = False

    def confirm_of(self, home: Any) -> str:
        """What is asked first, with this home."""
        return self.confirm(home) if callable(self.confirm) else self.confirm


@dataclass(frozen=True)
class UploadSpec:
    """A file to hand to Python: `handler(name, content)` returns the sentence to show; `slow` as in `ActionSpec`."""

    label: str
    handler: Callable[[str, bytes], str | None]
    accept: str = ".json"
    most_bytes: int = 5_000_000
    slow: bool = False


@dataclass(frozen=True)
class DownloadSpec:
    """A file for the browser to save: `handler()` returns its name and content."""

    label: str
    handler: Callable[[], tuple[str, bytes]]
    media_type: str = "application/json"


def fields_of(
    model: type[BaseModel],
    names: Sequence[str],
    prefix: FieldPath = (),
    system: str = "metric",
    options: Mapping[str, Options] | None = None,
) -> tuple[FieldSpec, ...]:
    """The named fields of a model as form fields under `prefix`; `options` are choices that follow the home,
    in place of those of the type.

    A field that refers to something offers all that is in the lists it may be in, unless `options` says less.
    Raises KeyError for a name the model lacks and TypeError for a type that no control can ask.
    """
    found = []
    for name in names:
        info = model.model_fields[name]
        lists = lists_referred_to(info)
        chosen = (options or {}).get(name) or (partial(choices_of, lists=lists) if lists else None)
        made = _field_of(info, (*prefix, name), system)
        if chosen is not None:
            made = replace(made, choices=(), options=chosen, control="multi" if made.holds in LISTS else "choice")
        differs = name in getattr(model, "differences", ())
        found.append(replace(made, blank="as its type says") if differs else made)
    return tuple(found)


def _field_of(info: FieldInfo, path: FieldPath, system: str) -> FieldSpec:
    extra = info.json_schema_extra if isinstance(info.json_schema_extra, dict) else {}
    control, holds, choices = _asked(info)
    return FieldSpec(
        path=path,
        label=info.title or path[-1].replace("_", " "),
        control=control,
        kind=Kind(str(extra.get("kind", Kind.PLAIN))),
        system=system,
        help=info.description or "",
        choices=choices,
        ge=_limit(info, "ge"),
        le=_limit(info, "le"),
        share=Share(str(extra.get("share", Share.OWNER))),
        required=info.is_required() or (control in {"choice", "number"} and not _blank_allowed(info)),
        holds=holds,
        default=None if info.is_required() else info.get_default(call_default_factory=True),
    )


def _asked(info: FieldInfo) -> tuple[Control, Holds, Choices]:
    """The control for a field's type, what it holds, and its fixed choices."""
    kind, optional = _without_none(info.annotation)
    simple: dict[Any, tuple[Control, Holds, Choices]] = {
        bool: ("choice", "bool", (("yes", "yes"), ("no", "no"))) if optional else ("tick", "bool", ()),
        int: ("number", "int", ()),
        float: ("number", "float", ()),
        str: (_text_control(info), "str", ()),
        Point: ("text", "point", ()),
    }
    if kind in simple:
        return simple[kind]
    if _is_word(kind):
        return "choice", "str", _choices_of(kind)
    inner = _bare(get_args(kind)[0]) if get_origin(kind) is tuple else None
    if inner == Point:
        return "text", "points", ()
    if inner in {str, int}:
        return "multi", "strs" if inner is str else "ints", ()
    if _is_word(inner):
        return "multi", "strs", _choices_of(inner)
    raise TypeError(f"no control asks for {kind}")


def _is_word(kind: Any) -> TypeGuard[type[Enum]]:
    return isinstance(kind, type) and issubclass(kind, Enum)


def _choices_of(words: type[Enum]) -> Choices:
    return tuple((str(word.value), word.text if isinstance(word, Word) else str(word.value)) for word in words)


def _text_control(info: FieldInfo) -> Control:
    if str(_limit_of(info, "pattern") or "").startswith(r"^(\d{4}-"):
        return "date"
    return "longtext" if (_limit_of(info, "max_length") or 0) > LONG_TEXT else "text"


def _bare(kind: Any) -> Any:
    return get_args(kind)[0] if get_origin(kind) is Annotated else kind


def _without_none(kind: Any) -> tuple[Any, bool]:
    if get_origin(kind) in {Union, UnionType}:
        rest = [each for each in get_args(kind) if each is not NoneType]
        if len(rest) == 1:
            return _bare(rest[0]), True
    return _bare(kind), False


def _blank_allowed(info: FieldInfo) -> bool:
    return _without_none(info.annotation)[1] or info.default in ("", None)


def _limit_of(info: FieldInfo, name: str) -> Any:
    inner, _ = _without_none(info.annotation)
    declared = [*info.metadata, *getattr(inner, "__metadata__", ())]
    return next((getattr(each, name) for each in declared if getattr(each, name, None) is not None), None)


def _limit(info: FieldInfo, name: str) -> float | None:
    value = _limit_of(info, name)
    return None if value is None else float(value)
