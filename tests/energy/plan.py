"""A case turned into numbers, so that the oracle walks it fast.  No policy here, only looking up."""

from __future__ import annotations

from dataclasses import dataclass, field

from .spec import ACTS, HANDS, WORDS, Effect, Panel, Profile, Source, Spec, Stage, Step

AWAY, CONTROLS, OPEN, PROBE, INSIDE, LIVE = range(6)
LEAST = {
    "isolates": CONTROLS,
    "restores": CONTROLS,
    "runs-on": CONTROLS,
    "loads": CONTROLS,
    "releases": PROBE,
    "proves": PROBE,
    "removes": OPEN,
    "refits": OPEN,
    "wait": CONTROLS,
    "all-clear": CONTROLS,
    "tests": CONTROLS,
}
L, I, D, Z = range(4)  # noqa: E741 (the policy's own letters)

Ranks = tuple[tuple[int, int], ...]
"""Pairs of (source, rank of the signal word)."""


@dataclass(slots=True)
class Src:
    """A source by number."""

    name: str
    rank: int
    landing: int
    entry: int
    feeds: tuple[int, ...]
    fed: tuple[int, ...] = ()
    """What this source feeds, at any depth."""
    action: bool = False
    bleed: int = 0
    """Seconds to wait; 0 where nothing bleeds off."""
    inside: bool = True
    """Released from inside."""
    reacc: bool = False
    after: int = 0
    """Seconds until it is back; 0 where only stages count."""
    lockable: bool = False
    held_first: tuple[int, ...] = ()
    live_first: tuple[int, ...] = ()


@dataclass(slots=True)
class Node:
    """A step by number."""

    index: int
    step: Step
    stage: int
    last: bool
    hands: int = CONTROLS
    """What the step exposes; a probe step that counts as controls says controls."""
    reason: bool = False
    excused: bool = False
    """With a guard off it need not say why."""
    written: int | None = None
    derived: int = CONTROLS
    named: frozenset[int] = frozenset()
    """Sources of a live step that are named with a reason."""
    uncleared: tuple[int, ...] = ()
    cleared: tuple[tuple[int, str], ...] = ()
    """Sources explained away, with the slug of the step or stage that does it."""
    panels: Ranks = ()
    effects: dict[str, tuple[int, ...]] = field(default_factory=dict)
    """Source, guard or test numbers by kind, in writing order."""
    waits: tuple[tuple[int, int], ...] = ()
    marks: tuple[tuple[int, ...] | None, ...] = ()
    """Of every answer: the sources whose proof failed."""


@dataclass(slots=True)
class Plan:
    """A whole case by number."""

    spec: Spec
    sources: list[Src]
    order: list[int]
    """Source numbers, feeds before what they feed."""
    nodes: list[Node]
    by_slug: dict[str, int]
    blocks: dict[str, int]
    first: list[int]
    """First step of each stage."""
    stage_panels: list[Ranks]
    document_panels: Ranks
    tests: tuple[str, ...]


def compile_spec(spec: Spec) -> Plan:
    """Number everything once."""
    numbers = {s.name: n for n, s in enumerate(spec.profile.sources)}
    sources = [_source(s, numbers) for s in spec.profile.sources]
    for n, src in enumerate(sources):
        src.fed = tuple(m for m in range(len(sources)) if _feeds(sources, n, m))
    order = sorted(range(len(sources)), key=lambda n: sum(n in other.fed for other in sources))
    plan = Plan(
        spec,
        sources,
        order,
        [],
        {},
        {},
        [],
        [_ranks(s.panels, numbers) for s in spec.stages],
        _ranks(spec.panels, numbers),
        spec.profile.before_service or ("",),
    )
    for number, stage in enumerate(spec.stages):
        plan.blocks.update({stage.slug: number} if stage.shared else {})
        plan.first.append(len(plan.nodes))
        for step in stage.steps:
            plan.by_slug[step.slug] = len(plan.nodes)
            plan.nodes.append(_node(plan, numbers, number, stage, step))
    return plan


def _source(s: Source, numbers: dict[str, int]) -> Src:
    landing = D if s.release == "none" else I
    return Src(
        s.name,
        WORDS.index(s.word),
        landing,
        L if s.fed_by or s.isolate else landing,
        tuple(numbers[f] for f in s.fed_by),
        action=s.release == "action",
        bleed=s.bleed if s.release == "bleed" else 0,
        inside=s.release_from == "inside",
        reacc=s.reaccumulates is not False,
        after=0 if isinstance(s.reaccumulates, bool) else s.reaccumulates,
        lockable=s.lockable,
        held_first=tuple(numbers[f] for f in s.needs_releases),
        live_first=tuple(numbers[f] for f in s.needs_restores),
    )


