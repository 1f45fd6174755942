"""Small cards with numbered corners, and ways to look at sheets made of them."""

from __future__ import annotations

import io
import shutil
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
from PIL import Image

from kilter.publish.paper.plan import Grid, Spot

ROOT = Path(__file__).parent.parent.parent
PIXELS = 4
"""In a millimetre, so that half millimetres fall on whole pixels."""
MM = 72 / 25.4

Point = tuple[float, float]


def demo(folder: Path) -> Path:
    """A copy of the demo library."""
    shutil.copytree(ROOT / "procedures", folder / "procedures")
    shutil.copy(ROOT / "mkdocs.yml", folder)
    return folder


def source(width: float, height: float, pages: int, seed: int = 1) -> bytes:
    """A PDF whose pages are each a pattern of grey squares of their own, without any symmetry."""
    with pikepdf.new() as made:
        for n in range(pages):
            page = made.add_blank_page(page_size=(width * MM, height * MM))
            cell = 12 * MM
            lines = []
            for row in range(int(height // 12)):
                for column in range(int(width // 12)):
                    shade = ((row * 31 + column * 17 + n * 7 + seed * 13) * 2654435761 >> 7) % 200 / 255
                    lines.append(
                        f"{shade:.3f} g {column * cell:.3f} {row * cell:.3f} {cell:.3f} {cell:.3f} re f"
                    )
            page.Contents = made.make_stream("\n".join(lines).encode())
        stream = io.BytesIO()
        made.save(stream, deterministic_id=True)
    return stream.getvalue()


def rasters(pdf: bytes) -> list[Image.Image]:
    """The pages in grey, PIXELS to a millimetre; a hair less, or a last pixel is begun and all is stretched to it."""
    opened: Any = pypdfium2.PdfDocument(pdf)
    return [page.render(scale=PIXELS / MM * (1 - 1e-6), grayscale=True).to_pil() for page in opened]


def corners(spot: Spot, grid: Grid) -> list[Point]:
    """Upper left, upper right, lower right and lower left corner of the card itself, as it is printed there."""
    left, bottom = spot.left, spot.bottom
    right, top = left + grid.card.width, bottom + grid.card.height
    upright = [(left, top), (right, top), (right, bottom), (left, bottom)]
    return upright[2:] + upright[:2] if spot.upside_down else upright


def seen_through(point: Point, grid: Grid, edge: str) -> Point:
    """Where a point of the back lies when the sheet is held to the light, front towards the eye.

    A sheet turned over one of its long edges keeps that edge where it is: distances along it stay, distances from
    it are mirrored, because the back is then printed as if that side were a front.
    """
    width, height = grid.paper
    upright_edge = (height > width) == (edge == "long")
    return (width - point[0], point[1]) if upright_edge else (point[0], height - point[1])
