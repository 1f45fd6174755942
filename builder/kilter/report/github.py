"""Findings as workflow commands of GitHub Actions: each shows as a note beside its line."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.diagnostic import Diagnostic, Severity
from kilter.source import Span

COMMANDS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.HINT: "notice"}


def render(findings: Iterable[Diagnostic]) -> str:
    """One line each; same findings, same bytes."""
    return "".join(_one(found) + "\n" for found in findings)


def _one(found: Diagnostic) -> str:
    title = f"{found.code} {found.rule}".strip()
    given = {"file": found.span.path, **_place(found.span), "title": title}
    properties = ",".join(f"{key}={_property(str(value))}" for key, value in given.items())
    text = "\n".join(part for part in (found.message, found.why, found.help) if part)
    return f"::{COMMANDS[found.severity]} {properties}::{data(text)}"


def _place(span: Span) -> dict[str, int]:
    """Columns are taken only where the place begins and ends in one line."""
    if span.line != span.end_line:
        return {"line": span.line, "endLine": span.end_line}
    return {"line": span.line, "col": span.column, "endLine": span.end_line, "endColumn": span.end_column}


def data(text: str) -> str:
    """What stands after the second `::`."""
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return data(text).replace(":", "%3A").replace(",", "%2C")
