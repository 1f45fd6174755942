"""Pasted text in the frame of a new procedure: between taking the covers off and putting them back."""

from __future__ import annotations

import re

from kilter.live.writing.paste import STAGE, Pasted
from kilter.live.writing.plain import prose
from kilter.model.base import slugify

_OPENED = re.compile(r"\{removes\}`")
_PROVED = re.compile(r"\{proves\}`")
_CLOSES = re.compile(r"(?m)\{refits\}`|^:id: close-up$|\{restores\}`|\{all-clear\}`")


def merged(frame: str, own: Pasted) -> str:
    """The frame with the pasted steps in the place of its own work; after it where it has no such place."""
    parts = re.split(r"(?m)^(?=#{1,3} )", frame)
    first, last = _gap(parts)
    work = _work(own)
    if first is None:
        text = "".join(parts).rstrip("\n") + "\n\n" + own.stages + "\n"
    else:
        dropped = {_anchor(part) for part in parts[first:last]} - {""}
        text = "".join(parts[:first]) + work + "\n\n" + "".join(parts[last:])
        text = re.sub(r"\]\(#([^)\s]+)\)", lambda m: f"](#{own.first})" if m[1] in dropped else m[0], text)
    return _introduced(text, own)


def _gap(parts: list[str]) -> tuple[int | None, int]:
    """First and last (left out) part of the frame's own work."""
    for pattern in (_OPENED, _PROVED):
        opened = [n for n, part in enumerate(parts) if pattern.search(part)]
        closing = [n for n, part in enumerate(parts) if opened and n > opened[0] and _CLOSES.search(part)]
        before = [n for n in opened if not closing or n < closing[0]]
        if before and closing:
            return before[-1] + 1, _with_stage(parts, closing[0])
    return None, 0


def _with_stage(parts: list[str], n: int) -> int:
    """The part itself, or the stage heading right above it."""
    return n - 1 if parts[n - 1].startswith("## ") else n


def _anchor(part: str) -> str:
    """The name of a step that links lead to."""
    named = re.search(r"(?m)^:id: (\S+)$", part)
    heading = re.match(r"### (.*)", part)
    return named[1] if named else slugify(heading[1]) if heading else ""


def _work(own: Pasted) -> str:
    """The pasted stages; a stage of ours alone is no stage, so that nothing ends between the frame and it."""
    only = re.findall(r"(?m)^## .*$", own.stages)
    return own.stages.removeprefix(f"## {STAGE}\n\n") if only == [f"## {STAGE}"] else own.stages


def _introduced(text: str, own: Pasted) -> str:
    """With what stood above the pasted steps, under the frame's own title."""
    added = [part for part in (f"*{prose(own.title)}*" if own.title else "", own.intro) if part]
    if not added:
        return text
    return re.sub(r"(?m)^# .*\n", lambda m: m[0] + "\n" + "\n\n".join(added) + "\n", text, count=1)
