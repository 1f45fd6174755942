"""The linter itself as the judge of *find the missing control*, on the text of the files and not on the model's copy."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from tests.energy.demo_page import Page

from kilter.check.module import ModuleContext
from kilter.check.rule import Context
from kilter.check.run import check_document
from kilter.diagnostic import Diagnostic, Severity
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.publish.training.questions import Question
from kilter.publish.training.questions.missing import WORDS, ZERO
from kilter.read.document import read_bytes

Texts = dict[str, str]
"""Of a document and its profile, by path."""


def missing_faults(context: ModuleContext, question: Question, thorough: bool) -> Iterator[str]:
    """What is wrong with a question; `thorough` tries each wrong choice before every step, too."""
    document, texts = lacking(context, question)
    found = errors(context, document, texts)
    said = question.choices[question.key].why
    if [fold(d.message.replace("`", "")) for d in found] != [fold(said.rstrip("."))]:
        yield f"the check says {[d.message for d in found]} and not {said}"
    whole = {path: context.library.readings[path].source.text for path in texts}
    if errors(context, document, whole):
        yield "the document itself has errors"
    for n, choice in enumerate(question.choices):
        if thorough and n != question.key and mended(context, document, texts, *control(choice.text)):
            yield f"“{choice.text}” mends it, too"


def errors(context: ModuleContext, document: Document, texts: Texts) -> list[Diagnostic]:
    """Errors of a document and its profile, from other texts of theirs."""
    of = context.library
    library = replace(
        of, documents=dict(of.documents), readings=dict(of.readings), sources=dict(of.sources), files=dict(of.files), waiting=dict(of.waiting)
    )  # fmt: skip
    read = {path: read_bytes(path, text.encode()) for path, text in texts.items()}
    found = [d for reading in read.values() for d in reading.findings if d.severity is Severity.ERROR]
    for reading in read.values():
        library.add(reading)
    whole = library.documents[document.path]
    profile = library.profile_of(whole)
    assert profile is not None
    for each in (whole, profile):
        found += [d for d in check_document(Context(library, each, profile)) if d.severity is Severity.ERROR]
    return list(dict.fromkeys(found))


def lacking(context: ModuleContext, question: Question) -> tuple[Document, Texts]:
    """Texts of document and profile with the mark of the key taken out, by the text alone."""
    document = context.document(question.cites.document)
    assert document is not None
    profile = context.library.profile_of(document)
    assert profile is not None
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


def control(text: str) -> tuple[str, str]:
    """Effect and name, from the words of a choice."""
    for effect, words in WORDS.items():
        match = re.fullmatch(re.escape(words).replace(r"\{\}", "(.+)"), text.removesuffix(ZERO))
        if match:
            return effect, fold(match[1])
    raise AssertionError(text)


def mended(context: ModuleContext, document: Document, texts: Texts, effect: str, name: str) -> bool:
    """Whether a control mends the copy as a step of its own, before any step."""
    for path, text in texts.items():
        read = read_bytes(path, text.encode()).document
        assert read is not None
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
