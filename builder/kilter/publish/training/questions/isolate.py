"""What must at least be cut off and held before a step: whoever leaves one out is wrong, whoever does more is not asked."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from kilter.check.flow.machine import L, Machine, bits
from kilter.model.base import fold
from kilter.publish.training.questions.draw import Draw
from kilter.publish.training.questions.model import Choice, Question
from kilter.publish.training.questions.subject import Asked, Subject

CHOICES = 4
CUT, LEFT = "held", "live"
"""Of one length, so that no choice is the longest."""
MOST = 5
"""Sources in one question."""
Set = tuple[bool, ...]


def isolate_questions(subject: Subject, variants: int) -> Iterator[Question]:
    """For each step with hands at work: every choice names all needed sources, the wrong ones leave some of them on."""
    for asked in subject.steps:
        needed = needed_cuts(subject, asked.view.key)
        if 2 <= len(needed) <= MOST:
            for serial in range(variants):
                yield _question(subject, asked, needed, serial)


def needed_cuts(subject: Subject, key: str) -> list[int]:
    """The sources that must have been cut off before a step, with the feeds of those that have no way of their own."""
    machine, state = subject.analysis.machine, subject.analysis.before.get(key)
    if machine is None or state is None:
        return []
    found: set[int] = set()
    for source in state.sources:
        if source.required > L:
            found |= _cut(machine, machine.index[fold(source.name)])
    return sorted(found)


def _cut(machine: Machine, at: int) -> set[int]:
    energy = machine.energies[at]
    if energy.own and energy.entry == L:
        return {at}
    return set().union(*(_cut(machine, feed) for feed in bits(energy.feeds))) if not energy.own else set()


def _question(subject: Subject, asked: Asked, needed: list[int], serial: int) -> Question:
    names = [subject.analysis.machine.energies[n].name for n in needed] if subject.analysis.machine else []
    draw = subject.draw(asked.covered.step.slug, ",".join(names), "isolate", serial)
    key = tuple(True for _ in names)
    sets = _sets(draw, [s for s in product((True, False), repeat=len(names)) if s != key], key)
    choices = [Choice(_text(names, s), _why(subject, asked, names, s)) for s in sets]
    stem = f"{asked.name}: what is the least that must be cut off and held before it?"
    fact = subject.fact_id(asked, "isolate")
    return subject.question("isolate", asked, fact, serial, stem, choices, sets.index(key), safety=True)


def _sets(draw: Draw, wrong: list[Set], key: Set) -> list[Set]:
    """Three wrong sets with the right one; how much it has in common with the rest is drawn, too."""
    wanted, best, off = draw.below(CHOICES), [key], CHOICES
    for _ in range(40):
        sets = draw.shuffled([*draw.shuffled(wrong)[: CHOICES - 1], key])
        scores = [sum(a == b for other in sets for a, b in zip(s, other, strict=True)) for s in sets]
        own = scores[sets.index(key)]
        likeness = sum(score > own for score in scores) + draw.below(scores.count(own))
        if abs(likeness - wanted) < off:
            best, off = sets, abs(likeness - wanted)
    return best


def _text(names: list[str], cut: Set) -> str:
    return ", ".join(f"{name} {CUT if c else LEFT}" for name, c in zip(names, cut, strict=True))


def _why(subject: Subject, asked: Asked, names: list[str], cut: Set) -> str:
    left = [name for name, c in zip(names, cut, strict=True) if not c]
    if not left:
        return f"Before step {asked.cite.number} the check asks for all of them on every way."
    sources = subject.profile.profile.sources
    said = " and ".join(f"{name} ({sources[name].kind}, {sources[name].word.upper()})" for name in left)
    return f"{said} could be live where hands are."
