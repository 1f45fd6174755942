"""The list of answers that ends a step, told from a list that is just a list."""

from __future__ import annotations

import re
from dataclasses import replace

from kilter.diagnostic import Fix
from kilter.model.document import Answer, Failure
from kilter.model.text import Block, Link, Listing, Paragraph, Run, Text, all_runs, plain, walk
from kilter.read.cures import exact, inserted, put, replaced, spelt
from kilter.read.inline import split_names
from kilter.read.notes import Notes
from kilter.source import Span

FAILURES = ("not-zero", "not-ok")
_MARK = re.compile(r"^\s*\{\s*(not-zero|not-ok)(?:\s+([^{}]*))?\}\s*\.?\s*$")


def split_answers(notes: Notes, blocks: list[Block]) -> tuple[list[Block], tuple[Answer, ...]]:
    """Blocks without the answer list, and the answers. A list is one if a link in it leads to a step."""
    lists = [b for b in blocks if isinstance(b, Listing) and _leads_on(b)]
    if not lists:
        return blocks, ()
    last = lists[-1]
    if blocks[-1] is not last or len(lists) > 1:
        first = lists[0] if len(lists) > 1 else last
        help = "put it at the step's end, after all text, pictures and panels; one list a step"
        notes.error("answers-last", "a list of answers is not the last thing in its step", first.span, help)
    answers = tuple(a for item in last.items if (a := _answer(notes, item, last.span)) is not None)
    return [b for b in blocks if b is not last], answers


def _leads_on(listing: Listing) -> bool:
    return any(
        isinstance(r, Link) and r.target.startswith("#") for item in listing.items for r in all_runs(item)
    )


def _answer(notes: Notes, item: tuple[Block, ...], around: Span) -> Answer | None:
    help = "write `what is seen: [where to](#step)`, with one link and nothing else"
    if len(item) != 1 or not isinstance(item[0], Paragraph):
        span = item[0].span if item else around
        notes.error("answer-form", "an answer holds more than a line", span, help)
        return None
    paragraph = item[0]
    links = [r for r in walk(paragraph.runs) if isinstance(r, Link)]
    at = next((n for n, r in enumerate(paragraph.runs) if isinstance(r, Link)), None)
    if at is None or len(links) != 1:
        many = "an answer leads to more than one place" if len(links) > 1 else "an answer leads nowhere"
        notes.error("answer-form", many, paragraph.span, help, () if links else _linked(notes, paragraph))
        return None
    seen, rest = paragraph.runs[:at], paragraph.runs[at + 1 :]
    words = plain(seen)
    if not words.rstrip(": "):
        notes.error("answer-form", "an answer does not say what is seen", paragraph.span, help)
        return None
    if not words.endswith(":"):
        message = "an answer without `:` between what is seen and its link"
        notes.warning("answer-form", message, links[0].span, help, _with_colon(seen))
    failure = _failure(notes, rest)
    span = paragraph.span
    bullet = notes.source.row(span.line - 1)[span.column - 1 : span.column]
    return Answer(seen=_without_colon(seen), link=links[0], failure=failure, span=span, bullet=bullet)


def _failure(notes: Notes, rest: tuple[Run, ...]) -> Failure | None:
    text = "".join(r.text for r in rest if isinstance(r, Text))
    if not rest or not text.strip(" ."):
        if any(not isinstance(r, Text) for r in rest):
            notes.error(
                "answer-form",
                "something stands after the answer's link",
                rest[0].span,
                "move it before the colon",
            )
        return None
    match = _MARK.match(text)
    span = rest[0].span
    if not match or any(not isinstance(r, Text) for r in rest):
        if "{" not in text:
            notes.error(
                "answer-form",
                f"words after the answer's link: `{text.strip()}`",
                span,
                "move them before the colon",
            )
        else:
            help = "possible: `{not-zero}`, `{not-zero source}`, `{not-ok}`"
            cure = _mark_spelt(notes, text, span)
            notes.error("stray-brace", f"`{text.strip()}` after an answer is not known", span, help, cure)
        return None
    mark, names = match.group(1), match.group(2) or ""
    begin = span.column + text.index("{")
    inner = span.column + (match.start(2) if match.group(2) else 0)

    def place(a: int, b: int) -> Span:
        return Span(span.path, span.line, inner + a, span.line, inner + b)

    if mark == "not-ok" and names.strip():
        notes.error(
            "stray-brace",
            "`{not-ok}` takes no names",
            span,
            "a failed proof of a source is `{not-zero source}`",
            put(notes.source, span, match.group().strip(" ."), "{not-ok}"),
        )
    whole = Span(span.path, span.line, begin, span.line, span.column + len(text.rstrip(" .")))
    return Failure(mark=mark, sources=split_names(names, place), span=whole)


_BARE = re.compile(r"#(?P<slug>[\w-]+)\s*(?:\{[^{}]*\})?\s*\.?$")
_NAMED = re.compile(r"\{\s*([\w-]+)")


def _linked(notes: Notes, paragraph: Paragraph) -> tuple[Fix, ...]:
    """A bare `#step` at the end of an answer made a link."""
    last = paragraph.runs[-1] if paragraph.runs else None
    found = _BARE.search(last.text) if isinstance(last, Text) else None
    if last is None or found is None:
        return ()
    slug = found["slug"]
    place = exact(notes.source, last.span, f"#{slug}")
    words = slug.replace("-", " ")
    return (
        replaced(f"make `#{slug}` a link", place, f"[{words[:1].upper()}{words[1:]}](#{slug})")
        if place
        else ()
    )


def _with_colon(seen: tuple[Run, ...]) -> tuple[Fix, ...]:
    """The colon right behind the last word."""
    last = seen[-1]
    if not isinstance(last, Text) or last.span.line != last.span.end_line or last.text.rstrip()[-1:] in "*_`":
        return ()
    column = last.span.column + len(last.text.rstrip())
    if column > last.span.end_column or not last.text.strip():
        return ()
    return inserted("write the colon", replace(last.span, column=column, end_column=column), ":", alone=True)


def _mark_spelt(notes: Notes, text: str, span: Span) -> tuple[Fix, ...]:
    named = _NAMED.search(text)
    if named is None:
        return ()
    column = span.column + named.start(1)
    place = replace(span, column=column, end_line=span.line, end_column=column + len(named[1]))
    return spelt(notes.source, place, named[1], FAILURES)


def _without_colon(seen: tuple[Run, ...]) -> tuple[Run, ...]:
    if not seen or not isinstance(seen[-1], Text):
        return seen
    last = seen[-1]
    words = last.text.rstrip().removesuffix(":")
    end = last.span.end_column - (len(last.text) - len(words))
    span = replace(last.span, end_column=end) if end > last.span.column else last.span
    return (*seen[:-1], last.replace(text=words, span=span))
