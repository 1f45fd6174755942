"""The content hash of a document: two copies with one hash say the same thing.

SHA-256 over canonical JSON (sorted keys, no blanks, UTF-8) of the document with its equipment profile
and the bytes of its pictures. Text is NFC with blanks joined; numbers stay as they are written;
what is left at its default is left out, so that a new optional key changes no old hash.
Revision, date and places in the file are left out: they do not change what is done.
"""

from __future__ import annotations

import hashlib
import json
import unicodedata
from collections.abc import Iterable, Mapping
from typing import Any

from kilter.compute.pictureplan import plan_of
from kilter.model.document import Answer, Document, Field, Stage, Step
from kilter.model.text import (
    Block,
    Calculation,
    Code,
    Figure,
    Link,
    Listing,
    Name,
    Panel,
    Paragraph,
    Quote,
    Role,
    Run,
    Styled,
    Table,
    Text,
    Verbatim,
)

SCHEME = "1"
"""Counted up when the meaning of a default or of this form changes."""

_LEFT_OUT = {"revision", "date"}


LIMITS = "limits.toml"
"""Key of the library's own electrical limits among what a hash leans on."""


def content_hash(document: Document, profile: Document | None, pictures: Mapping[str, str]) -> str:
    """64 hex digits.

    `pictures` maps a figure's path as written, prefixed by the path of its document and `:`, to the
    SHA-256 of its bytes; figures without an entry count as missing.
    """
    content = {
        "scheme": SCHEME,
        "document": _document(document, pictures),
        "profile": None if profile is None else _document(profile, pictures),
    }
    text = json.dumps(content, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _document(document: Document, pictures: Mapping[str, str]) -> dict[str, Any]:
    return {
        "front": _plain(document.front.model_dump(mode="json", by_alias=True, exclude_defaults=True)),
        "title": _text(document.title or ""),
        "blocks": [_block(b, document, pictures) for b in document.blocks],
        "stages": [_stage(s, document, pictures) for s in document.stages],
    }


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {_text(k): _plain(v) for k, v in value.items() if k not in _LEFT_OUT}
    if isinstance(value, list):
        return [_plain(v) for v in value]
    return _text(value) if isinstance(value, str) else value if value is None else str(value)


def _text(text: str) -> str:
    return " ".join(unicodedata.normalize("NFC", text).split())


def _stage(stage: Stage, document: Document, pictures: Mapping[str, str]) -> dict[str, Any]:
    return {
        "title": _text(stage.title),
        "slug": stage.slug,
        "shared": stage.shared,
        "fields": _fields(stage.fields),
        "blocks": [_block(b, document, pictures) for b in stage.blocks],
        "steps": [_step(s, document, pictures) for s in stage.steps],
    }


def _step(step: Step, document: Document, pictures: Mapping[str, str]) -> dict[str, Any]:
    return {
        "title": _text(step.title),
        "slug": step.slug,
        "fields": _fields(step.fields),
        "blocks": [_block(b, document, pictures) for b in step.blocks],
        "answers": [_answer(a) for a in step.answers],
    }


def _fields(fields: Iterable[Field]) -> list[list[str]]:
    return [[f.name, _text(f.value)] for f in fields]


def _answer(answer: Answer) -> dict[str, Any]:
    failure = answer.failure
    return {
        "seen": _runs(answer.seen),
        "link": _runs(answer.link.runs),
        "target": _text(answer.link.target),
        "failure": None if failure is None else [failure.mark, *_names(failure.sources)],
    }


def _names(names: Iterable[Name]) -> list[str]:
    return [_text(n.text) for n in names]


def _block(block: Block, document: Document, pictures: Mapping[str, str]) -> Any:
    def inner(blocks: Iterable[Block]) -> list[Any]:
        return [_block(b, document, pictures) for b in blocks]

    if isinstance(block, Paragraph):
        return _runs(block.runs)
    if isinstance(block, Listing):
        return ["list", block.ordered, block.start, [inner(i) for i in block.items]]
    if isinstance(block, Table):
        return [
            "table",
            [_runs(c.runs) for c in block.header],
            [[_runs(c.runs) for c in r] for r in block.rows],
        ]
    if isinstance(block, Verbatim):
        return ["verbatim", unicodedata.normalize("NFC", block.text)]
    if isinstance(block, Quote):
        return ["quote", inner(block.blocks)]
    if isinstance(block, Panel):
        return ["panel", block.word, _names(block.sources), inner(block.blocks)]
    if isinstance(block, Calculation):
        given = [[_text(g.name), _text(g.value)] for g in block.given]
        leans = [pictures[LIMITS]] if block.name == "leakage" and LIMITS in pictures else []
        return ["calculation", _text(block.name), given, inner(block.caption), *leans]
    return ["figure", *_figure(block, document, pictures), inner(block.caption)]


def _figure(figure: Figure, document: Document, pictures: Mapping[str, str]) -> list[Any]:
    items = [[i.number, str(i.x), str(i.y), _text(i.label)] for i in figure.items]
    said = [pictures.get(f"{document.path}:{figure.path}"), figure.id, _text(figure.alt or ""), items]
    plan = plan_of(figure).key
    said += [plan] if plan else []
    drawn = [["motion", m.kind, str(m.x), str(m.y), m.way, _text(m.amount)] for m in figure.motions]
    if figure.scale is not None:
        drawn.append(
            ["scale", _text(figure.scale.length), *map(str, (*figure.scale.start, *figure.scale.end))]
        )
    pair = [["after", *_figure(figure.after, document, pictures)]] if figure.after else []
    return [*said, *drawn, *pair]


_OPEN, _SHUT = "\x02", "\x03"


def _runs(runs: tuple[Run, ...]) -> str:
    """Running text as one string, marks fenced by control characters that no source can hold."""
    return _text("".join(map(_run, runs)))


def _run(run: Run) -> str:
    if isinstance(run, Text):
        return run.text
    if isinstance(run, Code):
        return f"{_OPEN}code{_OPEN}{run.text}{_SHUT}"
    if isinstance(run, Role):
        return f"{_OPEN}role {run.name}{_OPEN}{_text(run.text)}{_SHUT}"
    if isinstance(run, Styled):
        return f"{_OPEN}{run.kind}{_OPEN}{''.join(map(_run, run.runs))}{_SHUT}"
    if isinstance(run, Link):
        return f"{_OPEN}link {run.target}{_OPEN}{''.join(map(_run, run.runs))}{_SHUT}"
    return f"{_OPEN}break{_SHUT}"


__all__ = ["LIMITS", "SCHEME", "content_hash"]
