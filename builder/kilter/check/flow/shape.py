"""Faults of the graph itself: what can't be reached, what leads nowhere, what never ends."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.flow.facts import Facts
from kilter.check.flow.graph import Graph, reverse, walk_from
from kilter.check.flow.ways import last_hops, plain_hops, shortest
from kilter.diagnostic import Diagnostic, Label, error
from kilter.model.base import slugify
from kilter.model.document import Document, Stage, Step


def shape_findings(graph: Graph, document: Document) -> Iterator[Diagnostic]:
    """Recursion, dead ends, no way out, unreachable steps."""
    yield from _recursions(graph)
    ends = _dead_ends(graph)
    yield from _dead_end_findings(graph, ends)
    yield from _loops(graph, ends)
    if not graph.unresolved and not graph.recursive and not graph.too_large:
        yield from _unreached(graph, document)


def _recursions(graph: Graph) -> Iterator[Diagnostic]:
    for at, title in graph.recursive:
        facts = graph.facts[at]
        field = facts.step.field("do")
        span = field.value_span if field else facts.step.heading_span
        help = "write the steps out here, or move what both need into a shared stage of its own"
        yield error(
            "shared-in-itself", f"shared stage `{title}` is asked for from inside itself", span, help,
            why="The steps would never end.",
        )  # fmt: skip


def _is_exit(facts: Facts) -> bool:
    return facts.calls is None and facts.step.field("exit") is not None


def _dead_ends(graph: Graph) -> list[int]:
    stuck = {a for a, _ in graph.recursive} | graph.unresolved
    return [
        node
        for node, edges in enumerate(graph.links)
        if not edges
        and not _is_exit(graph.at(node))
        and graph.node_facts[node] not in stuck
        and not graph.too_large
    ]


def _dead_end_findings(graph: Graph, ends: list[int]) -> Iterator[Diagnostic]:
    said: set[str] = set()
    for node in ends:
        facts = graph.at(node)
        if facts.key in said or facts.calls is not None:
            continue
        said.add(facts.key)
        way = shortest(graph, {node}) or [node]
        help = "end it with `:exit: returned to service`, `left locked out, tagged` or `left as found`, or say where to go"
        yield error(
            "dead-end", f"nothing follows step `{facts.step.title}`, and it is no exit", facts.step.heading_span, help,
            why="Nobody is told in what state the machine is left.", way=last_hops(plain_hops(graph, way)),
        )  # fmt: skip


def _loops(graph: Graph, ends: list[int]) -> Iterator[Diagnostic]:
    """Steps from which no exit can be reached, once for each ring that they end in."""
    stuck = {a for a, _ in graph.recursive} | graph.unresolved
    good = [n for n in range(len(graph.links)) if _is_exit(graph.at(n)) or graph.node_facts[n] in stuck]
    reaching = walk_from(reverse(graph), iter([*good, *ends]))
    trapped = [n for n in range(len(graph.links)) if n not in reaching]
    if not trapped or graph.too_large:
        return
    said: set[str] = set()
    for ring in _sinks(graph, trapped):
        first = min(ring, key=lambda n: graph.at(n).step.heading_span)
        facts = graph.at(first)
        if facts.key in said:
            continue
        said.add(facts.key)
        others = {graph.key(n): graph.at(n) for n in sorted(ring) if graph.key(n) != facts.key}
        labels = tuple(Label(f.step.heading_span, "goes round here too") for f in list(others.values())[:3])
        yield error(
            "no-way-out", f"no exit can be reached from step `{facts.step.title}`", facts.step.heading_span,
            "give one of these steps an answer that leads out, to a step with an `:exit:`",
            why="Whatever is seen, the steps go round for ever.", related=labels,
            way=last_hops(plain_hops(graph, shortest(graph, {first}) or [first])),
        )  # fmt: skip


def _sinks(graph: Graph, nodes: list[int]) -> list[list[int]]:
    """Rings that no way leads out of, among nodes that are closed under going on."""
    order: list[int] = []
    seen: set[int] = set()
    for start in nodes:
        if start not in seen:
            seen.add(start)
            _post_order(graph, start, seen, order)
    into = reverse(graph)
    inside, home = set(nodes), dict[int, int]()
    rings: list[list[int]] = []
    for start in reversed(order):
        if start in home:
            continue
        home[start] = len(rings)
        ring = [start]
        for node in ring:
            for back in into[node]:
                if back in inside and back not in home:
                    home[back] = len(rings)
                    ring.append(back)
        rings.append(ring)
    return [r for n, r in enumerate(rings) if all(home[to] == n for node in r for to, _ in graph.links[node])]


def _post_order(graph: Graph, start: int, seen: set[int], order: list[int]) -> None:
    stack = [(start, iter(graph.links[start]))]
    while stack:
        node, rest = stack[-1]
        to = next((t for t, _ in rest if t not in seen), None)
        if to is None:
            order.append(node)
            stack.pop()
        else:
            seen.add(to)
            stack.append((to, iter(graph.links[to])))


def _unreached(graph: Graph, document: Document) -> Iterator[Diagnostic]:
    """Steps of the document, and of the profile's stages that it asks for, to which no way leads."""
    reached = {graph.key(n) for n in range(len(graph.links))}
    called = {id(graph.places[c[1]].stage) for calls in graph.node_calls for c in calls}
    lost = [(document, stage, step) for stage, step in document.all_steps() if step.slug not in reached]
    for place in graph.places:
        if place.in_profile and id(place.stage) in called:
            keys = {step.slug: f"{place.document.profile.id}:{step.slug}" for step in place.stage.steps}
            lost += [
                (place.document, place.stage, s) for s in place.stage.steps if keys[s.slug] not in reached
            ]
    covered: set[tuple[str, str]] = set()
    for owner, stage, step in lost:
        if (owner.path, step.slug) in covered:
            continue
        covered |= {(owner.path, slug) for slug in _beyond(owner, step)}
        yield _unreached_finding(stage, step, stage.shared and id(stage) not in called)


