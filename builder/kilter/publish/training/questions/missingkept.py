"""What the check said of copies that lack a control, kept between runs: it is asked many times for one question.

An entry holds for one content of document and profile, one set of the library's words, and one state of the check's
own code: whatever could change an answer changes the name of the entry.
"""

from __future__ import annotations

import hashlib
import json
from functools import lru_cache
from pathlib import Path
from typing import Any

import kilter
from kilter.compute.contenthash import content_hash
from kilter.compute.keep import Keep, keep_for
from kilter.publish.training.questions.draw import digest
from kilter.publish.training.questions.subject import Subject

Verdict = dict[str, Any] | None
"""`message`, `listed`, and `wrong` as pairs of effect and text; None where no question can be made."""
_CODE = ("check", "compute", "model", "read", "publish/training/questions")


class Verdicts:
    """Verdicts by the id of what is lacking."""

    def __init__(self, subject: Subject) -> None:
        library = subject.context.library
        self._keep: Keep | None = keep_for(library.file_of(subject.document.path).parent)
        content = content_hash(subject.document, subject.profile, {})
        words = json.dumps(sorted(library.settings.hold_words))
        self._name = f"missing-{digest(content, words, _code())[:48]}"
        raw = self._keep.get(self._name) if self._keep is not None else None
        self._known: dict[str, Verdict] = json.loads(raw) if raw is not None else {}
        self._new = False

    def __contains__(self, id: str) -> bool:
        return id in self._known

    def get(self, id: str) -> Verdict:
        return self._known[id]

    def put(self, id: str, verdict: Verdict) -> None:
        self._known[id] = verdict
        self._new = True

    def save(self) -> None:
        if self._keep is not None and self._new:
            self._keep.put(self._name, json.dumps(self._known, ensure_ascii=False, sort_keys=True).encode())


@lru_cache(maxsize=1)
def _code() -> str:
    """The state of all code that takes part in a verdict."""
    root = Path(kilter.__file__).parent
    found = hashlib.sha256()
    for folder in _CODE:
        for file in sorted((root / folder).rglob("*.py")):
            found.update(file.relative_to(root).as_posix().encode() + b"\0" + file.read_bytes() + b"\0")
    return found.hexdigest()
