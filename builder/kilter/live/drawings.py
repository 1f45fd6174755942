"""Pictures of live pages: encoded when a page shows them, found again by their name."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from mkdocs.exceptions import PluginError

from kilter.compute.pictureplan import Plan, plan_of
from kilter.live.facts import Facts
from kilter.model.text import Figure
from kilter.picture.encode import Published, variants
from kilter.publish.site.markup import Html, el, text
from kilter.publish.site.pictures import WANTED, Pictures
from kilter.publish.site.scope import Scope
from kilter.publish.view import picture_path


class LivePictures(Pictures):
    """The same pictures as a build makes. Only names are kept; the encoder remembers the latest bytes."""

    def __init__(self, base: Path, facts: Facts) -> None:
        super().__init__(base)
        self.facts = facts
        self._origin: dict[str, tuple[Path, Plan]] = {}

    def encode(self, figure: Figure, scope: Scope) -> list[Published]:
        file = self.base / picture_path(scope.owner, figure)
        self.facts.ask("picture", str(file))
        made = super().encode(figure, scope)
        self.files.clear()
        self._origin |= {p.name: (file, plan_of(figure)) for p in made}
        return made

    def data(self, name: str) -> bytes | None:
        """The bytes of a published picture; None if no page has shown it or the original is another by now."""
        origin = self._origin.get(name)
        if origin is None:
            return None
        try:
            made = variants(origin[0], WANTED, origin[1])
            return next((p.data for p in made if p.name == name), None)
        except (OSError, ValueError):
            return None


class PatientPictures(LivePictures):
    """For previews: a picture that can't be shown leaves a note in its place."""

    def __init__(self, other: LivePictures) -> None:
        super().__init__(other.base, other.facts)
        self._origin = other._origin

    def drawer(self, numbers: dict[str, int]) -> Callable[[Figure, Scope], Html]:  # type: ignore[override]
        draw = super().drawer(numbers)

        def patient(figure: Figure, scope: Scope) -> Html:
            try:
                return draw(figure, scope)
            except PluginError:
                words = f"The picture {figure.path} can't be shown."
                return el("figure", el("p", text(words), cls="no-picture"))

        return patient
