"""Answers to the front matter of a profile, and back."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.live.writing.answers import (
    KINDS,
    Answers,
    EnergyAnswer,
    KitAnswer,
    SourceAnswer,
    SwitchAnswer,
    ZoneAnswer,
)
from kilter.live.writing.plain import prose, tidied
from kilter.live.writing.yaml_words import listed, mapping, sentence, word
from kilter.model.base import fold
from kilter.model.front import ENERGY_KINDS, EnergySource, ProfileFront, Switch, Tool
from kilter.read.front import field_names

FIGURES = ("fp", "op", "ttp", "rp", "pt", "ot", "md", "window", "use")
FACTS = ("range", "accuracy", "calibration", "stock-number", "quantity", "new")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_WITH_A_MEANING = frozenset(map(fold, field_names(Tool)))


def front_text(answers: Answers) -> str:
    """The front matter with its fences. What is not answered is left out, and found by the check."""
    return "---\n" + "".join(f"{line}\n" for line in _lines(answers)) + "---\n"


def profile_text(answers: Answers, body: str = "") -> str:
    """The whole file; a new one gets its title and what the machine is as its text."""
    fresh = f"# {prose(answers.title)}\n\n{prose(tidied(answers.about).strip())}\n"
    return front_text(answers) + (body or fresh)


def _lines(answers: Answers) -> Iterator[str]:
    yield "kind: equipment"
    yield f"id: {word(answers.id)}"
    yield f"title: {sentence(answers.title)}"
    if answers.writers:
        yield f"writers: {listed(answers.writers)}"
    if answers.date:
        yield f"date: {answers.date if _DATE.fullmatch(answers.date) else word(answers.date)}"
    if answers.origin:
        yield f"origin: {sentence(answers.origin)}"
    sources = answers.sources()
    yield "sources:" if sources else "sources: {}"
    for kind, _, source in sources:
        yield f"  {word(source.name)}:"
        yield from (f"    {key}: {value}" for key, value in _source(kind, source))
    yield f"none: {listed(k for k in ENERGY_KINDS if answers.of(k).any == 'no')}"
    yield from _rest(answers)


def _rest(answers: Answers) -> Iterator[str]:
    if answers.covers == "yes" and answers.guards:
        yield f"guards: {listed(answers.guards)}"
    if answers.zones:
        yield "zones:"
        yield from (f"  {word(zone.name)}: {listed(zone.reach)}" for zone in answers.zones)
    if answers.switches:
        yield "switches:"
        yield from (f"  {word(s.name)}: {mapping(_figures(s))}" for s in answers.switches)
    if answers.tests:
        yield f"before-service: {listed(answers.tests)}"
    for key, kit in (("tools", answers.tools), ("parts", answers.parts)):
        if kit:
            yield f"{key}:"
            yield from (f"  - {_kit(each)}" for each in kit)


def _source(kind: str, s: SourceAnswer) -> Iterator[tuple[str, str]]:
    """Keys and finished values; only what differs from what a profile means without the key."""
    yield "kind", kind
    if s.why:
        yield "why", sentence(s.why)
    if s.lockable == "yes":
        yield "lockable", "true"
    for key, names in (("fed-by", s.fed_by), ("charged-by", s.charged_by)):
        if names:
            yield key, listed(names)
    if s.word:
        yield "word", s.word
    if s.isolate:
        yield "isolate", sentence(s.isolate)
    yield from _release(s)
    if s.prove:
        yield "prove", sentence(s.prove)
    if s.prove_from == "outside":
        yield "prove-from", "outside"
    for key in ("chemistry", "capacity", "capacitance", "resistance", "voltage"):
        if said := getattr(s, key):
            yield key, sentence(said)
    if s.load:
        yield "load", listed(s.load)
    if s.origin:
        yield "origin", sentence(s.origin)


def _release(s: SourceAnswer) -> Iterator[tuple[str, str]]:
    if s.release in ("action", "bleed"):
        yield "release", s.release
    if s.bleed:
        yield "bleed", word(s.bleed)
    if s.release_from == "outside":
        yield "release-from", "outside"
    needs = (("releases", s.needs_releases), ("restores", s.needs_restores))
    if any(names for _, names in needs):
        yield "needs", mapping((key, listed(names)) for key, names in needs if names)
    if s.again in ("yes", "after"):
        yield "reaccumulates", "true" if s.again == "yes" else word(s.again_after)
    if s.loaded_by:
        alone = len(s.loaded_by) == 1
        yield "loaded-by", sentence(s.loaded_by[0]) if alone else listed(s.loaded_by)


def _figures(switch: SwitchAnswer) -> Iterator[tuple[str, str]]:
    for key in (*FIGURES, "origin"):
        if value := getattr(switch, key):
            yield key, word(value)


def _kit(kit: KitAnswer) -> str:
    facts = [(key, word(v)) for key in FACTS if (v := getattr(kit, key.replace("-", "_")))]
    if not facts:
        return word(kit.name)
    if fold(kit.name) in _WITH_A_MEANING:
        return mapping([("name", word(kit.name)), *facts])
    return f"{word(kit.name)}: {mapping(facts)}"


# back again


def answers_of(profile: ProfileFront) -> Answers:
    """What somebody would have answered for this profile."""
    return Answers(
        id=profile.id,
        title=profile.title,
        writers=profile.writers,
        date=profile.date.isoformat() if profile.date else "",
        origin=profile.origin or "",
        energy={kind: _energy(profile, kind) for kind in KINDS},
        order=tuple(profile.sources),
        covers="yes" if profile.guards else "no",
        guards=profile.guards,
        zones=tuple(ZoneAnswer(name=name, reach=reach) for name, reach in profile.zones.items()),
        tests=profile.before_service,
        switches=tuple(_switch(name, switch) for name, switch in profile.switches.items()),
        tools=tuple(map(_kit_answer, profile.tools)),
        parts=tuple(map(_kit_answer, profile.parts)),
    )


def _energy(profile: ProfileFront, kind: str) -> EnergyAnswer:
    sources = [_source_answer(name, s) for name, s in profile.sources.items() if s.kind == kind]
    if sources:
        return EnergyAnswer(any="yes", sources=tuple(sources))
    return EnergyAnswer(any="no" if kind in profile.none or kind == "other" else "")


def _source_answer(name: str, s: EnergySource) -> SourceAnswer:
    again = "no" if s.reaccumulates is False else "yes" if s.reaccumulates is True else "after"
    return SourceAnswer(
        name=name,
        why=s.why or "",
        word=s.word,
        cut="itself" if s.isolate or s.lockable else "feed" if s.fed_by else "never",
        isolate=s.isolate or "",
        lockable="yes" if s.lockable else "no",
        fed_by=s.fed_by,
        charged_by=s.charged_by,
        release=s.release or "none",
        bleed=s.bleed or "",
        release_from=s.release_from,
        prove=s.prove or "",
        prove_from=s.prove_from,
        again=again,
        again_after=s.reaccumulates if isinstance(s.reaccumulates, str) else "",
        needs_releases=s.needs.releases,
        needs_restores=s.needs.restores,
        loaded_by=s.loaded_by,
        chemistry=s.chemistry or "",
        capacity=s.capacity or "",
        load=s.load,
        capacitance=s.capacitance or "",
        resistance=s.resistance or "",
        voltage=s.voltage or "",
        origin=s.origin or "",
    )


def _switch(name: str, switch: Switch) -> SwitchAnswer:
    given = {key: getattr(switch, key) or "" for key in (*FIGURES, "origin")}
    return SwitchAnswer(name=name, **given)


def _kit_answer(tool: Tool) -> KitAnswer:
    given = {key: getattr(tool, key) or "" for key in (*(f.replace("-", "_") for f in FACTS), "name")}
    return KitAnswer(**given)
