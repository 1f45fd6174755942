"""The facts of one step with what they lean on, and their hash.

A record, a question or a signature that stands on a step is bound to these, so that a change elsewhere in the
document leaves it alone. Two things are kept apart: the facts that are computed with (values as intervals in base
units, effects, where answers lead, hands, what the profile says of the sources, figures), and the words. Blanks,
wrapping, Unicode form and another way of writing the same interval change neither.

What a step leans on: the panels in force (its own, its stage's, the document's), the fields of its stage that it
does not replace, each source that it or one of these names or that its zone reaches, with all that feeds it, its
switch, and each figure that it shows or refers to, bytes and items.
"""

from __future__ import annotations

import hashlib
import json
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from kilter.compute.pictureplan import plan_of
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.reading import parse_reading
from kilter.compute.value import Quantity
from kilter.model.base import fold
from kilter.model.document import VALUES, Document, Stage, Step
from kilter.model.front import EnergySource, ProfileFront
from kilter.model.text import Block, Break, Code, Figure, Panel, Role, Run, Text, Verbatim, paragraphs

SHORT = 12
"""Hex digits of a hash as it is printed and kept in records."""

FACT_FIELDS = ("hands", "zone", "clear-of", "switch", "hold", "exit", "go-to", "do", "fastener", "friction")
"""Fields that are facts; `id` and `origin` change nothing that is done."""

_SAID_OF_A_SOURCE = {"isolate", "prove", "why", "origin"}
"""What a profile says of a source in words for people."""


@dataclass(frozen=True)
class StepFacts:
    """What a step says, as canonical JSON."""

    facts: str
    said: str

    @property
    def computed(self) -> str:
        """64 hex digits over the facts alone."""
        return _sha(self.facts)

    @property
    def words(self) -> str:
        """64 hex digits over the words alone."""
        return _sha(self.said)

    @property
    def whole(self) -> str:
        """64 hex digits over both."""
        return _sha(self.facts + "\n" + self.said)

    @property
    def short(self) -> str:
        """The first digits of `whole`: what is printed and kept."""
        return self.whole[:SHORT]


def step_facts(
    step: Step, stage: Stage, owner: Document, profile: Document, pictures: Mapping[str, str]
) -> StepFacts:
    """The facts of a step; `owner` is the document it stands in: `profile` itself for a machine's shared stage.

    `pictures` are as in `content_hash`. A value that can't be read stands as it is written.
    """
    machine = profile.profile
    panels = (*owner.panels, *stage.panels, *step.panels)
    fields = {n: _text(f.value) for n in FACT_FIELDS if (f := step.field(n) or stage.field(n))}
    sources = {n: machine.sources[n] for n in _leans_on(step, stage, panels, machine)}
    shown = [picture for figure in _figures(step, owner) for picture in figure.pictures]
    facts = {
        "marks": [_mark(role) for role in step.roles],
        "answers": [
            [a.target, *([a.failure.mark, *_keys(a.failure.sources)] if a.failure else [])]
            for a in step.answers
        ],
        "fields": fields,
        "panels": [[p.word, *_keys(p.sources)] for p in panels],
        "sources": {n: _entry(s, lambda key: key not in _SAID_OF_A_SOURCE) for n, s in sources.items()},
        "switch": _switch(fields.get("switch", ""), machine),
        "figures": [_drawn(f, owner, pictures) for f in shown],
        "calculations": [
            [_text(c.name), *([_text(g.name), _value(g.value)] for g in c.given)] for c in step.calculations
        ],
    }
    words = {
        "title": _text(step.title),
        "blocks": [_words(b) for b in step.blocks],
        "answers": [[_runs(a.seen), _runs(a.link.runs)] for a in step.answers],
        "panels": [_words(p) for p in panels if p not in step.panels],
        "sources": {n: _entry(s, lambda key: key in _SAID_OF_A_SOURCE) for n, s in sources.items()},
        "figures": [[_text(f.alt or ""), [[i.number, _text(i.label)] for i in f.items]] for f in shown],
    }
    return StepFacts(_json(facts), _json(words))


