"""An own question that is hard to read, or whose choices are no fair choice."""

from collections.abc import Iterator

from kilter.check.itemwriting import wording
from kilter.check.module import ModuleContext
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.text import paragraphs, plain

CODE = "K908"
SEVERITY = Severity.WARNING


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    for question in context.module.questions:
        stem = " ".join(plain(p.runs) for p in paragraphs(question.stem)).strip()
        if not stem or not question.choices:
            continue
        for found in wording(stem, [c.text for c in question.choices]):
            help = "ask one short thing, straight out, with choices that each stand alone"
            yield warning("question-wording", found, question.place, help)
