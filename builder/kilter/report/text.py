"""Findings as a person reads them in a terminal: place and message first, then the line with a caret, why, and the cure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from textwrap import fill

from kilter.diagnostic import Diagnostic, Fix, Hop, Severity
from kilter.report.checked import Debt
from kilter.source import Source, Span

_COLOURS = {Severity.ERROR: "1;31", Severity.WARNING: "1;33", Severity.HINT: "1;36"}
WIDTH = 100


class TextReport:
    """Writes findings with excerpts of the sources they are about."""

    def __init__(self, sources: Mapping[str, Source], colour: bool) -> None:
        self.sources, self.colour = sources, colour

    def render(self, findings: Iterable[Diagnostic]) -> str:
        return "\n".join(self.one(found) for found in findings)

    def one(self, found: Diagnostic) -> str:
        """One finding; its first line can be matched by an editor."""
        name = f"{found.code} {found.rule}".strip()
        word = self._paint(str(found.severity), _COLOURS[found.severity])
        lines = [f"{found.span}: {word}: {self._paint(found.message, '1')} [{name}]"]
        lines += self._excerpt(found.span)
        if found.way:
            lines.append("  way in: " + " -> ".join(map(_hop, found.way)))
        for label in found.related:
            lines.append(f"  {label.span}: {label.text}")
            lines += self._excerpt(label.span)
        if found.why:
            lines.append(self._wrapped("why: ", found.why))
        if found.help:
            lines.append(self._wrapped("help: ", found.help))
        lines += [self._wrapped("fix: ", _offer(fix)) for fix in found.fixes]
        return "\n".join(lines) + "\n"

    def _excerpt(self, span: Span) -> list[str]:
        source = self.sources.get(span.path)
        if source is None or not source.text:
            return []
        row = source.row(span.line - 1)
        shown, shift = _window(row.replace("\t", " "), span.column - 1)
        if not shown.strip():
            return []
        gutter = f"{span.line:>5} | "
        length = span.end_column - span.column if span.end_line == span.line else len(row) - span.column + 1
        length = max(1, min(length, len(shown) - (span.column - 1 - shift)))
        caret = " " * (len(gutter) + span.column - 1 - shift) + self._paint("^" * length, "1;34")
        return [f"{gutter}{shown}", caret]

    def _wrapped(self, label: str, text: str) -> str:
        pad = "  "
        return fill(
            label + text,
            WIDTH,
            initial_indent=pad,
            subsequent_indent=pad + " " * len(label),
            break_on_hyphens=False,
        )

    def _paint(self, text: str, code: str) -> str:
        return f"\x1b[{code}m{text}\x1b[0m" if self.colour else text


def _window(row: str, column: int) -> tuple[str, int]:
    """A part of a long row around a column, and how far it was shifted."""
    if len(row) <= WIDTH:
        return row, 0
    start = max(0, min(column - WIDTH // 3, len(row) - WIDTH))
    return row[start : start + WIDTH], start


def _hop(hop: Hop) -> str:
    """A stop, after a sign for the steps that are left out before it."""
    gone = f"... {hop.skipped} step{'' if hop.skipped == 1 else 's'} ... -> " if hop.skipped else ""
    return f"{gone}{hop.step} -> *{hop.answer}*" if hop.answer else gone + hop.step


def _offer(fix: Fix) -> str:
    """What a fix does, and where it can be had."""
    where = "`kilter check --fix` does it" if fix.alone else "for you to choose"
    return f"{fix.title} ({where}{', leaves a blank to fill in' if fix.leaves_blank else ''})"


def summary(findings: Iterable[Diagnostic], files: int) -> str:
    """The last line: how many of what."""
    counts = dict.fromkeys((Severity.ERROR, Severity.WARNING, Severity.HINT), 0)
    for found in findings:
        counts[found.severity] += 1
    checked = f"{files} file{'' if files == 1 else 's'} checked"
    if not any(counts.values()):
        return f"{checked}: nothing to mend"
    parts = [f"{n} {word}{'' if n == 1 else 's'}" for word, n in counts.items() if n]
    return f"{checked}: " + ", ".join(parts)


def debt_lines(debt: Debt | None) -> list[str]:
    """What a baseline puts off, and which of its entries can go."""
    if debt is None:
        return []
    lines = [
        f"{debt.file}:{g.line}: hint: `{g.rule}` in {g.path} no longer occurs; delete this entry"
        for g in debt.gone
    ]
    if debt.put_off:
        lines.append(f"{debt.put_off} old finding{'' if debt.put_off == 1 else 's'} put off by {debt.file}")
    return lines
