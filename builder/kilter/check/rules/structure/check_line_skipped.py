"""A pre-use check in which a failed line leads to the machine's release."""

from collections import deque
from collections.abc import Iterator

from kilter.check.flow import Analysis
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.document import Answer, Step
from kilter.model.front import CheckFront

CODE = "K234"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if not isinstance(document.front, CheckFront) or context.profile is None:
        return
    steps = {step.slug: step for _, step in document.all_steps()}
    for step in steps.values():
        for answer in step.answers[1:]:
            if _released(context.analysis, step, answer):
                message = f"`{answer.words}` fails the line `{step.title}`, yet the machine can be released"
                help = (
                    "the first answer is the pass; lead this one to taking the machine out of use, "
                    "or to a step that comes back to this line"
                )
                yield error("check-line-skipped", message, answer.link.span, help)


def _released(analysis: Analysis, step: Step, answer: Answer) -> bool:
    """Whether some way from the answer ends in service without this line being asked again."""
    nodes = {n.number: n for n in analysis.nodes}
    ways: dict[int, list[int]] = {}
    for edge in analysis.edges:
        ways.setdefault(edge.start, []).append(edge.to)
    queue = deque(e.to for out in analysis.graph.edges for e in out if e.answer is answer)
    seen = set(queue)
    while queue:
        node = nodes[queue.popleft()]
        if node.key == step.slug:
            continue
        if node.exit == "service":
            return True
        for to in ways.get(node.number, ()):
            if to not in seen:
                seen.add(to)
                queue.append(to)
    return False
