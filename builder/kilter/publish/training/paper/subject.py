"""A module with all that its papers are made from: its own text, the documents it covers, its hash."""

from __future__ import annotations

import hashlib
import json
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, cast

from kilter.check.module import ModuleContext, number_of
from kilter.model.base import Record, fold
from kilter.model.document import Document
from kilter.model.text import Figure, Paragraph, Run, Text
from kilter.model.training import Module
from kilter.publish.cards.heads import Data, TitleData
from kilter.publish.cards.inline import Scope, printable
from kilter.publish.cards.signs import TRIANGLE, draft_mark, qr_code
from kilter.publish.training.paper.graph import Ways, ways_of
from kilter.publish.training.taught import training_address
from kilter.publish.view import (
    DRAFT,
    STANDING,
    UNCONTROLLED,
    DocumentView,
    StageView,
    StepView,
    figure_key,
    picture_path,
)
from kilter.publish.worked import Answerer, unanswered
from kilter.source import Span

_LEFT_OUT = {"revision", "date", "confirmed"}
"""What changes nothing that is taught."""


@dataclass(frozen=True)
class OwnWords:
    """Stands for a view where a module's own text is set: it has no steps, and figures of its own."""

    figure_numbers: dict[str, int]
    answer: Answerer = unanswered
    stages: tuple[StageView, ...] = ()


@dataclass(frozen=True)
class Subject:
    """One module to be printed; every document that it covers is published."""

    context: ModuleContext
    views: Mapping[str, DocumentView]
    """All documents that it covers or takes from, by folded number, in the order in which they are first named."""

    @property
    def module(self) -> Module:
        return self.context.module

    @property
    def own(self) -> Scope:
        """Where the module's own words stand."""
        owner = cast("Document", self.module)
        numbers = {figure_key(owner, f): n for n, f in enumerate(self.own_figures, 1)}
        return Scope(cast("DocumentView", OwnWords(numbers)), owner, live=False)

    @property
    def own_figures(self) -> list[Figure]:
        return [b for b in self.module.all_blocks if isinstance(b, Figure)]

    def view(self, number: str) -> DocumentView:
        return self.views[fold(number)]

    @cached_property
    def covered(self) -> tuple[DocumentView, ...]:
        """The documents that are taught, without those that something is only taken from."""
        keys = dict.fromkeys(fold(number_of(c.document)) for c in self.context.covered.values())
        return tuple(view for number, view in self.views.items() if number in keys)

    def step(self, number: str, slug: str) -> tuple[StageView, StepView]:
        """A step by its name in a document; the check has found it."""
        view = self.view(number)
        pairs = [(stage, step) for stage in view.stages for step in stage.steps]
        return next(p for p in pairs if fold(p[1].step.slug) == fold(slug))

    @cached_property
    def ways(self) -> dict[str, Ways]:
        """By folded number."""
        return {number: ways_of(view) for number, view in self.views.items()}

    @cached_property
    def hash(self) -> str:
        """64 hex digits over what is taught: the module's own words and pictures, the documents' content hashes."""
        owner = cast("Document", self.module)
        front = self.module.front.model_dump(mode="json", by_alias=True, exclude_defaults=True)
        content = {
            "front": {k: v for k, v in front.items() if k not in _LEFT_OUT},
            "title": self.module.title,
            "lessons": [_plain(x) for x in (*self.module.blocks, *self.module.lessons)],
            "pictures": [_picture_hash(owner, p) for f in self.own_figures for p in f.pictures],
            "documents": [[v.number, v.hash] for v in self.views.values()],
        }
        text = json.dumps(_plain(content), ensure_ascii=False, sort_keys=True, separators=(",", ":"))
        return hashlib.sha256(text.encode("utf-8")).hexdigest()

    def head(self, width: int, height: int, sheet: str, view: DocumentView | None = None) -> Data:
        """Title block and standing lines of a sheet of `width` x `height` mm that is about `view`, or about all."""
        front = self.module.front
        about = [view] if view else list(self.covered)
        machines = dict.fromkeys(v.equipment.title for v in about)
        page, digest = training_address(front.number), self.hash[:12]
        site = self.context.library.settings.site_url.rstrip("/")
        title: TitleData = {
            "label": "Training module",
            "number": front.number,
            "title": printable(self.module.title or front.title),
            "equipment": printable("; ".join(machines)),
            "revision": front.revision,
            "date": front.date.isoformat() if front.date else "–",
            "writers": printable(", ".join(front.writers)) or "–",
            "status": DRAFT,
            "task": sheet,
            "card": sheet,
            "hash": digest,
            "qr": qr_code(f"{f'{site}/' if site else ''}{page}?rev={front.revision}&hash={digest}"),
        }
        return {
            "title": title,
            "date": [front.date.year, front.date.month, front.date.day] if front.date else [],
            "standing": STANDING,
            "uncontrolled": UNCONTROLLED,
            "draft": draft_mark(width, height),
            "triangle": TRIANGLE,
            "documents": [f"{v.number} rev. {v.front.revision}, {printable(v.front.title)}" for v in about],
            "objectives": [{"id": name, "text": printable(o.text)} for name, o in front.objectives.items()],
        }


def numbers_of(context: ModuleContext) -> tuple[str, ...]:
    """Folded numbers of all documents that a module covers or takes from, in order."""
    known = [d for n in context.module.leans_on if (d := context.document(n))]
    return tuple(dict.fromkeys(fold(number_of(d)) for d in known))


def _picture_hash(owner: Document, figure: Figure) -> str:
    file = Path(picture_path(owner, figure))
    return hashlib.sha256(file.read_bytes()).hexdigest() if file.is_file() else ""


def _joined(runs: Iterable[Run]) -> list[Any]:
    """Words that only a line's end parts are one."""
    found: list[Any] = []
    for run in runs:
        if isinstance(run, Text) and found and isinstance(found[-1], str):
            found[-1] += run.text
        else:
            found.append(run.text if isinstance(run, Text) else run)
    return found


def _plain(value: Any) -> Any:
    """Without places: where something stands in the file changes nothing that is taught."""
    if isinstance(value, Paragraph):
        return [_plain(run) for run in _joined(value.runs)]
    if isinstance(value, Record):
        return {n: _plain(v) for n, v in vars(value).items() if n in value._names}
    if isinstance(value, Mapping):
        return {str(k): _plain(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(v) for v in value]
    if isinstance(value, Span):
        return None
    if isinstance(value, str):
        return " ".join(unicodedata.normalize("NFC", value).split())
    return value if isinstance(value, (bool, int)) or value is None else str(value)
