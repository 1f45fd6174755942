"""Changes of the ways and the fields: answers, jumps, order of steps, hands, reach."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.model.document import Answer, Document, Field, Stage, Step
from kilter.source import Span

from .demo_page import Edit, Mutant, Page, below_heading
from .spec import HANDS


def ways(page: Page) -> Iterator[Mutant]:
    """Retarget every answer and jump; drop answers and failing marks; swap and delete steps."""
    for stage, step in page.document.all_steps():
        for answer in step.answers:
            seen = f"`{answer.words}`"
            line = answer.span.line
            yield from _retarget(page, stage, step, seen, answer.link.target_span, answer.target)
            yield page.mutant("drop answer", step, seen, line, page.cut(answer.span))
            if answer.failure:
                yield page.mutant("drop failing mark", step, seen, line, _unmark(page, answer))
        jump = step.field("go-to")
        if jump:
            yield from _retarget(page, stage, step, "the jump", jump.value_span, jump.value.removeprefix("#"))
        yield _delete(page, stage, step)
    for stage in page.document.stages:
        for first, second in zip(stage.steps, stage.steps[1:], strict=False):
            yield _swap(page, first, second)


def _unmark(page: Page, answer: Answer) -> Edit:
    assert answer.failure is not None
    start, end, _ = page.replace(answer.failure.span, "")
    return start - 1, end, ""


def targets(document: Document, stage: Stage) -> list[str]:
    """Where a link of a stage may lead: inside a shared stage and back, or to any step of the main line."""
    if stage.shared:
        return [*(s.slug for s in stage.steps), "back"]
    return [s.slug for other in document.stages if not other.shared for s in other.steps]


def _retarget(page: Page, stage: Stage, step: Step, seen: str, span: Span, old: str) -> Iterator[Mutant]:
    for slug in targets(page.document, stage):
        if slug != old:
            edit = page.replace(span, f"#{slug}")
            yield page.mutant("retarget", step, f"{seen} to `{slug}`", span.line, edit)


def _swap(page: Page, first: Step, second: Step) -> Mutant:
    edits = (
        page.replace(second.span, page.rows(first.span).rstrip("\n")),
        page.replace(first.span, page.rows(second.span).rstrip("\n")),
    )
    what, starts = f"with `{second.slug}`", (first.slug, second.slug)
    return page.mutant("swap steps", first, what, first.span.line, *edits, starts=starts)


def _delete(page: Page, stage: Stage, step: Step) -> Mutant:
    """Without the step; links to it lead to what follows it, so that no other rule finds it for another reason."""
    instead, before = _follower(page.document, stage, step), _leading_to(page.document, stage, step)
    edits = [page.replace(span, f"#{instead}") for span in _links(page.document, step.slug)]
    edits = [e for e in edits if not _inside(page, e, step)]
    first = step if len(stage.steps) > 1 else stage
    edits.append((page.offset(first.span.line), page.offset(step.span.end_line + 1), ""))
    return page.mutant(
        "delete step", step, f"led past to `{instead}`", step.span.line, *edits, starts=(step.slug, *before)
    )


def _inside(page: Page, edit: Edit, step: Step) -> bool:
    return page.offset(step.span.line) <= edit[0] < page.offset(step.span.end_line + 1)


def _links(document: Document, slug: str) -> Iterator[Span]:
    for _, step in document.all_steps():
        yield from (a.link.target_span for a in step.answers if a.target == slug)
        yield from (
            f.value_span for f in step.fields if f.name == "go-to" and f.value.removeprefix("#") == slug
        )


def _follower(document: Document, stage: Stage, step: Step) -> str:
    """What comes after a step in document order; the one before the last."""
    line = (
        list(stage.steps) if stage.shared else [s for o in document.stages if not o.shared for s in o.steps]
    )
    at = line.index(step)
    if at + 1 < len(line):
        return line[at + 1].slug
    return "back" if stage.shared else line[at - 1].slug


def _leading_to(document: Document, stage: Stage, step: Step) -> list[str]:
    """Steps of the same line that lead to a step."""
    line = (
        list(stage.steps) if stage.shared else [s for o in document.stages if not o.shared for s in o.steps]
    )
    at = line.index(step)
    linked = [s.slug for s in line if any(a.target == step.slug for a in s.answers)
              or any(f.name == "go-to" and f.value.removeprefix("#") == step.slug for f in s.fields)]  # fmt: skip
    return [*linked, *([line[at - 1].slug] if at else [])]


def fields(page: Page) -> Iterator[Mutant]:
    """Take fields away; hands one level nearer or further."""
    for stage in page.document.stages:
        parts: tuple[Stage | Step, ...] = (stage, *stage.steps)
        for part in parts:
            for field in part.fields:
                yield from _field(page, part, field)


def _field(page: Page, part: Stage | Step, field: Field) -> Iterator[Mutant]:
    line, name = field.span.line, f"`{field.value}`"
    if field.name in ("hands", "zone", "clear-of"):
        yield page.mutant(f"drop {field.name}", part, name, line, page.cut(field.span))
    if field.name == "do":
        edits = (page.cut(field.span), page.put(below_heading(part), "Do as the heading says."))
        yield page.mutant("delete do", part, name, line, *edits)
        look = (
            page.replace(field.span, ":hands: away"),
            page.put(below_heading(part), "Look at it from outside."),
        )
        yield page.mutant("delete do", part, f"{name}, hands away instead", line, *look)
    if field.name == "hands":
        yield from _level(page, part, field, name)


def _level(page: Page, part: Stage | Step, field: Field, name: str) -> Iterator[Mutant]:
    head, dash, why = field.value.partition(" - ")
    at = HANDS.index(head.split()[0])
    for kind, to in (("lower hands", at - 1), ("raise hands", at + 1)):
        if not 0 <= to < len(HANDS):
            continue
        level = HANDS[to]
        if level == "live":
            level += " " + ", ".join(_sources(page)) + " - the work needs it like this"
        new = level + (dash + why if " - " not in level else "")
        yield page.mutant(
            kind, part, f"{name} to `{new}`", field.span.line, page.replace(field.value_span, new)
        )


def _sources(page: Page) -> list[str]:
    """Every source that a panel of the document names."""
    every = [n.text for stage in page.document.stages for p in stage.panels for n in p.sources]
    return list(dict.fromkeys(every))
