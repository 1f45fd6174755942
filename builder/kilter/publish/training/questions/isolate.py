"""What must be cut off and held before a step: every choice holds as many sources, a wrong one leaves a needed one on.

Nobody is told that less is better: no choice holds the needed ones and more, and no source that could be cut off as
well is left in the right one. What a wrong choice holds in place of a needed source is one that has no isolation of
its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from kilter.check.flow.machine import L, Machine, bits
from kilter.model.base import fold
from kilter.publish.training.questions.cues import PARTS, least_telling
from kilter.publish.training.questions.draw import digest
from kilter.publish.training.questions.model import Choice, Question
from kilter.publish.training.questions.subject import Asked, Subject, placed

CHOICES, LEAST = 4, 3
"""Three where the machine has no more sources: two would be a toss."""
MOST = 5
"""Sources in a question. Every choice says yes or no of each, so that none is longer than the others."""
CUT, LEFT = "yes", "no"
Set = tuple[int, ...]


def isolate_questions(subject: Subject, variants: int) -> Iterator[Question]:
    """For each step with hands at work: one choice names all needed sources, each of the others lacks one."""
    for asked in subject.steps:
        needed = needed_cuts(subject, asked.view.key)
        for serial in range(variants if needed else 0):
            made = _question(subject, asked, tuple(needed), serial)
            if made is not None:
                yield made


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


def _question(subject: Subject, asked: Asked, needed: Set, serial: int) -> Question | None:
    machine = subject.analysis.machine
    assert machine is not None
    here, names = asked.covered.step.slug, [energy.name for energy in machine.energies]
    others = [e.at for e in machine.energies if e.at not in needed and not (e.own and e.entry == L)]
    others.sort(key=lambda n: digest(subject.number, here, "isolate", serial, names[n]))
    named = [*needed, *others[: max(0, MOST - len(needed))]]
    named.sort(key=lambda n: digest(here, names[n], "isolate", serial))

    def text(chosen: Set) -> str:
        return ", ".join(f"{names[n]}: {CUT if n in chosen else LEFT}" for n in named)

    wrong = [s for s in combinations(sorted(named), len(needed)) if s != needed]
    count = min(CHOICES, len(wrong) + 1) - 1
    if count < LEAST - 1:
        return None
    wrong.sort(key=lambda s: digest(subject.number, here, "isolate", serial, text(s)))
    looks = subject.draw(here, text(needed), "isolate looks", serial)
    chosen = next(least_telling(looks, text(needed), wrong, text, count, PARTS), None)
    if chosen is None:
        return None
    right = Choice(
        text(needed), f"Before step {asked.cite.number} the check asks for all of them on every way."
    )
    draw = subject.draw(here, ";".join(map(text, (needed, *chosen))), "isolate", serial)
    fact = subject.fact_id(asked, "isolate")
    wrongs = [Choice(text(s), _why(subject, names, needed, s)) for s in chosen]
    choices, key = placed(draw, right, wrongs, subject.turn(fact, "isolate", serial))
    stem = f"{asked.name}: which of these must be cut off and held before it?"
    return subject.question("isolate", asked, fact, serial, stem, choices, key, safety=True)


def _why(subject: Subject, names: list[str], needed: Set, chosen: Set) -> str:
    sources = subject.profile.profile.sources
    left = [names[n] for n in needed if n not in chosen]
    said = " and ".join(f"{name} ({sources[name].kind}, {sources[name].word.upper()})" for name in left)
    return f"{said} could be live where hands are."
