"""A name for a finding that stays the same while the document around it is edited.

SHA-256 over: the rule, the document's number or id (so a renamed file keeps its findings), the step or
stage the place stands in, the words of its first line with blanks joined, the names that the message
quotes, and how many alike came before it in the same file. Lines and columns are left out.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections import Counter

from kilter.diagnostic import Diagnostic
from kilter.model.base import slugify
from kilter.report.checked import Checked
from kilter.source import Source

KIND = "kilterFinding/v1"
"""Counted up when the recipe changes."""

_HEADING = re.compile(r"(#{1,3})[ \t]+(\S.*)")
_QUOTED = re.compile(r"`([^`]*)`")


def fingerprints(checked: Checked) -> list[str]:
    """One for each finding, in their order: 64 hex digits."""
    seen: Counter[tuple[str, str]] = Counter()
    made = []
    for found in checked.findings:
        recipe = _recipe(found, checked)
        alike = (found.span.path, recipe)
        seen[alike] += 1
        made.append(hashlib.sha256(f"{recipe}\n{seen[alike]}".encode("utf-8", "surrogatepass")).hexdigest())
    return made


def _recipe(found: Diagnostic, checked: Checked) -> str:
    path = found.span.path
    source = checked.sources.get(path)
    parts = (
        found.rule,
        checked.names.get(path, f"file {path}"),
        _anchor(source, found.span.line) if source else "",
        _joined(source.row(found.span.line - 1)) if source else "",
        *_QUOTED.findall(found.message),
    )
    return "\n".join(parts)


def _anchor(source: Source, line: int) -> str:
    """The step that a line stands in, else the stage, else nothing: nearest heading at or above it."""
    for row in range(min(line, len(source.lines)) - 1, -1, -1):
        heading = _HEADING.match(source.lines[row])
        if heading:
            return f"{len(heading[1])} {slugify(heading[2])}"
    return ""


def _joined(text: str) -> str:
    return " ".join(unicodedata.normalize("NFC", text).split())
