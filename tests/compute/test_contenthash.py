"""The content hash: every leaf counts, form does not."""

import re

import pytest

from kilter.compute.contenthash import content_hash
from kilter.read.document import read_bytes

PROFILE = """---
kind: equipment
id: tarn-2
title: Lift
sources:
  battery: {kind: battery, lockable: true, word: warning, isolate: "Pack out, in its case.", prove: "Voltmeter."}
none: [mains, capacitor, hydraulic, pneumatic, vacuum, gravity, spring, heat, motion, pressure]
switches: {down switch: {op: 8.8 ± 0.2 mm, ot: 1.2 mm}}
---
"""
TEXT = """---
kind: procedure
task: replacement
number: LFT-120
revision: B
date: 2026-11-03
equipment: tarn-2
title: Replace the actuator
writers: [AB]
symptoms:
  - jerks: {also: [stutters]}
time: 45
tools: [torque wrench: {range: 5–25 N·m}]
---
# Replace the actuator

Why this is done.

## First stage
:zone: column

:::{warning} battery
**Shock.** It bites. Take the pack out.
:::

### Take the pack out
:origin: maker's manual p. 41

Lift it, lock it: {isolates}`battery`. Tighten to {torque}`22 ± 2 N·m`, see {item}`fig-a 1`.

:::{figure} boom.png
:id: fig-a
:alt: The boom from the left
:1: 10,20 Pin
The boom.
:::

- Dead: [Go on](#go-on)
- Alive: [Go on](#go-on) {not-zero battery}

### Go on
Count **twice**, then `OK`.

1. first
2. second

| a | b |
|---|---|
| c | d |
"""
PICTURES = {"p.md:boom.png": "00ff"}


def digest(text=TEXT, profile=PROFILE, pictures=PICTURES):
    document, machine = read_bytes("p.md", text.encode()), read_bytes("m.md", profile.encode())
    assert document.document is not None, document.findings
    assert machine.document is not None, machine.findings
    return content_hash(document.document, machine.document, pictures)


LEAVES = [
    "replacement", "LFT-120", "title: Replace", "AB", "jerks", "stutters", "45", "torque wrench",
    "5–25", "# Replace the actuator", "Why this", "First stage", "column", "warning} battery\n", "Shock", "It bites",
    "### Take the pack", "maker's", "Lift it", "isolates", "battery`. Tighten", "22 ± 2", "torque}`", "fig-a 1",
    "boom.png", "id: fig-a", "from the left", "10,20", "Pin", "The boom.", "Dead", "Go on](", "#go-on)\n- Alive",
    "not-zero battery", "### Go on", "Count", "twice", "OK", "second", "| a ", "| c ",
]  # fmt: skip
CHANGES = {
    "isolates": "releases", "warning} battery\n": "danger} battery\n", "torque}`": "set}`", "45": "46", "10,20": "10,21",
    "replacement": "adjustment", "not-zero battery": "not-ok", "#go-on)\n- Alive": "#take-the-pack-out)\n- Alive",
    "boom.png": "bom.png",
}  # fmt: skip


@pytest.mark.parametrize("leaf", LEAVES)
def test_each_leaf_changes_the_hash(leaf):
    assert TEXT.count(leaf) >= 1
    changed = TEXT.replace(leaf, CHANGES.get(leaf, re.sub(r"(\w)(\W*)$", r"\1x\2", leaf)), 1)
    assert changed != TEXT
    assert digest(changed) != digest()


DRAWN = """:1: 10,20 Pin
:motion: turn 30,40 left 95°
:scale: 50 mm = 11,21 61,22
:crop: 5,6,70,80
:cover: 7,8,9,10
:detail: 20,30,8,9 upper left, 2 times
:after: late.png
:alt: The boom turned
:1: 12,23 Bolt
"""


@pytest.mark.parametrize(
    ("leaf", "other"),
    [
        ("turn 30", "push 30"),
        ("30,40 left", "31,40 left"),
        ("40 left", "41 left"),
        ("left 95°", "right 95°"),
        ("95°", "96°"),
        ("50 mm", "51 mm"),
        ("11,21", "11,20"),
        ("61,22", "62,22"),
        ("70,80", "70,81"),
        ("7,8,9,10", "7,8,9,11"),
        ("2 times", "3 times"),
        ("upper left", "upper right"),
        ("late.png", "later.png"),
        ("boom turned", "boom lifted"),
        ("12,23", "12,24"),
        ("Bolt", "Rod"),
        (":after: late.png\n:alt: The boom turned\n:1: 12,23 Bolt\n", ""),
    ],
)
def test_what_is_drawn_over_a_picture_counts(leaf, other):
    pictures = {**PICTURES, "p.md:late.png": "11ff"}
    whole = TEXT.replace(":1: 10,20 Pin\n", DRAWN)
    assert whole != TEXT and whole.count(leaf) == 1
    assert digest(whole.replace(leaf, other), pictures=pictures) != digest(whole, pictures=pictures)


@pytest.mark.parametrize(
    ("leaf", "other"),
    [
        ("Pack out", "Pack off"),
        ("8.8 ± 0.2", "8.8 ± 0.3"),
        ("ot: 1.2", "ot: 1.3"),
        ("title: Lift", "title: Hoist"),
        ("lockable: true", "lockable: false"),
        ("  battery: {", "  pack: {"),
    ],
)
def test_the_profile_counts(leaf, other):
    assert digest(profile=PROFILE.replace(leaf, other, 1)) != digest()


def test_the_bytes_of_a_picture_count():
    assert digest(pictures={"p.md:boom.png": "00fe"}) != digest()


@pytest.mark.parametrize(
    "form",
    [
        lambda t: t.replace("\n", "\r\n"),
        lambda t: t.replace("\n\n", "\n\n\n"),
        lambda t: t.replace("Lift it, lock it:", "Lift it,\nlock it:"),
        lambda t: t.replace("Why this is done.", "Why  this\tis done."),
        lambda t: t.replace("title: Replace the actuator", "title:   'Replace the actuator'"),
        lambda t: t.replace("\n**Shock.**", "\n**Shock.** "),
        lambda t: t.replace("|---|---|", "| --- | :-- |"),
    ],
    ids=["crlf", "blank lines", "wrapping", "blanks", "quotes", "trailing", "rule of a table"],
)
def test_form_does_not_count(form):
    assert form(TEXT) != TEXT
    assert digest(form(TEXT)) == digest()


def test_unicode_form_does_not_count():
    composed = TEXT.replace("Why this", "Wh\u00e9 this")
    assert digest(composed) == digest(TEXT.replace("Why this", "Whe\u0301 this"))


@pytest.mark.parametrize(
    ("key", "value"), [("revision: B", "revision: C"), ("date: 2026-11-03", "date: 2026-12-03")]
)
def test_revision_and_date_stand_outside(key, value):
    assert digest(TEXT.replace(key, value)) == digest()


def test_a_frozen_hash():
    """An update of the tool must not change what old cards say; if this must change, count SCHEME up."""
    assert digest() == FROZEN


FROZEN = "1ef66b42479646c796ee8499db19a7059420868ff78438d10b0957848990e017"
