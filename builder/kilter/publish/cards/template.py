"""The typst templates: one kept compiler for each, data in, PDF or drawings out."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple

import typst

from kilter.publish.cards.glyphs import font_folder

FOLDER = Path(__file__).parent


class Tall(NamedTuple):
    """A step, or another whole, higher than its page; mm."""

    key: str
    stage: str
    need: float
    room: float


class TooTallError(Exception):
    """What does not fit on a page, so that the card would be cut off."""

    def __init__(self, steps: tuple[Tall, ...]) -> None:
        super().__init__(", ".join(f"{s.key}: {s.need:.0f} mm" for s in steps))
        self.steps = steps


class CardError(Exception):
    """A fault of ours: the template failed or gave a warning."""


class Template:
    """One typst template, kept compiled: the next card takes half the time of the first."""

    def __init__(self, name: str, folder: Path = FOLDER, root: Path | None = None) -> None:
        """`root` is the folder that the template's imports stay below; its own, if nothing is said."""
        self.name, self.folder, self.root = name, folder, root or folder

    @cached_property
    def _compiler(self) -> typst.Compiler:
        return typst.Compiler(
            str(self.folder / self.name),
            root=str(self.root),
            font_paths=[str(font_folder())],
            ignore_system_fonts=True,
        )

    def pdf(self, data: Mapping[str, Any]) -> bytes:
        """The card's bytes, the same for the same data."""
        try:
            made, warnings = self._compiler.compile_with_warnings(
                format="pdf", sys_inputs=_inputs(data), pdf_standards=["ua-1"]
            )
        except typst.TypstError as trouble:
            raise translated(trouble) from None
        if warnings:
            raise CardError(f"{self.name}: {warnings[0].message}")
        assert isinstance(made, bytes)
        return made

    def drawings(self, data: Mapping[str, Any]) -> list[bytes]:
        """The pages as SVG: a fifth of the time of the PDF."""
        try:
            made = self._compiler.compile(format="svg", sys_inputs=_inputs(data))
        except typst.TypstError as trouble:
            raise translated(trouble) from None
        return [page for page in (made if isinstance(made, list) else [made]) if page is not None]


def _inputs(data: Mapping[str, Any]) -> dict[str, str]:
    return {"data": json.dumps(data, ensure_ascii=False)}


def translated(trouble: typst.TypstError) -> Exception:
    found = re.search(r"too-tall (\[.*\])", str(trouble.message).replace('\\"', '"'))
    if found is None:
        return CardError(f"{trouble.message} {trouble.diagnostic}")
    return TooTallError(tuple(Tall(**entry) for entry in json.loads(found.group(1))))
