"""Changes of what is said: marks, panels, waits."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.model.document import EFFECTS, Stage, Step
from kilter.model.text import SIGNAL_WORDS, Panel, Role

from .demo_page import Mutant, Page, after_words, below_heading, names_of, neighbours
from .demo_profile import seconds

MARKS = (*EFFECTS, "all-clear", "tests")


def marks(page: Page) -> Iterator[Mutant]:
    """Drop each effect, one name of each, move each, halve each wait."""
    for stage, step in page.document.all_steps():
        for number, role in enumerate(r for r in step.roles if r.name in MARKS):
            name = f"`{role.text}`" + (f" (mark {number + 1})" if _twice(step, role) else "")
            plain = page.replace(role.span, role.text)
            yield page.mutant(f"drop {role.name}", step, name, role.span.line, plain)
            yield from _fewer_names(page, step, role, name)
            yield from _moved(page, stage, step, role, name)
            if role.name == "wait":
                half = f"{seconds(role.text)[0] // 2} s"
                edit = page.replace(role.text_span, half)
                yield page.mutant("halve wait", step, f"{name} to {half}", role.span.line, edit)


def _twice(step: Step, role: Role) -> bool:
    """Is the same mark written more than once in the step?"""
    return [(r.name, r.text) for r in step.roles].count((role.name, role.text)) > 1


def _fewer_names(page: Page, step: Step, role: Role, name: str) -> Iterator[Mutant]:
    if role.name in ("all-clear", "wait") or len(role.names) < 2:
        return
    for gone in role.names:
        left = ", ".join(n.text for n in role.names if n is not gone)
        edit = page.replace(role.text_span, left)
        yield page.mutant("drop one name", step, f"`{gone.text}` of {role.name} {name}", role.span.line, edit)


def _moved(page: Page, stage: Stage, step: Step, role: Role, name: str) -> Iterator[Mutant]:
    for side, other in neighbours(stage, step):
        sentence = f"Do this too: {{{role.name}}}`{role.text}`."
        edits = (page.replace(role.span, role.text), page.put(after_words(other), sentence))
        starts = (step.slug, other.slug)
        what = f"{role.name} {name} to {side}"
        yield page.mutant("move effect", step, what, role.span.line, *edits, starts=starts)


def panels(page: Page) -> Iterator[Mutant]:
    """Drop, weaken and move each panel, drop each of its sources."""
    for stage in page.document.stages:
        parts: tuple[Stage | Step, ...] = (stage, *stage.steps)
        for part in parts:
            for panel in part.panels:
                yield from _panel(page, stage, part, panel)


def _panel(page: Page, stage: Stage, part: Stage | Step, panel: Panel) -> Iterator[Mutant]:
    line, name = panel.span.line, f"{panel.word} {names_of(panel)}"
    yield page.mutant("drop panel", part, name, line, page.cut(panel.span))
    weaker = SIGNAL_WORDS[SIGNAL_WORDS.index(panel.word) + 1 :][:1]
    for word in weaker:
        edit = page.replace(panel.word_span, word)
        yield page.mutant("weaken panel", part, f"{name} to {word}", line, edit)
    for gone in panel.sources if len(panel.sources) > 1 else ():
        left = ", ".join(n.text for n in panel.sources if n is not gone)
        edit = (page.offset(gone.span.line), page.offset(gone.span.line + 1), f":::{{{panel.word}}} {left}\n")
        yield page.mutant("drop source of panel", part, f"{gone.text} of {name}", line, edit)
    for place, other in _elsewhere(page, stage, part):
        rows = page.rows(panel.span)
        edits = (page.cut(panel.span), page.put(below_heading(other), rows))
        yield page.mutant("move panel", part, f"{name} {place}", line, *edits)


def _elsewhere(page: Page, stage: Stage, part: Stage | Step) -> Iterator[tuple[str, Stage | Step]]:
    """Later in its stage, and out of it."""
    if isinstance(part, Step):
        yield from neighbours(stage, part)
    else:
        for at in sorted({1, len(stage.steps) - 1} & set(range(len(stage.steps)))):
            yield f"into step {at + 1} of the stage", stage.steps[at]
    others = page.document.stages
    at = others.index(stage)
    if at:
        yield "to the stage before", others[at - 1]
    if at + 1 < len(others):
        yield "to the stage after", others[at + 1]
