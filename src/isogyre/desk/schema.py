"""A record as a JSON schema, rendered from what the instruments declare."""

from typing import Any

from isogyre.desk.workbench import Workbench
from isogyre.evidence import SETTINGS, fields_of
from isogyre.instruments import Field


def record_schema(workbench: Workbench) -> dict[str, Any]:
    """Return the schema of a record: every key an instrument reads, with its unit and range."""
    fields = {key: _schema(declared) for key, declared in fields_of(workbench.instruments).items()}
    about = {
        "id": {"type": "string"},
        "met": {"type": "string", "examples": list(SETTINGS)},
    }
    return {"title": "Record", "type": "object", "properties": {**about, **fields}}


def _schema(declared: Field) -> dict[str, Any]:
    words = [declared.label, declared.unit, declared.hint, declared.caution]
    return {"description": "; ".join(filter(None, words)), **_shape(declared)}


def _shape(declared: Field) -> dict[str, Any]:
    match declared.kind:
        case "number":
            # A figure may also come as typed, with a decimal comma or its unit behind it.
            ends = {"minimum": declared.low, "maximum": declared.high}
            known = {end: value for end, value in ends.items() if value is not None}
            return {"type": ["number", "string"], **known}
        case "numbers":
            return {"type": "array", "items": {"type": "number"}}
        case "phrases":
            return {"type": "array", "items": {"type": "string"}}
        case "object":
            parts = {part.key: _schema(part) for part in declared.parts}
            return {"type": "object", "properties": parts}
        case "choice":
            # Loose wording is understood too, so the choices are examples and no closed list.
            return {"type": "string", "examples": list(declared.choices)}
    return {"type": "string"}
