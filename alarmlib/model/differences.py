"""Parts that say only where they differ from what is entered once elsewhere; and the whole of both."""

from typing import Annotated, Any, ClassVar, Optional, TypeVar, cast

from pydantic import Field, SerializerFunctionWrapHandler, create_model, model_serializer
from pydantic.fields import FieldInfo

from alarmlib.model.base import Part

W = TypeVar("W", bound=Part)


class Differing(Part):
    """A part some of whose fields are differences: None says that nothing differs, and is not written down."""

    differences: ClassVar[frozenset[str]] = frozenset()

    @model_serializer(mode="wrap")
    def _written(self, write: SerializerFunctionWrapHandler) -> dict[str, Any]:
        written: dict[str, Any] = write(self)
        return {name: value for name, value in written.items() if value is not None or name not in self.differences}


def differing(name: str, own: type[Part], facts: type[Part]) -> type[Part]:
    """A part with the fields of `own`, and each field of `facts` as a difference.

    Labels, limits, help and sharing level stay those that the field was declared with.
    """
    differences: dict[str, Any] = {field: _difference(info) for field, info in facts.model_fields.items()}
    bases: Any = (own, Differing)
    made = create_model(name, __base__=bases, __module__=own.__module__, __doc__=own.__doc__, **differences)
    cast("type[Differing]", made).differences = frozenset(differences)
    return cast("type[Part]", made)


def _difference(info: FieldInfo) -> tuple[Any, Any]:
    """The type and the declaration of a field that may say nothing."""
    holds: Any = Optional[info.annotation]  # noqa: UP045
    if info.metadata:
        holds = Annotated[(holds, *info.metadata)]
    return holds, Field(None, title=info.title, description=info.description, json_schema_extra=info.json_schema_extra)


def joined(model: type[W], own: Part | None, facts: Part | None, **given: Any) -> W:
    """The whole part: each field as `given`, else as its own part says, else as `facts` say, else as declared."""
    for name in model.model_fields.keys() - given.keys():
        values = (getattr(part, name, None) for part in (own, facts))
        value = next((each for each in values if each is not None), None)
        if value is not None:
            given[name] = value
    return model(**given)
