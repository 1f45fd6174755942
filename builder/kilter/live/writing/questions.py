"""What is still to be answered before a profile can be written, as questions beside the places asked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.live.writing.answers import KINDS, Answers
from kilter.live.writing.profile_form import FIGURES
from kilter.live.writing.source_questions import Asked, about_source
from kilter.model.base import fold
from kilter.model.front import ID_PATTERN
from kilter.read.blanks import BLANK_MARK


@dataclass(frozen=True)
class Question:
    """One thing that is missing or wrong. `at` is the way to its field: `energy.mains.sources.0.prove`."""

    at: str
    text: str


def questions(answers: Answers) -> list[Question]:
    """Everything that is still asked; empty when the profile can be written."""
    return [Question(at, text) for at, text in (*_machine(answers), *_energy(answers), *_rest(answers))]


def _machine(answers: Answers) -> Asked:
    if not re.fullmatch(ID_PATTERN, answers.id) or len(answers.id) > 40:
        yield "id", "Which short name? Lower-case letters, digits and single hyphens, such as egret-2."
    if not answers.title:
        yield "title", "What is the machine called, with maker and model?"
    elif re.search(r"[{}]", answers.title):
        yield "title", "Write it without braces: at the end of a heading they would be a mark."
    if answers.date and not _is_date(answers.date):
        yield "date", "Which date? Write it like 2026-11-03."
    for at, text in _all_words(answers):
        if BLANK_MARK in text:
            yield at, "Write the words in place of the brackets."


def _is_date(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _all_words(answers: Answers) -> Iterator[tuple[str, str]]:
    yield from (("title", answers.title), ("about", answers.about), ("origin", answers.origin))
    yield from (("writers", writer) for writer in answers.writers)
    yield from (("tests", test) for test in answers.tests)
    yield from (("guards", guard) for guard in answers.guards)
    for kind, n, source in answers.sources():
        at = f"energy.{kind}.sources.{n}"
        for key, value in source.model_dump().items():
            for text in value if isinstance(value, tuple) else (value,):
                yield f"{at}.{key}", text


def _energy(answers: Answers) -> Asked:
    for kind in KINDS:
        energy = answers.of(kind)
        if not energy.any:
            yield f"energy.{kind}.any", f"Is there any {_spoken(kind)}? Answer yes or no."
        elif energy.any == "yes" and not energy.sources:
            yield f"energy.{kind}.any", f"Which source of {_spoken(kind)} is there? Add it, or answer no."
    yield from _names([(f"energy.{k}.sources.{n}.name", s.name) for k, n, s in answers.sources()], "source")
    known = {fold(s.name) for _, _, s in answers.sources()}
    for kind, n, source in answers.sources():
        for key, text in about_source(kind, source, known):
            yield f"energy.{kind}.sources.{n}.{key}", text
    yield from _loops(answers)


def _spoken(kind: str) -> str:
    return "other kind of energy" if kind == "other" else f"energy of the kind {kind}"


def _names(named: Iterable[tuple[str, str]], what: str) -> Asked:
    """Names are there, hold no comma and differ in more than case."""
    seen: set[str] = set()
    for at, name in named:
        if not name:
            yield at, f"What is this {what} called?"
        elif "," in name:
            yield at, "Name it without a comma: in a text a comma separates names."
        elif "`" in name:
            yield at, "Name it without a backtick: in a text it ends the name."
        elif len(name) > 80:
            yield at, "Name it in fewer than 80 letters."
        elif fold(name) in seen:
            yield at, f"Another {what} is called {name}. Which other name has this one?"
        seen.add(fold(name))


def _loops(answers: Answers) -> Asked:
    feeds = {fold(s.name): [fold(f) for f in s.fed_by] for _, _, s in answers.sources()}
    for kind, n, source in answers.sources():
        left, met = list(feeds[fold(source.name)]), set[str]()
        while left:
            if (feed := left.pop()) not in met:
                met.add(feed)
                left += feeds.get(feed, [])
        if fold(source.name) in met - set(feeds[fold(source.name)]):
            at = f"energy.{kind}.sources.{n}.fed_by"
            yield at, "It feeds itself by way of others. Where does the energy really come from?"


def _rest(answers: Answers) -> Asked:
    if not answers.covers:
        yield "covers", "Does any cover come off? Answer yes or no."
    elif answers.covers == "yes" and not answers.guards:
        yield "guards", "Which covers come off?"
    yield from _names((("guards", g) for g in answers.guards), "cover")
    yield from _names((("tests", t) for t in answers.tests), "test")
    yield from _names(((f"zones.{n}.name", z.name) for n, z in enumerate(answers.zones)), "place")
    known = {fold(s.name) for _, _, s in answers.sources()}
    for n, zone in enumerate(answers.zones):
        if not zone.reach:
            yield f"zones.{n}.reach", "Which sources can be reached there?"
        for name in zone.reach:
            if fold(name) not in known:
                yield f"zones.{n}.reach", f"No source is called {name}. Which one is meant?"
    yield from _switches(answers)
    for key, kit in (("tools", answers.tools), ("parts", answers.parts)):
        for n, each in enumerate(kit):
            if not each.name:
                yield f"{key}.{n}.name", "What is it called?"


def _switches(answers: Answers) -> Asked:
    yield from _names(((f"switches.{n}.name", s.name) for n, s in enumerate(answers.switches)), "switch")
    for n, switch in enumerate(answers.switches):
        kinds: set[str] = set()
        for key in FIGURES:
            if text := getattr(switch, key):
                wanted = ("ratio",) if key == "use" else ("length", "angle")
                found = _dimension(text)
                kinds |= {found} if key != "use" else set()
                if found not in wanted:
                    shown = "70–100 %" if key == "use" else "8.8 ± 0.2 mm"
                    yield f"switches.{n}.{key}", f"Write it such as {shown}."
        if {"length", "angle"} <= kinds:
            yield f"switches.{n}.name", "Write all figures as lengths, or all as angles."


def _dimension(text: str) -> str:
    try:
        return parse_quantity(text).dimension
    except QuantityError:
        return ""
