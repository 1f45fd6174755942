"""Questions that the educator wrote, beside those that were made."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.module import ModuleContext
from kilter.model.base import slugify
from kilter.model.text import paragraphs, plain
from kilter.publish.training.questions.draw import Draw
from kilter.publish.training.questions.model import Choice, Question
from kilter.publish.training.questions.subject import Asked, Subject, shuffled


def own_questions(context: ModuleContext, subjects: list[Subject]) -> Iterator[Question]:
    """Each own question that is in order: it belongs to an objective and has exactly one right choice."""
    number = context.module.front.number
    for own in context.module.questions:
        asked = _step(context, subjects, own.objective)
        right = [c for c in own.choices if c.right]
        stem = " ".join(plain(p.runs) for p in paragraphs(own.stem)).strip()
        if asked is None or len(right) != 1 or len(own.choices) < 2 or not stem:
            continue
        name = own.id or slugify(stem)[:40]
        draw = Draw(number, name, stem, "own", 0)
        choices, key = shuffled(
            draw,
            Choice(right[0].text, right[0].why),
            [Choice(c.text, c.why) for c in own.choices if not c.right],
        )
        yield Question(
            id=f"own-{number}-{name}",
            kind="own",
            stem=stem,
            choices=choices,
            key=key,
            safety=own.safety,
            cites=asked.cite,
            objectives=(own.objective,),
            fact=f"own {name}",
        )


def _step(context: ModuleContext, subjects: list[Subject], objective: str) -> Asked | None:
    """The first covered step of an objective."""
    if objective not in context.module.front.objectives:
        return None
    steps = [asked for subject in subjects for asked in subject.steps]
    return next((asked for asked in steps if objective in asked.objectives), None)
