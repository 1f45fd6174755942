"""Every value of the demo library broken in turn: the check says so, at its line, with the rule that fits the fault."""

import re
from pathlib import Path

import pytest

from kilter.check.kit import tools_in
from kilter.check.marked import marked_values
from kilter.check.rule import Context
from kilter.check.workspace import Workspace
from kilter.model.text import Calculation
from kilter.read.library import read_library

ROOT = Path(__file__).parents[2] / "procedures"
DEMO = read_library(ROOT)

UNREAD = {"value-unreadable", "unit-unknown", "calculation-input", "profile-value", "empty-field"}
KIND = {
    "value-wrong-dimension",
    "calculation-input",
    "calculation-fails",
    "reading-tool-kind",
    "setting-outside-window",
}
FAULTS = {
    "its number is lost": (lambda text: re.sub(r"[0-9.]+", "", text), UNREAD),
    "a decimal comma": (lambda text: text.replace(".", ",") if "." in text else None, UNREAD),
    "a unit nobody knows": (lambda text: _other_unit(text, "zz"), UNREAD),
    "a unit of another kind": (lambda text: _other_unit(text, "kg"), KIND),
}


def _other_unit(text, unit):
    head, _, last = text.rpartition(" ")
    return f"{head} {unit}" if head and not any(c.isdigit() for c in last) else None


WORDS = ("standard",)
"""Inputs that are words, whatever digits they hold."""


def values():
    """Every written value: path, offset and text, what it is."""
    for path, document in sorted(DEMO.documents.items()):
        source = DEMO.sources[path]
        for marked in marked_values(document):
            start = source.lines and sum(len(row) + 1 for row in source.lines[: marked.span.line - 1])
            text = source.lines[marked.span.line - 1][marked.span.column - 1 : marked.span.end_column - 1]
            at = text.rfind(":") + 1 if marked.purpose == "read" else 0
            lead = at + len(text[at:]) - len(text[at:].lstrip())
            yield path, start + marked.span.column - 1 + lead, text[lead:], marked.purpose
        for blocks in document.all_blocks():
            for block in (b for b in blocks if isinstance(b, Calculation)):
                for given in (
                    g for g in block.given if g.name not in WORDS and any(c.isdigit() for c in g.value)
                ):
                    span = given.value_span
                    start = sum(len(row) + 1 for row in source.lines[: span.line - 1])
                    yield path, start + span.column - 1, given.value, f"calc {block.name} {given.name}"


VALUES = list(values())


@pytest.fixture(scope="module")
def workspace():
    return Workspace(ROOT)


def broken(workspace, path, at, text, other):
    source = DEMO.sources[path].text
    file = DEMO.file_of(path)
    try:
        workspace.write(file, source[:at] + other + source[at + len(text) :])
        shown = workspace.shown(file)
        line = source[:at].count("\n") + 1
        told = [d for p in {shown, *workspace.users(shown)} for d in workspace.findings(p)]
        return line, [d for d in told if d.span.path == shown]
    finally:
        workspace.let_go(file)


def test_there_are_values_of_every_purpose():
    purposes = {what for *_, what in VALUES}
    assert {"torque", "set", "read", "wait"} <= purposes
    assert {what.split()[1] for what in purposes if what.startswith("calc ")} >= {
        "bleed", "battery", "fuse", "cable", "hydraulic", "leakage", "reading", "setting", "stack",
    }  # fmt: skip
    assert len(VALUES) > 80


@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.parametrize(("path", "at", "text", "what"), VALUES, ids=[f"{Path(v[0]).stem}-{n}-{v[3]}" for n, v in enumerate(VALUES)])  # fmt: skip
def test_a_broken_value_is_told_at_its_place(workspace, path, at, text, what, fault):
    change, rules = FAULTS[fault]
    other = change(text)
    if other is None or other == text:
        return  # this value has nothing of the kind to break
    line, found = broken(workspace, path, at, text, other)
    if fault == "a unit of another kind" and nothing_to_compare(path, line, what):
        return
    near = (
        3 if what.startswith("calc ") else 0
    )  # another input of the block may be the one that no longer fits
    here = [d for d in found if abs(d.span.line - line) <= near]
    assert any(d.rule in rules for d in here), f"`{other}`: {[(d.rule, d.span.line) for d in found]}"


def nothing_to_compare(path, line, what):
    """A reading or setting may be of any measure; only its tool or its switch says which is meant."""
    if what not in ("read", "set"):
        return False
    document = DEMO.documents[path]
    step = max((s for _, s in document.all_steps() if s.span.line <= line), key=lambda s: s.span.line)
    tools = list(tools_in(Context(DEMO, document, DEMO.profile_of(document)), step))
    measures = bool(tools) and all(t.dimension for t in tools) and any(t.dimension != "torque" for t in tools)
    return not (measures if what == "read" else step.field("switch"))
