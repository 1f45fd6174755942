"""Numbering the items of a picture clockwise: what the page offers, and the text with it done."""

from __future__ import annotations

from typing import TypedDict

from kilter.compute.pictureinfo import picture_info
from kilter.compute.pictureplan import Size
from kilter.live.placing.rows import RowsError, picture_of
from kilter.live.writing.aside import Aside
from kilter.mend.apply import apply
from kilter.model.text import Figure
from kilter.picture.renumber import renumbering

NOTHING = "The numbers can't be put in order: they are already, or two of them are one."


class Clockwise(TypedDict):
    """What is offered."""

    offered: bool
    refused: str
    """Why it can't be done, where the numbers are not in order."""
    references: int
    """Places in the text that would follow."""


def clockwise_state(look: Aside, picture: Figure, size: Size) -> Clockwise:
    """Whether the items may be numbered clockwise."""
    found = renumbering(look.workspace.library, look.workspace.library.documents[look.path], picture, size)
    return {"offered": found.fix is not None, "refused": found.refused, "references": found.references}


def numbered(look: Aside, text: str, number: int) -> tuple[str, str]:
    """The text with the items of a picture numbered clockwise, and why it can't be done."""
    library = look.workspace.library
    document = library.documents.get(look.path)
    try:
        picture = picture_of(document, number) if document else None
    except RowsError as trouble:
        return "", str(trouble)
    if document is None or picture is None:
        return "", NOTHING
    info = picture_info(library.file_of(document.path).parent / picture.path)
    size = Size(info.width, info.height)
    found = renumbering(library, document, picture, size)
    if found.fix is None:
        return "", found.refused or NOTHING
    return apply({look.path: text}, [found.fix]).texts[look.path], ""
