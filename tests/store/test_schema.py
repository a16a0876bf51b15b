"""The published schema is the model's own and agrees with what is read."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from alarmlib.model import Home
from alarmlib.store import text_of
from alarmlib.store.schema import schema_text

PUBLISHED = Path(__file__).parents[2] / "workbook" / "home.schema.json"


def test_the_published_schema_is_the_models() -> None:
    """`python -m alarmlib schema` writes it."""
    assert PUBLISHED.read_text(encoding="utf-8") == schema_text()


def test_each_field_says_its_unit_kind_and_who_may_read_it() -> None:
    room = json.loads(schema_text())["$defs"]["Room"]["properties"]
    assert room["ceiling_m"]["kind"] == "length"
    assert room["sleeps_here"]["share"] == "owner"


@pytest.mark.outside
def test_a_home_file_is_valid_for_an_independent_validator(home: Home) -> None:
    """Outside check: jsonschema (2020-12) takes what the store writes and refuses what the store refuses."""
    schema: dict[str, Any] = json.loads(schema_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    document = json.loads(text_of(home))
    assert validator.is_valid(document)
    for wrong in ({"units": "furlongs"}, {"schema_version": 3}, {"unknown": 1}, {"rules": {"grade": 9}}):
        assert not validator.is_valid(document | wrong)
