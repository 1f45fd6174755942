"""What keeps a card from being made, said as the author would mend it."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.rules.cards.glyph_missing import glyphs_of, missing_in
from kilter.diagnostic import Diagnostic, error
from kilter.publish.machine import MachineView
from kilter.publish.view import DocumentView
from kilter.source import Span

SHORTER = "shorten its panels and the text before its first step"


class CardProblems(Exception):
    """What the author has to mend before the card can be made."""

    def __init__(self, findings: list[Diagnostic]) -> None:
        super().__init__("; ".join(f.message for f in findings))
        self.findings = findings


def find_problems(view: DocumentView | MachineView) -> list[Diagnostic]:
    """Errors that can be found without laying out the card; the check has told them but for the contact's."""
    own = glyphs_of(view.document) if isinstance(view, DocumentView) else []
    found = [*own, *glyphs_of(view.profile)]
    found += missing_in(view.contact, Span("mkdocs.yml", 1, 1, 1, 1))
    return list(dict.fromkeys(found))


def too_tall(
    view: DocumentView | MachineView, card: str, key: str, stage: str, need: float, room: float
) -> Diagnostic:
    """The step of that key, else the head of the stage of that anchor, is `need` mm high; a page has `room` mm."""
    if isinstance(view, MachineView):
        what, span = f"`{key}`", view.profile.title_span
        return _too_tall(what, card, need, room, span, "shorten its words in the profile")
    at = next((s for s in view.stages if s.anchor == stage), None)
    step = next((s.step for s in at.steps if s.key == key), None) if at else None
    panels = len(at.standing) + len(at.stage.panels) if at else 0
    if step is not None:
        what, span, cures = f"step `{step.title}`", step.heading_span, _cures(bool(step.figures), panels)
    elif at is not None:
        what, span, cures = f"head of stage `{at.stage.title}`", at.stage.heading_span, iter([SHORTER])
    elif key:
        what, span, cures = f"a row of `{key}`", view.document.title_span, iter(["shorten its words"])
    else:
        what, span, cures = "panel above the first stage", view.document.title_span, iter([SHORTER])
    return _too_tall(what, card, need, room, span, " or ".join(cures))


def _too_tall(what: str, card: str, need: float, room: float, span: Span, cures: str) -> Diagnostic:
    name = card[0].lower() + card[1:]
    return error(
        "step-too-tall",
        f"{what} is {need:.0f} mm high on the {name}, its page has {max(room, 0):.0f} mm",
        span,
        cures,
        why="a step is never split or cut off: what stands on the next page is not read",
    )


def _cures(figure: bool, panels: int) -> Iterator[str]:
    yield "split the step"
    if figure:
        yield "put the figure in a step of its own"
    if panels:
        word = "panel" if panels == 1 else f"{panels} panels"
        yield f"shorten the stage's {word}, printed again above the step on each page"
