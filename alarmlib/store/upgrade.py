"""Home files of earlier versions, brought up step by step by pure functions of the document."""

from collections.abc import Callable, Mapping
from typing import Any

from alarmlib.errors import AlarmProblem, FieldProblem
from alarmlib.model.home import SCHEMA_VERSION
from alarmlib.store.upgrade_1 import from_version_1
from alarmlib.store.upgrade_device_types import with_device_types
from alarmlib.store.upgrade_least_volts import with_least_volts

Document = dict[str, Any]
UpgradeStep = Callable[[Document], Document]

# From the version a step starts at to the step that brings a document to the next one. Version 1 is the first.
STEPS: Mapping[int, UpgradeStep] = {1: lambda document: with_device_types(with_least_volts(from_version_1(document)))}


def upgraded(
    document: Document, file: str, steps: Mapping[int, UpgradeStep] = STEPS, current: int = SCHEMA_VERSION
) -> Document:
    """The document in the current version; the one given is not changed.

    Raises FieldProblem when it has no version, and AlarmProblem when it is newer than this library or too old.
    """
    version = document.get("schema_version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 0:
        shown = "nothing" if version is None else str(version)
        raise FieldProblem(file, "schema_version", shown, f"write the version of the file, {current} at most")
    if version > current:
        raise AlarmProblem(
            f"{file} was written by a newer workbook, as version {version} of home files. This one reads {current} at "
            f"most and leaves the file as it is. Install the newer workbook to open it."
        )
    while version < current:
        if version not in steps:
            raise AlarmProblem(
                f"{file} is of version {version} of home files. This workbook cannot bring it up to version {current}."
            )
        try:
            document = steps[version](document) | {"schema_version": version + 1}
        except (AttributeError, IndexError, KeyError, TypeError, ValueError):
            raise AlarmProblem(
                f"{file} is of version {version} of home files, and one of its values is not of the sort that this "
                f"version wrote. It was left as it is."
            ) from None
        version += 1
    return document