def _sha(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def _text(text: str) -> str:
    return " ".join(unicodedata.normalize("NFC", text).split())


def _keys(names: Iterable[Any]) -> list[str]:
    return sorted(name.key for name in names)


def _leans_on(step: Step, stage: Stage, panels: tuple[Panel, ...], machine: ProfileFront) -> tuple[str, ...]:
    """Names of sources as the profile writes them, sorted."""
    zone = step.field("zone") or stage.field("zone")
    reach = machine.zone(zone.value.strip()) if zone else None
    wanted = list(map(fold, machine.sources)) if reach is None else list(reach)
    named = [n.key for role in step.roles for n in role.names] + [n.key for p in panels for n in p.sources]
    return tuple(sorted(_with_feeds([*wanted, *named], machine)))


def _with_feeds(keys: Iterable[str], machine: ProfileFront) -> set[str]:
    found: set[str] = set()
    waiting = list(keys)
    while waiting:
        name = machine.source_name(waiting.pop())
        if name is not None and name not in found:
            found.add(name)
            waiting += machine.sources[name].fed_by
    return found


def _entry(source: EnergySource, wanted: Callable[[str], bool]) -> dict[str, Any]:
    entry = source.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    return {key: _plain(value) for key, value in entry.items() if wanted(key)}


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {_text(k): _plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [_plain(v) for v in value]
    return _value(value) if isinstance(value, str) else value if value is None else str(value)


def _switch(said: str, machine: ProfileFront) -> Any:
    wanted = fold(said.split(",")[0].strip())
    entry = next((s for n, s in machine.switches.items() if fold(n) == wanted), None)
    if entry is None:
        return None
    return _plain(entry.model_dump(mode="json", by_alias=True, exclude_defaults=True, exclude={"origin"}))


def _mark(role: Role) -> list[Any]:
    if role.name not in VALUES:
        return [role.name, *(n.key for n in role.names)]
    if role.name != "read":
        return [role.name, _value(role.text)]
    try:
        reading = parse_reading(role.text)
    except QuantityError:
        return [role.name, _text(role.text)]
    return [role.name, reading.phase, fold(reading.name), _interval(reading.quantity)]


def _value(text: str) -> Any:
    """The interval that a text states; the text itself where it states none."""
    try:
        return _interval(parse_quantity(text))
    except QuantityError:
        return _text(text)


def _interval(quantity: Quantity) -> list[str]:
    """Dimension, limits and their kind; of a range the middle is what is aimed at, as of a symmetric tolerance."""
    low, high, aim = quantity.base_low, quantity.base_high, quantity.base_nominal
    if aim is None and low is not None and high is not None:
        aim = (low + high) / 2
    open_end = quantity.form if quantity.form in ("above", "below", "plain") else ""
    kind = quantity.unit.symbol[-4:] if quantity.unit.symbol.endswith((" a.c.", " d.c.")) else ""
    return [quantity.dimension, *("" if v is None else str(v) for v in (low, aim, high)), open_end, kind]


def _figures(step: Step, owner: Document) -> list[Figure]:
    """Those shown in the step, then those that it refers to by an item."""
    named = [n.text.split()[0] for r in step.roles if r.name == "item" for n in r.names if n.text.split()]
    other = [f for f in owner.figures if f.id in named and f not in step.figures]
    return [*step.figures, *other]


def _drawn(figure: Figure, owner: Document, pictures: Mapping[str, str]) -> list[Any]:
    items = [[i.number, str(i.x), str(i.y)] for i in figure.items]
    moved = [[m.kind, str(m.x), str(m.y), m.way, _value(m.amount)] for m in figure.motions]
    scale = figure.scale and [
        _value(figure.scale.length),
        *map(str, (*figure.scale.start, *figure.scale.end)),
    ]
    return [pictures.get(f"{owner.path}:{figure.path}"), items, plan_of(figure).key, moved, scale]


def _words(block: Block) -> list[str]:
    """Words paragraph by paragraph; markup other than the marks' names is form."""
    if isinstance(block, Verbatim):
        return [unicodedata.normalize("NFC", block.text)]
    return [_runs(paragraph.runs) for paragraph in paragraphs((block,))]


def _runs(runs: tuple[Run, ...]) -> str:
    return _text("".join(_pieces(runs)))


def _pieces(runs: tuple[Run, ...]) -> Iterator[str]:
    for run in runs:
        if isinstance(run, Role) and run.name in VALUES:
            yield _json(_mark(run))
        elif isinstance(run, (Text, Code, Role)):
            yield run.text
        elif isinstance(run, Break):
            yield " "
        else:
            yield from _pieces(run.runs)


__all__ = ["FACT_FIELDS", "SHORT", "StepFacts", "step_facts"]
