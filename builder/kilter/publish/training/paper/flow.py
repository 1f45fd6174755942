"""Ways, least flows and strongly connected parts of a small graph."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Mapping

Node = int
Edge = tuple[Node, Node, int]
"""From, to, and a serial among edges of the same two nodes."""


def least_flow(
    arcs: Mapping[Edge, tuple[Node, Node]], needed: Mapping[Edge, int], start: Node, end: Node
) -> dict[Edge, int]:
    flow = dict.fromkeys(arcs, 0)
    for arc in needed:
        if flow[arc] == 0:
            for crossed in (*route(arcs, start, arcs[arc][0]), arc, *route(arcs, arcs[arc][1], end)):
                flow[crossed] += 1
    if not needed:
        for crossed in route(arcs, start, end):
            flow[crossed] += 1
    total = sum(flow[a] for a, (tail, _) in arcs.items() if tail == start)
    while total > 1 and (back := _spare(arcs, flow, needed, start, end)):
        for arc, by in back:
            flow[arc] += by
        total -= 1
    return flow


def route(arcs: Mapping[Edge, tuple[Node, Node]], start: Node, end: Node) -> list[Edge]:
    """The shortest way; there is one, since every node lies between start and end."""
    came: dict[Node, tuple[Node, Edge]] = {}
    queue = deque([start])
    out: dict[Node, list[tuple[Node, Edge]]] = {}
    for arc, (tail, head) in arcs.items():
        out.setdefault(tail, []).append((head, arc))
    while queue and end not in came and start != end:
        at = queue.popleft()
        for head, arc in out.get(at, ()):
            if head not in came and head != start:
                came[head] = (at, arc)
                queue.append(head)
    found = []
    while end != start:
        end, arc = came[end]
        found.append(arc)
    return found[::-1]


def _spare(
    arcs: Mapping[Edge, tuple[Node, Node]],
    flow: Mapping[Edge, int],
    needed: Mapping[Edge, int],
    start: Node,
    end: Node,
) -> list[tuple[Edge, int]]:
    """Changes of the flow that take one way back: less along an arc, or more against it."""
    out: dict[Node, list[tuple[Node, Edge, int]]] = {}
    for arc, (tail, head) in arcs.items():
        if flow[arc] > needed.get(arc, 0):
            out.setdefault(tail, []).append((head, arc, -1))
        out.setdefault(head, []).append((tail, arc, 1))
    came: dict[Node, tuple[Node, Edge, int]] = {}
    queue = deque([start])
    while queue and end not in came:
        at = queue.popleft()
        for to, arc, by in out.get(at, ()):
            if to not in came and to != start:
                came[to] = (at, arc, by)
                queue.append(to)
    found: list[tuple[Edge, int]] = []
    while end != start:
        if end not in came:
            return []
        end, arc, by = came[end]
        found.append((arc, by))
    return found


def taken_apart(
    arcs: Mapping[Edge, tuple[Node, Node]], flow: dict[Edge, int], start: Node, end: Node
) -> list[list[Edge]]:
    """The flow as ways; there are no loops in it, since parts were made one."""
    ways = []
    while any(flow[a] for a, (tail, _) in arcs.items() if tail == start):
        at, way = start, list[Edge]()
        while at != end:
            arc = next(a for a, (tail, _) in arcs.items() if tail == at and flow[a])
            flow[arc] -= 1
            way.append(arc)
            at = arcs[arc][1]
        ways.append(way)
    return ways


def strong_parts(edges: Collection[Edge]) -> dict[Node, int]:
    """The strongly connected part of each node (Kosaraju's two walks, as in Sharir 1981)."""
    out: dict[Node, list[Node]] = {n: [] for e in edges for n in e[:2]}
    for tail, head, _ in edges:
        out[tail].append(head)
    order: list[Node] = []
    seen: set[Node] = set()
    for first in out:
        stack = [(first, iter(out[first]))] if first not in seen else []
        seen.add(first)
        while stack:
            node, rest = stack[-1]
            if (to := next((t for t in rest if t not in seen), None)) is None:
                order.append(node)
                stack.pop()
            else:
                seen.add(to)
                stack.append((to, iter(out[to])))
    back: dict[Node, list[Node]] = {n: [] for n in out}
    for tail, head, _ in edges:
        back[head].append(tail)
    parts: dict[Node, int] = {}
    count = 0
    for first in reversed(order):
        if first in parts:
            continue
        queue = [first]
        parts[first] = count
        for node in queue:
            for to in back[node]:
                if to not in parts:
                    parts[to] = count
                    queue.append(to)
        count += 1
    return parts
