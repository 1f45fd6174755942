"""What the document of a record asked for: from the library as it stands, or kept from when it was published."""

from __future__ import annotations

import json
from functools import cached_property
from pathlib import Path
from typing import Any

from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.library import Library
from kilter.records.store import RecordStore

Plan = dict[str, Any]
_BEGINS = '<script type="application/json" id="plan">'
_ENDS = "</script>"


class Plans:
    """Plans by content hash."""

    def __init__(self, folder: Path, store: RecordStore) -> None:
        self.folder, self.store = folder, store
        self._made: dict[str, Plan | None] = {}

    @cached_property
    def library(self) -> Library:
        """Raises CouldNotRunError where there is none."""
        from kilter.read.library import library_root, read_library

        return read_library(library_root(self.folder))

    def knows(self, number: str) -> bool:
        """Whether the library has a document of this number, sound or not."""
        return fold(number) in self.library.numbers

    def today(self, number: str) -> Plan | None:
        """The plan of a document as it stands; None if it is not there or not sound."""
        key = fold(number)
        if key not in self._made:
            document = self.library.numbers.get(key)
            self._made[key] = self._plan(document) if document else None
        return self._made[key]

    def _plan(self, document: Document) -> Plan | None:
        from kilter.check.run import check_library
        from kilter.publish.prepare import held_back, made_view
        from kilter.publish.run.plan import plan_of

        profile = self.library.profile_of(document)
        if profile is None or document.is_profile:
            return None
        report = check_library(self.library, {document.path, profile.path}, tell=True)
        if held_back(self.library, document.path, report.errors):
            return None
        view = made_view(self.library, document, report.told[document.path])
        return plan_of(view)

    def of(self, number: str, hash: str) -> Plan | None:
        """The plan of exactly this state of a document; None where nothing is known of it."""
        kept = self.store.plan(hash)
        if kept is not None:
            return kept if fold(str(kept.get("document"))) == fold(number) else None
        now = self.today(number)
        return now if now is not None and now["hash"] == hash else None


def plan_in(page: str) -> Plan | None:
    """The plan that a built page holds."""
    start = page.find(_BEGINS)
    if start < 0:
        return None
    start += len(_BEGINS)
    try:
        plan = json.loads(page[start : page.index(_ENDS, start)])
    except ValueError:
        return None
    return plan if isinstance(plan, dict) else None


def keep_built(out: Path, store: RecordStore) -> int:
    """Keep the plans of all that a build has published; how many were new."""
    built = json.loads((out / "built.json").read_text(encoding="utf-8"))
    new = 0
    for document in built["documents"].values():
        if store.plan(document["hash"]) is not None:
            continue
        plan = plan_in((out / document["page"]).read_text(encoding="utf-8"))
        if plan is not None and plan.get("hash") == document["hash"]:
            new += store.keep_plan(plan)
    return new
