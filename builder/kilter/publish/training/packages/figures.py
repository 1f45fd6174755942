"""Pictures of questions, fit to publish: cropped and covered as on the page, without the numbers in the margin."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass

from PIL import Image, ImageDraw

from kilter.compute.pictureplan import plan_of
from kilter.model.library import Library
from kilter.model.text import Figure
from kilter.outcome import CouldNotRunError
from kilter.picture.encode import encoded, variants
from kilter.publish.training.questions.model import FigureRef, Question

WIDTH = 720
"""Pixels: a phone; every platform shows JPEG."""


LEAST_RING = 0.03
"""Of the width, as in `app/quizparts.js`."""


@dataclass(frozen=True)
class Ring:
    """A place in pixels of the published picture."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class Shown:
    """The picture of a question."""

    name: str
    data: bytes
    width: int
    height: int
    rings: tuple[Ring, ...]


def shown_figures(library: Library, questions: Iterable[Question]) -> dict[str, Shown]:
    """By question id. Raises CouldNotRunError for a picture that is none."""
    return {q.id: _shown(library, q.figure) for q in questions if q.figure is not None}


def _shown(library: Library, asked: FigureRef) -> Shown:
    figure = _figure(library, asked)
    file = library.file_of(asked.owner).parent / asked.path.replace("\\", "/")
    try:
        made = variants(file, [(WIDTH, "jpeg")], plan_of(figure))[0]
    except (OSError, ValueError) as trouble:
        raise CouldNotRunError(f"{file}: picture can't be published: {trouble}") from None
    rings = tuple(Ring(*made.at(r.x, r.y), r.radius * made.scale) for r in asked.regions)
    if made.name.endswith(".svg"):
        return _painted(made.name, made.data, made.width, made.height, rings)
    return Shown(made.name.lower(), made.data, made.width, made.height, rings)


def _painted(name: str, drawing: bytes, width: int, height: int, rings: tuple[Ring, ...]) -> Shown:
    """A drawing as JPEG at `WIDTH`: a ring can't be painted into an SVG, nor does every platform show one."""
    import typst

    sheet = (
        "#set page(width: auto, height: auto, margin: 0pt, fill: white)\n"
        f'#image(bytes(sys.inputs.drawing), format: "svg", width: {WIDTH}pt, alt: "figure")'
    )
    made = typst.compile(
        sheet.encode(),
        format="png",
        ppi=72,
        sys_inputs={"drawing": drawing.decode()},
        ignore_system_fonts=True,
    )
    with Image.open(io.BytesIO(made)) as opened:
        image = opened.convert("RGB")
    by = image.width / width
    moved = tuple(Ring(r.x * by, r.y * by, r.radius * by) for r in rings)
    return Shown(name.lower().removesuffix("svg") + "jpg", encoded(image, "jpeg"), *image.size, moved)


def _figure(library: Library, asked: FigureRef) -> Figure:
    owner = library.documents[asked.owner]
    for figure in owner.figures:
        if (figure.id or "") == asked.id and figure.path == asked.path:
            return figure
    raise CouldNotRunError(f"{asked.owner}: no picture `{asked.path}` any more; build again")


def ringed(picture: bytes, ring: Ring) -> bytes:
    """The picture with a black ring in a white halo drawn into it, for readers that can't lay one over it."""
    image = Image.open(io.BytesIO(picture)).convert("RGB")
    draw, thick = ImageDraw.Draw(image), max(2, image.width // 240)
    around = max(ring.radius, LEAST_RING * image.width)
    for grow, colour in ((thick, "white"), (0, "black")):
        r = around + grow
        draw.ellipse((ring.x - r, ring.y - r, ring.x + r, ring.y + r), outline=colour, width=thick + 2 * grow)
    return encoded(image, "jpeg")
