"""A new pre-use check: a line for each test that the profile asks for, and what to do when one fails."""

from __future__ import annotations

from datetime import date

from kilter.model.document import Document
from kilter.publish.skeleton.safe import Frame
from kilter.publish.skeleton.words import Stop, front, literal, quoted


def check_text(document: Document, number: str, title: str, day: date) -> str:
    """The whole file; an empty `title` becomes a blank."""
    frame = Frame(document)
    head = title or "[fill in: title]"
    look = Stop(
        "Look at it",
        "[fill in: what is looked at before anything is switched on]",
        (":hands: controls - [fill in: why nobody reaches inside here]",),
        (
            ("[fill in: what is seen when all is well]", "test-1", ""),
            ("[fill in: anything else]", frame.stop, "{not-ok}"),
        ),
    )
    ready = Stop(
        "The machine may be used", "Write down the date and your code.", (":exit: returned to service",)
    )
    steps = [look, *frame.test(ready.slug), ready, *frame.leave()]
    rows = [f"# {literal(head)}", "", "[fill in: when and by whom this is done]", "", "## Check"]
    titles = {step.slug: step.title for step in steps}
    rows += [row for step in steps for row in step.lines(titles)]
    keys = {
        "kind": "pre-use-check",
        "number": number,
        "revision": "A",
        "equipment": frame.profile.id,
        "title": quoted(head),
        "writers": '["[fill in: initials]"]',
        "date": day.isoformat(),
    }
    return front(keys) + "\n".join(rows) + "\n"
