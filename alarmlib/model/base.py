"""How a part of the home is declared: every field says its label, unit, limits, help and who may read it, once."""

from datetime import date
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, StringConstraints

from alarmlib.model.words import Share
from alarmlib.units import Kind

Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9_]*$", max_length=48)]
Ref = Annotated[str, StringConstraints(pattern=r"^([a-z0-9][a-z0-9_]*)?$", max_length=48)]
Name = Annotated[str, StringConstraints(max_length=80)]
Note = Annotated[str, StringConstraints(max_length=2000)]
YEARS = range(1900, 2200)  # in which anything of a home was fitted, tested or learnt


def _of_the_calendar(day: str) -> str:
    """The day, if there is such a one; raises ValueError with what to write."""
    try:
        there = not day or date.fromisoformat(day).year in YEARS
    except ValueError:
        there = False
    if not there:
        raise ValueError(
            f"write a day of the calendar from {YEARS.start} to {YEARS.stop - 1}, such as 2026-03-01, or leave it blank"
        )
    return day


Day = Annotated[
    str,
    StringConstraints(pattern=r"^(\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01]))?$"),
    AfterValidator(_of_the_calendar),
]
Clock = Annotated[str, StringConstraints(pattern=r"^(([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?)?$")]
Point = tuple[
    Annotated[float, Field(ge=-1000, le=1000)],
    Annotated[float, Field(ge=-1000, le=1000)],
]


class Part(BaseModel):
    """A part of the home: frozen, nothing unknown in it, no NaN and no infinity."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, validate_default=False)


def fact(
    default: Any = ...,
    label: str = "",
    *,
    help: str = "",
    kind: Kind = Kind.PLAIN,
    share: Share = Share.OWNER,
    ge: float | None = None,
    le: float | None = None,
    noun: str = "",
    refers: tuple[str, ...] = (),
) -> Any:
    """A field of a part: `default` (`...` when it must be given), its label and all that forms and record read.

    `help` says in a sentence what the fact improves; `kind` is its unit kind (the stored value is SI);
    `share` is the widest circle that may read it; `ge` and `le` are its limits in SI. A list of parts says by
    `noun` what one of them is called: each of their ids is then allowed once. `refers` is what `ref` fills in.
    """
    more: dict[str, Any] = {"kind": kind.value, "share": share.value}
    if noun:
        more["noun"] = noun
    if refers:
        more["refers"] = list(refers)
    return Field(
        default,
        title=label,
        description=help or None,
        ge=ge,
        le=le,
        json_schema_extra=more,
    )


def ref(
    lists: str | tuple[str, ...], default: Any = ..., label: str = "", *, help: str = "", share: Share = Share.OWNER
) -> Any:
    """A field that holds the id of another part of the home, or several: `lists` are where that part may be.

    A list is named by its path from the home, such as "site.rooms". Forms, CSV, record, copies and the check of
    broken references read it here; `alarmlib.model.references` is how.
    """
    to = (lists,) if isinstance(lists, str) else lists
    return fact(default, label, help=help, share=share, refers=to)


def identity() -> Any:
    """The `id` field of an element; copies for a class or the public replace it by a neutral one."""
    return fact(..., "Id", share=Share.PUBLIC)
