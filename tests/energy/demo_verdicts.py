"""The verdict on each survivor: why the change is harmless about energy."""

from __future__ import annotations

from dataclasses import replace

from .demo_judge import Verdict
from .demo_reach import reach
from .demo_why import Part, exposed, lost, lost_effects, made_up_by, nodes, part, with_panels
from .edit import set_step
from .from_document import PREFIX
from .oracle import violations
from .plan import CONTROLS
from .spec import Effect, Spec, Stage, Step

NO_ENERGY = "warns of no energy: a reviewer's matter"
NOT_NEEDED = "no step in reach of it exposes hands to the source"
IN_TIME = "still in force before the first step that needs it"
DEMAND = "only asks that the source is on: without it less is asked"
NO_TIME = "no source drains or builds up in that time"
NOBODY_AFTER = "no hands go near the source after it"
OTHER_GUARD = "the step still takes another guard off"
STILL_DONE = "still done before anything needs it"
ORDER = "the order does not matter"
SAME_HANDS = "the marks of the step say the same hands"
SAME_ROW = "both levels ask the same of the sources"
ALL_SAFE = "nothing rests on it: the sources meet the nearer level"
ALL_SOURCES = "every source is safe, not only those in the zone"
READING = "the mark is of a reading: no source and no test hangs on it"
AGAIN = "the answer leads where the source is proved or tested again"
TAGGED = "the way ends locked out and tagged"
OTHER_WAY = "another way that is safe; whether it mends is for the reviewer"
ANSWER = "the other answers stay sound; a case left out is for the reviewer"
NO_EFFECT = "the step does nothing that the proof stands on"
ENDS = "another exit follows that the same state allows"
LISTED: dict[str, str] = {}
"""Verdicts that no rule below can find, by the stable name of the change."""
UNKNOWN = "NO VERDICT"


def why(verdict: Verdict, before: Spec) -> str:
    """The verdict on a survivor that the oracle accepts."""
    assert verdict.after is not None
    if verdict.name in LISTED:
        return LISTED[verdict.name]
    at = changed(verdict, before)
    kind = verdict.mutant.kind
    if at is None:
        return UNKNOWN
    if kind.endswith("panel"):
        return _panel(verdict, before, verdict.after, at)
    if isinstance(at, Step) and (kind in ("halve wait", "drop one name", "move effect") or _is_effect(kind)):
        return _effect(kind, before, verdict.after, at)
    if kind.endswith(("hands", "zone")):
        return _field(kind, before, verdict.after, at)
    return _way(verdict, before, at) if isinstance(at, Step) else UNKNOWN


def changed(verdict: Verdict, before: Spec) -> Part | None:
    """The changed stage or step as it was."""
    where, in_stage = verdict.mutant.where, verdict.mutant.in_stage
    return part(before, where, in_stage) or part(before, PREFIX + where, in_stage)


def _is_effect(kind: str) -> bool:
    return kind.startswith("drop ") and kind.split()[1] in (
        "isolates", "releases", "proves", "restores", "loads", "runs-on", "wait", "removes", "refits",
        "all-clear", "tests")  # fmt: skip


def _panel(verdict: Verdict, before: Spec, after: Spec, at: Part) -> str:
    if "no source" in verdict.mutant.what:
        return NO_ENERGY
    now = part(after, at.slug, isinstance(at, Stage))
    gone = lost(at.panels, now.panels if now else ())
    without = with_panels(before, at, [p for p in at.panels if p not in gone])
    if verdict.mutant.kind == "move panel" and violations(without):
        return IN_TIME
    twin = made_up_by(before, without, at)
    if twin is not None:
        return f"stands twice: also at `{twin.removeprefix(PREFIX)}`"
    slugs = [s.slug for s in at.steps] if isinstance(at, Stage) else [at.slug]
    sources = {n for p in gone for n in p.sources}
    return UNKNOWN if exposed(before, slugs, sources) else NOT_NEEDED


