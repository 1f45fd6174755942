"""Where the ways from an answer lead."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from kilter.check.flow import Analysis
from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import INSIDE, SERVICE
from kilter.model.document import Answer


def released(analysis: Analysis, answer: Answer, settled: Callable[[Facts, bool], bool]) -> bool:
    """Whether some way from the answer ends in service without a step that settles it.

    `settled` is asked about a step, and whether hands were inside on the way to it.
    """
    graph = analysis.graph
    queue = deque((edge.to, False) for edges in graph.edges for edge in edges if edge.answer is answer)
    seen = set(queue)
    while queue:
        node, worked = queue.popleft()
        facts = graph.at(node)
        if settled(facts, worked):
            continue
        if facts.exit == SERVICE:
            return True
        worked = worked or facts.hands >= INSIDE
        for stop in ((to, worked) for to, _ in graph.links[node]):
            if stop not in seen:
                seen.add(stop)
                queue.append(stop)
    return False


def asks(key: str, facts: Facts, worked: bool) -> bool:
    """Whether this is the step of that key."""
    return facts.key == key
