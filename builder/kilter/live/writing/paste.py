"""Pasted word-processor text as the text of a document: headings, stages and steps, nothing marked, nothing lost."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from kilter.live.writing.blocks import Block, blocks_of_plain
from kilter.live.writing.paste_html import blocks_of_html
from kilter.live.writing.plain import heading, prose
from kilter.live.writing.roles import role, with_steps
from kilter.live.writing.short_title import calm, short_title
from kilter.model.base import slugify

STAGE = "The work"
"""The stage for steps that stand under no heading."""


@dataclass(frozen=True)
class Pasted:
    """What became of a pasted text."""

    title: str
    """Empty where the text has none."""
    intro: str
    """What stands above the first stage."""
    stages: str
    first: str
    """Anchor of the first step; empty where there is none."""

    def body(self, title: str = "") -> str:
        """Everything below the front matter, under this title if the text has none of its own."""
        head = [f"# {heading(title or self.title)}"] if title or self.title else []
        own = [f"*{prose(self.title)}*"] if title and self.title and title != self.title else []
        return "\n\n".join(part for part in (*head, *own, self.intro, self.stages) if part) + "\n"


def pasted(plain: str, html: str = "") -> Pasted:
    """Make a document's text of what was pasted; the formatted text counts where there is one."""
    blocks = blocks_of_html(html) if html.strip() else []
    return _Assembly(blocks or blocks_of_plain(plain)).run()


@dataclass
class _Step:
    title: str
    name: str
    """Its `:id:`, from the number that it had; empty for none."""
    panels: list[str] = field(default_factory=list)
    parts: list[str] = field(default_factory=list)

    def text(self) -> str:
        head = f"### {heading(self.title)}" + (f"\n:id: {self.name}" if self.name else "")
        return "\n\n".join([head, *self.panels, *self.parts])


@dataclass
class _Stage:
    title: str
    parts: list[str] = field(default_factory=list)
    steps: list[_Step] = field(default_factory=list)

    def text(self) -> str:
        return "\n\n".join([f"## {heading(self.title)}", *self.parts, *(s.text() for s in self.steps)])


class _Assembly:
    """Puts the blocks in place one after the other; `here` is where words go now."""

    def __init__(self, blocks: list[Block]) -> None:
        self.blocks = with_steps(blocks)
        self.title = ""
        self.intro: list[str] = []
        self.stages: list[_Stage] = []
        self.here = self.intro
        self.leads: list[str] = []
        """Headings with nothing to do under them; they open the next stage."""
        self.panels: list[str] = []
        """Warnings for the step that follows."""
        self.names: set[str] = set()
        self.last_item = False

    def run(self) -> Pasted:
        for at, block in enumerate(self.blocks):
            self._take(at, block)
        self.here += self.leads
        self._late_panels()
        steps = [s for stage in self.stages for s in stage.steps]
        stages = "\n\n".join(stage.text() for stage in self.stages)
        first = (steps[0].name or slugify(steps[0].title)) if steps else ""
        return Pasted(self.title, "\n\n".join(self.intro), stages, first)

    def _late_panels(self) -> None:
        steps = self.stages[-1].steps if self.stages else []
        if steps:
            steps[-1].panels += self.panels
        else:
            self.intro += self.panels

    def _take(self, at: int, block: Block) -> None:
        if block.kind == "heading":
            self._heading(at, block)
        elif block.kind == "step":
            self._step(short_title(block), block.label)
            self.here.append(_words(block))
        elif block.kind == "panel":
            self.panels.append(_panel(block))
        elif block.kind == "table":
            self.here.append(_table(block.rows))
        elif block.kind == "item":
            self._item(block)
        else:
            self.here.append(_words(block))
        self.last_item = block.kind == "item"

    def _item(self, block: Block) -> None:
        indent = "  " * (block.level - 1) if self.last_item else ""
        text = f"{indent}- " + _words(block).replace("\n", f"\n{indent}  ")
        if self.last_item and self.here:
            self.here[-1] += "\n" + text
        else:
            self.here.append(text)

    def _heading(self, at: int, block: Block) -> None:
        title = calm(block.text)
        part = role(self.blocks, at)
        if part == "title":
            self.title = title
        elif part == "stage":
            self._stage(title)
        elif part == "step":
            self._step(title, "")
        elif part == "lead":
            self.leads.append(f"**{prose(title)}**")
        else:
            self.here.append(f"**{prose(title)}**")

    def _stage(self, title: str) -> None:
        self.stages.append(_Stage(title, self.leads))
        self.leads = []
        self.here = self.stages[-1].parts

    def _step(self, title: str, label: str) -> None:
        if not self.stages:
            self._stage(STAGE)
        self.stages[-1].parts += self.leads
        step = _Step(title, "", self.panels)
        if label:
            step.name = self._free("step-" + label.replace(".", "-").lower())
        else:
            step.title = self._free_title(title)
        self.stages[-1].steps.append(step)
        self.here, self.panels, self.leads = step.parts, [], []

    def _free(self, name: str) -> str:
        again = 2
        found = name
        while found in self.names:
            found, again = f"{name}-{again}", again + 1
        self.names.add(found)
        return found

    def _free_title(self, title: str) -> str:
        again, found = 2, title
        while slugify(found) in self.names:
            found, again = f"{title} ({again})", again + 1
        self.names.add(slugify(found))
        return found


def _words(block: Block) -> str:
    return block.text if block.ready else prose(block.text)


def _panel(block: Block) -> str:
    text = " ".join(block.text.split())
    match = re.match(r"(.{2,90}?[.!:])\s+(.*)$", text)
    lead, rest = match.groups() if match else (text, "")
    bold = f"**{prose(lead)}**" if lead else ""
    return f":::{{{block.label}}}\n{' '.join(p for p in (bold, prose(rest)) if p)}\n:::"


def _table(rows: tuple[tuple[str, ...], ...]) -> str:
    width = max(len(row) for row in rows)
    cells = [[prose(c).replace("|", "\\|") for c in (*row, *[""] * (width - len(row)))] for row in rows]
    lines = [f"| {' | '.join(row)} |" for row in cells]
    return "\n".join([lines[0], "|" + " --- |" * width, *lines[1:]])
