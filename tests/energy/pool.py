"""Random sets of sources."""

from __future__ import annotations

import random
from dataclasses import replace

from .parts import capacitor, mains, spring, word
from .spec import Source


def sources(rng: random.Random) -> tuple[Source, ...]:
    """One to four sources of mixed kinds."""
    names = rng.sample(("mains", "battery", "gravity", "fluid"), rng.choice((1, 1, 2, 2, 3)))
    roots = [_root(rng, name) for name in names]
    stores = rng.sample(("cap", "line", "spring", "fan"), min(rng.choice((0, 1, 1, 2)), 4 - len(roots)))
    return (*roots, *(_store(rng, name, names) for name in stores))


def _root(rng: random.Random, name: str) -> Source:
    kind = {"fluid": "hydraulic"}.get(name, name)
    root = mains(rng, name, kind)
    if name == "gravity":
        root = replace(root, prove_from=rng.choice(("inside", "outside")), lockable=rng.random() < 0.7)
    if name == "fluid" and rng.random() < 0.7:
        root = replace(
            root,
            release=rng.choice(("action", "bleed")),
            bleed=rng.choice((60, 180)),
            release_from=rng.choice(("inside", "outside")),
            reaccumulates=_back(rng),
        )
    return root if root.release != "none" else replace(root, bleed=0)


def _back(rng: random.Random) -> bool | int:
    """Mostly no re-accumulation."""
    return rng.choice((False, False, True, 900))


def _store(rng: random.Random, name: str, roots: list[str]) -> Source:
    feeds = tuple(rng.sample(roots, rng.choice((1, min(2, len(roots))))))
    where = rng.choice(("inside", "inside", "outside"))
    if name == "cap":
        return capacitor(rng, *feeds, bleed=rng.choice((120, 300)), reaccumulates=_back(rng))
    if name == "fan":
        return Source("fan", "motion", word(rng), fed_by=feeds, release="bleed", bleed=rng.choice((60, 90)))
    if name == "line":
        return Source(
            "line",
            "pneumatic",
            word(rng),
            fed_by=feeds,
            release="action",
            release_from=where,
            reaccumulates=_back(rng),
        )
    held = (rng.choice(roots),) if rng.random() < 0.4 else ()
    return spring(rng, release_from=where, needs_releases=held)
