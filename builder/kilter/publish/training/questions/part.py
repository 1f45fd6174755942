"""Name a numbered item of a figure, or find it: only items that stand well apart and have names of their own."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from pathlib import PurePosixPath

from kilter.compute.pictureinfo import picture_info
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.text import Figure, Item
from kilter.publish.training.questions.draw import Draw, digest
from kilter.publish.training.questions.model import LETTERS, Choice, FigureRef, Question, Region
from kilter.publish.training.questions.subject import Asked, Subject, placed

CHOICES = 4
REACH = 0.035
"""Of the picture's longer side: how far from an item a finger may be. Places are more than twice as far apart."""


def part_questions(subject: Subject, variants: int) -> Iterator[Question]:
    """For each item that the covered steps show or name: what is it, and where is it."""
    for figure, owner, asked in _figures(subject):
        width, height = _size(subject, owner, figure)
        if not width:
            continue
        items = [i for i in figure.items if i.label.strip() and _seen(figure, i)]
        names = [fold(i.label) for i in items]
        items = [i for i in items if names.count(fold(i.label)) == 1]
        for item in items:
            for serial in range(variants):
                yield from _both(subject, figure, owner, (width, height), items, item, asked, serial)


def _figures(subject: Subject) -> Iterator[tuple[Figure, Document, Asked]]:
    """Each figure once, with the first covered step that shows it or names one of its items."""
    seen: set[tuple[str, str]] = set()
    for asked in subject.steps:
        step, owner = asked.covered.step, asked.covered.owner
        named = {n.text.split()[0] for r in step.roles if r.name == "item" for n in r.names if n.text.split()}
        for figure in owner.figures:
            key = (owner.path, figure.id or figure.path)
            if key not in seen and (figure in step.figures or (figure.id and figure.id in named)):
                seen.add(key)
                yield figure, owner, asked


def _size(subject: Subject, owner: Document, figure: Figure) -> tuple[int, int]:
    file = subject.context.library.file_of(owner.path).parent / PurePosixPath(figure.path.replace("\\", "/"))
    if not file.is_file():
        return 0, 0
    info = picture_info(file)
    return (0, 0) if info.problem else (info.width, info.height)


def _seen(figure: Figure, item: Item) -> bool:
    crop = figure.crop
    inside = crop is None or (
        crop.x <= item.x <= crop.x + crop.width and crop.y <= item.y <= crop.y + crop.height
    )
    covered = any(c.x <= item.x <= c.x + c.width and c.y <= item.y <= c.y + c.height for c in figure.covers)
    return inside and not covered


def _both(
    subject: Subject,
    figure: Figure,
    owner: Document,
    size: tuple[int, int],
    items: list[Item],
    item: Item,
    asked: Asked,
    serial: int,
) -> Iterator[Question]:
    reach = REACH * max(size)
    name = figure.id or figure.path
    fact = f"{name}.{item.number}"
    others = sorted(
        (i for i in items if i is not item), key=lambda i: digest(fact, serial, i.number, i.label)
    )
    chosen = [item]
    for other in others:
        if len(chosen) < CHOICES and all(_apart(other, c, reach) for c in chosen):
            chosen.append(other)
    if len(chosen) < CHOICES:
        return
    canonical = ",".join(f"{i.number} {i.label}" for i in chosen)
    draw = subject.draw(fact, canonical, "part", serial)
    about = f"{subject.number}, picture of step {asked.cite.number} “{asked.cite.title}”"
    right = Choice(item.label, f"Item {item.number} of the figure.")
    wrong = [Choice(i.label, f"That is item {i.number}.") for i in chosen[1:]]
    choices, key = placed(draw, right, wrong, subject.turn(fact, "part", serial))
    shown = _reference(figure, owner, size, [Region("", item.x, item.y, reach)])
    yield subject.question(
        "part", asked, fact, serial, f"{about}: what is it that is marked?", choices, key, safety=False, figure=shown
    )  # fmt: skip
    yield _point(subject, figure, owner, size, chosen, asked, fact, about, serial, draw)


def _point(
    subject: Subject,
    figure: Figure,
    owner: Document,
    size: tuple[int, int],
    chosen: list[Item],
    asked: Asked,
    fact: str,
    about: str,
    serial: int,
    draw: Draw,
) -> Question:
    item, shown_at = chosen[0], draw.shuffled(chosen[1:])
    shown_at.insert(subject.turn(fact, "point", serial) % len(chosen), item)
    reach = REACH * max(size)
    places = [Region(LETTERS[n], i.x, i.y, reach) for n, i in enumerate(shown_at)]
    choices = [
        Choice(LETTERS[n], f"That is “{i.label}”, item {i.number} of the figure.")
        for n, i in enumerate(shown_at)
    ]
    stem = f"{about}: which place is “{item.label}”?"
    shown = _reference(figure, owner, size, places)
    return subject.question(
        "point", asked, fact, serial, stem, choices, shown_at.index(item), safety=False, figure=shown, ranked=True
    )  # fmt: skip


def _apart(one: Item, two: Item, reach: float) -> bool:
    return hypot(one.x - two.x, one.y - two.y) > 2 * reach


def _reference(figure: Figure, owner: Document, size: tuple[int, int], regions: list[Region]) -> FigureRef:
    return FigureRef(owner.path, figure.path, figure.id or "", *size, tuple(regions))
