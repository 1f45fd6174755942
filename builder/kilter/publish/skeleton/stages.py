"""A profile's shared stages that a new procedure may ask for, and which last steps it needs."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from kilter.model.base import fold
from kilter.model.document import Document
from kilter.publish.skeleton.words import Stop

TAG, AGAIN, HAND_BACK = "stop-and-tag", "lock-it-out-again", "hand-it-back"

PARTS = ("isolates", "restores", "tests")
"""The parts of a procedure that a profile may have a shared stage for, each by the mark that does it."""


class Stages:
    """The shared stages of a profile, and the names that each acts on."""

    def __init__(self, document: Document, parts: Collection[str]) -> None:
        self.all, self.parts = document.shared_stages, parts

    def with_all(self, mark: str, names: Iterable[str]) -> str:
        """The first stage that has the mark for all of the names; empty if there is none."""
        wanted = {fold(n) for n in names} if mark in self.parts else set()
        fit = (slug for slug in self.all if wanted and wanted <= self.names(slug, mark))
        return next(fit, "")

    def names(self, slug: str, mark: str) -> frozenset[str]:
        """The folded names that a stage has the mark for."""
        return frozenset(self._of(slug, mark)) if slug else frozenset()

    def _of(self, slug: str, mark: str) -> Iterable[str]:
        for step in self.all[slug].steps:
            for role in step.roles:
                if role.name == mark:
                    yield from (name.key for name in role.names)


def done_by(title: str, stage: str, id: str = "") -> Stop:
    """A step that asks for a shared stage of the profile."""
    return Stop(title, "", (f":do: {stage}",), id=id)


def reached(stages: list[tuple[str, list[Stop]]]) -> list[tuple[str, list[Stop]]]:
    """The same without the last steps that nothing leads to: a shared stage may have ends of its own."""
    targets = {target for _, steps in stages for step in steps for _, target, _ in step.answers}
    gone = {AGAIN} - targets | ({TAG} if not targets & {AGAIN, TAG} else set())
    return [(name, [s for s in steps if s.slug not in gone]) for name, steps in stages]
