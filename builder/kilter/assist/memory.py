"""The last sound reading of each document, for the moments in which it can't be read.

While a front matter is being typed there is no document, and without a profile no name could be offered.
"""

from __future__ import annotations

import re
from weakref import WeakKeyDictionary

from kilter.check.workspace import Workspace
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.source import Source

_last: WeakKeyDictionary[Workspace, dict[str, Document]] = WeakKeyDictionary()
_EQUIPMENT = re.compile(r"^equipment:[ \t]*[\"']?([^\s\"'#]+)", re.MULTILINE)


def remember(workspace: Workspace) -> dict[str, Document]:
    """Keep what can be read now; returns the last sound reading of every file still in the library."""
    kept = _last.setdefault(workspace, {})
    kept.update(workspace.library.documents)
    for gone in kept.keys() - workspace.library.readings.keys():
        del kept[gone]
    return kept


def last_document(workspace: Workspace, path: str) -> Document | None:
    """The document as it is, else as it last was."""
    return workspace.library.documents.get(path) or remember(workspace).get(path)


def last_profile(workspace: Workspace, path: str) -> Document | None:
    """The profile that a file stands on, as it is or as it last was; of a profile itself."""
    before = remember(workspace)
    document = workspace.library.documents.get(path)
    if document is not None and document.is_profile:
        return document
    id = equipment_in(workspace.library.sources.get(path), document or before.get(path))
    found = workspace.library.profiles.get(fold(id))
    if found is not None:
        return found
    profiles = (d for d in before.values() if isinstance(d.front, ProfileFront))
    if document is None and path in before and before[path].is_profile:
        return before[path]
    return next((d for d in profiles if fold(d.profile.id) == fold(id)), None)


def equipment_in(source: Source | None, document: Document | None) -> str:
    """The profile's id as the text gives it, also where the text can't be read as a whole."""
    if source is not None and (match := _EQUIPMENT.search(source.text)) is not None:
        return match.group(1)
    front = document.front if document is not None else None
    return "" if front is None else front.id if isinstance(front, ProfileFront) else front.equipment
