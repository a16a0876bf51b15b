"""A proof as JSON and back."""

import json
from typing import Any

import jsonschema
import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.proof.report.document import document_of, proof_from_document
from alarmlib.proof.report.verdicts import Proof


def test_round_trip__through_text(hand_proof: Proof) -> None:
    """What was written as text is read back as the same proof."""
    text = json.dumps(document_of(hand_proof), ensure_ascii=False, allow_nan=False)
    assert proof_from_document(json.loads(text)) == hand_proof


def test_document__keys_in_the_stated_order(hand_proof: Proof) -> None:
    """The keys that were promised are there, the verdicts are the promised words."""
    document = document_of(hand_proof)
    assert list(document) == [
        "schema_version", "home", "assumptions", "not_covered", "states", "seconds", "properties", "faults",
    ]  # fmt: skip
    assert document["schema_version"] == 2
    assert [each["verdict"] for each in document["properties"]] == ["holds", "breached", "not_settled"]
    assert {"id", "sentence", "verdict", "worst", "counterexample"} <= set(document["properties"][0])
    assert {"id", "announced", "holes"} <= set(document["faults"][0])
    assert document["assumptions"][0] == {
        "id": "intruder_speed",
        "sentence": "An intruder moves at 2.53 m/s at most.",
        "path": "proof.intruder_m_s",
    }


@pytest.mark.parametrize(
    "spoil",
    [
        lambda _: None,
        lambda _: [],
        lambda d: {**d, "schema_version": 3},
        lambda d: {**d, "properties": [{"id": "x"}]},
        lambda d: {**d, "faults": "none"},
        lambda d: {**d, "properties": [{**d["properties"][0], "verdict": "perhaps"}]},
        lambda d: {name: value for name, value in d.items() if name != "home"},
    ],
    ids=["nothing", "list", "newer", "no sentence", "no list", "no verdict", "no home"],
)
def test_broken_document__one_sentence(spoil: Any, hand_proof: Proof) -> None:
    """Anything that is no proof is refused in a sentence."""
    with pytest.raises(AlarmProblem, match="This is no"):
        proof_from_document(spoil(document_of(hand_proof)))


def test_document__is_valid_by_an_independent_validator(hand_proof: Proof) -> None:
    """Every value is a plain JSON value of the stated kind."""
    text = {"type": "string"}
    hole = {"type": "object", "required": ["property", "sentence", "lasts_s"]}
    shape = {
        "type": "object",
        "additionalProperties": False,
        "required": ["schema_version", "home", "assumptions", "states", "seconds", "properties", "faults"],
        "properties": {
            "schema_version": {"const": 2},
            "home": text,
            "assumptions": {"type": "array", "items": {"properties": {"id": text, "sentence": text, "path": text}}},
            "not_covered": {"type": "array", "items": text},
            "states": {"type": "integer"},
            "seconds": {"type": "number"},
            "properties": {
                "type": "array",
                "items": {
                    "properties": {
                        "verdict": {"enum": ["holds", "breached", "not_settled"]},
                        "worst": {"type": "object", "additionalProperties": text},
                        "counterexample": {
                            "type": "array",
                            "items": {"required": ["at_s", "who", "place", "at", "output"]},
                        },
                    }
                },
            },
            "faults": {"type": "array", "items": {"properties": {"holes": {"type": "array", "items": hole}}}},
        },
    }
    jsonschema.validate(json.loads(json.dumps(document_of(hand_proof))), shape)
