"""A question that is written by hand: one right choice among three to five, and an objective it belongs to."""

from collections.abc import Iterator

from kilter.check.module import ModuleContext
from kilter.diagnostic import Diagnostic, Severity, did_you_mean, error
from kilter.model.base import fold
from kilter.model.text import paragraphs, plain
from kilter.model.training import OwnQuestion

CODE = "K905"
SEVERITY = Severity.ERROR
LEAST, MOST = 3, 5


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    objectives = list(context.module.front.objectives)
    seen: set[str] = set()
    for question in context.module.questions:
        yield from _form(question)
        if question.objective not in objectives:
            message = f"a question for the objective `{question.objective}`, which the module does not have"
            help = did_you_mean(question.objective, objectives)
            yield error(
                "own-question",
                message if question.objective else "a question for no objective",
                question.place,
                help,
            )
        if question.id and question.id in seen:
            message = f"two questions are called `{question.id}`"
            yield error("own-question", message, question.place, "give one of them another `:id:`")
        seen.add(question.id)


def _form(question: OwnQuestion) -> Iterator[Diagnostic]:
    right = [c for c in question.choices if c.right]
    if not any(plain(p.runs) for p in paragraphs(question.stem)):
        yield error(
            "own-question",
            "a question that asks nothing",
            question.place,
            "write the question below its choices",
        )
    if len(right) != 1:
        message = f"{len(right) or 'no'} right choice{'s' if len(right) > 1 else ''}"
        yield error("own-question", message, question.place, "write exactly one `:right:`")
    if not LEAST <= len(question.choices) <= MOST:
        message = f"{len(question.choices)} choices"
        yield error(
            "own-question",
            message,
            question.place,
            f"give {LEAST} to {MOST}, each one a mistake somebody makes",
        )
    texts = [fold(c.text) for c in question.choices]
    for n, choice in enumerate(question.choices):
        if fold(choice.text) in texts[:n]:
            yield error(
                "own-question",
                f"the choice `{choice.text}` stands twice",
                choice.span,
                "write another mistake",
            )
        elif not choice.why and not choice.right:
            help = "write it after a dash: `:wrong: a tag - a tag does not hold anything`"
            yield error("own-question", f"it is not said why `{choice.text}` is wrong", choice.span, help)
