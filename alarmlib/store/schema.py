"""The JSON Schema of the home file, made by pydantic from the model, with each field's sharing level and unit kind."""

import json

from alarmlib.model import Home


def schema_text() -> str:
    """The schema (JSON Schema 2020-12) as `workbook/home.schema.json` holds it."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **Home.model_json_schema()}
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"
