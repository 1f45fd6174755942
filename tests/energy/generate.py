"""All generators by name, and a command that shows their share of accepted cases and the oracle's speed.

python -m tests.energy.generate --count 2000 --seed 1
"""

from __future__ import annotations

import argparse
import random
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import fields, replace

from .corners import CORNERS
from .directed import LEVELS, Maker
from .directed_duties import DUTIES
from .directed_more import MORE
from .gaps import GAPS
from .mutate import any_effect, mutate
from .oracle import judge
from .parts import panel
from .pool import sources
from .reading import SAFEST, Reading
from .spec import HANDS, Answer, Hands, Profile, Spec, Stage, Step, well_formed
from .templates import outside_only, sound

CHURN = 1_000_003


def near(rng: random.Random) -> Spec:
    """A sound procedure with up to two changes."""
    spec = sound(rng)
    for _ in range(rng.choice((0, 0, 1, 1, 2))):
        spec = mutate(rng, spec)
    return spec


def near_outside(rng: random.Random) -> Spec:
    """A procedure that stays outside, with up to two changes."""
    spec = outside_only(rng)
    for _ in range(rng.choice((0, 1, 2))):
        spec = mutate(rng, spec)
    return spec


def wild(rng: random.Random) -> Spec:
    """Random steps, links and stages, two to nine steps."""
    profile = _profile(rng)
    count = rng.randint(2, 9)
    slugs = [f"s{n}" for n in range(count)]
    frame = Spec(profile, ())
    steps = [_wild_step(rng, frame, slug, slugs) for slug in slugs]
    steps[-1] = replace(steps[-1], answers=(), goto=None, exit=rng.choice(("tagged", "found", "service")))
    cut = rng.randint(1, count)
    stages = [Stage("one", tuple(steps[:cut]), panels=panel(profile.sources))]
    if cut < count:
        stages.append(
            Stage("two", tuple(steps[cut:]), panels=panel(profile.sources) if rng.random() < 0.7 else ())
        )
    spec = Spec(profile, tuple(stages), panel(profile.sources, word="danger") if rng.random() < 0.5 else ())
    return spec if well_formed(spec) else wild(rng)


def _profile(rng: random.Random) -> Profile:
    return Profile(
        sources(rng), ("lid",) if rng.random() < 0.6 else (), (), ("travel",) if rng.random() < 0.2 else ()
    )


def _wild_step(rng: random.Random, frame: Spec, slug: str, slugs: list[str]) -> Step:
    """A step with any effects, hands and ways on."""
    effects = tuple(any_effect(rng, frame) for _ in range(rng.choice((0, 1, 1, 2))))
    hands = Hands(rng.choice(HANDS[:3]), True) if rng.random() < 0.4 else None
    step = Step(slug, effects, hands=hands)
    way = rng.random()
    proved = [n for e in effects if e.kind == "proves" for n in e.names]
    if proved or way < 0.25:
        mark = (() if rng.random() < 0.5 else (rng.choice(proved),)) if proved else None
        return replace(step, answers=(Answer(rng.choice(slugs)), Answer(rng.choice(slugs), mark)))
    return replace(step, goto=rng.choice(slugs)) if way < 0.35 else step


def generators() -> dict[str, Maker]:
    """Every generator by name."""
    return {f.__name__: f for f in (near, near_outside, wild, *LEVELS, *DUTIES, *CORNERS, *GAPS, *MORE)}


def weight(name: str) -> int:
    """How many turns a generator takes for one turn of a directed one."""
    return {"near": 25, "near_outside": 2, "wild": 4}.get(name, 1)


def cases(count: int, seed: int) -> Iterator[tuple[str, int, Spec]]:
    """Cases with the name of their generator and the number that makes this very case again."""
    turns = [name for name in generators() for _ in range(weight(name))]
    for n in range(count):
        own = seed * CHURN + n
        name = turns[n % len(turns)]
        yield name, own, make(name, own)


def make(name: str, own: int) -> Spec:
    """One case again; directed ones get a change now and then."""
    rng = random.Random(own)
    maker = generators()[name]
    spec = maker(rng)
    directed = weight(name) == 1
    spec = mutate(rng, spec) if directed and rng.random() < 0.3 else spec
    assert well_formed(spec), name
    return spec


def main() -> None:
    """Print the shares."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--doubts", action="store_true", help="count the verdicts that each choice of reading turns"
    )
    given = parser.parse_args()
    if given.doubts:
        doubts(given.count, given.seed)
    else:
        shares(given.count, given.seed)


def shares(count: int, seed: int) -> None:
    """Accepted cases and states, by generator."""
    all_of, good, states = Counter[str](), Counter[str](), Counter[str]()
    kinds = Counter[str]()
    spent, start = 0.0, time.perf_counter()
    for name, _, spec in cases(count, seed):
        before = time.perf_counter()
        outcome = judge(spec)
        spent += time.perf_counter() - before
        all_of[name] += 1
        good[name] += not outcome.core
        states[name] += outcome.states
        kinds.update({kind for _, kind, _ in outcome.core})
    for name, number in all_of.items():
        print(
            f"{name:24} {number:6}  accepted {good[name] / number:5.0%}  states {states[name] / number:6.1f}"
        )
    print(
        f"all {count}: accepted {good.total() / count:.0%}, oracle {count / spent:.0f}/s, "
        f"with generating {count / (time.perf_counter() - start):.0f}/s"
    )
    print("cases with:", ", ".join(f"{kind} {n}" for kind, n in kinds.most_common()))


def doubts(count: int, seed: int) -> None:
    """How many verdicts turn when one switch of the reading is thrown."""
    specs = list(cases(count, seed))
    plain = [not judge(spec).core for _, _, spec in specs]
    for field in fields(Reading):
        other = replace(SAFEST, **{field.name: not getattr(SAFEST, field.name)})
        flipped = [
            (name, was)
            for (name, _, spec), was in zip(specs, plain, strict=True)
            if (not judge(spec, other).core) != was
        ]
        more = sum(not was for _, was in flipped)
        names = ", ".join(f"{n} {c}" for n, c in Counter(n for n, _ in flipped).most_common(4))
        print(f"{field.name:20} more accepted {more:4}, fewer {len(flipped) - more:4}  {names}")


if __name__ == "__main__":
    main()
