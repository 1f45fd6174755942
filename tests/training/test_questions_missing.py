"""Find the missing control: the linter itself judges each question anew, on the text of the files."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from tests.energy.demo_page import Page, after_words
from tests.training.question_library import DEMO, module_of

from kilter.check.rule import Context
from kilter.check.run import check_document
from kilter.diagnostic import Severity
from kilter.model.base import fold
from kilter.publish.training.questions import missing
from kilter.publish.training.questions.missing import WORDS, missing_questions
from kilter.publish.training.questions.subject import subjects
from kilter.read.document import read_bytes
from kilter.read.library import read_library

NUMBERS = ["LFT-130", "STR-110"]


@pytest.fixture(scope="module")
def context():
    return module_of(read_library(DEMO, base=DEMO.parent), NUMBERS)


@pytest.fixture(scope="module")
def questions(context):
    return [q for subject in subjects(context) for q in missing_questions(subject, most=3)]


def errors(context, document, texts):
    """Errors of a document and its profile, from other texts of theirs."""
    library = replace(context.library, documents=dict(context.library.documents), readings=dict(context.library.readings), sources=dict(context.library.sources), files=dict(context.library.files), waiting=dict(context.library.waiting))  # fmt: skip
    read = {path: read_bytes(path, text.encode()) for path, text in texts.items()}
    found = [d for reading in read.values() for d in reading.findings if d.severity is Severity.ERROR]
    for reading in read.values():
        library.add(reading)
    whole = library.documents[document.path]
    profile = library.profile_of(whole)
    for each in (whole, profile):
        found += [d for d in check_document(Context(library, each, profile)) if d.severity is Severity.ERROR]
    return list(dict.fromkeys(found))


def lacking(context, question):
    """Texts of document and profile with the mark of the key taken out, by the text alone."""
    document = context.document(question.cites.document)
    profile = context.library.profile_of(document)
    owner = document if question.cites.number[0].isdigit() else profile
    page = Page(owner, context.library.readings[owner.path].source.text)
    step = next(s for _, s in owner.all_steps() if s.title == question.cites.title)
    effect, name = control(question.choices[question.key].text)
    role = next(
        r
        for r in step.roles
        if r.name == effect and (effect == "all-clear" or name in [n.key for n in r.names])
    )
    left = ", ".join(n.text for n in role.names if n.key != name) if effect != "all-clear" else ""
    words = f"{{{effect}}}`{left}`" if left else role.text
    texts = {d.path: context.library.readings[d.path].source.text for d in (document, profile)}
    return document, {**texts, owner.path: page.edited(page.replace(role.span, words))}


def control(text):
    """Effect and name, from the words of a choice."""
    for effect, words in WORDS.items():
        match = re.fullmatch(re.escape(words).replace(r"\{\}", "(.+)"), text)
        if match:
            return effect, fold(match[1])
    raise AssertionError(text)


def test_there_are_some(questions):
    assert len(questions) >= 6
    assert all(q.safety and len(q.choices) == 4 for q in questions)


def test_the_copy_has_exactly_one_error_and_it_is_the_feedback(context, questions):
    for question in questions:
        document, texts = lacking(context, question)
        (only,) = errors(context, document, texts)
        said = question.choices[question.key].why
        assert fold(only.message.replace("`", "")) == fold(said.rstrip("."))


def test_no_wrong_choice_mends_it_as_a_step_of_its_own_anywhere(context, questions):
    for question in questions[:1]:
        document, texts = lacking(context, question)
        for n, choice in enumerate(question.choices):
            if n != question.key:
                assert not mended(context, document, texts, *control(choice.text)), (question.id, choice.text)


def mended(context, document, texts, effect, name):
    for path, text in texts.items():
        read = read_bytes(path, text.encode()).document
        page = Page(read, text)
        for _, step in read.all_steps():
            if step.field("do") is None:
                sentence = f"Do this too: {{{effect}}}`{name}`."
                new = f"### Something more\n:hands: probe - as an extra step\n\n{sentence}\n"
                tried = page.edited(page.put(step.span.line, new))
                found = errors(context, document, {**texts, path: tried})
                if not [d for d in found if d.rule not in ("no-failing-answer", "duplicate-step")]:
                    return True
    return False


def test_the_right_one_mends_it(context, questions):
    for question in questions:
        document, _ = lacking(context, question)
        whole = {p: context.library.readings[p].source.text for p in (document.path, context.library.profile_of(document).path)}  # fmt: skip
        assert errors(context, document, whole) == []


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
