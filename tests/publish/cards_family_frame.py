"""The demo library's cards, one of each kind, and grey pages of them."""

from __future__ import annotations

import io
import os
import subprocess
from functools import lru_cache
from pathlib import Path

from PIL import Image

from kilter.publish.cards.family import KINDS, Kind, Subject, kinds_for, make
from kilter.publish.prepare import machines, prepare

from .cards_frame import poppler

ROOT = Path(__file__).parent.parent.parent
IDS = [f"{kind.made_of}-{kind.name}" for kind in KINDS]


@lru_cache(maxsize=1)
def demo() -> tuple[Subject, ...]:
    """Every document and machine of the demo library."""
    here = Path.cwd()
    os.chdir(ROOT)
    try:
        ready = prepare(Path("procedures"))
        return (*ready.views, *machines(ready))
    finally:
        os.chdir(here)


def card(kind: Kind, number: str = "") -> tuple[Subject, bytes]:
    """The card of that kind of the document or machine named, else of the first that has one."""
    subject = next(s for s in demo() if kind in kinds_for(s) and number.lower() in ("", s.number.lower()))
    return subject, _made(kind, subject.number)


@lru_cache(maxsize=64)
def _made(kind: Kind, number: str) -> bytes:
    return make(kind, next(s for s in demo() if kind in kinds_for(s) and s.number == number))


def every() -> list[tuple[Kind, Subject]]:
    """Every card of the demo library."""
    return [(kind, subject) for subject in demo() for kind in kinds_for(subject)]


def grey_pages(pdf: bytes, folder: Path, dpi: int = 150) -> list[Image.Image]:
    """The pages as a grey printer has them."""
    order = [poppler("pdftoppm"), "-gray", "-r", str(dpi), "-", str(folder / "page")]
    subprocess.run(order, input=pdf, check=True)
    files = sorted(folder.glob("page*.pgm"))
    return [Image.open(io.BytesIO(f.read_bytes())).convert("L") for f in files]


def photocopied(page: Image.Image) -> Image.Image:
    """Each point black or white, parted at one half."""
    return page.point(lambda v: 255 if v >= 128 else 0)


def ink_share(page: Image.Image, box: tuple[float, float, float, float], dpi: int = 150) -> float:
    """Part of a box (mm: left, top, right, bottom) that is black."""
    left, top, right, bottom = (round(v / 25.4 * dpi) for v in box)
    seen = page.crop((left, top, right, bottom))
    return seen.histogram()[0] / (seen.width * seen.height)
