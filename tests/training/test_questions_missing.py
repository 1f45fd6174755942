"""Find the missing control: the linter itself judges each question anew, on the text of the files."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.energy.demo_page import Page, after_words
from tests.training.guessers import READERS
from tests.training.missing_checker import control, errors, lacking, missing_faults
from tests.training.question_library import DEMO, module_of

from kilter.publish.training.questions import missing
from kilter.publish.training.questions.missing import missing_questions
from kilter.publish.training.questions.subject import subjects
from kilter.read.document import read_bytes
from kilter.read.library import read_library

NUMBERS = ["WCB-230", "STR-110"]


@pytest.fixture(scope="module")
def context():
    return module_of(read_library(DEMO, base=DEMO.parent), NUMBERS)


@pytest.fixture(scope="module")
def questions(context):
    return [q for subject in subjects(context) for q in missing_questions(subject, most=3)]


def test_there_are_some(questions):
    assert len(questions) >= 6
    assert all(q.safety and len(q.choices) == 4 for q in questions)


def test_the_check_refuses_each_copy_with_the_feedback_and_takes_the_whole(context, questions):
    assert [f for q in questions for f in missing_faults(context, q, thorough=q is questions[0])] == []


def test_the_stem_is_short_and_does_not_tell(questions):
    """No choice is known from the list of what was done: all four stand in it, or none does."""
    assert max(len(q.stem.split()) for q in questions) <= 40
    for q in questions:
        assert len(set(READERS["not listed in stem"]([c.text for c in q.choices], q.stem))) == 1, q.stem


def test_without_the_proof_a_second_right_choice_slips_in(context, monkeypatch):
    """The same generator that does not try its wrong choices is caught by the same test."""
    monkeypatch.setattr(missing, "mends", lambda *_: False)
    monkeypatch.setattr(missing, "_others", lambda subject, c: _alike(c))
    subject = next(iter(subjects(context)))

    class Nothing(dict):
        def save(self): ...
        def put(self, id, verdict):
            self[id] = verdict

    monkeypatch.setattr(missing, "Verdicts", lambda subject: Nothing())
    made = list(missing_questions(subject, most=1))
    assert any(mended_inside(context, q) for q in made)


def _alike(control):
    """The same control in other letters: each of them mends."""
    return [missing.Control(control.effect, control.text + " " * n) for n in (1, 2, 3)]


def mended_inside(context, question):
    document, texts = lacking(context, question)
    wrong = next(c for n, c in enumerate(question.choices) if n != question.key)
    effect, name = control(wrong.text)
    owner = document.path if question.cites.number[0].isdigit() else context.library.profile_of(document).path
    read = read_bytes(owner, texts[owner].encode()).document
    page = Page(read, texts[owner])
    step = next(s for _, s in read.all_steps() if s.title == question.cites.title)
    tried = page.edited(page.put(after_words(step), f"Do this too: {{{effect}}}`{name}`."))
    return errors(context, document, {**texts, owner: tried}) == []


def test_verdicts_are_kept_under_a_name_that_the_content_makes(tmp_path):
    import shutil

    shutil.copytree(DEMO, tmp_path / "procedures")
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n")
    root = tmp_path / "procedures"
    for _ in range(2):
        found = module_of(read_library(root, base=tmp_path), ["WCB-230"])
        made = [q for s in subjects(found) for q in missing_questions(s, most=2)]
        assert len(made) == 2
    (kept,) = [f for f in Path(tmp_path / ".kilter-cache").iterdir() if f.name.startswith("missing-")]
    file = next(root.rglob("wcb-230*.md"))
    file.write_text(file.read_text().replace("Take", "Lift", 1) + "\n")
    found = module_of(read_library(root, base=tmp_path), ["WCB-230"])
    again = [q for s in subjects(found) for q in missing_questions(s, most=2)]
    assert len(again) == 2
    assert kept.exists()
