"""Scenarios: the fewest ways that see every answer, each with the cards that the observer hands over."""

from __future__ import annotations

from kilter.model.base import fold
from kilter.publish.cards.heads import Data
from kilter.publish.cards.inline import printable
from kilter.publish.cards.order import in_order
from kilter.publish.training.paper.found import shown
from kilter.publish.training.paper.graph import Way
from kilter.publish.training.paper.lines import aim
from kilter.publish.training.paper.signoff import way_words
from kilter.publish.training.paper.subject import Subject
from kilter.publish.view import DocumentView, StepView

Key = tuple[str, int]
"""Anchor of a step, and which of its answers."""


def scenarios_data(subject: Subject, view: DocumentView, width: int, height: int) -> Data:
    """The observer's lists first, then the cards to cut out: one for each answer, used in every scenario."""
    ways = subject.ways[fold(view.number)]
    met = {(t.step.anchor, t.answer) for way in ways.ways for t in way.turns}
    both = [(step, a.index) for _, step in in_order(view) for a in step.answers]
    cards = {
        (step.anchor, answer): _card(n, step, answer)
        for n, (step, answer) in enumerate((pair for pair in both if (pair[0].anchor, pair[1]) in met), 1)
    }
    return {
        **subject.head(width, height, "Scenarios", view),
        "document": {"number": view.number, "revision": view.front.revision, "hash": view.short_hash},
        "proved": ways.proved,
        "scenarios": [_scenario(n, way, cards) for n, way in enumerate(ways.ways, 1)],
        "cards": list(cards.values()),
    }


def _scenario(number: int, way: Way, cards: dict[Key, Data]) -> Data:
    met = [cards[t.step.anchor, t.answer] for t in way.turns if t.answer is not None]
    return {"number": str(number), "way": way_words(way), "cards": met}


def _card(number: int, step: StepView, answer: int) -> Data:
    """What the trainee is given says what is found, never where it leads."""
    found = shown(step, answer)
    return {
        "name": str(number),
        "step": step.number,
        "title": printable(step.step.title),
        "meter": printable(found.meter),
        "words": printable(found.words),
        "on": aim(step, answer),
    }
