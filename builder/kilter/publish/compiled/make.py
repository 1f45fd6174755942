"""From a view to the compiled document."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from kilter.compute.pictureinfo import picture_info
from kilter.model import text as model
from kilter.model.document import Document
from kilter.model.front import ProcedureFront
from kilter.model.library import Library
from kilter.publish.compiled.blocks import Blocks
from kilter.publish.compiled.data import (
    VERSION,
    Area,
    Compiled,
    Detail,
    Drawing,
    Equipment,
    Figure,
    Item,
    Kit,
    Motion,
    Scale,
    Source,
    Symptom,
)
from kilter.publish.compiled.steps import stages
from kilter.publish.view import STANDING, DocumentView, EnergyRow, KitRow, figure_key, picture_path


def compiled(library: Library, view: DocumentView) -> Compiled:
    """All of a document that has no errors."""
    owners = {id(figure): owner for owner, figure in _figures(view)}

    def number(figure: model.Figure) -> int:
        return view.figure_numbers[figure_key(owners[id(figure)], figure)]

    blocks = Blocks(number, view.equipment.source_name, view.answer)
    procedure = view.front if isinstance(view.front, ProcedureFront) else None
    return Compiled(
        **_common(view),
        minutes=procedure.time if procedure else None,
        people=procedure.people if procedure else None,
        kilograms=procedure.weight if procedure else None,
        protective=procedure.protective if procedure else (),
        symptoms=tuple(
            Symptom(symptom=s.symptom, also=s.also) for s in (procedure.symptoms if procedure else ())
        ),
        sources=tuple(_source(row) for row in view.energy),
        kit=tuple(_kit(row) for row in view.kit),
        blocks=blocks.all(view.document.blocks),
        stages=stages(view, blocks),
        figures=tuple(
            _figure(library, owner, figure, number(figure), blocks) for owner, figure in _figures(view)
        ),
    )


def _common(view: DocumentView) -> dict[str, Any]:
    front = view.front
    return {
        "version": VERSION,
        "number": view.number,
        "revision": front.revision,
        "hash": view.hash,
        "status": "draft",
        "kind": front.kind,
        "task": view.task,
        "title": front.title,
        "path": view.document.path,
        "page": view.address,
        "equipment": Equipment(id=view.equipment.id, title=view.equipment.title),
        "applies_to": front.applies_to,
        "date": front.date.isoformat() if front.date else "",
        "writers": front.writers,
        "standing": STANDING,
    }


def _figures(view: DocumentView) -> Iterator[tuple[Document, model.Figure]]:
    """Every figure with the document it stands in, in the order of the page."""
    yield from ((view.document, b) for b in view.document.blocks if isinstance(b, model.Figure))
    for stage in view.stages:
        yield from ((stage.owner, b) for b in stage.stage.blocks if isinstance(b, model.Figure))
        for step in stage.steps:
            yield from ((step.owner, figure) for figure in step.step.figures)


def _figure(library: Library, owner: Document, figure: model.Figure, number: int, blocks: Blocks) -> Figure:
    after = Drawing.model_validate(_drawing(library, owner, figure.after)) if figure.after else None
    drawn = _drawing(library, owner, figure)
    more = {"number": number, "id": figure.id or "", "after": after, "caption": blocks.all(figure.caption)}
    return Figure.model_validate({**drawn, **more})


def _drawing(library: Library, owner: Document, figure: model.Figure) -> dict[str, Any]:
    info = picture_info(library.file_of(owner.path).parent / figure.path)
    scale = figure.scale
    return {
        "path": picture_path(owner, figure).as_posix(),
        "sha256": info.sha256,
        "width": info.width,
        "height": info.height,
        "alt": figure.alt or "",
        "looked": figure.looked or "",
        "crop": _area(figure.crop) if figure.crop else None,
        "covers": tuple(map(_area, figure.covers)),
        "details": tuple(Detail(area=_area(d.area), place=d.place, times=d.times) for d in figure.details),
        "items": tuple(Item(number=i.number, x=i.x, y=i.y, label=i.label) for i in figure.items),
        "motions": tuple(
            Motion(kind=m.kind, x=m.x, y=m.y, way=m.way, amount=m.amount) for m in figure.motions
        ),
        "scale": Scale(length=scale.length, start=scale.start, end=scale.end) if scale else None,
    }


def _area(area: model.Area) -> Area:
    return Area(x=area.x, y=area.y, width=area.width, height=area.height)


def _source(row: EnergyRow) -> Source:
    source = row.source
    kind = source.kind if source.kind != "other" else source.why or "other"
    return Source(
        name=row.name,
        kind=kind,
        word=source.word,
        lockable=source.lockable,
        fed_by=source.fed_by,
        charged_by=source.charged_by,
        isolate=row.isolate,
        release=row.release,
        prove=row.prove,
    )


def _kit(row: KitRow) -> Kit:
    return Kit.model_validate(
        {
            "kind": row.kind,
            "name": row.name,
            "quantity": row.quantity,
            "range": row.range,
            "accuracy": row.accuracy,
            "calibration": row.calibration,
            "stockNumber": row.stock,
            "new": row.new.removeprefix("new "),
        }
    )
