"""Findings, fixes, candidates and offers as the editor page takes them."""

from __future__ import annotations

from typing import Any

from kilter.assist.values import Offer
from kilter.diagnostic import Diagnostic, Fix
from kilter.live.writing.candidates import Candidate
from kilter.source import Span


def place(span: Span) -> dict[str, int]:
    """Lines and columns from 1, columns in characters."""
    return {
        "line": span.line,
        "column": span.column,
        "endLine": span.end_line,
        "endColumn": span.end_column,
    }


def finding(found: Diagnostic) -> dict[str, Any]:
    own = found.span.path
    return {
        "severity": str(found.severity),
        "code": found.code,
        "message": found.message,
        "help": found.help,
        "why": found.why,
        "place": place(found.span),
        "way": [{"step": hop.step, "answer": hop.answer} for hop in found.way],
        "related": [
            {"text": label.text, "place": place(label.span)}
            for label in found.related
            if label.span.path == own
        ],
        "fixes": [fix(f) for f in found.fixes if all(e.span.path == own for e in f.edits)],
    }


def fix(given: Fix) -> dict[str, Any]:
    return {
        "title": given.title,
        "blank": given.leaves_blank,
        "edits": [{**place(edit.span), "text": edit.text} for edit in given.edits],
    }


def candidate(given: Candidate) -> dict[str, Any]:
    return {"message": given.message, "place": place(given.span), "fix": fix(given.fix)}


def offer(given: Offer) -> dict[str, Any]:
    return {
        "label": given.label,
        "insert": given.insert,
        "detail": given.detail,
        "place": place(given.replace),
    }
