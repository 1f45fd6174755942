"""Pictures, places and figure blocks of the demo library belong together; the model packages are not needed."""

from __future__ import annotations

import json
from collections.abc import Iterator
from math import dist
from pathlib import Path

import pytest

from kilter.compute.pictureinfo import picture_info

from .blocks import Anchors, documents, numbers, synced
from .figures import ANCHORS, FIGURES, LIBRARY, PHOTOS

PLACES: Anchors = json.loads(ANCHORS.read_text(encoding="utf-8"))
NAMES = sorted([*FIGURES, *PHOTOS])
DOCUMENTS = documents(LIBRARY)
MEND = "python -m tests.scenes --write"


def test_every_picture_has_places_and_no_place_is_left_over() -> None:
    """The committed pictures are the ones that the scenes name."""
    there = {p.relative_to(LIBRARY).as_posix() for p in LIBRARY.glob("*/pictures/*")}
    assert there == set(NAMES) == set(PLACES)


@pytest.mark.parametrize("name", NAMES)
def test_size_and_weight(name: str) -> None:
    """A picture has the size that its places count in, and is small."""
    info = picture_info(LIBRARY / name)
    assert not info.problem
    assert (info.width, info.height) == (PLACES[name]["width"], PLACES[name]["height"])
    assert (LIBRARY / name).stat().st_size < (60_000 if name.endswith(".svg") else 200_000)


def test_all_pictures_are_light_together() -> None:
    """The library stays quick to copy."""
    assert sum((LIBRARY / name).stat().st_size for name in NAMES) < 2_500_000


@pytest.mark.parametrize("name", NAMES)
def test_places_lie_inside_and_apart(name: str) -> None:
    """Every place lies on the paper, and no two parts are pointed at in one spot."""
    facts = PLACES[name]
    spots = [*facts["items"].values(), *facts.get("scale", [])]
    assert facts["items"]
    assert all(0 < x < facts["width"] and 0 < y < facts["height"] for x, y in spots)
    items = list(facts["items"].values())
    assert all(dist(a, b) > 14 for i, a in enumerate(items) for b in items[:i])


@pytest.mark.parametrize("file", DOCUMENTS, ids=lambda p: p.stem)
def test_blocks_hold_the_places_of_the_scenes(file: Path) -> None:
    """No figure block has drifted from the scene it shows."""
    text = file.read_text(encoding="utf-8")
    assert synced(text, file.parent.relative_to(LIBRARY).as_posix(), PLACES) == text, MEND


def _moved(name: str) -> Iterator[Anchors]:
    """The same places with one of them a pixel aside."""
    for part, (x, y) in PLACES[name]["items"].items():
        facts = PLACES[name] | {"items": PLACES[name]["items"] | {part: [x + 1, y]}}
        yield PLACES | {name: facts}


@pytest.mark.parametrize("name", NAMES)
def test_a_moved_part_is_noticed(name: str) -> None:
    """Each picture is used, and a part a pixel aside changes a document that names it."""
    texts = {p: p.read_text(encoding="utf-8") for p in DOCUMENTS if p.parent.name == name.split("/")[0]}
    seen = [
        any(synced(text, p.parent.name, other) != text for p, text in texts.items()) for other in _moved(name)
    ]
    assert any(seen), f"no document shows {name}"


@pytest.mark.parametrize("file", DOCUMENTS, ids=lambda p: p.stem)
def test_one_part_one_number(file: Path) -> None:
    """Within a document a part keeps its number in every figure, and a number its part (ISO 6433)."""
    found = set(numbers(file.read_text(encoding="utf-8")))
    assert len({n for n, _ in found}) == len(found) == len({name for _, name in found})


def test_an_unknown_part_is_refused() -> None:
    """An item that the scene does not name is an error, not a stale place."""
    name = NAMES[0]
    folder, picture = name.split("/", 1)
    with pytest.raises(ValueError, match="no part `Nobody`"):
        synced(f":::{{figure}} {picture}\n:1: 5,5 Nobody\n:::\n", folder, PLACES)
