"""The exact energy-state analysis: no hand goes where energy may be, on any way through a document.

Choices where the policy leaves room, each on the safe side:

- Releasing what is dissipated and proving what is proved is no fault; a release of what was proved asks for a new proof.
- `releases` counts for what drains in its own time too (a discharge tool is quicker than waiting); on what needs no
  release it is idle.
- `restores` of a feed makes all that it feeds live, also through others, and their cautions must be said again.
- A feed that is loaded, or whose proof fails, makes what it feeds live too.
- On `{not-zero}` all other sources acted on in the step are at the worse of before and after; holds stay.
- On `{not-ok}` the step's tests do not count; a bare `{not-zero}` in a step without a proof fails every source.
- Exposure after `restores` or `loads` asks the level again; the caution is the one read before.
- A panel in a step holds to the end of its stage; one of a shared stage ends with it.
- A panel above the first stage of an equipment profile is not counted in its shared stages: write it there.
- A link out of a shared stage into the stage that asked for it is no boundary; into any other it is one.
- Kinds of effects are taken in the order of the policy, and words that have another order are an error of their own; an order of restoring takes two steps.
- Building up again counts from leaving the landing level, with the longest time of a range; a new proof does not set
  it back, and what one wait leaves after the draining counts. `≥ 5 min` counts as 5 minutes for both.
- A release or proof from outside counts as controls beside locking, waiting and clearing too, also with `probe` written.
- Acted on, in a probe step, is what it isolates, releases or proves. Acted on, for `:clear-of:`, is what any effect names.
- Helpful effects inside an answer are not counted, dangerous ones are.
- A guard comes off in a step before the one that puts hands or instruments inside.
- A step without a mark while every guard is on is told as that one mistake, not once for each source.
"""

from __future__ import annotations

from kilter.check.flow.analysis import Analysis, GraphEdge, GraphNode
from kilter.check.flow.builder import Builder
from kilter.check.flow.candidates import Candidate, candidates, merged
from kilter.check.flow.exemptions import exempt_findings
from kilter.check.flow.explore import Budget, Monitor, Run, TooLargeError, explore, mend
from kilter.check.flow.globals import GuardMonitor, WorkMonitor, is_unmarked
from kilter.check.flow.graph import Graph
from kilter.check.flow.machine import Machine
from kilter.check.flow.marks import M
from kilter.check.flow.places import panels_of
from kilter.check.flow.report import finding
from kilter.check.flow.rules import ABOUT, RULES
from kilter.check.flow.shape import shape_findings
from kilter.check.flow.sources import SourceMonitor
from kilter.check.flow.states import SourceState, StepState
from kilter.check.flow.statics import static_findings
from kilter.diagnostic import Diagnostic, error
from kilter.model.document import Document

MOST_STATES = 2_000_000
"""States that are visited for one document at most; past it, nothing is accepted."""

__all__ = [
    "ABOUT", "MOST_STATES", "RULES", "Analysis", "GraphEdge", "GraphNode", "SourceState", "StepState", "analyse",
]  # fmt: skip


def analyse(document: Document, profile: Document | None, hold_words: tuple[str, ...] = ()) -> Analysis:
    """The states before every step and all findings about energy.

    `profile` is the equipment profile the document stands on; without one there is nothing to say. Of a profile
    itself only what can be seen at one step is told: its stages are proved where they are asked for.
    `hold_words`: the library's own words for how a source is held.
    """
    if profile is None or not profile.is_profile or (document.is_profile and document is not profile):
        return Analysis()
    machine = Machine(profile.profile)
    if document is profile:
        return Analysis(findings=_of_profile(Builder(machine, profile, profile), machine, hold_words))
    builder = Builder(machine, document, profile)
    graph = builder.build()
    found: list[Diagnostic] = list(shape_findings(graph, document))
    runs: list[Run] = []
    needed: set[tuple[int, int]] | None = set()
    budget = Budget(MOST_STATES)
    if graph.links and not graph.too_large:
        runs, candidates_, needed = _prove(graph, machine, document, budget)
        found += [finding(c, machine) for c in _told_once(merged(candidates_))]
    if graph.too_large or needed is None:
        found.append(_too_large(document))
    found += _honesty(builder, machine, document, needed, hold_words)
    return Analysis(
        findings=tuple(sorted(dict.fromkeys(found), key=lambda d: d.sort_key)),
        graph=graph,
        machine=machine,
        runs=tuple(runs) if needed is not None else (),
        visited=MOST_STATES - budget.left,
    )


