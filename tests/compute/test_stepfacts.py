"""The hash of a step's facts: what it leans on counts, the rest of the document and form do not."""

import re

import pytest
from tests.compute.test_contenthash import TEXT

from kilter.compute.stepfacts import step_facts
from kilter.read.document import read_bytes

PICTURES = {"p.md:boom.png": "00ff"}
MACHINE = """---
kind: equipment
id: tarn-2
title: Lift
sources:
  battery: {kind: battery, lockable: true, word: warning, isolate: "Pack out, in its case.", prove: "Voltmeter."}
  link: {kind: capacitor, fed-by: [battery], word: caution, release: bleed, bleed: 5 min, prove: Meter.}
  boom: {kind: gravity, lockable: true, word: warning, isolate: Pin in., prove: Push.}
none: [mains, hydraulic, pneumatic, vacuum, spring, heat, motion, pressure]
zones: {column: [link]}
---
"""


def facts(text=TEXT, machine=MACHINE, pictures=PICTURES, slug="take-the-pack-out"):
    read, profile = read_bytes("p.md", text.encode()), read_bytes("m.md", machine.encode())
    assert read.document is not None, read.findings
    assert profile.document is not None, profile.findings
    stage, step = next((a, b) for a, b in read.document.all_steps() if b.slug == slug)
    return step_facts(step, stage, read.document, profile.document, pictures)


FACTS = [
    ("22 ± 2", "22 ± 3"), ("isolates", "releases"), ("{torque}", "{set}"), ("fig-a 1", "fig-a 2"), ("warning} battery", "danger} battery"),
    ("warning} battery", "warning} link"), ("10,20 Pin", "10,21 Pin"), (":1: 10,20", ":2: 10,20"), ("not-zero battery", "not-zero link"),
    ("Dead: [Go on](#go-on)", "Dead: [Go on](#take-the-pack-out)"), (":origin: maker's", ":hands: controls - the pack is outside\n:origin: maker's"),
]  # fmt: skip
WORDS = [
    ("Lift it", "Pull it"), ("Shock", "Burn"), ("It bites", "It may bite"), ("Pin\n", "Bolt\n"), ("the left", "the right"),
    ("The boom.", "A boom."), ("- Dead:", "- Lamp off:"), ("[Go on](#go-on)\n- Alive", "[Stop](#go-on)\n- Alive"), ("lock it:", "hold it:"),
]  # fmt: skip
FORM = [
    ("22 ± 2 N·m", "20–24 N·m"), ("22 ± 2 N·m", "22000 ± 2000 N·mm"), ("Lift it, lock it", "Lift it,\nlock   it"), ("\n\n:::{figure}", "\n\n\n:::{figure}"),
    ("**Shock.**", "*Shock.*"), ("maker's manual p. 41", "maker's manual p. 44"),
]  # fmt: skip
ELSEWHERE = [("Why this is done", "Why it is done"), ("Count **twice**", "Count once"), ("| c ", "| x "), ("revision: B", "revision: C"), ("jerks", "halts")]  # fmt: skip


def change(text, pair):
    old, new = pair
    assert text.count(old) >= 1, pair
    return text.replace(old, new, 1)


@pytest.mark.parametrize("pair", FACTS, ids=str)
def test_a_fact_counts(pair):
    assert facts(change(TEXT, pair)).computed != facts().computed


@pytest.mark.parametrize("pair", WORDS, ids=str)
def test_words_count_apart(pair):
    changed = facts(change(TEXT, pair))
    assert changed.computed == facts().computed
    assert changed.words != facts().words
    assert changed.short != facts().short


@pytest.mark.parametrize("pair", FORM, ids=str)
def test_form_does_not_count(pair):
    assert facts(change(TEXT, pair)) == facts()


@pytest.mark.parametrize("pair", ELSEWHERE, ids=str)
def test_the_rest_of_the_document_does_not_count(pair):
    assert facts(change(TEXT, pair)) == facts()


def test_sources_in_reach_count_with_their_feeds_and_no_others():
    assert facts(machine=change(MACHINE, ("bleed: 5 min", "bleed: 6 min"))).computed != facts().computed
    assert facts(machine=change(MACHINE, ("bleed: 5 min", "bleed: 300 s"))) == facts()
    assert facts(machine=change(MACHINE, ("Pack out", "Pack off"))).words != facts().words
    assert facts(machine=change(MACHINE, ("prove: Push", "prove: Pull"))) == facts(), (
        "the boom is out of reach"
    )


def test_the_bytes_of_a_figure_count():
    assert facts(pictures={"p.md:boom.png": "00fe"}).computed != facts().computed


def test_blanks_beside_marks_are_words():
    """A hash of fragments each stripped would take `lock it:x` for `lock it: x`."""
    assert facts(TEXT.replace("lock it: {isolates}", "lock it:{isolates}")).words != facts().words


def test_each_word_taken_out_is_noticed():
    body = (
        TEXT[TEXT.index("Lift it") : TEXT.index(":::{figure}")]
        + TEXT[TEXT.index("- Dead") : TEXT.index("### Go on")]
    )
    for word in sorted(
        set(re.findall(r"[A-Za-z]{2,}", body))
        - {"torque", "item", "isolates", "not", "zero", "go", "fig", "m"}
    ):
        cut = re.sub(rf"\b{word}\b", "", TEXT[TEXT.index("Lift it") :], count=1)
        read = read_bytes("p.md", (TEXT[: TEXT.index("Lift it")] + cut).encode())
        if read.document is None or "take-the-pack-out" not in read.document.steps:
            continue
        assert facts(TEXT[: TEXT.index("Lift it")] + cut) != facts(), word
