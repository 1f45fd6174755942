"""Ways in, as people read them: titles of steps, and the answers taken."""

from __future__ import annotations

from dataclasses import replace

from kilter.check.flow.explore import Run
from kilter.check.flow.graph import Edge, Graph
from kilter.diagnostic import Hop
from kilter.model.document import Answer

Way = list[tuple[int, int]]
"""Nodes with the states before them."""


def edge_between(run: Run, here: tuple[int, int], there: tuple[int, int]) -> Edge:
    """The edge that a way takes; of several to one node, the first that gives the state."""
    after, _ = run.step(*here)
    graph = run.graph
    found = None
    for edge in graph.edges[here[0]]:
        if edge.to != there[0]:
            continue
        found = found or edge
        crossing = graph.crossings[edge.crossing]
        monitor = run.monitor
        new = monitor.cross(crossing, here[1], after) if monitor.crosses(crossing) else after
        if new == there[1]:
            return edge
    assert found is not None
    return found


def hops(run: Run, way: Way, keep: frozenset[int] = frozenset()) -> tuple[Hop, ...]:
    """The telling stops of a way: its ends, where an answer was taken or a step jumps, calls, and `keep`.

    A single step between two of them is told too: its title is as short as the sign that it is left out.
    """
    graph, found, left = run.graph, list[Hop](), list[Hop]()
    last = len(way) - 1
    for at, (node, _) in enumerate(way):
        edge = edge_between(run, way[at], way[at + 1]) if at < last else None
        facts = graph.at(node)
        telling = at in (0, last) or node in keep or (edge is not None and (edge.answer or edge.jump))
        if facts.after and not telling:
            continue
        hop = _hop(graph, node, edge.answer if edge else None)
        if not telling and facts.calls is None:
            left.append(hop)
            continue
        found += [*left, hop] if len(left) < 2 else [replace(hop, skipped=len(left))]
        left = []
    return tuple(found)


def _hop(graph: Graph, node: int, answer: Answer | None) -> Hop:
    step = graph.at(node).step
    return Hop(step.title, answer.words.rstrip(": ") if answer else "", step.heading_span)


def last_hops(hops: tuple[Hop, ...], most: int = 6) -> tuple[Hop, ...]:
    """The end of a long way, marked where its beginning is left out."""
    gone, kept = hops[:-most], hops[-most:]
    return (replace(kept[0], skipped=len(gone) + kept[0].skipped), *kept[1:]) if gone else kept


def shortest(graph: Graph, wanted: set[int]) -> list[int] | None:
    """Nodes of a shortest way from the first step to one of the wanted nodes."""
    before: dict[int, int | None] = {0: None}
    queue = [0] if graph.links else []
    for node in queue:
        if node in wanted:
            way = [node]
            while (back := before[way[-1]]) is not None:
                way.append(back)
            return way[::-1]
        for to, _ in graph.links[node]:
            if to not in before:
                before[to] = node
                queue.append(to)
    return None


def plain_hops(graph: Graph, nodes: list[int]) -> tuple[Hop, ...]:
    """Every step of a way without states, with the answers taken."""
    found = []
    for at, node in enumerate(nodes):
        more = at + 1 < len(nodes)
        edge = next((e for e in graph.edges[node] if e.to == nodes[at + 1]), None) if more else None
        if graph.at(node).after and not (edge and edge.answer):
            continue
        found.append(_hop(graph, node, edge.answer if edge else None))
    return tuple(found)
