"""Questions made from facts: one right answer each, no cue that gives it away, and a judge that sees when it is not so."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from tests.training.guessers import rates
from tests.training.question_checker import Judge
from tests.training.question_library import demo_questions, module_of, random_context
from tests.training.questions_proof import MOST

from kilter.compute.quantity import parse_quantity
from kilter.model.library import Library
from kilter.publish.training.questions import allowed, bank, isolate, mistake, numbers, order
from kilter.publish.training.questions.draw import Draw
from kilter.publish.training.questions.numbers import Shown, choices_for, written
from kilter.read.document import read_bytes

SEEDS = range(213, 217)


@pytest.fixture(scope="module")
def made():
    """Questions of the demo library and of a few random procedures, each with its judge."""
    demo, asked = demo_questions()
    randoms = map(random_context, SEEDS)
    return [(Judge(demo), list(asked)), *((Judge(c), list(bank(c, missing=False))) for c in randoms)]


def test_no_question_has_two_right_answers_or_a_wrong_key(made):
    faults = [
        f"{q.id}: {fault}"
        for judge, questions in made
        for q in _sample(questions)
        for fault in judge.faults(q)
    ]
    assert faults == []
    counts = Counter(q.kind for _, questions in made for q in questions)
    assert sum(counts.values()) > 800
    assert {"value", "mistake", "first", "order", "isolate", "part", "point"} <= set(counts)


def _sample(questions):
    """All, but of those whose orders have to be enumerated one in twelve."""
    slow = [q for q in questions if q.kind in ("first", "order")]
    return [q for q in questions if q not in slow] + slow[::12]


def test_who_knows_nothing_is_right_no_more_often_than_chance(made):
    four = [q for _, questions in made for q in questions if len(q.choices) == 4]
    found = rates(four)
    # a fixed sample is smaller than the ten thousand of the command, so chance reaches further: 4 standard deviations
    most = 0.25 + 4 * (0.25 * 0.75 / len(four)) ** 0.5
    assert len(four) > 800
    assert {name: rate for name, rate in found.items() if rate > max(MOST, most)} == {}


@pytest.mark.parametrize("kind", ["value", "mistake", "first", "order", "isolate", "part", "point"])
def test_nor_within_one_kind(made, kind):
    of_kind = [q for _, questions in made for q in questions if q.kind == kind and len(q.choices) == 4]
    assert len(of_kind) > 20
    most = 0.25 + 4 * (0.25 * 0.75 / len(of_kind)) ** 0.5
    assert {name: rate for name, rate in rates(of_kind).items() if rate > most} == {}


def test_ids_are_unique_and_every_question_says_why(made):
    for _, questions in made:
        ids = [q.id for q in questions]
        assert len(set(ids)) == len(ids)
        assert all(c.why for q in questions for c in q.choices)
        assert all(len(q.cites.hash) == 12 and q.cites.words for q in questions)


JUDGED = (205, 209, 213, 214)
"""Seeds whose questions are of every kind that is made of text."""


def _faulty(kind):
    found = []
    for context in map(random_context, JUDGED):
        judge = Judge(context)
        of_kind = [q for q in bank(context, missing=False) if q.kind == kind]
        found += [fault for q in of_kind for fault in judge.faults(q)]
    return found


@pytest.mark.parametrize(
    ("kind", "switch_off"),
    [
        ("value", lambda m: m.setattr(numbers._Whole, "clear", lambda *_: True)),
        ("mistake", lambda m: m.setattr(mistake, "passes", lambda *_: True)),
        ("first", lambda m: m.setattr(order, "forced_pairs", _as_written)),
        ("order", lambda m: m.setattr(order, "forced_pairs", _as_written)),
        ("isolate", lambda m: m.setattr(isolate, "needed_cuts", _everything)),
    ],
)
def test_with_a_proof_switched_off_the_judge_finds_it(kind, switch_off, monkeypatch):
    assert _faulty(kind) == []
    switch_off(monkeypatch)
    if kind == "value":
        monkeypatch.setattr(numbers, "is_wrong", lambda *_: True)
        monkeypatch.setattr(numbers._Whole, "may", lambda self, point: point > 0)
    assert _faulty(kind) != []


def _as_written(subject):
    """Every step before every later one, as if the text's order were forced."""
    keys = [asked.view.key for asked in subject.steps]
    return {(a, b) for n, a in enumerate(keys) for b in keys[n + 1 :]}


