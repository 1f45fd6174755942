"""Where the ways from an answer lead."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from kilter.check.flow import Analysis
from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import SERVICE
from kilter.model.document import Answer


def released(analysis: Analysis, answer: Answer, settled: Callable[[Facts], bool]) -> bool:
    """Whether some way from the answer ends in service without a step that settles it."""
    graph = analysis.graph
    queue = deque(edge.to for edges in graph.edges for edge in edges if edge.answer is answer)
    seen = set(queue)
    while queue:
        node = queue.popleft()
        facts = graph.at(node)
        if settled(facts):
            continue
        if facts.exit == SERVICE:
            return True
        for to, _ in graph.links[node]:
            if to not in seen:
                seen.add(to)
                queue.append(to)
    return False


def asks(key: str, facts: Facts) -> bool:
    """Whether this is the step of that key."""
    return facts.key == key
