"""The JSON Schemas that editors and other programs may rely on, made from the models."""

from __future__ import annotations

import json
from typing import Any

from pydantic import TypeAdapter

from kilter.model.base import Value
from kilter.model.front import CheckFront, ProcedureFront, ProfileFront
from kilter.model.record import Receipt, Record
from kilter.model.training import TrainingFront
from kilter.publish.compiled.data import Compiled
from kilter.publish.manifest import Built
from kilter.publish.states.data import States
from kilter.report.baseline import Baseline
from kilter.report.form import Findings

ID = "https://schema.kilter.invalid/1/"
"""Stable names, not addresses: nothing is fetched from there."""

DIALECT = "https://json-schema.org/draft/2020-12/schema"

WORDS = {"type": ["string", "number"]}
"""The reader takes a number for the word that it is written as."""

FILES: dict[str, tuple[type[Value], str]] = {
    "procedure.schema.json": (ProcedureFront, "Front matter of a procedure"),
    "pre-use-check.schema.json": (CheckFront, "Front matter of a pre-use check"),
    "equipment.schema.json": (ProfileFront, "Front matter of an equipment profile"),
    "training.schema.json": (TrainingFront, "Front matter of a training module"),
}
"""What people write."""

OUTPUTS: dict[str, tuple[type[Value], str]] = {
    "findings.schema.json": (Findings, "Output of `kilter check --format json`"),
    "states.schema.json": (States, "Output of `kilter states --format json`"),
    "document.schema.json": (Compiled, "Output of `kilter data`"),
    "built.schema.json": (Built, "`built.json` of `kilter build`"),
    "record.schema.json": (Record, "Record of a run or a remark, as a phone hands it over"),
    "receipt.schema.json": (Receipt, "Receipt of `kilter records take`"),
    "baseline.schema.json": (Baseline, "Baseline of `kilter check --write-baseline`"),
}
"""What the tool writes."""


def schemas() -> dict[str, str]:
    """File name to text; same models, same bytes."""
    files = {name: _text(name, model, title) for name, (model, title) in FILES.items()}
    return files | {name: _output(name, model, title) for name, (model, title) in OUTPUTS.items()}


def _output(name: str, model: type[Value], title: str) -> str:
    """Exactly as it is written: every key is there, and no other."""
    schema = model.model_json_schema(by_alias=True, mode="serialization")
    named = {"$schema": DIALECT, "$id": ID + name, **schema, "title": title}
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
        done["type"] = WORDS["type"]
    items = done.get("items")
    if done.get("type") == "array" and isinstance(items, dict):
        extra = {k: done.pop(k) for k in ("title", "default", "description") if k in done}
        if "$ref" in items:
            done["items"] = {
                "anyOf": [
                    items,
                    WORDS,
                    {"type": "object", "minProperties": 1, "maxProperties": 1},
                ]
            }
            return {"anyOf": [done, {"type": "object"}, WORDS], **extra}
        if items.get("type") in ("string", ["string", "number"]):
            return {"anyOf": [done, WORDS], **extra}
    return done
