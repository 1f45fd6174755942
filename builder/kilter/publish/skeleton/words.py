"""Small pieces of a new file: quoted keys, steps, and a profile's sentences as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from kilter.model.base import slugify
from kilter.model.front import EnergySource


@dataclass(frozen=True)
class Stop:
    """A step of a new file: its title, its fields, its text, its answers as (seen, target, mark)."""

    title: str
    text: str
    fields: tuple[str, ...] = ()
    answers: tuple[tuple[str, str, str], ...] = field(default=())
    id: str = ""

    @property
    def slug(self) -> str:
        return self.id or slugify(self.title)

    def lines(self, titles: Mapping[str, str]) -> Iterable[str]:
        """`titles` of all steps by their slugs: an answer says the title that it leads to."""
        yield from ("", f"### {literal(self.title)}")
        yield from (f":id: {self.id}",) if self.id else ()
        yield from self.fields
        yield from ("", self.text) if self.text else ()
        yield from ("",) if self.answers else ()
        for seen, target, mark in self.answers:
            title = titles.get(target, "")
            if not title or "[" in title:  # a blank can't stand in a link
                title = target.replace("-", " ").capitalize()
            yield f"- {seen}: [{literal(title)}](#{target}){mark and ' ' + mark}"


def quoted(text: str) -> str:
    """Text as a value of the front matter."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def front(keys: dict[str, str]) -> str:
    """Front matter; a value that begins with a line break is a block of its own."""
    rows = (f"{key}:{value if value.startswith(chr(10)) else ' ' + value}\n" for key, value in keys.items())
    return "---\n" + "".join(rows) + "---\n"


def literal(text: str) -> str:
    """Words that may hold signs of Markdown, written so that they mean themselves; blanks stay blanks."""
    parts = re.split(r"(\[fill in[^\]]*\])", text)
    return "".join(p if n % 2 else re.sub(r"([\\`*_\[\]<{}])", r"\\\1", p) for n, p in enumerate(parts))


def said(text: str | None, otherwise: str) -> str:
    """A sentence of the profile without its full stop, or the blank that asks for one."""
    return literal((text or otherwise).strip().rstrip(".;:").strip())


def listed(names: Iterable[str], join: str = "and") -> str:
    """`a, b and c`."""
    *most, last = names
    return f"{', '.join(most)} {join} {last}" if most else last


HAZARDS = {
    "mains": ("electric shock", "kill"),
    "battery": ("burns", "burn"),
    "capacitor": ("electric shock", "shock"),
    "hydraulic": ("oil under pressure", "crush"),
    "pneumatic": ("air under pressure", "crush"),
    "vacuum": ("suction", "pinch"),
    "gravity": ("crushing", "crush"),
    "spring": ("recoil", "strike"),
    "heat": ("burns", "burn"),
    "motion": ("moving parts", "trap"),
    "pressure": ("pressure", "injure"),
}
"""Hazard and harm of each kind of energy, in plain words; common practice, no source. The blank asks for more."""


def panel(word: str, sources: dict[str, EnergySource], avoid: str) -> list[str]:
    """One caution with hazard, consequence and avoidance; the place of each stays a blank."""
    kinds = [HAZARDS.get(s.kind, ("injury", "injure")) for s in sources.values()]
    hazards, harms = (list(dict.fromkeys(k[n] for k in kinds)) for n in (0, 1))
    lead = listed(hazards)
    return [
        f":::{{{word}}} {', '.join(sources)}",
        f"**{lead[:1].upper()}{lead[1:]}.** Here [fill in: what can reach whom, and where, such as the boom can drop on a hand]."
        f" It can {listed(harms, 'or')} somebody. {avoid}",
        ":::",
        "",
    ]


def filled(text: str) -> str:
    """A new file with harmless words in its blanks: the example that a blank names, if it names one."""
    return _BLANK.sub(lambda m: m[1].partition("such as ")[2] or "Turn the knob once", text)


_BLANK = re.compile(r"\[fill in: ([^\]]*)\]")
