"""A reading out of its limits after which the machine is released, with nothing measured or tested again."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from kilter.check.flow.facts import Facts
from kilter.check.onward import released
from kilter.check.rule import Context
from kilter.compute.reading import split_reading
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.base import fold
from kilter.model.document import Step
from kilter.model.front import CheckFront

CODE = "K235"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    if (
        context.profile is None
        or context.document.is_profile
        or isinstance(context.document.front, CheckFront)
    ):
        return
    graph = context.analysis.graph
    for facts in graph.facts:
        names = _readings(facts.step)
        for answer in facts.step.answers if names and not facts.tests and not facts.after else ():
            failed = answer.failure is not None and answer.failure.mark == "not-ok"
            if failed and released(context.analysis, answer, partial(_settled, facts.key, names)):
                message = f"`{answer.words}` fails a reading, yet the machine can be returned to service"
                help = "lead it to a step that tags the machine, or to the repair and then to this reading or a test"
                why = "Nobody knows whether what was out of its limits is mended."
                yield warning("failed-reading-released", message, answer.link.span, help, why=why)


def _readings(step: Step) -> set[str]:
    """Names of the readings of a step, empty for one without a name."""
    return {fold(split_reading(role.text)[1]) for role in step.roles if role.name == "read"}


def _settled(key: str, names: set[str], facts: Facts, worked: bool) -> bool:
    """Whether the reading is made again here, by this step or one of its name; or tested, once it was worked on."""
    again = facts.key == key or bool((names - {""}) & _readings(facts.step))
    return again or (worked and bool(facts.tests))
