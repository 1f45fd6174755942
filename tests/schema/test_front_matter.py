"""The schemas of front matter accept and refuse what the reader does."""

import copy
import json
from pathlib import Path

import pytest
import yaml

from kilter.read.document import read_bytes

from .judges import Judges

LIBRARY = Path(__file__).parent.parent.parent / "procedures"
DOCUMENTS = sorted(f for f in LIBRARY.rglob("*.md") if f.name != "front.md")
KINDS = ("procedure", "pre-use-check", "equipment", "training")
FORM = {"bad-value", "unknown-key", "missing-key", "front-matter", "typed-status", "bad-number", "yaml-alias"}
"""Rules about the form of front matter; the text below it is none of a schema's business."""


class Loader(yaml.SafeLoader):
    """A date stays the words it is in JSON."""


Loader.yaml_implicit_resolvers = {
    sign: [(tag, how) for tag, how in found if tag != "tag:yaml.org,2002:timestamp"]
    for sign, found in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def front(file):
    return yaml.load(file.read_text(encoding="utf-8").split("---\n")[1], Loader=Loader)


@pytest.fixture(scope="module")
def judges():
    return {kind: Judges(kind) for kind in KINDS}


def read(sample):
    """What the reader says of the form of this front matter."""
    text = f"---\n{json.dumps(sample)}\n---\n# T\n"
    return {d.rule for d in read_bytes("a.md", text.encode()).findings} & FORM


@pytest.mark.parametrize("file", DOCUMENTS, ids=lambda f: f.relative_to(LIBRARY).as_posix())
def test_every_demo_document_is_accepted_by_its_own_schema_only(judges, file):
    sample = front(file)
    assert {kind for kind in KINDS if judges[kind].accept(sample)} == {sample["kind"]}


def sample(kind):
    return front(next(f for f in DOCUMENTS if front(f)["kind"] == kind))


REFUSED = [
    ("procedure", "task", "repair"),
    ("procedure", "number", "LFT 120"),
    ("procedure", "number", "LFT-" + "1" * 40),
    ("procedure", "revision", "O"),
    ("procedure", "revision", "ABC"),
    ("procedure", "equipment", "Egret"),
    ("procedure", "time", 0),
    ("procedure", "time", "soon"),
    ("procedure", "people", 51),
    ("procedure", "weight", -1),
    ("procedure", "writers", {"a": 1}),
    ("procedure", "status", "approved"),
    ("procedure", "titel", "x"),
    ("pre-use-check", "task", "test"),
    ("pre-use-check", "time", 5),
    ("pre-use-check", "number", "-1"),
    ("equipment", "id", "Egret 2"),
    ("equipment", "sources", ["battery"]),
    ("equipment", "sources", {"b": {"kind": "steam", "word": "warning"}}),
    ("equipment", "sources", {"b": {"kind": "battery", "word": "notice"}}),
    ("equipment", "sources", {"b": {"kind": "battery"}}),
    ("equipment", "sources", {"b": {"kind": "battery", "word": "danger", "release": "maybe"}}),
    ("equipment", "sources", {"b": {"kind": "battery", "word": "danger", "lockable": "perhaps"}}),
    ("equipment", "switches", {"s": {"xx": "1 mm"}}),
]


@pytest.mark.parametrize(("kind", "key", "value"), REFUSED)
def test_what_the_reader_refuses_the_schema_refuses(judges, kind, key, value):
    wrong = {**sample(kind), key: value}
    assert read(wrong)
    assert not judges[kind].accept(wrong)


ACCEPTED = [
    ("procedure", "tools", 5),
    ("procedure", "writers", 7),
    ("procedure", "writers", "RB"),
    ("procedure", "symptoms", ["dark", {"lamp dark": {"also": "no light"}}]),
    ("procedure", "symptoms", {"dark": {"also": ["no light"]}}),
    ("procedure", "tools", "voltmeter"),
    ("procedure", "tools", [{"name": "voltmeter", "range": "0-60 V"}]),
    ("procedure", "parts", [{"fuse F2": {"stock-number": 5005, "quantity": 1}}]),
    ("procedure", "date", "2026-10-02"),
    ("procedure", "weight", 12.5),
    ("procedure", "revision", "WY"),
    ("procedure", "revision", "AA"),
    ("equipment", "none", "heat"),
    ("equipment", "guards", "cover"),
]


@pytest.mark.parametrize(("kind", "key", "value"), ACCEPTED)
def test_what_the_reader_accepts_the_schema_accepts(judges, kind, key, value):
    right = {**sample(kind), key: value}
    assert not read(right)
    assert judges[kind].accept(right)


@pytest.mark.parametrize("kind", KINDS)
def test_what_has_to_be_there_is_asked_for_by_both(judges, kind):
    for key in sample(kind):
        less = copy.deepcopy(sample(kind))
        del less[key]
        if key != "kind":  # without its kind nothing more is said of a front matter
            assert judges[kind].accept(less) is (not read(less)), key
    assert not judges[kind].accept({k: v for k, v in sample(kind).items() if k != "kind"})
