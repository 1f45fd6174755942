"""The values of the covered steps, each with the words it stands in."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from kilter.compute.reading import split_reading
from kilter.compute.value import Quantity
from kilter.model.base import slugify
from kilter.model.document import VALUES
from kilter.model.text import Break, Code, Paragraph, Role, Run, Text, paragraphs
from kilter.publish.training.questions.numbers import Shown
from kilter.publish.training.questions.subject import Asked, Subject
from kilter.publish.values import parts_of, quantity_of

_HERE = "\x00"
_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_NOUNS = {
    "torque": "the given torque",
    "set": "the given value",
    "wait": "the given time",
    "read": "(a reading)",
}


@dataclass(frozen=True)
class ValueFact:
    """One value of one step."""

    asked: Asked
    role: Role
    quantity: Quantity
    id: str
    name: str
    """Of a reading, with its phase; else empty."""
    sentence: str
    """The sentence it stands in, with a noun in its place."""

    @property
    def shown(self) -> Shown:
        return Shown(self.quantity)

    @property
    def point(self) -> Fraction:
        """What is asked for, in the base unit."""
        return self.quantity.unit.to_base(self.shown.point)

    @property
    def canonical(self) -> str:
        q = self.quantity
        return ",".join([self.role.name, q.form, q.unit.symbol, *q.numbers])

    @property
    def text(self) -> str:
        """As it is written."""
        return parts_of(self.role)[1].strip()


def value_facts(subject: Subject) -> list[ValueFact]:
    """Every value of the covered steps; those whose question would be the same as another's are left out."""
    found = [fact for asked in subject.steps for fact in _of_step(subject, asked)]
    seen = Counter((f.asked.cite.anchor, f.name or f.sentence) for f in found)
    return [f for f in found if seen[f.asked.cite.anchor, f.name or f.sentence] == 1]


def _of_step(subject: Subject, asked: Asked) -> Iterator[ValueFact]:
    counts: Counter[str] = Counter()
    own = tuple(b for b in asked.covered.step.blocks if b.kind not in ("panel", "figure", "calculation"))
    for paragraph in paragraphs(own):
        for role in (r for r in paragraph.runs if isinstance(r, Role) and r.name in VALUES):
            quantity = quantity_of(role)
            phase, label, _ = split_reading(role.text) if role.name == "read" else (None, "", 0)
            name = f"{label} ({phase})" if phase and label else label
            handle = ".".join(filter(None, [role.name, slugify(phase or ""), slugify(label)]))
            counts[handle] += 1
            if (
                quantity is None
                or Shown(quantity).point == 0
                or (role.name == "read" and not quantity.has_limit)
            ):
                continue
            fact = subject.fact_id(asked, handle, *([counts[handle]] if counts[handle] > 1 else []))
            yield ValueFact(asked, role, quantity, fact, name, _sentence(paragraph, role))


def _sentence(paragraph: Paragraph, role: Role) -> str:
    text = " ".join("".join(_piece(run, role) for run in paragraph.runs).split())
    sentence = next((s for s in _SENTENCE.split(text) if _HERE in s), text)
    return sentence.replace(_HERE, _NOUNS[role.name])


def _piece(run: Run, asked: Role) -> str:
    """A run as words: no other value is given away."""
    if run is asked:
        return _HERE
    if isinstance(run, Role):
        if run.name == "item":
            return ""
        return "…" if run.name in VALUES else run.text
    if isinstance(run, (Text, Code)):
        return run.text
    return " " if isinstance(run, Break) else "".join(_piece(r, asked) for r in run.runs)