def _feeds(sources: list[Src], feed: int, store: int) -> bool:
    """Does `feed` feed `store`, directly or through others?"""
    todo, seen = [store], set[int]()
    while todo:
        for up in sources[todo.pop()].feeds:
            if up == feed:
                return True
            if up not in seen:
                seen.add(up)
                todo.append(up)
    return False


def _ranks(panels: tuple[Panel, ...], numbers: dict[str, int]) -> Ranks:
    return tuple((numbers[s], WORDS.index(p.word)) for p in panels for s in p.sources)


def _node(plan: Plan, numbers: dict[str, int], number: int, stage: Stage, step: Step) -> Node:
    node = Node(len(plan.nodes), step, number, step is stage.steps[-1], panels=_ranks(step.panels, numbers))
    guards = {g: n for n, g in enumerate(plan.spec.profile.guards)}
    tests = {t: n for n, t in enumerate(plan.tests)}
    for kind in LEAST:
        names = [n for e in step.effects if e.kind == kind for n in e.names]
        known = guards if kind in ("removes", "refits") else tests if kind == "tests" else numbers
        if kind == "tests" and not plan.spec.profile.before_service and names:
            names = [""]
        found = tuple(known[n] for n in names if n in known)
        if found:
            node.effects[kind] = found
    node.waits = tuple((e.seconds, max(e.seconds, e.upto)) for e in step.effects if e.kind == "wait")
    if any(e.kind == "all-clear" for e in step.effects):
        node.effects["all-clear"] = (0,)
    proved = node.effects.get("proves", ())
    node.marks = tuple(
        None if a.not_zero is None else tuple(numbers[n] for n in a.not_zero) or proved for a in step.answers
    )
    _hands(plan, node, stage)
    _reach(plan, numbers, node, stage)
    return node


def _hands(plan: Plan, node: Node, stage: Stage) -> None:
    """Default deny, the table of effects, the written field, and `outside` steps."""
    step = node.step
    kinds = {e.kind for e in step.effects}
    node.derived = max((LEAST[k] for k in kinds), default=CONTROLS if step.exit else INSIDE)
    hands = step.hands or stage.hands
    node.written = HANDS.index(hands.level) if hands else None
    node.hands = node.written if node.written is not None else node.derived
    node.reason = hands is not None and hands.reason
    numbers = {s.name: n for n, s in enumerate(plan.sources)}
    node.named = frozenset(numbers[n] for n in hands.named) if hands and hands.reason else frozenset()
    if (
        node.hands == PROBE
        and outside_hands(plan.spec.profile, step.effects) == CONTROLS
        and kinds & {"releases", "proves"}
    ):
        node.hands = CONTROLS
    node.excused = bool(step.do or step.exit) or (bool(kinds) and kinds <= {"wait", "all-clear"})


def outside_hands(profile: Profile, effects: tuple[Effect, ...]) -> int:
    """The highest hands of the effects, where a release or a proof from outside counts as controls."""
    where = {s.name: s for s in profile.sources}
    return max(
        (CONTROLS if LEAST[e.kind] == PROBE and _from_outside(where, e) else LEAST[e.kind] for e in effects),
        default=INSIDE,
    )


def _from_outside(where: dict[str, Source], effect: Effect) -> bool:
    """A release or a proof of sources whose profile says `outside` for it."""
    spots = [
        where[n].release_from if effect.kind == "releases" else where[n].prove_from for n in effect.names
    ]
    return all(spot == "outside" for spot in spots)


def _reach(plan: Plan, numbers: dict[str, int], node: Node, stage: Stage) -> None:
    """Which sources count here: the zone, less what the step or the stage is clear of."""
    zone = node.step.zone or stage.zone
    zones = dict(plan.spec.profile.zones)
    here = [numbers[n] for n in zones[zone]] if zone else list(range(len(plan.sources)))
    acted = {n for kind in ACTS for n in node.effects.get(kind, ())}
    holder = node.step.slug if node.step.clear_of else stage.slug
    clear = {numbers[n] for n in node.step.clear_of or stage.clear_of} - acted
    node.uncleared = tuple(n for n in here if n not in clear)
    node.cleared = tuple((n, holder) for n in here if n in clear)