def _of_profile(builder: Builder, machine: Machine, hold_words: tuple[str, ...]) -> tuple[Diagnostic, ...]:
    every = builder.every_facts()
    found = static_findings(machine, every, builder.graph.places, hold_words)
    return tuple(sorted(dict.fromkeys(found), key=lambda d: d.sort_key))


def _told_once(found: list[Candidate]) -> list[Candidate]:
    """A lock or an open guard at `left as found` says already that the machine was touched."""
    told = {c.facts.key for c in found if c.code in (M.FOUND_HELD, M.FOUND_GUARD)}
    return [c for c in found if c.code != M.FOUND_TOUCHED or c.facts.key not in told]


def _prove(
    graph: Graph, machine: Machine, document: Document, budget: Budget
) -> tuple[list[Run], list[Candidate], set[tuple[int, int]] | None]:
    """Runs, what they met, and which exemptions are needed; None for those where it is too large."""
    runs: list[Run] = []
    found: list[Candidate] = []
    needed: set[tuple[int, int]] = set()
    top = panels_of(machine, document.panels)
    guards = GuardMonitor(graph, machine)
    monitors: list[Monitor] = [guards, WorkMonitor(graph, machine)]
    monitors += [SourceMonitor(graph, machine, e, top) for e in machine.energies]
    unmarked: set[int] = set()
    try:
        for monitor in monitors:
            raw = explore(graph, monitor, budget)
            runs.append(raw)
            mended = None
            if any(mark[0] != M.NEEDED for _, mark in raw.met):
                mended = mend(graph, raw, unmarked, budget)
            if monitor is guards:
                unmarked = _unmarked(graph, raw)
            found += candidates(raw, mended, machine)
            needed |= _needed(graph, raw) | (_needed(graph, mended) if mended else set())
    except TooLargeError:
        budget.left = 0
        return runs, found, None
    return runs, found, needed


def _unmarked(graph: Graph, guards: Run) -> set[int]:
    """Facts without a mark that count as hands inside, though every guard is on whichever way one comes."""
    wrong = {graph.node_facts[node] for node, mark in guards.met if mark[0] == M.GUARDS_ON}
    open_ = {graph.node_facts[n] for n, seen in enumerate(guards.seen) if any(seen)}
    return {n for n in wrong - open_ if is_unmarked(graph.facts[n])}


def _needed(graph: Graph, run: Run) -> set[tuple[int, int]]:
    monitor = run.monitor
    if not isinstance(monitor, SourceMonitor):
        return set()
    return {(graph.node_facts[node], monitor.energy.at) for node, mark in run.met if mark[0] == M.NEEDED}


def _honesty(
    builder: Builder,
    machine: Machine,
    document: Document,
    needed: set[tuple[int, int]] | None,
    hold_words: tuple[str, ...],
) -> list[Diagnostic]:
    graph = builder.graph
    numbers = {id(f): n for n, f in enumerate(graph.facts)}
    reached = [graph.facts[n] for n in sorted(set(graph.node_facts)) if not graph.facts[n].after]
    every = builder.every_facts()
    found = list(static_findings(machine, every, graph.places, hold_words))
    if needed is not None and graph.links and not graph.unresolved and not graph.recursive:
        found += exempt_findings(machine, reached, needed, numbers)
    return found


def _too_large(document: Document) -> Diagnostic:
    return error(
        "too-large-to-prove", "more ways through the document than can be proved", document.title_span,
        "split it into several procedures, or join branches that do the same",
        why="What was not proved is not accepted.",
    )  # fmt: skip
