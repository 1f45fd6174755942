"""Whether the items of a picture may be numbered anew, clockwise, and how."""

from __future__ import annotations

from kilter.compute.pictureplan import Size, plan_of
from kilter.model.document import Document
from kilter.model.library import Library
from kilter.model.text import Figure
from kilter.picture.callouts.model import Anchor
from kilter.picture.callouts.order import clockwise

FEWEST = 2


def renumbered(library: Library, document: Document, picture: Figure, size: Size) -> dict[int, int]:
    """The new number of each old one; empty where nothing changes or the numbers are used already."""
    numbers = [item.number for item in picture.items]
    if len(numbers) < FEWEST or len(set(numbers)) < len(numbers) or not _alone(document, picture):
        return {}
    if used(library, picture):
        return {}
    plan = plan_of(picture)
    seen = plan.seen(size)
    anchors = [Anchor(i.number, *plan.place(i.x, i.y, size)) for i in picture.items]
    if any(not (0 <= a.x < seen.width and 0 <= a.y < seen.height) for a in anchors):
        return {}
    found = clockwise(anchors, seen.width, seen.height)
    return {} if all(old == new for old, new in found.items()) else found


def _alone(document: Document, picture: Figure) -> bool:
    """A pair shares its numbers: one picture of it can't be numbered by itself."""
    return any(figure is picture and figure.after is None for figure in document.figures)


def used(library: Library, picture: Figure) -> bool:
    """Whether any text of the library names an item of this figure."""
    if picture.id is None:
        return False
    return any(
        picture.id in name.text.split()
        for document in library.documents.values()
        for role in document.all_roles
        if role.name == "item"
        for name in role.names
    )
