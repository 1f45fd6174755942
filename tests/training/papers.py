"""Papers made by hand: what packages and marking are tried on, without the maker of questions."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from PIL import Image
from tests.training.frame import library

from kilter.publish.training.packages.data import quiz_data
from kilter.publish.training.packages.figures import Ring, Shown
from kilter.publish.training.questions.model import Choice, Cite, FigureRef, Paper, Question, Region
from kilter.read.library import read_library

CITE = Cite("BENCH-1", "A", "do-the-work", "2.1", "Do the work", "0123456789ab")
LETTERS = "ABCDEFGH"


def front(folder: Path) -> Any:
    root = library(folder)
    return read_library(root, base=root).modules["module.md"].front


def question(n: int, safety: bool = False, places: int = 0, **more: Any) -> Question:
    """A question whose right choice is the one that says so; `places` of a picture where it has one."""
    key = n % 4
    choices = tuple(
        Choice(f"{'right' if c == key else 'wrong'} {n}.{c}", f"because {n}.{c}") for c in range(4)
    )
    regions = tuple(Region(LETTERS[p] if places > 1 else "", 40 + 90 * p, 60, 20) for p in range(places))
    figure = FigureRef("bench.md", "p.png", "", 400, 200, regions) if places else None
    given: dict[str, Any] = {
        "id": f"value-BENCH-1-fact.{n}-0", "kind": "point" if places > 1 else "value", "stem": f"What is {n}?", "choices": choices,
        "key": key, "safety": safety, "cites": CITE, "objectives": ("tighten",), "figure": figure, "fact": f"fact {n}",
    }  # fmt: skip
    return Question(**(given | more))


def papers(count: int = 5, forms: int = 1) -> tuple[Paper, ...]:
    """The second question is about safety; the third has one place marked, the fourth four."""
    asked = tuple(question(n, n == 1, {2: 1, 3: 4}.get(n, 0)) for n in range(count))
    return tuple(
        Paper("TRN-1", "A", form, 1, f"TRN-1-A-{form}1-00000{form}", asked[n:] + asked[:n])
        for n, form in enumerate(LETTERS[:forms])
    )


def picture() -> bytes:
    stream = io.BytesIO()
    Image.new("RGB", (400, 200), (120, 130, 140)).save(stream, "JPEG")
    return stream.getvalue()


def figures(made: tuple[Paper, ...]) -> dict[str, Shown]:
    found = {}
    for each in (q for p in made for q in p.questions if q.figure):
        rings = tuple(Ring(r.x, r.y, r.radius) for r in each.figure.regions)
        found[each.id] = Shown("picture-1.jpg", picture(), 400, 200, rings)
    return found


def quiz(folder: Path, count: int = 5, forms: int = 1, practice: bool = False) -> dict[str, Any]:
    made = papers(count, forms)
    return quiz_data(front(folder), made, figures(made), practice)


PICTURES = {"picture-1.jpg": picture()}