def _effect(kind: str, before: Spec, after: Spec, at: Step) -> str:
    now = part(after, at.slug, False)
    gone = lost_effects(at, now if isinstance(now, Step) else None)
    if kind == "move effect" and violations(_less(before, at, gone)):
        return STILL_DONE
    if not gone:
        return UNKNOWN
    left = (
        {n for e in now.effects if e.kind == gone[0].kind for n in e.names}
        if isinstance(now, Step)
        else set()
    )
    return _dropped(before, at, gone[0], left) or (STILL_DONE if kind == "move effect" else UNKNOWN)


def _dropped(before: Spec, at: Step, gone: Effect, left: set[str]) -> str | None:
    """Why an effect, or all its names but those that are left, may be missing."""
    if gone.kind == "runs-on":
        return DEMAND
    if gone.kind == "wait":
        short = Effect("wait", (), 1)
        return None if violations(_swapped(before, at, gone, short)) else NO_TIME
    if gone.kind == "removes":
        others = [e for e in at.effects if e.kind == "removes" and e != gone]
        return OTHER_GUARD if others else None
    later = reach(before, {at.slug}) - {at.slug}
    return None if exposed(before, later, set(gone.names) - left) else NOBODY_AFTER


def _less(spec: Spec, at: Step, gone: list[Effect]) -> Spec:
    return set_step(spec, at.slug, _with(at, tuple(e for e in at.effects if e not in gone)))


def _swapped(spec: Spec, at: Step, old: Effect, new: Effect) -> Spec:
    return set_step(spec, at.slug, _with(at, tuple(new if e == old else e for e in at.effects)))


def _with(step: Step, effects: tuple[Effect, ...]) -> Step:
    return replace(step, effects=effects)


def _field(kind: str, before: Spec, after: Spec, at: Part) -> str:
    if kind == "drop zone":
        return ALL_SOURCES
    old, new = nodes(before)[at.slug].hands, nodes(after)[at.slug].hands
    if old == new:
        return SAME_HANDS
    return SAME_ROW if max(old, new) <= CONTROLS else ALL_SAFE


def _way(verdict: Verdict, before: Spec, at: Step) -> str:
    kind, after = verdict.mutant.kind, verdict.after
    assert after is not None
    if kind == "swap steps":
        return ORDER
    if kind == "drop answer":
        return ANSWER
    if kind == "drop failing mark":
        return _unmarked(before, after, at)
    if kind == "delete step":
        return _deleted(before, at)
    return _retargeted(after, at) if kind == "retarget" else UNKNOWN


def _unmarked(before: Spec, after: Spec, at: Step) -> str:
    now = part(after, at.slug, False)
    assert isinstance(now, Step)
    old = next(a for a, b in zip(at.answers, now.answers, strict=True) if a != b)
    if old.not_ok and all(e.kind != "tests" for e in at.effects):
        return READING
    ends = _ends(before, old.target)
    return TAGGED if ends == {"tagged"} else AGAIN if at.slug in reach(before, {old.target}) else UNKNOWN


def _deleted(before: Spec, at: Step) -> str:
    if at.exit:
        return ENDS
    left = [e for e in at.effects if e.kind != "runs-on"]
    if not left:
        return NO_EFFECT
    found = {_dropped(before, at, effect, set()) for effect in left}
    return UNKNOWN if len(found) > 1 or None in found else str(found.pop())


def _retargeted(after: Spec, at: Step) -> str:
    now = part(after, at.slug, False)
    assert isinstance(now, Step)
    ways = zip(
        (*(a.target for a in at.answers), at.goto), (*(a.target for a in now.answers), now.goto), strict=True
    )
    new = next(b for a, b in ways if a != b)
    return TAGGED if new and new != "back" and _ends(after, new) == {"tagged"} else OTHER_WAY


def _ends(spec: Spec, slug: str) -> set[str]:
    """Exits on any way from a step."""
    on_the_way = reach(spec, {slug})
    return {s.exit for s in spec.steps() if s.exit and s.slug in on_the_way}
