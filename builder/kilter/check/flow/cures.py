"""Fixes for findings about energy: what would make it right is set in, what is true is left blank.

None of them may be applied with nobody looking. Each leaves one marked blank, but for the right spelling
of a word that the format knows. Where the place or the words are not certain there is no fix, only the help.
"""

from __future__ import annotations

from kilter.check.fixes import field_under, last_text, panel_to_fill
from kilter.check.flow.advice import said, shared_that
from kilter.check.flow.candidates import Candidate
from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import HANDS
from kilter.check.flow.globals import is_unmarked
from kilter.check.flow.machine import Energy, I, L, Machine
from kilter.check.flow.marks import M
from kilter.check.flow.messages import needed_rank
from kilter.check.flow.words import inside_verb, instruction
from kilter.diagnostic import Edit, Fix
from kilter.model.text import SIGNAL_WORDS, Panel
from kilter.read.blanks import BLANK_MARK
from kilter.read.cures import end_of, inserted, line_start

_WORDS = {rank: SIGNAL_WORDS[4 - rank] for rank in (2, 3, 4)}
_REASON = f"{BLANK_MARK}: why nobody reaches in]"
Fixes = tuple[Fix, ...]


def cures(found: Candidate, machine: Machine) -> Fixes:
    """The fixes for one candidate, the likeliest first."""
    match found.code:
        case M.GUARDS_ON if is_unmarked(found.facts):
            return _hands_go_in(found.facts)
        case M.GUARD_OFF:
            return _guard_off(found.facts)
        case M.CAUTION | M.DANGER:
            return _panel(found)
        case M.RESTORE_CLEAR:
            return _step_before(
                found, "clear the machine", f"Send everybody clear: {_mark('all-clear', 'people and tools')}."
            )
        case M.PROVE if found.detail == I and found.energy is not None:
            return _wait(found, found.energy)
        case M.LEVEL if found.detail == L:
            return _shared_stage(found, machine)
        case _:
            return ()


def _mark(name: str, words: str) -> str:
    return f"{{{name}}}`{words}`"


def _hands_go_in(facts: Facts) -> Fixes:
    """For a step that marks nothing and says nothing of work inside."""
    if facts.step.field("hands") is not None or inside_verb(instruction(facts.step)) is not None:
        return ()
    asked = "do hands go inside? no:"
    return (
        *field_under(facts.step, f"{asked} they stay at the controls", f":hands: controls - {_REASON}"),
        *field_under(
            facts.step, f"{asked} one only looks", f":hands: away - {BLANK_MARK}: why nobody touches it]"
        ),
    )


def _guard_off(facts: Facts) -> Fixes:
    """A reason behind the hands that the step has already."""
    field, title = facts.step.field("hands"), "leave a blank for why nobody reaches in"
    if field is not None:
        return inserted(title, end_of(field.span), f" - {_REASON}")
    if inside_verb(instruction(facts.step)) is not None:
        return ()
    return field_under(facts.step, title, f":hands: {HANDS[facts.hands]} - {_REASON}")


def _panel(found: Candidate) -> Fixes:
    """A panel above the stage where it would hold for all that miss it; in the step where it was lost on the way."""
    word, names = _WORDS[needed_rank(found)], [e.name for e in found.sources]
    graph = found.run.graph
    calls = graph.node_calls[found.node]
    places = [found.facts.place, *(graph.facts[c[2]].place for c in calls)]
    mild = _too_mild(found, [*found.facts.step.panels, *(p for place in places for p in place.stage.panels)])
    if mild is not None:
        return _graver(mild, word)
    if found.origin is not None:
        return panel_to_fill(found.facts.step, word, names)
    return panel_to_fill((places[1] if calls else places[0]).stage, word, names)


def _too_mild(found: Candidate, panels: list[Panel]) -> Panel | None:
    keys = {e.name.casefold() for e in found.sources}
    need = needed_rank(found)
    return next((p for p in panels if p.rank < need and keys <= {n.key for n in p.sources}), None)


def _graver(panel: Panel, word: str) -> Fixes:
    """Another signal word; whether the text still fits it is left to fill in."""
    at = last_text(panel.blocks)
    if at is None:
        return ()
    blank = f" {BLANK_MARK}: what makes it a {word}]"
    return (
        Fix(f"make the panel a {word}", (Edit(panel.word_span, word), Edit(at, blank)), leaves_blank=True),
    )


def _step_before(found: Candidate, name: str, words: str) -> Fixes:
    """A step in front, where nothing leads past it: all ways in come from the step above."""
    graph, step = found.run.graph, found.facts.step
    entered = (e for out in graph.edges for e in out if graph.at(e.to).step is step)
    if any(e.answer is not None or e.jump for e in entered):
        return ()
    heading = f"### {BLANK_MARK}: name of this step, such as {name}]\n"
    text = f"{heading}{'' if words.startswith(':') else chr(10)}{words}\n\n"
    return inserted(f"write a step above `{step.title}` to {name}", line_start(step.heading_span), text)


def _wait(found: Candidate, energy: Energy) -> Fixes:
    """The time of the profile, where nothing on the way waits at all."""
    graph = found.run.graph
    if energy.bleed is None or found.origin is not None or any(graph.at(n).waits for n, _ in found.way):
        return ()
    least = max(e.bleed or 0 for e in found.sources)
    return _step_before(found, "let it drain", f"Wait {_mark('wait', said(least))}.")


def _shared_stage(found: Candidate, machine: Machine) -> Fixes:
    """The shared stage that cuts off all that is missing."""
    facts = found.facts
    if found.origin is not None or facts.place.stage.shared or facts.live | facts.runs or _open_on(found):
        return ()
    slug = shared_that(found, machine, found.roots)
    return _step_before(found, "make it safe", f":do: {slug}") if slug else ()


def _open_on(found: Candidate) -> int:
    """Guards that are off on the way in: with one off, isolating asks for more than the shared stage says."""
    off = 0
    for node, _ in found.way[:-1]:
        facts = found.run.graph.at(node)
        off = (off | facts.removes) & ~facts.refits
    return off
