"""A module with all that came of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from kilter.check.module import ModuleContext
from kilter.model.training import Module
from kilter.publish.training.questions.model import Paper
from kilter.publish.view import DocumentView


@dataclass(frozen=True)
class Taught:
    """A module with what came of it."""

    module: Module
    context: ModuleContext
    views: Mapping[str, DocumentView]
    """Covered documents by folded number, in the order in which they are first covered."""
    papers: tuple[Paper, ...] = ()
    allowed: Mapping[str, int] = field(default_factory=dict)
    """How many facts can be asked about, by kind of question."""
    files: Mapping[str, bytes] = field(default_factory=dict)
    """By file name."""
    labels: Mapping[str, str] = field(default_factory=dict)
    """What a file is called, by its name."""
    open: frozenset[str] = frozenset()
    """Names of files that trainees may have beforehand; the others hold answers and stay off the site."""

    quiz: Mapping[str, Any] = field(default_factory=dict)
    """What the page to practise on asks; empty where the facts allow no question."""
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    """Of that page, by name."""

    @property
    def folder(self) -> str:
        return self.module.front.number.lower()


def training_address(number: str) -> str:
    """The educator's page of a module."""
    return f"training-{number.lower()}.html"
