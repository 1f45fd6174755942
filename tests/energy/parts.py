"""Short words to build cases with."""

from __future__ import annotations

import random

from .spec import Answer, Effect, Hands, Panel, Profile, Source, Spec, Stage, Step

LOOK, OUTSIDE = Hands("away", True), Hands("controls", True)
INSIDE = Hands("inside")
CLEAR = Effect("all-clear")
TAG = Step("tag", exit="tagged")
SERVICE = Step("finish", exit="service")
LID = "lid"


def eff(kind: str, *names: str) -> Effect:
    """An effect on some sources, guards or tests."""
    return Effect(kind, names)


def wait(seconds: int, upto: int = 0) -> Effect:
    """A wait."""
    return Effect("wait", (), seconds, upto)


def live(*names: str) -> Hands:
    """A live step with its reason."""
    return Hands("live", True, names)


def proof(slug: str, on: str, names: tuple[str, ...], fail: str = "tag", **fields: object) -> Step:
    """A proof of several sources whose bare failing answer leads to `fail`."""
    return Step(slug, (Effect("proves", names),), answers=(Answer(on), Answer(fail, ())), **fields)  # type: ignore[arg-type]


def trial(slug: str, on: str, fail: str, names: tuple[str, ...] = ("function",)) -> Step:
    """A test with its failing answer."""
    return Step(slug, (Effect("tests", names),), answers=(Answer(on), Answer(fail, None, True)))


def panel(sources: tuple[Source, ...], *names: str, word: str | None = None) -> tuple[Panel, ...]:
    """Panels that are just strong enough for the sources named (all, when none is)."""
    wanted = [s for s in sources if not names or s.name in names]
    words = sorted({word or s.word for s in wanted})
    return tuple(Panel(w, tuple(s.name for s in wanted if (word or s.word) == w)) for w in words)


def one_stage(
    sources: tuple[Source, ...],
    *steps: Step,
    guards: tuple[str, ...] = (LID,),
    panels: tuple[Panel, ...] | None = None,
    tests: tuple[str, ...] = (),
) -> Spec:
    """All steps in one stage, with panels for everything unless given."""
    shown = panel(sources) if panels is None else panels
    return Spec(Profile(sources, guards, before_service=tests), (Stage("work", steps, panels=shown),))


def word(rng: random.Random) -> str:
    """A signal word, mostly warning."""
    return rng.choice(("warning", "warning", "danger", "caution"))


def mains(rng: random.Random, name: str = "mains", kind: str = "mains", **fields: object) -> Source:
    """A lockable supply."""
    return Source(name, kind, word(rng), lockable=True, isolate=True, **fields)  # type: ignore[arg-type]


def capacitor(rng: random.Random, *feeds: str, bleed: int = 300, **fields: object) -> Source:
    """A store that bleeds off."""
    return Source("cap", "capacitor", word(rng), fed_by=feeds, release="bleed", bleed=bleed, **fields)  # type: ignore[arg-type]


def spring(rng: random.Random, name: str = "spring", **fields: object) -> Source:
    """A store without feed, released by an action."""
    return Source(name, "spring", word(rng), release="action", **fields)  # type: ignore[arg-type]
