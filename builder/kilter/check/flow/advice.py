"""What to write, and where, for each kind of finding."""

from __future__ import annotations

from kilter.check.flow.candidates import Candidate
from kilter.check.flow.facts import Facts
from kilter.check.flow.globals import is_unmarked
from kilter.check.flow.graph import Graph
from kilter.check.flow.machine import Energy, I, L, Machine
from kilter.check.flow.marks import M
from kilter.check.flow.messages import GUARDS, missing_tests, needed_rank
from kilter.check.flow.words import instruction, only_looks
from kilter.model.text import SIGNAL_WORDS

_PLAIN: dict[int, str] = {
    M.AFTER: "put it back or load it in a step of its own, with hands and tools out",
    M.GUARDS_ON: "mark what is done, take a guard off in a step before, or write `:hands: controls - why`",
    M.RESTORE_CLEAR: "before `{title}` add a step that sends everybody away: {{all-clear}}`people and tools`",
    M.FOUND_TOUCHED: "end it with `:exit: returned to service` after a test, or with `left locked out, tagged`",
}

_GUARDS = (M.GUARD_OFF, M.RESTORE_GUARD, M.SERVICE_GUARD, M.FOUND_GUARD)


def advice(found: Candidate, machine: Machine) -> str:
    """One line of help."""
    title = found.facts.step.title
    if found.code == M.GUARDS_ON and is_unmarked(found.facts):
        return _unmarked(found.facts)
    if found.code == M.GUARDS_ON and found.facts.releases | found.facts.proves:
        return (
            "take the guard off in a step before; where it is done from outside, say so in the profile: "
            "`prove-from: outside`, `release-from: outside`"
        )
    if found.code in _PLAIN:
        return _PLAIN[found.code].format(title=title)
    if found.code in (M.LEVEL, M.PROVE, M.RELEASE):
        return _level(found, machine)
    if found.code in (M.CAUTION, M.DANGER):
        return _panel(found)
    names = ", ".join(e.name for e in found.sources)
    guards = ", ".join(machine.guard_names(found.detail)) if found.code in GUARDS else ""
    others = (
        ", ".join(machine.names(found.detail)) if found.code in (M.RELEASE_ORDER, M.RESTORE_ORDER) else ""
    )
    match found.code:
        case M.RUNS:
            return f"put it back before `{title}` ({{restores}}`{names}`), or leave `{{runs-on}}` out"
        case M.RESTORE_HOLD if not any(e.own for e in found.sources):
            return f"`{names}` can't be cut off, so it is not given back; where work loads it again, mark {{loads}}`{names}`"
        case M.RESTORE_HOLD:
            return f"isolate and hold it on every way here ({{isolates}}`{names}`), or lead this way past the step"
        case M.RELEASE_ORDER:
            return f"before `{title}` hold it: {{isolates}}`{names}`; the profile asks so for {others}"
        case M.RESTORE_ORDER:
            return f"put `{names}` back before `{title}`; the profile asks so for {others}"
        case M.FOUND_HELD | M.FOUND_GUARD:
            back = f"{{restores}}`{names}`" if found.code == M.FOUND_HELD else f"{{refits}}`{guards}`"
            return f"put it back ({back}), test, and end with `:exit: returned to service`; or leave it locked out, tagged"
        case M.SERVICE_HELD:
            return f"before `{title}` take the hold off: {{restores}}`{names}`, or leave it locked out and tagged"
        case M.TAGGED_NOT_HELD:
            return f"say in `{title}` how it is locked: {{isolates}}`{names}`"
        case M.GUARD_OFF:
            return f"write `:hands: controls - why nobody reaches in`, or refit before: {{refits}}`{guards}`"
        case M.RESTORE_GUARD | M.SERVICE_GUARD:
            return f"before `{title}` refit it on every way here: {{refits}}`{guards}`"
        case _:
            return _tests(found, machine)


def _unmarked(facts: Facts) -> str:
    """Hands away is offered first where the words only look, listen or write down."""
    guard = "take a guard off in a step before"
    if only_looks(instruction(facts.step)):
        return f"write `:hands: away - why nobody touches it`; if hands do go in, {guard}"
    return f"mark what is done, {guard}, or write `:hands: controls - why`"


def _tests(found: Candidate, machine: Machine) -> str:
    names = ", ".join(missing_tests(found, machine)) or "what was tested"
    after = "after the last step with hands inside and"
    return f"add it {after} before `{found.facts.step.title}`: {{tests}}`{names}`"


def _level(found: Candidate, machine: Machine) -> str:
    energy = found.energy
    assert energy is not None
    if found.detail == L and not (energy.action and found.roots == energy.bit and not energy.own):
        return _cut(found, machine)
    if found.detail in (L, I):  # what nothing can cut off, such as a spring that was wound, is let out again
        return _release(found, energy)
    return _prove(found)


