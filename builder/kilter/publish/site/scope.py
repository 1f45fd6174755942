"""Where a reference leads: steps, figures, other documents, the web."""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass, field, replace

from kilter.model.base import fold
from kilter.model.document import Document, Stage, Step
from kilter.model.text import Figure, Role
from kilter.publish.site.markup import NOTHING, Html
from kilter.publish.worked import Answerer, unanswered

WITHHELD = "withheld.html"

Place = tuple[str, str]
"""Path of the document and the name in it."""


@dataclass(frozen=True)
class Directory:
    """The documents of the site, for links from one to another."""

    published: Mapping[str, tuple[str, str]]
    """Folded number to address and title."""
    withheld: Container[str] = frozenset()
    """Folded numbers that exist and are not published."""
    answer: Answerer = unanswered
    """Works out a calculation."""


def no_remark(part: Stage | Step) -> Html:
    """A published page has none."""
    return NOTHING


@dataclass(frozen=True)
class Scope:
    """What the running text of one page may refer to."""

    directory: Directory
    owner: Document
    """The file that the words stand in."""
    draw: Callable[[Figure, Scope], Html]
    """Shows a figure; the page's collector of pictures."""
    steps: Mapping[Place, tuple[str, str]] = field(default_factory=dict)
    """Step or shared stage to anchor and number."""
    figures: Mapping[Place, int] = field(default_factory=dict)
    """Figure id to its number on this page."""
    profile: Document | None = None
    remark: Callable[[Stage | Step], Html] = no_remark
    """What a preview says under a heading."""

    def of(self, owner: Document) -> Scope:
        """The same page, words from another file."""
        if owner is self.owner:
            return self
        return replace(self, owner=owner)

    def href(self, target: str) -> str | None:
        """The address of a link's target, None where it leads nowhere on this site."""
        if target.startswith("#"):
            found = self.steps.get((self.owner.path, target[1:]))
            return f"#{found[0]}" if found else None
        if target.lower().startswith(("http://", "https://")):
            return target
        known = self.directory.published.get(fold(target))
        if known:
            return known[0]
        return WITHHELD if fold(target) in self.directory.withheld else None

    def figure(self, id: str) -> int | None:
        """The number of a figure of this file or, failing that, of the machine's."""
        number = self.figures.get((self.owner.path, fold(id)))
        if number is None and self.profile is not None:
            number = self.figures.get((self.profile.path, fold(id)))
        return number


def item_references(role: Role) -> list[tuple[str, list[str]]]:
    """`fig-path 3, 4, fig-base 1` as figure ids with their items."""
    found: list[tuple[str, list[str]]] = []
    for name in role.names:
        *figure, number = name.text.split()
        if figure:
            found.append((" ".join(figure), [number]))
        elif found:
            found[-1][1].append(number)
    return found
