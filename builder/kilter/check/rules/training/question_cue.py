"""An own question whose right choice can be told from how it looks."""

from collections.abc import Iterator

from kilter.check.itemwriting import cues
from kilter.check.module import ModuleContext
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.text import paragraphs, plain

CODE = "K907"
SEVERITY = Severity.WARNING


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    for question in context.module.questions:
        right = [n for n, c in enumerate(question.choices) if c.right]
        if len(right) != 1 or len(question.choices) < 2:
            continue
        stem = " ".join(plain(p.runs) for p in paragraphs(question.stem))
        for found in cues(stem, [c.text for c in question.choices], right[0]):
            help = "write the choices alike, in length, form and words, so that only who knows can tell"
            yield warning("question-cue", found, question.choices[right[0]].span, help)