def _before(found: Candidate) -> str:
    """Where to add something: before the step, and after what undid it."""
    if found.origin is None or found.origin == found.node:
        return f"before `{found.facts.step.title}`"
    start, end = found.run.graph.at(found.origin), _asks(found)
    if start.place is not end.place:
        return f"in stage `{end.place.stage.title}`, before `{end.step.title}`,"
    if end.step.heading_span < start.step.heading_span:
        return f"on the way back from `{start.step.title}`, before `{end.step.title}`,"
    return f"between `{start.step.title}` and `{end.step.title}`"


def _asks(found: Candidate) -> Facts:
    """The step, or the one that asks for its shared stage where what undid it stands outside of that."""
    graph = found.run.graph
    known = graph.node_calls[found.origin] if found.origin is not None else ()
    calls = [c for c in graph.node_calls[found.node] if c not in known]
    return graph.facts[calls[0][2]] if calls and found.detail == L else found.facts


def _cut(found: Candidate, machine: Machine) -> str:
    roots = ", ".join(machine.names(found.roots))
    again = " again" if found.origin is not None else ""
    text = f"{_before(found)} isolate and hold it{again}: {{isolates}}`{roots}`"
    shared = shared_that(found, machine, found.roots)
    return f"{text}, or ask for the shared stage that does: `:do: {shared}`" if shared else text


def shared_that(found: Candidate, machine: Machine, sources: int) -> str | None:
    """A shared stage that isolates them and could be asked for here: not one that the step stands in."""
    graph, facts = found.run.graph, found.facts
    if facts.place.stage.shared:
        return None
    open_now = {id(graph.places[c[1]].stage) for c in graph.node_calls[found.node]}
    for stage in graph.shared:
        roles = [r for step in stage.steps for r in step.roles if r.name == "isolates"]
        if id(stage) not in open_now and not sources & ~machine.mask(n.text for r in roles for n in r.names):
            return stage.slug
    return None


def _release(found: Candidate, energy: Energy) -> str:
    names = ", ".join(e.name for e in found.sources)
    if energy.bleed is None:
        if energy.action:
            return f"{_before(found)} let the energy out: {{releases}}`{names}`"
        return (
            f"{_before(found)} let the energy out: {{releases}}`{names}`; the profile gives no time to drain"
        )
    least = max(e.bleed or 0 for e in found.sources)
    waiting = _waits(found)
    waited = sum(w[0] for w in waiting.waits) if waiting else 0
    if waiting is not None and waited < least:
        return (
            f"lengthen the wait in `{waiting.step.title}`: {{wait}}`{said(least)}` in all, not {said(waited)}"
        )
    return f"{_before(found)} wait until it has drained: {{wait}}`{said(least)}`"


def _waits(found: Candidate) -> Facts | None:
    """The last step on the way that waits while the source is isolated and charged."""
    graph = found.run.graph
    for node, state in reversed(found.way):
        facts = graph.at(node)
        if facts.waits and (state & 3 == I or facts.isolates):
            return facts
        if node == found.origin:
            return None
    return None


def said(seconds: int) -> str:
    """A time as people write it."""
    for size, unit in ((3600, "h"), (60, "min")):
        if seconds >= size and seconds % size == 0:
            return f"{seconds // size} {unit}"
    return f"{seconds} s"


def _prove(found: Candidate) -> str:
    names = ", ".join(e.name for e in found.sources)
    how = (
        next((f" ({text})" for e in found.sources if (text := _how(found, e))), "")
        if len(found.sources) == 1
        else ""
    )
    return f"{_before(found)} prove it at zero{how}: {{proves}}`{names}`, with an answer `{{not-zero}}`"


def _how(found: Candidate, energy: Energy) -> str:
    monitor = found.run.monitor
    machine: Machine = getattr(monitor, "machine")  # noqa: B009
    source = list(machine.front.sources.values())[energy.at]
    return (source.prove or "").rstrip(". ")


def _panel(found: Candidate) -> str:
    words = {4: "danger", 3: "warning", 2: "caution"}
    need = needed_rank(found)
    names = ", ".join(e.name for e in found.sources)
    panel = f"`:::{{{words[need]}}} {names}`"
    graph: Graph = found.run.graph
    calls = graph.node_calls[found.node]
    mild = _milder(found, need)
    if found.origin is not None:
        return (
            f"say it again after `{graph.at(found.origin).step.title}`: {panel} in `{found.facts.step.title}`"
        )
    if mild:
        return f"`{mild}` is too mild for it: write {panel}"
    place = (graph.facts[calls[0][2]].place if calls else found.facts.place).stage.title
    return f"under `## {place}`, or in the step, write {panel} with hazard, what it does, how to avoid it"


def _milder(found: Candidate, need: int) -> str | None:
    """The signal word of a panel that names the sources in this step or its stage, but mildly."""
    mask = sum(e.bit for e in found.sources)
    graph = found.run.graph
    places = [found.facts.place, *(graph.facts[c[2]].place for c in graph.node_calls[found.node])]
    panels = [*found.facts.panels, *(p for place in places for p in place.panels)]
    ranks = [p.rank for names, p in panels if names & mask == mask and p.rank < need]
    return SIGNAL_WORDS[4 - max(ranks)] if ranks else None
