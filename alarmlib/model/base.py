"""How a part of the home is declared: every field says its label, unit, limits, help and who may read it, once."""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, StringConstraints
from pydantic_core import CoreSchema

from alarmlib.model.entered import Day, Name, Note, with_plain_numbers
from alarmlib.model.words import Share
from alarmlib.units import Kind

__all__ = ["Clock", "Day", "Id", "Name", "Note", "Part", "Point", "Ref", "fact", "identity", "ref"]

Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9_]*$", max_length=48)]
Ref = Annotated[str, StringConstraints(pattern=r"^([a-z0-9][a-z0-9_]*)?$", max_length=48)]
Clock = Annotated[str, StringConstraints(pattern=r"^(([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?)?$")]
Point = tuple[
    Annotated[float, Field(ge=-1000, le=1000)],
    Annotated[float, Field(ge=-1000, le=1000)],
]


class Part(BaseModel):
    """A part of the home: frozen, nothing unknown in it, a number only where one was written, no NaN, no infinity."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, validate_default=False)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """How values are checked: as declared, and a number is never read out of a text, nor of true or false."""
        checked: CoreSchema = with_plain_numbers(handler(source))
        return checked


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
