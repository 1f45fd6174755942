"""Fixes for what can be seen at one step: answers, what holds a source, fields that can't be read.

As those for findings about a way in, they leave a blank, but for the right spelling of a word of the format.
"""

from __future__ import annotations

from kilter.check.fixes import tagged_exit
from kilter.check.flow.fields import CONTROLS, EXITS, HANDS, parse_clear, parse_hands
from kilter.diagnostic import Edit, Fix, nearest
from kilter.model.document import Document, Field, Stage, Step
from kilter.model.text import Role
from kilter.read.blanks import BLANK_MARK
from kilter.read.cures import end_of, inserted, written_otherwise
from kilter.source import Span

Fixes = tuple[Fix, ...]


def failing_answer(document: Document, stage: Stage, step: Step, mark: str) -> Fixes:
    """A further answer, for the case that it fails, to a step that leaves the machine locked out."""
    out = tagged_exit(document, stage)
    if not step.answers or out is None or out is step:
        return ()
    blank = f"{BLANK_MARK}: what is seen when it fails]"
    return _answer(
        step, f"{blank}: [{out.title}](#{out.slug}) {{{mark}}}", f"answer `{{{mark}}}`, to `{out.title}`"
    )


def further_answer(document: Document, stage: Stage, step: Step) -> Fixes:
    """What else can be seen, where one answer is no decision."""
    out = tagged_exit(document, stage)
    if out is None or out is step:
        return ()
    blank = f"{BLANK_MARK}: what else can be seen]"
    return _answer(step, f"{blank}: [{out.title}](#{out.slug})", f"a second answer, to `{out.title}`")


def _answer(step: Step, line: str, what: str) -> Fixes:
    """An item below the last one, as far in."""
    last = step.answers[-1].span
    first = step.answers[0]
    if first.bullet not in ("-", "*", "+"):
        return ()
    indent = " " * (first.span.column - 1)
    return inserted(f"write {what}", end_of(last), f"\n{indent}{first.bullet} {line}")


def hold_said(role: Role) -> Fixes:
    """A blank behind the mark for what holds the source."""
    blank = f" ({BLANK_MARK}: the lock, pin, stand or case that holds it])"
    return inserted("leave a blank for what holds it", end_of(role.span), blank)


def hands_read(field: Field) -> Fixes:
    """A level spelt right, or a blank for the reason that it lacks."""
    word = field.value.split()[0].rstrip(",:") if field.value.split() else ""
    near = nearest(word, HANDS)
    if near is None:
        return ()
    if near != word.casefold():
        right = near + field.value[len(word) :]
        return _word(field, word, near) if parse_hands(right) is not None else ()
    if parse_hands(f"{field.value} - x") is None or near in HANDS[: CONTROLS + 1]:
        return ()
    return inserted(
        "leave a blank for the reason", end_of(field.span), f" - {BLANK_MARK}: why it has to be live]"
    )


def _word(field: Field, word: str, right: str) -> Fixes:
    at = field.value_span
    place = Span(at.path, at.line, at.column, at.line, at.column + len(word))
    return (Fix(f"write `{right}`", (Edit(place, right),)),)


def clear_read(field: Field) -> Fixes:
    if parse_clear(f"{field.value} - x") is None:
        return ()
    return inserted(
        "leave a blank for the reason", end_of(field.span), f" - {BLANK_MARK}: what stands between]"
    )


def exit_read(field: Field) -> Fixes:
    """One of the three ends; certain where only case differs, or hyphens."""
    same = written_otherwise(field.value.replace(",", ""), [e.replace(",", "") for e in EXITS])
    near = nearest(field.value, EXITS)
    if near is None or field.span.line != field.span.end_line:
        return ()
    sure = same == near.replace(",", "")
    return (Fix(f"write `{near}`", (Edit(field.value_span, near),), alone=sure),)


def longer_reason(field: Field) -> Fixes:
    blank = f" {BLANK_MARK}: more words, so that a reviewer can judge it]"
    return inserted("leave a blank for the rest of the reason", end_of(field.span), blank)
