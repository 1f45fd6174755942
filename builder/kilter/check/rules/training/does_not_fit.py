"""A module whose lessons, practical work, paper and breaks take longer than its sessions."""

from collections.abc import Iterator

from kilter.check.module import ModuleContext
from kilter.check.sessions import PAUSE, at_the_machine, for_the_paper, items_of, slots_of
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K906"
SEVERITY = Severity.WARNING


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    front, places = context.module.front, context.module.places
    if not front.sessions:
        return
    slots, left = slots_of(items_of(context.module), front.sessions)
    pauses = sum(s.item.minutes or 0 for s in slots if s.item.what == PAUSE)
    taught = sum(lesson.minutes or 0 for lesson in context.module.lessons)
    parts = [
        (taught, "of lessons"),
        (at_the_machine(front), "at the machine"),
        (for_the_paper(front), "for the paper"),
        (pauses, "of breaks"),
    ]
    needed, there = sum(minutes for minutes, _ in parts), sum(front.sessions)
    sums = ", ".join(f"{minutes} {what}" for minutes, what in parts if minutes)
    help = "shorten a lesson, lengthen a session, or take fewer trainees or more machines"
    if needed > there:
        message = f"{needed} minutes do not fit into {there}: {sums}"
        yield warning("does-not-fit", message, places.of("sessions"), help)
    elif left and all((i.minutes or 0) <= max(front.sessions) for i in left):
        message = f"`{left[0].what}` finds no room in the sessions as they are cut, with breaks: {sums}"
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
