"""A document with one control less, or one more, judged by the same check as the documents themselves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from kilter.check.flow import analyse
from kilter.check.flow.facts import DEFAULT_HANDS
from kilter.check.flow.fields import HANDS
from kilter.check.rule import Context
from kilter.check.run import check_document
from kilter.diagnostic import Diagnostic, Severity
from kilter.model.document import Document, Field, Step
from kilter.model.library import Library
from kilter.model.text import Block, Name, Paragraph, Role, Run, Text

VERB = "Do this too: "


@dataclass(frozen=True)
class Control:
    """An effect that may be missing: what is done, and to what."""

    effect: str
    text: str
    """As it stands in the mark: a source, a guard, a test, a time."""


@dataclass(frozen=True)
class Copy:
    """A document with its profile, changed or not."""

    library: Library
    document: Document
    profile: Document

    def with_step(self, owner: Document, old: Step, new: Step) -> Copy:
        """The same with one step in the place of another; `owner` says whose it is, by path."""
        changed = _swapped(self.profile if owner.path == self.profile.path else self.document, old, new)
        if owner.path == self.profile.path:
            return Copy(self.library, self.document, changed)
        return Copy(self.library, changed, self.profile)

    def errors(self) -> list[Diagnostic]:
        """All errors of the document and of its profile, each once."""
        contexts = [Context(self.library, each, self.profile) for each in (self.document, self.profile)]
        found = [d for context in contexts for d in check_document(context)]
        return list(dict.fromkeys(d for d in found if d.severity is Severity.ERROR))

    def energy_errors(self, but: frozenset[str] = frozenset()) -> bool:
        """Whether the energy analysis alone refuses it already; rules in `but` are not asked."""
        words = self.library.settings.hold_words
        found = analyse(self.document, self.profile, words).findings
        return any(d.severity is Severity.ERROR and d.rule not in but for d in found)


def _swapped(document: Document, old: Step, new: Step) -> Document:
    stages = tuple(
        stage.replace(steps=tuple(new if s is old else s for s in stage.steps))
        if any(s is old for s in stage.steps)
        else stage
        for stage in document.stages
    )
    return document.replace(stages=stages)


def without(step: Step, role: Role, name: Name | None = None) -> Step:
    """The step with its words but without one mark, or without one name of it."""

    def change(run: Run) -> Run:
        if run is role:
            left = tuple(n for n in role.names if n is not name)
            if name is None or not left:
                return Text(text=role.text, span=role.span)
            return role.replace(names=left, text=", ".join(n.text for n in left))
        inner = getattr(run, "runs", None)
        return run if inner is None else run.replace(runs=tuple(map(change, inner)))

    return step.replace(blocks=tuple(_mapped(b, change) for b in step.blocks))


def _mapped(block: Block, change: Any) -> Block:
    if isinstance(block, Paragraph):
        return block.replace(runs=tuple(map(change, block.runs)))
    if block.kind == "list":
        return block.replace(items=tuple(tuple(_mapped(b, change) for b in item) for item in block.items))
    if block.kind == "quote":
        return block.replace(blocks=tuple(_mapped(b, change) for b in block.blocks))
    return block


def with_control(step: Step, control: Control, hands: str) -> Step:
    """The step doing one thing more at its end; where the hands are stays as it was, or goes further in."""
    span = step.end_span
    names = tuple(Name(text=part.strip(), span=span) for part in control.text.split(","))
    mark = Role(name=control.effect, text=control.text, names=names, span=span, text_span=span)
    said = Paragraph(runs=(Text(text=VERB, span=span), mark, Text(text=".", span=span)), span=span)
    changed = step.replace(blocks=(*step.blocks, said))
    own = step.field("hands")
    if own is not None and own.value.split()[0].rstrip("-") == "live":
        return changed
    least = HANDS[DEFAULT_HANDS.get(control.effect, 0)]
    deepest = max((hands, least), key=HANDS.index)
    field = Field(
        name="hands", value=f"{deepest} - as it was before", span=span, name_span=span, value_span=span
    )
    return changed.replace(fields=(*(f for f in changed.fields if f.name != "hands"), field))