def _everything(subject, key):
    """Every source that can be cut off, needed or not."""
    machine = subject.analysis.machine
    return [e.at for e in machine.energies if e.own and e.entry == 0]


PROFILE = """---
kind: equipment
id: rig
title: Rig
sources:
  mains: {kind: mains, word: danger, lockable: true, isolate: "Plug out, locked.", prove: "Meter, below 1 V."}
none: [battery, capacitor, hydraulic, pneumatic, vacuum, gravity, spring, heat, motion, pressure]
---
# Rig
"""
STEPS = """---
kind: procedure
task: test
number: JOB-1
revision: A
equipment: rig
title: Look
---
# Look

## Work

### First
:hands: controls - all of it stands outside

Set the bar to {set}`22 ± 2 mm`.

### Second
:hands: controls - all of it stands outside

Set the rod to {set}`40 ± 3 mm`. Measure it: {read}`gap: ≤ 7.5 mm`.

### Leave
:exit: left as found

Tell the ward.
"""


def _small(text=STEPS):
    library = Library(__import__("pathlib").Path())
    for path, said in (("rig.md", PROFILE), ("job.md", text)):
        library.add(read_bytes(path, said.encode()))
    return module_of(library, ["JOB-1"])


def test_an_edit_changes_only_the_questions_that_lean_on_it():
    before = {q.id: q for q in bank(_small(), missing=False)}
    inserted = STEPS.replace("### Leave", "### Third\n:hands: controls - all of it stands outside\n\nTighten the nut to {torque}`9 ± 1 N·m`.\n\n### Leave")  # fmt: skip
    after = {q.id: q for q in bank(_small(inserted), missing=False)}
    assert set(before) < set(after)
    assert all(after[id] == question for id, question in before.items())
    other = STEPS.replace("22 ± 2 mm", "23 ± 2 mm")
    edited = {q.id: q for q in bank(_small(other), missing=False)}
    changed = {id for id in before if edited.get(id) != before[id]}
    # those of the value itself, and those that offer it, or could now, as a wrong one of the same quantity
    assert {id for id in before if "JOB-1-first" in id} <= changed
    told = [c.text for id in before for c in before[id].choices]
    assert any(text.startswith("22") for text in told)
    tightened = inserted.replace("9 ± 1 N·m", "9.5 ± 1 N·m")
    again = {q.id: q for q in bank(_small(tightened), missing=False)}
    assert all(again[id] == question for id, question in before.items())


def test_blank_lines_and_wrapping_change_no_question():
    wrapped = STEPS.replace("Set the bar to", "Set the bar\nto").replace("## Work\n", "## Work\n\n")
    assert bank(_small(wrapped), missing=False) == bank(_small(), missing=False)


def test_what_the_facts_allow_is_said():
    counts = allowed(bank(_small(), missing=False))
    assert counts == {"value": 3}


@pytest.mark.parametrize(
    "text", ["22 ± 2 N·m", "0.6 ± 0.1 N·m", "≥ 25.2 V", "≤ 0.3 Ω", "8.0–8.3 mm", "4 +0.5/−0.2 mm", "−80 ± 5 kPa", "22 N·m ± 10 %", "≤ 500 µA", "5 min"],
)  # fmt: skip
def test_every_form_of_value_keeps_its_form(text):
    shown = Shown(parse_quantity(text))
    for rank in range(4):
        made = choices_for(shown, [], Draw(text, rank), rank, 1)
        if made is None:
            continue
        points, decimals = made
        assert points.index(Fraction(shown.point)) == rank
        texts = [shown.text(p, decimals) for p in points]
        assert len({t.strip("−0123456789.") for t in texts}) >= 1
        assert parse_quantity(texts[rank].replace("\u00a0", " ")).unit == shown.quantity.unit
    assert any(choices_for(shown, [], Draw(text, r), r, 1) for r in range(4))


def test_numbers_are_written_exactly():
    assert written(Fraction(12, 10), 1) == "1.2"
    assert written(Fraction(-1, 100), 2) == "−0.01"
    assert written(Fraction(500), 0) == "500"
    with pytest.raises(AssertionError):
        written(Fraction(1, 3), 2)
