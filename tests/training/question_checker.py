"""An independent judge of questions: own reading of the text, own units, own arithmetic, orders by enumeration.

It takes a question and the Markdown that it was made from, and says what is wrong with it: two right answers, a key
that is not right, a reading too near its limit. Units are typed anew from the SI Brochure and NIST SP 811.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from itertools import combinations
from math import hypot

from tests.energy.from_document import from_document
from tests.energy.oracle import judge
from tests.energy.spec import Effect, Spec
from tests.training.question_line import Line

from kilter.check.module import ModuleContext
from kilter.model.document import Document
from kilter.publish.training.questions import Question

SI = {
    "N·m": "1", "mm": "0.001", "m": "1", "bar": "100000", "kPa": "1000", "V": "1", "mV": "0.001", "Ω": "1", "MΩ": "1000000",
    "kΩ": "1000", "A": "1", "mA": "0.001", "µA": "0.000001", "N": "1", "°C": "1", "s": "1", "min": "60", "h": "3600", "%": "1",
    "Hz": "1", "kg": "1", "L/min": "1", "°": "1", "mΩ": "0.001", "mm/s": "1", "ms": "0.001", "turns": "360", "cm": "0.01",
}  # fmt: skip
"""Scales alike within one dimension; °C is only ever compared with °C here."""
_NUMBER = r"[−-]?\d+(?:\.\d+)?"
_FORMS = (
    re.compile(rf"(?P<a>{_NUMBER})\s?±\s?(?P<t>{_NUMBER})\s?(?P<u>\S+)"),
    re.compile(rf"(?P<a>{_NUMBER})\s?(?P<u>[^\d\s]\S*)\s?±\s?(?P<p>{_NUMBER})\s?%"),
    re.compile(rf"(?P<a>{_NUMBER})\s?\+(?P<up>{_NUMBER})/[−-](?P<down>{_NUMBER})\s?(?P<u>\S+)"),
    re.compile(rf"(?P<a>{_NUMBER})(?:–| to )(?P<b>{_NUMBER})\s?(?P<u>\S+)"),
    re.compile(rf"(?P<sign>[≥≤<>]|at least|at most)?\s?(?P<a>{_NUMBER})\s?(?P<u>[^\d\s]\S*(?: [ad]\.c\.)?)"),
)  # fmt: skip
CLEAR = Decimal("0.0499")


@dataclass(frozen=True)
class Value:
    """A value in base units."""

    point: Decimal
    low: Decimal
    high: Decimal
    sign: str = ""


def read(text: str) -> Value:
    """A value as it is written."""
    text = text.replace("\u00a0", " ").strip()
    for form in _FORMS:
        match = form.fullmatch(text)
        if match is None:
            continue
        found = {k: v for k, v in match.groupdict().items() if v is not None}
        factor = Decimal(SI[found["u"]])
        a = _number(found["a"]) * factor
        down = up = Decimal(0)
        if "t" in found:
            down = up = _number(found["t"]) * factor
        elif "p" in found:
            down = up = abs(a) * _number(found["p"]) / 100
        elif "up" in found:
            down, up = _number(found["down"]) * factor, _number(found["up"]) * factor
        elif "b" in found:
            up = _number(found["b"]) * factor - a
        return Value(a, a - down, a + up, found.get("sign", ""))
    raise AssertionError(f"no value: {text}")


def _number(text: str) -> Decimal:
    return Decimal(text.replace("−", "-"))


class Judge:
    """Looks at the questions of one module."""

    def __init__(self, context: ModuleContext) -> None:
        self.context = context
        self._specs: dict[str, Spec] = {}
        self._other: dict[tuple[str, str, str], bool] = {}

    def faults(self, question: Question) -> list[str]:
        """What is wrong with a question; nothing for a good one."""
        texts = [c.text for c in question.choices]
        found = [] if len(set(texts)) == len(texts) else ["two choices are the same"]
        found += [] if 0 <= question.key < len(texts) else ["no key"]
        found += [] if 3 <= len(texts) <= 5 else [f"{len(texts)} choices"]
        look = getattr(self, f"_{question.kind}", None)
        return found + (list(look(question)) if look else [])

    # text

    def _document(self, question: Question) -> Document:
        document = self.context.document(question.cites.document)
        assert document is not None
        return document

    def _text(self, document: Document) -> str:
        return self.context.library.readings[document.path].source.text

    def _sections(self, question: Question) -> str:
        """The rows of the cited step, in the document or in its profile."""
        document = self._document(question)
        profile = self.context.library.profile_of(document)
        assert profile is not None
        owners = (document, profile) if question.cites.number[0].isdigit() else (profile, document)
        for owner in owners:
            parts = re.split(r"^(?=###? )", self._text(owner), flags=re.M)
            for part in parts:
                if part.startswith("### ") and part.split("\n")[0][4:].strip() == question.cites.title:
                    return part
        raise AssertionError(f"no step {question.cites.title}")

    def _value(self, question: Question) -> Iterator[str]:
        kind, name = re.search(r"\.(torque|set|wait|read)(?:\.(.*?))?-\d+$", question.id).groups()  # type: ignore[union-attr]
        written = re.findall(rf"\{{{kind}\}}`([^`]+)`", self._sections(question))
        if kind == "read":
            label = re.search(r"The reading is “(.*?)(?: \((as found|as left)\))?”", question.stem)
            if label:
                written = [w for w in written if label[1] in w and (label[2] or "") in w]
            written = [w.rpartition(":")[2] for w in written]
        right = [read(w) for w in written]
        choices = [read(c.text) for c in question.choices]
        key = choices[question.key]
        exact = {(r.point, r.low, r.high) for r in right}
        if not right or (name is None and len(exact) == 1 and not _same(key, right[0])):
            yield f"the key is not what is written: {written}"
        if not any(_same(key, r) for r in right):
            yield f"the key stands nowhere in the step: {written}"
        for n, choice in enumerate(choices):
            if n != question.key and not _clear(choice, key):
                yield f"choice {n + 1} overlaps the key"
        for a, b in combinations(choices, 2):
            if not _clear(a, b, key.point):
                yield "two choices overlap"
        if [c.point for c in choices] != sorted(c.point for c in choices):
            yield "choices are not in order of size"
        units = {re.sub(r"[\d.−±–+/\s\u00a0-]", "", c.text) for c in question.choices}
        places = {len(re.split(r"\D", c.text.lstrip("−").partition(".")[2])[0]) for c in question.choices}
        if len(units) > 1 or len(places) > 1:
            yield f"units or decimals differ: {units} {places}"

    def _mistake(self, question: Question) -> Iterator[str]:
        limits = self._limits(self._document(question))
        for n, choice in enumerate(question.choices):
            name, _, shown = choice.text.rpartition(": ")
            reading = read(shown).point
            for limit in limits[name]:
                low = limit.low if limit.sign in ("", "≥", ">", "at least") else None
                high = limit.high if limit.sign in ("", "≤", "<", "at most") else None
                over = high is not None and reading > high
                under = low is not None and reading < low
                near = [e for e in (low, high) if e is not None and abs(reading - e) < self._guard(limit, over or under, e)]  # fmt: skip
                if near:
                    yield f"{choice.text} is too near to a limit"
                if (over or under) != (n == question.key):
                    yield f"{choice.text} {'fails' if over or under else 'passes'}"

    def _guard(self, limit: Value, outside: bool, end: Decimal) -> Decimal:
        if outside:
            return abs(end) * CLEAR
        return (limit.high - limit.low if limit.high != limit.low else abs(end)) * 2 * CLEAR

    def _limits(self, document: Document) -> dict[str, list[Value]]:
        profile = self.context.library.profile_of(document)
        assert profile is not None
        found: dict[str, list[Value]] = {}
        for text in (self._text(document), self._text(profile)):
            for mark in re.findall(r"\{read\}`([^`]+)`", text):
                label, _, value = mark.rpartition(":")
                phase = re.match(r"(as found|as left), (.*)", label)
                name = f"{phase[2]} ({phase[1]})" if phase else label
                found.setdefault(name, []).append(read(value))
        return found

    # energy

    def spec(self, document: Document) -> Spec:
        if document.path not in self._specs:
            profile = self.context.library.profile_of(document)
            assert profile is not None
            self._specs[document.path] = from_document(document, profile)
        return self._specs[document.path]

    def _slugs(self, document: Document, titles: list[str]) -> list[list[str]]:
        """Every step of each title, as the abstract case names it."""
        profile = self.context.library.profile_of(document)
        assert profile is not None
        named = [(s.title, s.slug) for _, s in document.all_steps()]
        named += [(s.title, f"profile-{s.slug}") for _, s in profile.all_steps()]
        known = {s.slug for s in self.spec(document).steps()}
        return [[slug for name, slug in named if name == title and slug in known] for title in titles]

    def forced(self, document: Document, before: str, after: str) -> bool:
        """Whether on every way over both steps no order of its steps is safe with them the other way round."""
        key = (document.path, before, after)
        if key not in self._other:
            line = Line(self.spec(document))
            lines = [
                (way, a, b)
                for a in self._slugs(document, [before])[0]
                for b in self._slugs(document, [after])[0]
                for way in line.lines({a, b})[:2]
            ]
            self._other[key] = bool(lines) and not any(line.other_order(*each) for each in lines)
        return self._other[key]

    def _first(self, question: Question) -> Iterator[str]:
        document = self._document(question)
        titles = [c.text for c in question.choices]
        key = titles[question.key]
        for title in titles:
            if title != key and not self.forced(document, key, title):
                yield f"“{title}” may come before “{key}”"

    def _order(self, question: Question) -> Iterator[str]:
        document = self._document(question)
        orders = [c.text.split(" → ") for c in question.choices]
        key = orders[question.key]
        for a, b in combinations(key, 2):
            if not self.forced(document, a, b):
                yield f"“{b}” may come before “{a}”"
        if any(sorted(o) != sorted(key) for o in orders):
            yield "the choices hold other steps"

    def _isolate(self, question: Question) -> Iterator[str]:
        document = self._document(question)
        spec = self.spec(document)
        (slugs,) = self._slugs(document, [question.cites.title])
        held = [
            {p.removesuffix(": yes") for p in c.text.split(", ") if p.endswith(": yes")}
            for c in question.choices
        ]
        if len({len(h) for h in held}) > 1:
            yield "choices hold more sources or fewer"
        for n, choice in enumerate(question.choices):
            left = {s.name for s in spec.profile.sources} - held[n]
            exposed = any(self._exposed(spec, slug, left) for slug in slugs)
            if exposed == (n == question.key):
                yield f"{choice.text}: {'not enough' if exposed else 'would do as well'}"

    def _exposed(self, spec: Spec, slug: str, left: set[str]) -> bool:
        """Whether hands meet energy in a step when some sources are never cut off."""
        names = {n for n in (s.name for s in spec.profile.sources) if n in left}

        def less(effect: Effect) -> Effect:
            kept = tuple(n for n in effect.names if n not in names)
            return replace(effect, names=kept) if effect.kind == "isolates" else effect

        stages = tuple(
            replace(stage, steps=tuple(
                replace(step, effects=tuple(e for e in map(less, step.effects) if e.names or e.kind in ("wait", "all-clear")))
                for step in stage.steps))
            for stage in spec.stages
        )  # fmt: skip
        outcome = judge(replace(spec, stages=stages))
        return any(where == slug and kind == "exposure" for where, kind, _ in outcome.core)

    # pictures

    def _part(self, question: Question) -> Iterator[str]:
        labels = self._labels(question)
        assert question.figure is not None
        (place,) = question.figure.regions
        here = labels.get((place.x, place.y))
        if here != question.choices[question.key].text:
            yield f"the place is {here}"
        if any(c.text not in labels.values() for c in question.choices):
            yield "a choice is no item of the figure"

    def _point(self, question: Question) -> Iterator[str]:
        labels = self._labels(question)
        assert question.figure is not None
        regions = question.figure.regions
        wanted = re.search(r"“([^”]+)”\?$", question.stem)
        assert wanted is not None
        right = [n for n, r in enumerate(regions) if labels.get((r.x, r.y)) == wanted[1]]
        if right != [question.key]:
            yield f"right are {right}"
        for a, b in combinations(regions, 2):
            if hypot(a.x - b.x, a.y - b.y) <= a.radius + b.radius:
                yield "two places overlap"

    def _labels(self, question: Question) -> dict[tuple[float, float], str]:
        assert question.figure is not None
        text = self.context.library.readings[question.figure.owner].source.text
        part = next(p for p in text.split(":::{figure}") if p.strip().startswith(question.figure.path))
        rows = re.findall(r"^:\d+: ([\d.]+),([\d.]+) (.+)$", part.split("\n:::\n")[0], flags=re.M)
        return {(float(x), float(y)): label.strip() for x, y, label in rows}

    @cached_property
    def number(self) -> str:
        return self.context.module.front.number


def _same(one: Value, two: Value) -> bool:
    return one.point == two.point and (
        (one.low, one.high) == (two.low, two.high) or bool(two.sign) or one.low == one.high
    )


def _clear(one: Value, two: Value, size: Decimal | None = None) -> bool:
    (first, last) = sorted((one, two), key=lambda v: v.point)
    return last.low - first.high >= abs(size or two.point) * CLEAR
