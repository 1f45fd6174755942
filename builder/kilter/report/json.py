"""Findings as JSON, with the ways in and the related places; the schema stands in `schema/`."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from kilter.diagnostic import Diagnostic, Fix
from kilter.report.checked import Debt
from kilter.source import Span

VERSION = "1"


def place(span: Span) -> dict[str, Any]:
    """1-based lines and columns; the end is the place just after."""
    return {
        "path": span.path,
        "line": span.line,
        "column": span.column,
        "endLine": span.end_line,
        "endColumn": span.end_column,
    }


def as_data(found: Diagnostic) -> dict[str, Any]:
    """One finding."""
    return {
        "rule": found.rule,
        "code": found.code,
        "severity": str(found.severity),
        "message": found.message,
        "place": place(found.span),
        "help": found.help,
        "why": found.why,
        "related": [{"place": place(label.span), "text": label.text} for label in found.related],
        "way": [
            {
                "step": h.step,
                "answer": h.answer,
                "skipped": h.skipped,
                "place": place(h.span) if h.span else None,
            }
            for h in found.way
        ],
        "fixes": [_fix(fix) for fix in found.fixes],
    }


def _fix(fix: Fix) -> dict[str, Any]:
    """Edits are made together; an empty place is an insertion."""
    return {
        "title": fix.title,
        "alone": fix.alone,
        "leavesBlank": fix.leaves_blank,
        "edits": [{"place": place(edit.span), "text": edit.text} for edit in fix.edits],
    }


def render(findings: Iterable[Diagnostic], files: int, debt: Debt | None = None) -> str:
    """The whole report; same findings, same bytes."""
    data = {
        "version": VERSION,
        "files": files,
        "findings": [as_data(f) for f in findings],
        "baseline": _debt(debt) if debt else None,
    }
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def _debt(debt: Debt) -> dict[str, Any]:
    """How many old findings are left out, and which entries have nothing to leave out any more."""
    gone = [{"rule": g.rule, "path": g.path, "line": g.line} for g in debt.gone]
    return {"file": debt.file, "putOff": debt.put_off, "gone": gone}
