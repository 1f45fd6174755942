"""A module whose lessons, practical work and paper take longer than its sessions."""

from collections.abc import Iterator
from math import ceil

from kilter.check.module import ModuleContext
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.training import TrainingFront

CODE = "K906"
SEVERITY = Severity.WARNING

MINUTES_A_QUESTION = 2
"""Where the paper says no time: reading four choices and weighing them. Common practice, no source."""


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    front, places = context.module.front, context.module.places
    if not front.sessions:
        return
    taught = sum(lesson.minutes or 0 for lesson in context.module.lessons)
    parts = [
        (taught, "of lessons"),
        (at_the_machine(front), "at the machine"),
        (for_the_paper(front), "for the paper"),
    ]
    needed, there = sum(minutes for minutes, _ in parts), sum(front.sessions)
    if needed > there:
        sums = ", ".join(f"{minutes} {what}" for minutes, what in parts if minutes)
        message = f"{needed} minutes do not fit into {there}: {sums}"
        help = "shorten a lesson, lengthen a session, or take fewer trainees or more machines"
        yield warning("does-not-fit", message, places.of("sessions"), help)
    for lesson in context.module.lessons:
        if lesson.minutes is not None and lesson.minutes > max(front.sessions):
            message = f"the lesson `{lesson.title}` is longer than any session"
            yield warning("does-not-fit", message, lesson.heading_span, "split it at a natural break")
        elif lesson.minutes is None:
            message = f"the lesson `{lesson.title}` has no minutes, so it is not counted"
            yield warning(
                "does-not-fit", message, lesson.heading_span, "write `:minutes: 25` below its heading"
            )


def at_the_machine(front: TrainingFront) -> int:
    """Minutes until every trainee has had theirs, `machines` of them at a time."""
    return (front.practical or 0) * ceil(front.trainees / front.machines)


def for_the_paper(front: TrainingFront) -> int:
    """Minutes of the written paper."""
    return front.paper.minutes or MINUTES_A_QUESTION * front.paper.questions
