"""Random profiles to start new procedures on, and filling in what a new file leaves blank."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from tests.energy.generate import sound
from tests.energy.markdown import to_markdown
from tests.energy.pool import sources
from tests.energy.spec import Profile, Source, Spec

from kilter.check.run import check_library
from kilter.diagnostic import Diagnostic
from kilter.model.library import Library
from kilter.read.document import read_bytes


def profile_text(profile: Profile, more: str = "") -> str:
    """A profile as a file; `more` are further lines of its front matter."""
    text, _ = to_markdown(Spec(profile, ()))
    text = text.replace("sources:\nnone", "sources: {}\nnone")
    return text.replace("\n---\n", f"\n{more}---\n", 1)


def _odd(rng: random.Random, text: str) -> str:
    """Signs of Markdown in the profile's words, words for loading a spring, another energy, a charger."""
    if rng.random() < 0.5:
        text = text.replace(
            "Gauge or meter at the test point", "Meter at *X_1* [pin <3>], {cold}, C:\\\\x", 1
        )
    if rng.random() < 0.6:
        text = text.replace("kind: spring,", "kind: spring, loaded-by: [wind the nut in, hook it in],")
    if rng.random() < 0.2 and "kind: battery" in text:
        text = text.replace("kind: battery,", "kind: other, why: radiation,").replace(
            "none: [", "none: [battery, "
        )
    if rng.random() < 0.3 and "\n  mains: " in text:
        text = text.replace("kind: battery,", "kind: battery, charged-by: [mains],")
    return text


def profiles(seed: int, count: int) -> Iterator[str]:
    """Profiles of all sorts: feeds, stores, orders, tests, guards, none of them or several; one without energy."""
    yield profile_text(Profile((), ("lid",)))
    rng = random.Random(seed)
    for _ in range(count):
        all_sources = tuple(_more(rng, s) for s in sources(rng))
        roots = [s.name for s in all_sources if s.isolate]
        all_sources = tuple(_ordered(rng, s, roots) for s in all_sources)
        guards = tuple(rng.sample(("lid", "rear cover", "base cover"), rng.randint(0, 3)))
        tests = rng.choice(((), ("travel",), ("travel", "leak test", "charging")))
        switches = rng.choice(
            ("", "switches: {rail switch: {op: 9.2 ± 0.2 mm, ot: 1.4 mm, md: 0.6 mm, origin: data sheet}}\n")
        )
        yield _odd(rng, profile_text(Profile(all_sources, guards, (), tests), switches))


def profiles_with_stages(rng: random.Random) -> Iterator[str]:
    """Profiles with a shared stage that makes safe, from the generator of sound procedures."""
    while True:
        spec = sound(rng)
        if any(s.in_profile for s in spec.stages):
            yield to_markdown(spec)[0]


def _more(rng: random.Random, source: Source) -> Source:
    return replace(
        source,
        prove_from=rng.choice(("inside", "outside")),
        word=rng.choice(("caution", "warning", "danger")),
    )


def _ordered(rng: random.Random, source: Source, roots: list[str]) -> Source:
    """Sometimes a root that is given back only after another one; never in a circle."""
    before = roots[: roots.index(source.name)] if source.name in roots else []
    return replace(source, needs_restores=(rng.choice(before),)) if before and rng.random() < 0.4 else source


def found(folder: Path, **texts: str) -> list[Diagnostic]:
    """What the check says of a library of these files."""
    library = Library(folder)
    for name, text in texts.items():
        library.add(read_bytes(f"{name}.md", text.encode()))
    return check_library(library).all()
