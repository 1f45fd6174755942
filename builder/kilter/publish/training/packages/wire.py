"""Names that travel: identifiers that every platform takes, and a digest of what is asked."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable
from typing import Any

from kilter.publish.training.questions.model import Paper, Question

LONGEST = 200
"""SCORM 1.2 and QTI allow 255 characters; a platform may put something before it."""
DIGEST = 8
"""Hex digits: enough to tell one set of papers of a revision from another."""
_OTHER = re.compile(r"[^A-Za-z0-9.-]")


def wire_id(text: str) -> str:
    """An identifier of ASCII letters, digits, point and hyphen that begins with a letter; two texts never share one.

    What can't travel becomes `_` and its code point in hex; a very long one ends in a digest of the whole.
    """
    safe = _OTHER.sub(lambda m: f"_{ord(m.group()):x}_", text)
    safe = safe if safe[:1].isalpha() else f"x_{safe}"
    if len(safe) <= LONGEST:
        return safe
    return f"{safe[: LONGEST - 17]}-{hashlib.sha256(text.encode()).hexdigest()[:16]}"


def canonical(data: Any) -> str:
    """JSON, the same bytes for the same content."""
    return json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def papers_digest(papers: Iterable[Paper]) -> str:
    """Of what the papers ask, in their order: answers belong to exactly these."""
    asked = [[p.code, [_asked(q) for q in p.questions]] for p in papers]
    return hashlib.sha256(canonical(asked).encode()).hexdigest()[:DIGEST]


def _asked(question: Question) -> list[Any]:
    return [question.id, question.stem, [c.text for c in question.choices], question.key, question.safety]
