"""A question's figure that is an SVG drawing becomes a JPEG, with its rings where the parts are."""

from __future__ import annotations

import io

from PIL import Image

from kilter.publish.training.packages.figures import WIDTH, Ring, _painted, ringed

DRAWING = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="1440" height="720" viewBox="0 0 1440 720">'
    b'<path fill="#000" d="M900 300h200v200h-200z"/></svg>'
)


def test_a_drawing_is_painted_and_its_ring_moves_with_it():
    """The black square is under the middle of the ring, the rest is white, and a ring can be drawn in."""
    shown = _painted("abc.svg", DRAWING, 1440, 720, (Ring(1000, 400, 100),))
    (ring,) = shown.rings
    with Image.open(io.BytesIO(shown.data)) as opened:
        image = opened.convert("L")
    assert shown.name == "abc.jpg" and image.size == (shown.width, shown.height) == (WIDTH, WIDTH // 2)
    assert image.getpixel((round(ring.x), round(ring.y))) < 20
    assert image.getpixel((20, 20)) > 235
    assert ring.radius == 50
    with Image.open(io.BytesIO(ringed(shown.data, ring))) as marked:
        assert marked.size == image.size


def test_the_same_drawing_gives_the_same_bytes():
    """Packages are compared by their bytes."""
    first, second = (_painted("a.svg", DRAWING, 1440, 720, ()) for _ in range(2))
    assert first.data == second.data
