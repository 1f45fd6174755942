"""What pasted blocks are for: which paragraphs are steps, which headings are stages."""

from __future__ import annotations

import re

from kilter.check.words import VERBS
from kilter.live.writing.blocks import Block

_ABOUT = re.compile(
    r"(?i)\b(tools?|parts?|materials?|equipment|consumables|introduction|scope|purpose|general|overview|references?)\b"
)


def with_steps(blocks: list[Block]) -> list[Block]:
    """Where nothing is numbered, paragraphs that give an order are the steps."""
    if any(b.kind == "step" for b in blocks):
        return blocks
    return [
        Block("step", b.text, ready=b.ready) if b.kind == "words" and _orders(b.text) else b for b in blocks
    ]


def _orders(text: str) -> bool:
    first = re.match(r"[\W_]*(\w+)", text)
    return first is not None and first[1].lower() in VERBS


def role(blocks: list[Block], at: int) -> str:
    """What a heading is here: title, stage, step, `lead` (opens the next stage) or `words` (bold words)."""
    if at == 0 and blocks[0].level == 1:
        return "title"
    level = max(2, blocks[at].level)
    direct, inside = _below(blocks, at, level)
    if any(b.kind == "step" for b in direct):
        return "stage"
    if inside:
        return "lead" if any(b.kind == "step" for b in inside) else "stage"
    if not direct or all(b.kind == "panel" for b in direct):
        return "lead"
    return "words" if _ABOUT.search(blocks[at].text) else "step"


def _below(blocks: list[Block], at: int, level: int) -> tuple[list[Block], list[Block]]:
    """What stands right under a heading, and, from its first deeper heading on, what else belongs to it."""
    direct: list[Block] = []
    inside: list[Block] = []
    for block in blocks[at + 1 :]:
        if block.kind == "heading" and max(2, block.level) <= level:
            break
        (inside if inside or block.kind == "heading" else direct).append(block)
    return direct, inside
