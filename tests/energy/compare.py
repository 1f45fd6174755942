"""Hold an engine against the oracle, and shrink what they disagree about.

python -m tests.energy.compare --count 20000 --seed 1
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace

from .edit import set_step, without
from .generate import cases
from .markdown import to_markdown
from .oracle import judge
from .reading import SAFEST, Reading
from .spec import Hands, Spec, Stage, Step, well_formed

Engine = Callable[[str, str], set[tuple[str, str]]]
"""Texts of profile and procedure -> (step slug, rule)."""


@dataclass
class Tally:
    """What a run saw."""

    count: int = 0
    accepted: int = 0
    found: list[tuple[str, int, str, Spec]] = field(default_factory=list)
    """Generator, its seed, the disagreement, the shrunk case."""


def disagreement(spec: Spec, engine: Engine, reading: Reading = SAFEST, honesty: bool = True) -> str | None:
    """`false accept`, `false reject`, or `blames SLUG`, a step the oracle has nothing against; None if they agree."""
    outcome = judge(spec, reading)
    wanted = outcome.core | (outcome.honesty if honesty else frozenset())
    blamed = {slug for slug, _, _ in wanted}
    blamed |= {stage.slug for stage in spec.stages if blamed & {s.slug for s in stage.steps}}
    said = engine(*to_markdown(spec))
    if bool(said) != bool(wanted):
        return "false reject" if said else "false accept"
    stray = sorted({slug for slug, _ in said} - blamed)
    return f"blames {stray[0]}" if stray else None


def compare(
    engine: Engine, given: Iterable[tuple[str, int, Spec]], most: int = 5, honesty: bool = True
) -> Tally:
    """Judge many cases; stop and shrink after `most` disagreements."""
    tally = Tally()
    for name, seed, spec in given:
        tally.count += 1
        tally.accepted += not judge(spec).core
        what = disagreement(spec, engine, honesty=honesty)
        if what is None:
            continue
        kind = what.split()[0:2] if what.startswith("false") else ["blames"]
        tally.found.append((name, seed, what, shrink(spec, _same(engine, kind, honesty))))
        if len(tally.found) >= most:
            break
    return tally


def _same(engine: Engine, kind: list[str], honesty: bool) -> Callable[[Spec], bool]:
    """Does a smaller case show the same sort of disagreement?"""

    def still(spec: Spec) -> bool:
        what = disagreement(spec, engine, honesty=honesty)
        return what is not None and what.split()[: len(kind)] == kind

    return still


def shrink(spec: Spec, still: Callable[[Spec], bool]) -> Spec:
    """The smallest case found by leaving things out one by one while the disagreement stays."""
    while True:
        smaller = next((s for s in less(spec) if s != spec and well_formed(s) and still(s)), None)
        if smaller is None:
            return spec
        spec = smaller


def less(spec: Spec) -> Iterator[Spec]:
    """Cases with one thing less, the big things first."""
    steps = spec.steps()
    for n, step in enumerate(steps):
        yield without(spec, step.slug, steps[(n + 1) % len(steps)].slug)
    for n, source in enumerate(spec.profile.sources):
        yield _no_source(spec, source.name, n)
    if spec.panels:
        yield replace(spec, panels=())
    for n, stage in enumerate(spec.stages):
        for change in (
            {"panels": ()},
            {"hands": None},
            {"zone": None},
            {"clear_of": ()},
            {"in_profile": False},
        ):
            yield replace(spec, stages=(*spec.stages[:n], replace(stage, **change), *spec.stages[n + 1 :]))
    for step in steps:
        yield from (set_step(spec, step.slug, smaller) for smaller in _less_step(step))
    for n, source in enumerate(spec.profile.sources):
        for change in (
            {"reaccumulates": False},
            {"needs_releases": ()},
            {"needs_restores": ()},
            {"charged_by": ()},
        ):
            new = replace(source, **change)
            sources = (*spec.profile.sources[:n], new, *spec.profile.sources[n + 1 :])
            yield replace(spec, profile=replace(spec.profile, sources=sources))


def _no_source(spec: Spec, name: str, n: int) -> Spec:
    """A case in which a source is not there at all."""

    def drop(names: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(x for x in names if x != name)

    sources = tuple(
        replace(
            s,
            fed_by=drop(s.fed_by),
            charged_by=drop(s.charged_by),
            needs_releases=drop(s.needs_releases),
            needs_restores=drop(s.needs_restores),
        )
        for s in (*spec.profile.sources[:n], *spec.profile.sources[n + 1 :])
    )
    if not sources or any(
        not s.fed_by and old.fed_by for s in sources for old in spec.profile.sources if old.name == s.name
    ):
        return spec
    zones = tuple((zone, drop(names)) for zone, names in spec.profile.zones)
    if any(not names for _, names in zones):
        return spec
    spec = replace(spec, profile=replace(spec.profile, sources=sources, zones=zones))
    holders: list[Spec | Stage | Step] = [spec, *spec.stages, *spec.steps()]
    panels = {
        id(h): tuple(replace(p, sources=drop(p.sources)) for p in h.panels if drop(p.sources))
        for h in holders
    }
    stages = tuple(
        replace(
            stage,
            panels=panels[id(stage)],
            clear_of=drop(stage.clear_of),
            steps=tuple(_step_without(s, drop, panels[id(s)]) for s in stage.steps),
        )
        for stage in spec.stages
    )
    return replace(spec, stages=stages, panels=panels[id(spec)])


def _step_without(
    step: Step, drop: Callable[[tuple[str, ...]], tuple[str, ...]], panels: tuple[object, ...]
) -> Step:
    effects = tuple(replace(e, names=drop(e.names)) for e in step.effects if not e.names or drop(e.names))
    hands = replace(step.hands, named=drop(step.hands.named)) if step.hands else None
    hands = Hands("inside") if hands and hands.level == "live" and not hands.named else hands
    answers = tuple(replace(a, not_zero=drop(a.not_zero) or None) if a.not_zero else a for a in step.answers)
    return replace(
        step, effects=effects, hands=hands, answers=answers, clear_of=drop(step.clear_of), panels=panels
    )  # type: ignore[arg-type]


def _less_step(step: Step) -> Iterator[Step]:
    """The step with one field, effect, name, panel or answer less."""
    for change in (
        {"answers": ()},
        {"goto": None},
        {"hands": None},
        {"clear_of": ()},
        {"zone": None},
        {"do": None},
    ):
        yield replace(step, **change)
    for key in ("effects", "panels", "answers"):
        old = getattr(step, key)
        for n in range(len(old)):
            yield replace(step, **{key: (*old[:n], *old[n + 1 :])})  # type: ignore[arg-type]
    for n, effect in enumerate(step.effects):
        for name in effect.names if len(effect.names) > 1 else ():
            new = replace(effect, names=tuple(x for x in effect.names if x != name))
            yield replace(step, effects=(*step.effects[:n], new, *step.effects[n + 1 :]))


def reproduction(spec: Spec, reading: Reading = SAFEST) -> str:
    """Both texts and the oracle's findings."""
    profile, procedure = to_markdown(spec)
    blamed = "\n".join(
        f"  {slug}: {kind} {name or ''}" for slug, kind, name in sorted(judge(spec, reading).core, key=str)
    )
    return f"{profile}\n{'=' * 72}\n{procedure}\n{'=' * 72}\noracle:\n{blamed or '  nothing against it'}\n"


def show(tally: Tally) -> str:
    """The run in words, with every reproduction."""
    rows = [f"{tally.count} cases, {tally.accepted} accepted by the oracle, {len(tally.found)} disagreements"]
    for name, seed, what, spec in tally.found:
        rows.append(f"\n##### {what} (generator {name}, seed {seed}), shrunk:\n{reproduction(spec)}")
    return "\n".join(rows)


def main() -> None:
    """Compare the real engine."""
    from .adapter import engine_findings

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    print(show(compare(engine_findings, cases(given.count, given.seed))))


if __name__ == "__main__":
    main()
