"""Findings as HTML: what, where, how to mend it, and a way to the place."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from urllib.parse import quote

from kilter.check.rule import rule_named
from kilter.diagnostic import Diagnostic, Severity
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, text
from kilter.source import Source

NameOf = Callable[[str], str]
"""From a path as shown to the path below the library's folder; empty for files outside it."""
AROUND = 120
"""Characters of a line that are shown on either side of the place."""
WORDS = {Severity.ERROR: "Error", Severity.WARNING: "Warning", Severity.HINT: "Hint"}


def counted(findings: Iterable[Diagnostic]) -> dict[Severity, int]:
    """How many of each, the gravest first."""
    found = list(findings)
    return {s: sum(d.severity is s for d in found) for s in sorted(Severity, reverse=True)}


def count_words(findings: Iterable[Diagnostic]) -> str:
    """`1 error, 2 warnings`; hints only where there are some."""
    counts = counted(findings)
    said = [(counts[Severity.ERROR], "error"), (counts[Severity.WARNING], "warning")]
    said += [(counts[Severity.HINT], "hint")] if counts[Severity.HINT] else []
    return ", ".join(many(n, word) for n, word in said)


def many(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def findings_html(
    findings: Sequence[Diagnostic], name_of: NameOf, sources: dict[str, Source] | None = None
) -> Html:
    """One item a finding; with `sources` also the line it is about."""
    return el("ul", *(_item(d, name_of, sources or {}) for d in findings), cls="findings")


def _item(found: Diagnostic, name_of: NameOf, sources: dict[str, Source]) -> Html:
    head = el("p", el("b", text(WORDS[found.severity]), cls="grade"), SPACE, told(found.message))
    parts = [head, _line(found, sources)]
    if found.why:
        parts.append(el("p", told(found.why)))
    if found.help:
        parts.append(el("p", told(found.help), cls="help"))
    if found.way:
        hops = [hop.step + (f" ({hop.answer})" if hop.answer else "") for hop in found.way]
        parts.append(el("p", text("Way there: " + ", then ".join(hops)), cls="way"))
    parts += [_related(label.text, str(label.span)) for label in found.related]
    parts.append(_foot(found, name_of))
    return el("li", *parts, cls=str(found.severity))


def _line(found: Diagnostic, sources: dict[str, Source]) -> Html:
    """The row with the place marked; nothing for an empty one."""
    source, span = sources.get(found.span.path), found.span
    row = source.row(span.line - 1) if source is not None else ""
    if not row.strip():
        return NOTHING
    start = span.column - 1
    end = max(start, span.end_column - 1 if span.end_line == span.line else len(row))
    before, after = row[max(0, start - AROUND) : start], row[end : end + AROUND]
    marked = el("mark", text(row[start : min(end, start + 2 * AROUND)])) if end > start else NOTHING
    return el("pre", el("code", text(before), marked, text(after)), tabindex="0")


def _related(words: str, place: str) -> Html:
    return el("p", told(words), text(" "), el("code", text(place)), cls="related")


def _foot(found: Diagnostic, name_of: NameOf) -> Html:
    place, name = str(found.span), name_of(found.span.path)
    where = f"?line={found.span.line}&column={found.span.column}"
    open_at = link(
        f"/write/{quote(name)}{where}", text(f"Line {found.span.line}, column {found.span.column}")
    )
    rule = rule_named(found.rule)
    about = link(f"/rule-{found.rule}.html", text(f"{found.code} {found.rule}".strip())) if rule else NOTHING
    return el("p", open_at if name else NOTHING, el("code", text(place), cls="place"), about, cls="foot-line")


def _sentence(words: str) -> str:
    """Messages are written small and without a full stop; a page has sentences."""
    words = words.strip()
    if not words:
        return words
    ended = words if words.endswith((".", "?", "!", ":")) else f"{words}."
    return ended if words.startswith(("`", "{")) else ended[0].upper() + ended[1:]


_CODE = re.compile(r"`(\{[\w-]+\}`[^`]+`)`|(\{[\w-]+\}`[^`]+`)|`([^`]+)`")
"""A mark with its name, with or without backticks around the whole; or anything in backticks."""


def told(words: str) -> Html:
    """Words of a finding as a sentence; what stands in backticks is set as code, a mark with its name as one.

    The same rule as in assets/told.js: what is copied out of the code is what has to be written.
    """
    sentence, parts, end = _sentence(words), list[Html](), 0
    for found in _CODE.finditer(sentence):
        parts += [text(sentence[end : found.start()]), el("code", text(found[found.lastindex or 0]))]
        end = found.end()
    return join([*parts, text(sentence[end:])])


def refusal(count: int, name: str = "") -> Html:
    """The first thing on a page that a build would not make; `name` leads to its findings."""
    more = join([text(" "), link(f"/findings/{quote(name)}", text("All findings"))]) if name else NOTHING
    words = el("b", text(f"Not publishable: {many(count, 'error')}."))
    return el("p", words, more, cls="refusal", role="status")
