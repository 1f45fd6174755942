"""The published schemas are those of the models, and judge samples as the reader does."""

import json
from pathlib import Path

import jsonschema
import pytest

from kilter.publish.schema import ID, schemas

FOLDER = Path(__file__).parent.parent / "schema"


def test_no_drift():
    for name, text in schemas().items():
        file = FOLDER / name
        assert file.is_file() and file.read_text(encoding="utf-8") == text, (
            f"schema/{name} is not that of the models; mend it with: kilter schema schema/"
        )
    assert {f.name for f in FOLDER.glob("*.json")} == set(schemas())


@pytest.mark.parametrize("name", sorted(schemas()))
def test_a_schema_is_a_schema_with_a_stable_name(name):
    schema = json.loads(schemas()[name])
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$id"] == ID + name


PROFILE = {
    "kind": "equipment", "id": "tarn-2", "title": "Lift",
    "sources": {"battery": {"kind": "battery", "word": "warning", "lockable": True, "fed-by": "mains"}},
    "none": ["mains"], "zones": {"column": ["battery"]}, "tools": ["key", {"gauge": {"range": "0-5 mm"}}],
}  # fmt: skip
PROCEDURE = {
    "kind": "procedure", "task": "replacement", "number": "LFT-120", "revision": "B", "equipment": "tarn-2", "title": "T",
    "symptoms": ["dark", {"lamp dark": {"also": ["no light"]}}], "time": 45, "writers": "AB",
}  # fmt: skip
CHECK = {"kind": "pre-use-check", "number": "LFT-1", "revision": "A", "equipment": "tarn-2", "title": "T"}


@pytest.mark.parametrize(
    ("name", "sample"),
    [("equipment", PROFILE), ("procedure", PROCEDURE), ("pre-use-check", CHECK)],
)
def test_sound_samples_pass_and_broken_ones_do_not(name, sample):
    validator = jsonschema.Draft202012Validator(json.loads(schemas()[f"{name}.schema.json"]))
    assert not list(validator.iter_errors(sample))
    assert list(validator.iter_errors({**sample, "status": "approved"}))
    assert list(validator.iter_errors({**sample, "kind": "other"}))
    for key in ("title", "kind"):
        assert list(validator.iter_errors({k: v for k, v in sample.items() if k != key}))
    if name != "equipment":
        assert list(validator.iter_errors({**sample, "revision": "O"}))
        assert list(validator.iter_errors({**sample, "number": "LFT 120"}))
    else:
        assert list(validator.iter_errors({**sample, "sources": {"b": {"kind": "steam", "word": "warning"}}}))
