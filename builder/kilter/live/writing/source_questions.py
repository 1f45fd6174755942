"""What is still asked about one source of energy."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.live.writing.answers import SourceAnswer
from kilter.model.base import fold

Asked = Iterator[tuple[str, str]]
"""Keys of fields, and the question beside each."""
LIVE = ("mains", "battery")
"""Kinds that are live until they are cut off."""


def about_source(kind: str, source: SourceAnswer, known: set[str]) -> Asked:
    """Everything about one source; `known` are the folded names of all."""
    yield from _cut(kind, source)
    yield from _dead(source)
    yield from _others(source, known)


def _cut(kind: str, s: SourceAnswer) -> Asked:
    if kind == "other" and not s.why:
        yield "why", "What kind of energy is it?"
    if not s.word:
        yield "word", "How bad is it? Choose a signal word."
    if not s.cut:
        yield "cut", "How is it cut off?"
    if s.cut == "never" and kind in LIVE:
        yield "cut", f"A source of {kind} must be cut off by something. By what?"
    if s.cut == "itself" and not s.isolate:
        yield "isolate", "How is it cut off, and what holds it so?"
    if s.cut == "itself" and not s.lockable:
        yield "lockable", "Can it be locked, pinned or propped? Answer yes or no."
    if s.cut == "feed" and not s.fed_by:
        yield "fed_by", "What feeds it? Choose each source that must be cut."
    if s.cut in ("feed", "never") and (s.isolate or s.lockable == "yes"):
        yield "cut", "It says how it is isolated or locked, so it is cut off by itself. Is that right?"
    if s.cut == "never" and s.fed_by:
        yield "cut", "It has a feed, so it can be cut off. How?"


def _dead(s: SourceAnswer) -> Asked:
    if not s.release:
        yield "release", "Does it keep energy after it is cut off?"
    if s.release == "bleed":
        yield from _time("bleed", s.bleed, "How long does it take to drain? Write a time, such as 5 min.")
    elif s.bleed:
        yield "release", "It has a time to drain. Does it drain by itself?"
    if s.loaded_by and s.release not in ("action", "bleed"):
        yield "release", "It is loaded by work. How is it let go again?"
    if not s.again:
        yield "again", "Can it build up again by itself after it was proved dead?"
    if s.again == "after":
        yield from _time("again_after", s.again_after, "After which time? Write a time, such as 10 min.")
    if not s.prove:
        yield "prove", "How is it proved dead? Instrument, place and limit."


def _time(key: str, text: str, asked: str) -> Asked:
    try:
        time = parse_quantity(text)
    except QuantityError:
        yield key, asked
        return
    if time.dimension != "time" or time.low is None or time.low <= 0:
        yield key, asked


def _others(source: SourceAnswer, known: set[str]) -> Asked:
    for key in ("fed_by", "charged_by", "needs_releases", "needs_restores"):
        for name in getattr(source, key):
            if fold(name) not in known:
                yield key, f"No source is called {name}. Which one is meant?"
            elif fold(name) == fold(source.name):
                yield key, "It can't be named as its own. Which other one is meant?"
