"""The bytes that a document's hash leans on besides its own text."""

from __future__ import annotations

import hashlib

from kilter.compute.contenthash import LIMITS
from kilter.compute.pictureinfo import picture_info
from kilter.model.document import Document
from kilter.model.library import Library


def picture_hashes(library: Library, *documents: Document) -> dict[str, str]:
    """SHA-256 of each picture's bytes, and of the library's own limits, under the keys that the content hash asks for."""
    found: dict[str, str] = {}
    for document in documents:
        for figure in document.pictures:
            digest = picture_info(library.file_of(document.path).parent / figure.path).sha256
            if digest:
                found[f"{document.path}:{figure.path}"] = digest
    if library.settings.limits:
        found[LIMITS] = hashlib.sha256(library.settings.limits.encode()).hexdigest()
    return found
