"""What must be true at a step, in readers' words, from the energy analysis."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.flow import Analysis
from kilter.check.flow.obligations import NONE, READ, asked
from kilter.check.flow.slice import Moment
from kilter.check.flow.sources import SourceMonitor
from kilter.check.workspace import Workspace
from kilter.model.document import Document, Step
from kilter.model.text import Panel

HANDS = {
    "away": "hands off",
    "controls": "outside controls",
    "open": "undoing guards",
    "probe": "rated instruments only",
    "inside": "hands inside the guards",
    "live": "energised work",
}


def step_markdown(workspace: Workspace, document: Document, step: Step) -> str:
    """Number, hands, the worst state of each source before the step, guards that are off, cautions in force."""
    number = document.numbers.get(step.slug, "")
    rows = [f"**{number} {step.title}**\n"]
    context = workspace.context(document.path)
    if document.is_profile:
        rows.append(
            "A shared step of the profile. What is true here depends on the procedure that asks for it:"
        )
        rows += _users(workspace, document, step)
    elif context is None or context.profile is None:
        rows.append("No states: the equipment profile can't be read.")
    else:
        rows += list(_states(context.analysis, step.slug, document))
    return "\n".join(rows)


def _users(workspace: Workspace, document: Document, step: Step) -> Iterator[str]:
    """One line for each procedure that comes through."""
    key = f"{document.key}:{step.slug}"
    for path in sorted(workspace.users(document.path)):
        context = workspace.context(path)
        if context is not None and key in context.analysis.before:
            states = ", ".join(f"{name} {word}" for name, word in context.analysis.strip(key))
            yield f"- {getattr(context.document.front, 'number', path)}: {states}"


def _states(analysis: Analysis, key: str, document: Document) -> Iterator[str]:
    state = analysis.before.get(key)
    if state is None:
        yield "No states: no way leads to this step, or the document can't be proved yet."
        return
    yield f"Hands: {HANDS.get(state.hands, state.hands)}. Before this step, at worst:"
    words = dict(analysis.strip(key))
    for source in state.sources:
        yield f"- {source.name}: **{words[source.name]}**{_more(source.held, source.required_word, source.explained)}"
    if state.guards_off:
        yield f"\nGuards that may be off: {', '.join(state.guards_off)}."
    read, missing = _cautions(analysis, key, document)
    if read:
        yield f"\nCautions in force: {', '.join(read)}."
    if missing:
        yield f"\nNo caution read on every way: {', '.join(missing)}."


def _more(held: bool, required: str, explained: str) -> str:
    said = (", held by us" if held else "") + (f", has to be {required}" if required else "")
    return said + (f" (explained: {explained})" if explained else "")


def _cautions(analysis: Analysis, key: str, document: Document) -> tuple[list[str], list[str]]:
    """Sources with a caution of their signal word on every way here; those that ask for one and have none."""
    graph = analysis.graph
    nodes = [n for n in range(len(graph.links)) if graph.key(n) == key and not graph.at(n).after]
    facts = graph.at(nodes[0])
    read: list[str] = []
    missing: list[str] = []
    for run in analysis.runs[2:]:
        monitor = run.monitor
        assert isinstance(monitor, SourceMonitor)
        energy = monitor.energy
        here = any(mask & energy.bit and panel.rank >= energy.need for mask, panel in facts.panels)
        if here or all(Moment(monitor.layout, s).in_force & READ for n in nodes for s in run.seen[n]):
            read.append(energy.name)
        elif facts.exposes and asked(facts, energy).caution != NONE:
            missing.append(energy.name)
    own = [p for p in facts.step.panels if not p.sources]
    return read + [_lead(p) for p in own], missing


def _lead(panel: Panel) -> str:
    return f"a {panel.word} without a source"
