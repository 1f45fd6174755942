"""The JSON Schemas that editors and other programs may rely on, made from the models."""

from __future__ import annotations

import json
from typing import Any

from pydantic import TypeAdapter

from kilter.model.base import Value
from kilter.model.front import CheckFront, ProcedureFront, ProfileFront
from kilter.publish.states.data import States

ID = "https://schema.kilter.invalid/1/"
"""Stable names, not addresses: nothing is fetched from there."""

DIALECT = "https://json-schema.org/draft/2020-12/schema"
STATES = "states.schema.json"

FILES: dict[str, tuple[type[Value], str]] = {
    "procedure.schema.json": (ProcedureFront, "Front matter of a procedure"),
    "pre-use-check.schema.json": (CheckFront, "Front matter of a pre-use check"),
    "equipment.schema.json": (ProfileFront, "Front matter of an equipment profile"),
}


def schemas() -> dict[str, str]:
    """File name to text; same models, same bytes."""
    files = {name: _text(name, model, title) for name, (model, title) in FILES.items()}
    return files | {STATES: _states()}


def _states() -> str:
    """Of an output, so exactly as it is written."""
    schema = States.model_json_schema(by_alias=True, mode="serialization")
    named = {
        "$schema": DIALECT,
        "$id": ID + STATES,
        **schema,
        "title": "Output of `kilter states --format json`",
    }
    return json.dumps(named, indent=2, ensure_ascii=False) + "\n"


def _text(name: str, model: type[Value], title: str) -> str:
    schema = TypeAdapter(model).json_schema(by_alias=True, mode="validation")
    schema = {
        "$schema": DIALECT,
        "$id": ID + name,
        **schema,
        "title": title,
    }
    return json.dumps(_as_written(schema), indent=2, ensure_ascii=False) + "\n"


def _as_written(schema: Any) -> Any:
    """Also take what the reader takes: one word for a list of one, `name: {..}` for an entry of a list."""
    if isinstance(schema, list):
        return [_as_written(s) for s in schema]
    if not isinstance(schema, dict):
        return schema
    done = {k: _as_written(v) for k, v in schema.items()}
    if done.get("type") == "string" and not done.keys() & {"pattern", "enum", "const", "format"}:
        done["type"] = ["string", "number"]
    items = done.get("items")
    if done.get("type") == "array" and isinstance(items, dict):
        extra = {k: done.pop(k) for k in ("title", "default", "description") if k in done}
        if "$ref" in items:
            done["items"] = {
                "anyOf": [
                    items,
                    {"type": "string"},
                    {"type": "object", "minProperties": 1, "maxProperties": 1},
                ]
            }
            return {"anyOf": [done, {"type": "object"}, {"type": "string"}], **extra}
        if items.get("type") in ("string", ["string", "number"]):
            return {"anyOf": [done, {"type": "string"}], **extra}
    return done
