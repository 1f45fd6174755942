"""From the engine's answers to the protocol's."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from lsprotocol import types

from kilter.assist import Offer, Part
from kilter.diagnostic import Diagnostic, Edit, Fix, Hop, Severity
from kilter.source import Span

Ranged = Callable[[Span], types.Range]
"""A span as the editor counts it."""
Located = Callable[[Span], types.Location]

SEVERITIES = {
    Severity.ERROR: types.DiagnosticSeverity.Error,
    Severity.WARNING: types.DiagnosticSeverity.Warning,
    Severity.HINT: types.DiagnosticSeverity.Information,
}
"""A hint of ours is worth a line in the list of problems, which an editor's hint is not."""
_K = types.CompletionItemKind
KINDS = {
    "source": _K.Event, "guard": _K.Interface, "test": _K.Method, "zone": _K.Module, "switch": _K.Property,
    "tool": _K.Value, "part": _K.Value, "item": _K.Reference, "step": _K.Function, "stage": _K.Function,
    "document": _K.File, "field": _K.Field, "mark": _K.Keyword, "directive": _K.Keyword, "key": _K.Property,
    "word": _K.EnumMember, "unit": _K.Unit, "block": _K.Snippet, "file": _K.File,
}  # fmt: skip


def diagnostic(found: Diagnostic, ranged: Ranged, located: Located, related: bool) -> types.Diagnostic:
    """One finding; `related`: whether the editor shows further places."""
    message = found.message + "".join(f"\n{more}" for more in (found.help, found.why) if more)
    places = _related(found, located) if related else []
    if not related and found.way:
        message += "\nthe way in: " + ", then ".join(map(_hop, found.way))
    return types.Diagnostic(
        range=ranged(found.span),
        message=message,
        severity=SEVERITIES[found.severity],
        code=f"{found.code} {found.rule}".strip(),
        source="kilter",
        related_information=places or None,
    )


def _related(found: Diagnostic, located: Located) -> list[types.DiagnosticRelatedInformation]:
    places = [(label.span, label.text) for label in found.related]
    for n, hop in enumerate(found.way, 1):
        if hop.span is not None:
            places.append((hop.span, f"the way in, {n}: {_hop(hop)}"))
    return [types.DiagnosticRelatedInformation(located(span), text) for span, text in places]


def _hop(hop: Hop) -> str:
    return f"{hop.step} ({hop.answer})" if hop.answer else hop.step


def completion(offer: Offer, n: int, typed: str, ranged: Ranged) -> types.CompletionItem:
    """One offer; the order is ours, the narrowing the editor's."""
    many = "\n" in offer.insert
    return types.CompletionItem(
        label=offer.label,
        kind=KINDS[offer.kind],
        detail=offer.detail or None,
        documentation=_markdown(f"```\n{offer.insert}\n```" if many else offer.documentation),
        sort_text=f"{n:04}",
        # a block is offered behind `:::`, and its name does not begin so
        filter_text=typed
        if many and typed.startswith(":")
        else offer.insert
        if typed[:1] in ("{", ":")
        else None,
        insert_text_format=types.InsertTextFormat.PlainText,
        text_edit=types.TextEdit(ranged(offer.replace), offer.insert),
    )


def _markdown(text: str) -> types.MarkupContent | None:
    return types.MarkupContent(types.MarkupKind.Markdown, text) if text else None


def symbols(parts: Iterable[Part], ranged: Ranged) -> list[types.DocumentSymbol]:
    """The outline; names are never empty, which editors refuse."""
    return [
        types.DocumentSymbol(
            name=part.title or "(no title)",
            detail=part.detail or None,
            kind=types.SymbolKind.Namespace if part.kind == "stage" else types.SymbolKind.Function,
            range=ranged(part.span),
            selection_range=ranged(part.name_span),
            children=symbols(part.parts, ranged) or None,
        )
        for part in parts
    ]


Edited = Callable[[str, list[types.TextEdit]], types.TextDocumentEdit]
"""The edits of one file, by its path as shown."""


def text_edits(edits: Iterable[Edit], ranged: Ranged) -> dict[str, list[types.TextEdit]]:
    """Edits by path."""
    found: dict[str, list[types.TextEdit]] = {}
    for edit in edits:
        found.setdefault(edit.span.path, []).append(types.TextEdit(ranged(edit.span), edit.text))
    return found


def action(fix: Fix, about: types.Diagnostic, edit: types.WorkspaceEdit) -> types.CodeAction:
    """One way to mend a finding."""
    title = f"{fix.title} (leaves a blank to fill in)" if fix.leaves_blank else fix.title
    return types.CodeAction(
        title=title,
        kind=types.CodeActionKind.QuickFix,
        diagnostics=[about],
        is_preferred=fix.alone or None,
        edit=edit,
    )


def rewrite(fix: Fix, edit: types.WorkspaceEdit) -> types.CodeAction:
    """The same said otherwise, where nothing has to be mended."""
    return types.CodeAction(title=fix.title, kind=types.CodeActionKind.RefactorRewrite, edit=edit)