def _unreached_finding(stage: Stage, step: Step, whole: bool) -> Diagnostic:
    why = "Nobody does it, and nothing about it is proved."
    if whole:
        message, span = f"shared stage `{stage.title}` is never asked for", stage.heading_span
        help = f"ask for it with `:do: {stage.slug}` in a step, or delete it"
    else:
        message, span = f"no way leads to step `{step.title}`", step.heading_span
        help = f"lead to it with an answer `...: [{step.title}](#{step.slug})`, or delete it"
    return error("unreachable-step", message, span, help, why=why)


def _beyond(document: Document, start: Step) -> set[str]:
    """Slugs of all steps that would be reached from one."""
    homes = {step.slug: (stage, n) for stage in document.stages for n, step in enumerate(stage.steps)}
    found, queue = {start.slug}, [start]
    for step in queue:
        for slug in _next(document, homes[step.slug], step):
            if slug not in found and slug in homes:
                found.add(slug)
                stage, at = homes[slug]
                queue.append(stage.steps[at])
    return found


def _next(document: Document, home: tuple[Stage, int], step: Step) -> list[str]:
    stage, at = home
    onward = [a.target for a in step.answers]
    jump, do = step.field("go-to"), step.field("do")
    if jump is not None:
        onward.append(jump.value.strip().removeprefix("#"))
    if do is not None:
        name = do.value.strip().removeprefix("#")
        shared = document.shared_stages.get(name) or document.shared_stages.get(slugify(name))
        onward += [s.slug for s in shared.steps[:1]] if shared else []
    if step.answers or jump is not None or step.field("exit") is not None:
        return onward
    if at + 1 < len(stage.steps):
        return [*onward, stage.steps[at + 1].slug]
    if not stage.shared:
        rest = document.stages[document.stages.index(stage) + 1 :]
        onward += [s.steps[0].slug for s in rest if s.steps and not s.shared][:1]
    return onward
