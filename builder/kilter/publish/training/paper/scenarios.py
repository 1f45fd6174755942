"""Scenarios: the fewest ways that see every answer, each with the cards that the observer hands over."""

from __future__ import annotations

from kilter.publish.cards.heads import Data
from kilter.publish.cards.inline import printable
from kilter.publish.training.paper.found import shown
from kilter.publish.training.paper.graph import Turn, Way
from kilter.publish.training.paper.lines import aim
from kilter.publish.training.paper.signoff import way_words
from kilter.publish.training.paper.subject import Subject
from kilter.publish.view import DocumentView


def scenarios_data(subject: Subject, view: DocumentView, width: int, height: int) -> Data:
    """The observer's list first, then the cards to cut out."""
    ways = subject.ways[view.number.casefold()]
    found = [_scenario(n, way) for n, way in enumerate(ways.ways, 1)]
    return {
        **subject.head(width, height, "Scenarios", view),
        "document": {"number": view.number, "revision": view.front.revision, "hash": view.short_hash},
        "proved": ways.proved,
        "scenarios": found,
    }


def _scenario(number: int, way: Way) -> Data:
    turns = [t for t in way.turns if t.answer is not None]
    return {
        "number": str(number),
        "way": way_words(way),
        "cards": [_card(number, n, turn) for n, turn in enumerate(turns, 1)],
    }


def _card(scenario: int, number: int, turn: Turn) -> Data:
    """What the trainee is given says what is found, never where it leads."""
    assert turn.answer is not None
    found = shown(turn.step, turn.answer)
    return {
        "name": f"{scenario}.{number}",
        "step": turn.step.number,
        "title": printable(turn.step.step.title),
        "meter": printable(found.meter),
        "words": printable(found.words),
        "on": aim(turn.step, turn.answer),
    }
