"""The fewest ways through a graph that cross every branch that has to be seen.

A way may go round a loop, so what can be reached from itself is taken as one (strongly connected parts);
between those parts the fewest ways are a least flow with lower bounds (Ford and Fulkerson 1962: any feasible flow,
less the largest flow that can be taken back). A branch that stands at several places, because a shared stage is
asked for more than once, need only be crossed at one of them: the places are chosen one after the other, each time
where it costs least. That is not always the least of all, so the same sum is done on the graph with those places
laid on top of one another: no set of ways can be smaller than that, and where both agree it is proved.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from kilter.publish.training.paper.flow import Edge, Node, least_flow, route, strong_parts, taken_apart


@dataclass(frozen=True)
class Maze:
    """A graph with one way in and one way out; every node lies on a way from the one to the other."""

    edges: tuple[Edge, ...]
    start: Node
    end: Node


@dataclass(frozen=True)
class Cover:
    """Ways from start to end that together cross every branch."""

    ways: tuple[tuple[Edge, ...], ...]
    least: int
    """No set of ways can be smaller."""

    @property
    def proved(self) -> bool:
        return len(self.ways) == self.least


def fewest_ways(maze: Maze, branches: Collection[Sequence[Edge]]) -> Cover:
    """Ways that cross each branch at one of its edges; at least one way, also where there is no branch."""
    parts = strong_parts(maze.edges)
    wanted: list[Edge] = [places[0] for places in branches if len(places) == 1]
    ways = _ways(maze, parts, wanted)
    # One that was crossed by chance may be lost when another is asked for: look again until none is.
    while places := next((p for p in branches if not _crossed(ways, p)), None):
        tried = [(len(_ways(maze, parts, [*wanted, p])), n) for n, p in enumerate(places)]
        wanted.append(places[min(tried)[1]])
        ways = _ways(maze, parts, wanted)
    return Cover(tuple(tuple(way) for way in ways), _least(maze, branches))


def _crossed(ways: Iterable[Sequence[Edge]], places: Sequence[Edge]) -> bool:
    return any(edge in places for way in ways for edge in way)


def _least(maze: Maze, branches: Collection[Sequence[Edge]]) -> int:
    """How many ways it takes at least, with all places of a branch laid on top of one another."""
    same = {node: node for edge in maze.edges for node in edge[:2]}

    def root(node: Node) -> Node:
        while same[node] != node:
            node = same[node]
        return node

    for places in branches:
        for edge in places[1:]:
            for n in (0, 1):
                same[root(edge[n])] = root(places[0][n])
    name = {e: (root(e[0]), root(e[1]), k) for k, e in enumerate(maze.edges)}
    wanted, gone = [], set[Edge]()
    for places in branches:
        wanted.append(name[places[0]])
        gone.update(name[p] for p in places[1:])
    merged = Maze(tuple(e for e in name.values() if e not in gone), root(maze.start), root(maze.end))
    if merged.start == merged.end:
        return 1
    return len(_ways(merged, strong_parts(merged.edges), wanted))


def _through(part: int) -> Edge:
    """The arc that stands for a whole part."""
    return part, part, -1


def _ways(maze: Maze, parts: dict[Node, int], wanted: Sequence[Edge]) -> list[list[Edge]]:
    """The fewest ways that cross all these edges."""
    needed: dict[Edge, int] = {}
    for edge in wanted:
        if parts[edge[0]] == parts[edge[1]]:
            needed[_through(parts[edge[0]])] = 1
        else:
            needed[edge] = 1
    # Each part is an arc from its way in to its way out, so that it can be asked for like an edge.
    arcs = {_through(p): (2 * p, 2 * p + 1) for p in set(parts.values())}
    arcs |= {e: (2 * parts[e[0]] + 1, 2 * parts[e[1]]) for e in maze.edges if parts[e[0]] != parts[e[1]]}
    flow = least_flow(arcs, needed, 2 * parts[maze.start], 2 * parts[maze.end] + 1)
    inner: dict[int, list[Edge]] = {}
    for edge in wanted:
        if parts[edge[0]] == parts[edge[1]] and edge not in inner.setdefault(parts[edge[0]], []):
            inner[parts[edge[0]]].append(edge)
    ways = []
    for way in taken_apart(arcs, flow, 2 * parts[maze.start], 2 * parts[maze.end] + 1):
        ways.append(_walked(maze, parts, [a for a in way if a[2] >= 0], inner))
    return ways


def _walked(
    maze: Maze, parts: dict[Node, int], between: Sequence[Edge], inner: dict[int, list[Edge]]
) -> list[Edge]:
    """Edge by edge; the first way into a part crosses all that is asked for inside it."""
    walk: list[Edge] = []
    at = maze.start
    for edge in (*between, (maze.end, maze.end, -1)):
        part = parts[at]
        own = {e: e[:2] for e in maze.edges if parts[e[0]] == part == parts[e[1]]}
        left = inner.pop(part, [])
        while left:
            routes = [(route(own, at, e[0]), e) for e in left]
            there, nearest = min(routes, key=lambda r: len(r[0]))
            walk += [*there, nearest]
            left = [e for e in left if e not in walk]
            at = nearest[1]
        walk += route(own, at, edge[0])
        if edge[2] >= 0:
            walk.append(edge)
            at = edge[1]
    return walk
