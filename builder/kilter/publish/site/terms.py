"""The terms of the model in the words of the interface, and whose words are whose."""

from __future__ import annotations

from kilter.model.base import fold, slugify
from kilter.model.front import EnergySource, ProcedureFront
from kilter.publish.site.markup import Html, el, join, text
from kilter.publish.site.words import ours, theirs, word
from kilter.publish.view import HANDS, SHOWN_FIELDS, DocumentView, Must, StepView, StripRow

_LEVELS = {words: level for level, words in HANDS.items()}
_LABELS = {"Must be": "must", "Treat as live": "live", "Treat as charged": "charged"}


def author(*body: Html) -> Html:
    """Words of an author in the running text of the interface."""
    return el("span", *body, lang=theirs()) if theirs() else join(body)


def as_written(blocks: Html) -> Html:
    """Blocks of an author on a page of another language; the box itself is not laid out."""
    if not theirs() or not blocks:
        return blocks
    return el("div", blocks, cls="as-written", lang=theirs(), dir="auto")


def own(*body: Html) -> Html:
    """Words of the interface in the running text of an author."""
    return el("span", *body, lang=ours()) if ours() else join(body)


def written(words: str) -> Html:
    """An author's words; nothing for none, so that an empty cell is left out."""
    return author(text(words)) if words else text("")


def task_word(view: DocumentView) -> str:
    return word(f"task.{view.front.task if isinstance(view.front, ProcedureFront) else 'pre-use-check'}")


def hands_words(view: StepView) -> str:
    """Where the hands are, as a sentence of its own."""
    level = _LEVELS[view.hands]
    words = word(f"hands.{level}")
    return words if view.hands.startswith("hands") else word("hands.is", hands=words)


def strip_label(row: StripRow) -> str:
    return word(f"strip.{_LABELS[row.label]}")


def state_word(must: Must) -> str:
    """A state of the analysis."""
    return word(f"state.{slugify(must.state)}")


def field_words(name: str, value: str) -> Html:
    """A checked field with its label, both as one line; `name` is one of SHOWN_FIELDS."""
    assert name in SHOWN_FIELDS
    label, _, rest = word(f"field.{name}").partition("{words}")
    return join([text(label), author(text(value)), text(rest)])


def exit_word(exit: str) -> str:
    """One of the three ends; as typed where it is none."""
    key = slugify(fold(exit))
    known = ("returned-to-service", "left-locked-out-tagged", "left-as-found")
    return word(f"exit.{key}") if key in known else exit


def kind_word(source: EnergySource) -> Html:
    """What energy it is; of one that the list does not name, what its author calls it."""
    if source.kind == "other" and source.why:
        return author(text(source.why))
    return text(word(f"kind.{source.kind}"))
