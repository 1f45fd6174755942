"""How stages and steps of a document are numbered: `2.3` its own, `A.2` those that it borrows from the machine."""

from __future__ import annotations

from kilter.model.document import Document, Stage

LETTERS = "ABCDEFGHJKLMNPRTUVWY"
"""Of borrowed stages; none that is read as a digit or heard as another."""


class Numbers:
    """Numbers of one document with its profile; the same on page, card, sheet and record."""

    def __init__(self, document: Document, profile: Document) -> None:
        self.borrowed = _borrowed(document, profile)
        """Shared stages of the profile that are called from here, directly or through one another, by letter."""
        self.stages: dict[str, str] = {}
        """Slug of each shared stage to its number."""
        self.steps: dict[tuple[str, str], str] = {}
        """Path of the file and slug of the step to its number."""
        self.anchors: dict[tuple[str, str], str] = {}
        """The same to its place on the page."""
        self._number(document, [(str(n), s) for n, s in enumerate(document.stages, 1)], "")
        self._number(profile, self.borrowed, ".")

    def _number(self, owner: Document, stages: list[tuple[str, Stage]], dot: str) -> None:
        for number, stage in stages:
            if stage.shared:
                self.stages.setdefault(stage.slug, number)
            for m, step in enumerate(stage.steps, 1):
                key = (owner.path, step.slug)
                self.steps[key] = f"{number}.{m}"
                self.anchors[key] = f"{number.lower()}{dot}{step.slug}" if dot else step.slug


def _borrowed(document: Document, profile: Document) -> list[tuple[str, Stage]]:
    wanted: list[Stage] = []
    queue = [s.field("do") for _, s in document.all_steps()]
    while queue:
        call = queue.pop(0)
        name = call.value.removeprefix("#") if call else ""
        stage = None if name in document.shared_stages else profile.shared_stages.get(name)
        if stage is None or any(stage is w for w in wanted):
            continue
        wanted.append(stage)
        queue += [s.field("do") for s in stage.steps]
    return [(LETTERS[n % len(LETTERS)], stage) for n, stage in enumerate(wanted)]
