"""The printed papers of the demo module, and of small ones: what stands on them, and what must not."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
from functools import lru_cache
from pathlib import Path

import pikepdf
import pytest
from tests.publish.cards_family_frame import ROOT
from tests.publish.cards_frame import fonts, pages_text, words
from tests.training.frame import MODULE, library

from kilter.check.module import ModuleContext
from kilter.check.run import check_library
from kilter.check.sessions import Item, items_of, slots_of
from kilter.cli import main
from kilter.publish.cards.problems import CardProblems
from kilter.publish.prepare import prepare
from kilter.publish.training.paper.make import sheets, sheets_of
from kilter.publish.training.questions import bank, papers
from kilter.publish.view import STANDING
from kilter.read.library import read_library

SIZES = {"slides.pdf": (320, 180), "sign-off.str-110.pdf": (297, 210), "sign-off.str-010.pdf": (297, 210)}
TRAINEES = ("handout.pdf",)


@lru_cache(maxsize=1)
def demo():
    here = Path.cwd()
    os.chdir(ROOT)
    try:
        ready = prepare(Path("procedures"))
        module = next(m for m in ready.modules if m.front.number == "TRN-020")
        context = ModuleContext(ready.library, module)
        forms = papers(bank(context), module.front)
        made = {sheet.name: sheet for sheet in sheets_of(context, forms, ready.views)}
        return context, forms, made, sheets(context, forms, ready.views), ready.views
    finally:
        os.chdir(here)


NAMES = [
    "handout.pdf",
    "handout-answers.pdf",
    "slides.pdf",
    "session-plan.pdf",
    "trainer.pdf",
    "sign-off.str-110.pdf",
    "scenarios.str-110.pdf",
    "sign-off.str-010.pdf",
    "scenarios.str-010.pdf",
    "paper-a.pdf",
    "paper-a-key.pdf",
    "paper-b.pdf",
    "paper-b-key.pdf",
]


def text_of(name: str) -> str:
    return " ".join(" ".join(pages_text(demo()[3][name])).split())


def small(folder, module=MODULE, **more):
    """The papers of a module in a library of its own, as texts by name."""
    root = library(folder, module, **more)
    ready = prepare(root)
    (found,) = ready.library.modules.values()
    context = ModuleContext(ready.library, found)
    return {n: " ".join(" ".join(pages_text(b)).split()) for n, b in sheets(context, (), ready.views).items()}


def test_all_papers_are_there_and_only_the_hand_out_is_for_trainees():
    made = demo()[2]
    assert sorted(made) == sorted(NAMES)
    assert {n for n, s in made.items() if s.reader == "trainee"} == set(TRAINEES)


@pytest.mark.parametrize("name", NAMES)
def test_every_paper_is_tagged_marked_and_inside_its_edges(name):
    data = demo()[3][name]
    wide, high = SIZES.get(name, (210, 297))
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == "en-GB"
        assert fonts(pdf)
        assert all("Atkinson" in font for font in fonts(pdf))
        box = [float(v) * 25.4 / 72 for v in pdf.pages[0].MediaBox]
        assert (round(box[2]), round(box[3])) == (wide, high)
        assert pdf.open_metadata()["pdfuaid:part"] == "1"
    pages = [" ".join(page.split()) for page in pages_text(data)]
    for page in pages:
        assert "DRAFT" in page
        assert STANDING in page
        assert "TRN-020" in page
    edge = 8.9
    for word in words(data):
        assert word.left >= edge - 0.1, word
        assert word.right <= wide - edge + 0.1, word
        assert word.bottom <= high - edge + 0.1, word


def test_the_same_module_gives_the_same_bytes_in_another_process():
    code = (
        "import hashlib, tests.training.test_sheets as t;"
        "print(*(hashlib.sha256(t.demo()[3][n]).hexdigest() for n in t.NAMES))"
    )
    path = os.pathsep.join([str(ROOT / "builder"), str(ROOT)])
    env = {**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": "7"}
    made = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env=env, capture_output=True, check=True, text=True
    )
    assert made.stdout.split() == [hashlib.sha256(demo()[3][name]).hexdigest() for name in NAMES]


def test_the_hand_out_asks_and_its_answers_tell():
    context, _, _, _, _ = demo()
    hand_out, answers = text_of("handout.pdf"), text_of("handout-answers.pdf")
    questions = context.module.questions
    assert questions
    for question in questions:
        for choice in question.choices:
            assert choice.text in hand_out
            assert choice.why not in hand_out
            assert choice.why in answers
    figure = next(f for f in context.document("STR-110").figures if f.id == "fig-rail")
    assert re.search(r"Figure \d+[^.]* of STR-110", hand_out)
    assert not any(f"{item.number} {item.label}" in hand_out for item in figure.items)
    assert all(f"{item.number} {item.label}" in answers for item in figure.items)
    assert "Fault 1" not in hand_out
    assert "9.6 mm" not in hand_out  # how the trainer sets the fault


def test_steps_stand_with_their_cautions_and_where_they_come_from():
    hand_out = text_of("handout.pdf")
    step = hand_out.index("Set the bracket")
    assert 0 < hand_out.rindex("WARNING", 0, step) < step
    assert re.search(r"From STR-110 rev\. B, step \d+\.\d+, facts [0-9a-f]{12}", hand_out)


def test_the_sign_off_sheet_says_what_fails():
    sheet = text_of("sign-off.str-110.pdf")
    assert "not yet competent, whatever the rest" in sheet
    assert "is not the trainee" in sheet
    for words_ in (
        "Isolates and holds: mains",
        "Proves zero: deck",
        "Waits: 3 min",
        "Tests: rail interlock",
        "2.0 ± 0.2 N·m",
        "Talked through",
    ):
        assert words_ in sheet, words_


def test_cards_never_say_where_an_answer_leads():
    sheet = text_of("scenarios.str-110.pdf")
    lists, _, cards = sheet.partition("Cards to cut out")
    assert "Stop and tag" in lists
    assert "Stop and tag" not in cards
    assert "lever height: 8.6 mm" in cards
    assert "whatever a card says" in lists


def test_paper_and_key_agree_and_the_paper_tells_nothing():
    _, forms, _, _, _ = demo()
    assert [p.form for p in forms] == ["A", "B"]
    assert forms[0].questions != forms[1].questions
    for paper in forms:
        asked, key = (
            text_of(f"paper-{paper.form.lower()}.pdf"),
            text_of(f"paper-{paper.form.lower()}-key.pdf"),
        )
        assert paper.code in asked
        assert paper.code in key
        assert "SAFETY" not in asked
        glance = key[key.index("At a glance") : key.index("With reasons")]
        assert re.findall(r"\b(\d+) ([A-H])\b", glance) == [
            (str(n), q.letter) for n, q in enumerate(paper.questions, 1)
        ]
        assert glance.count("SAFETY") == sum(q.safety for q in paper.questions)
        for question in paper.questions:
            assert question.cites.hash in key


def test_the_plan_counts_and_lists_every_tool():
    context, _, _, _, views = demo()
    plan = text_of("session-plan.pdf")
    for view in (v for v in views if v.number in ("STR-110", "STR-010")):
        assert all(kit.name in plan for kit in view.kit)
    assert "trainees 5 to 6" in plan
    slots, left = slots_of(items_of(context.module), context.module.front.sessions)
    assert left == [] and plan.count("Break") == sum(s.item.what == "Break" for s in slots) == 2
    assert "common practice, no source" in plan
    assert "one for each trainee" in plan
    assert f"{context.module.front.paper.questions} questions" in plan


@pytest.mark.parametrize(
    ("minutes", "sessions", "slots", "left"),
    [
        ([30, 40], (60,), [(0, 0, 30)], 1),
        ([30, 40], (60, 60), [(0, 0, 30), (1, 0, 40)], 0),
        ([30, 30], (60, 60), [(0, 0, 30), (0, 30, 60)], 0),
        ([70, 10], (60, 80), [(1, 0, 70), (1, 70, 80)], 0),
        ([90, 10], (60, 80), [], 2),
        ([10], (), [], 1),
        ([50, 50], (120,), [(0, 0, 50), (0, 50, 65), (0, 65, 115)], 0),
        ([50, 50], (110,), [(0, 0, 50)], 1),
        ([45, 45, 20], (130,), [(0, 0, 45), (0, 45, 90), (0, 90, 105), (0, 105, 125)], 0),
        ([120, 10], (150,), [(0, 0, 120), (0, 120, 135), (0, 135, 145)], 0),
        ([50, 50], (60, 60), [(0, 0, 50), (1, 0, 50)], 0),
    ],
)
def test_items_keep_their_order_and_never_outgrow_a_session(minutes, sessions, slots, left):
    items = [Item(str(n), m) for n, m in enumerate(minutes)]
    found, rest = slots_of(items, sessions)
    assert [(s.session, s.begins, s.ends) for s in found] == slots
    assert len(rest) == left


FAULT = """
:::{fault} BENCH-1
:set: Slacken the screw by half a turn.
:undo: Tighten it again.
:prove: Full run and lamp test by somebody else.
:::
"""


def test_a_fault_stands_on_the_trainers_sheet_alone(tmp_path):
    made = small(tmp_path, MODULE + FAULT)
    assert "Slacken the screw by half a turn." in made["trainer.pdf"]
    assert "lamp test" in made["trainer.pdf"]
    assert not any("Slacken" in text for name, text in made.items() if name != "trainer.pdf")


def test_a_module_without_a_fault_leaves_lines_to_write_on(tmp_path):
    assert "says nothing of a fault" in small(tmp_path)["trainer.pdf"]


def findings(folder, module):
    root = library(folder, module)
    return check_library(read_library(root, base=root)).found["module.md"]


@pytest.mark.parametrize(
    ("fault", "rule", "said"),
    [
        (FAULT.replace(":undo: Tighten it again.\n", ""), "bad-value", "a fault without `:undo:`"),
        (FAULT.replace(":prove:", ":proof:"), "unknown-field", "option `:proof:` of a fault is not known"),
        (FAULT.replace("BENCH-1", "BENCH-2"), "unknown-cover", "has the number `BENCH-2`"),
        (FAULT.replace(":undo:", ":set: Again.\n:undo:"), "duplicate-key", "option `:set:` stands twice"),
    ],
)
def test_a_fault_that_cannot_be_taken_back_is_refused(tmp_path, fault, rule, said):
    (found,) = [d for d in findings(tmp_path, MODULE + fault) if d.rule == rule]
    assert said in found.message
    assert not [d for d in findings(tmp_path, MODULE + FAULT) if d.severity == "error"]


def test_a_character_without_a_glyph_is_named_with_its_place(tmp_path):
    with pytest.raises(CardProblems) as trouble:
        small(tmp_path, MODULE.replace("What the rig is.", "A screw of \u2300 4."))
    (finding,) = trouble.value.findings
    assert finding.rule == "glyph-missing"
    assert (finding.span.path.rpartition("/")[2], finding.span.line) == ("module.md", 17)


def test_a_picture_of_its_own_that_is_not_there_is_named(tmp_path):
    figure = ":::{figure} none.png\n:alt: Nothing.\nNothing.\n:::\n"
    with pytest.raises(CardProblems) as trouble:
        small(tmp_path, MODULE.replace("What the rig is.", figure))
    assert [f.rule for f in trouble.value.findings] == ["picture-missing"]


def test_words_of_the_educator_are_never_markup(tmp_path):
    hostile = 'Say #panic("no") $x$ @ref \\<label> // \\[b\\] and go on.'
    made = small(tmp_path, MODULE.replace("What the rig is.", hostile))
    assert '#panic("no") $x$ @ref <label> //' in made["handout.pdf"]
    assert '#panic("no")' in made["slides.pdf"]


def test_blanks_change_no_hash_and_a_taught_word_does(tmp_path):
    def hash_of(module):
        return re.search(r"Content hash ([0-9a-f]{12})", small(tmp_path, module)["session-plan.pdf"])[1]

    first = hash_of(MODULE)
    assert hash_of(MODULE.replace("What the rig is.", "What  the\nrig is.")) == first
    assert hash_of(MODULE.replace("revision: A", "revision: B")) == first
    assert hash_of(MODULE.replace("What the rig is.", "What the rig was.")) != first


def test_what_is_only_taken_is_not_signed_off(tmp_path):
    root = library(tmp_path)
    other = (root / "bench.md").read_text(encoding="utf-8").replace("BENCH-1", "BENCH-2")
    (root / "other.md").write_text(other, encoding="utf-8")
    made = small(tmp_path, MODULE + "\n:::{from} BENCH-2 energy\n:::\n")
    assert "BENCH-2 rev. A" in made["handout.pdf"]
    assert "sign-off.bench-1.pdf" in made
    assert "sign-off.bench-2.pdf" not in made


def test_a_module_is_withheld_with_a_document_that_it_takes_from(tmp_path, monkeypatch, capsys):
    root = library(tmp_path, MODULE + "\n:::{from} BENCH-2 energy\n:::\n")
    text = (root / "bench.md").read_text(encoding="utf-8").replace("BENCH-1", "BENCH-2")
    (root / "other.md").write_text(text.replace("22 ± 2 N·m", "22 ± 2 furlongs"), encoding="utf-8")
    (tmp_path / "mkdocs.yml").write_text(
        "site_name: T\ntheme: material\ndocs_dir: procedures\nplugins: [kilter]\n"
    )
    monkeypatch.chdir(tmp_path)
    assert main(["build", "--quiet"]) == 1
    assert re.search(r"withheld: TRN-1 .* the document .*other\.md has errors", capsys.readouterr().out)
    assert not (tmp_path / "out" / "training").exists()
