"""The whole state at one moment, and what moves it: the Transfer part of the policy."""

from __future__ import annotations

from .plan import OPEN, D, I, L, Node, Plan, Ranks, Z
from .reading import Reading


class World:
    """Lists by source number; guards and tests as bits."""

    __slots__ = ("clear", "clk", "doc", "held", "lv", "off", "rank", "saved", "tested", "touched", "wt")

    def __init__(self, plan: Plan) -> None:
        """The state on entry: live, not ours, untested, guards on."""
        many = len(plan.sources)
        self.lv = [s.entry for s in plan.sources]
        self.wt, self.clk, self.rank, self.doc = [0] * many, [0] * many, [0] * many, [0] * many
        self.held = [False] * many
        self.saved: list[list[int]] = []
        self.off, self.tested = 0, 0
        self.clear, self.touched = False, False
        for source, rank in plan.document_panels:
            self.doc[source] = max(self.doc[source], rank)

    def copy(self) -> World:
        """A state of its own."""
        new = World.__new__(World)
        new.lv, new.wt, new.held, new.clk = self.lv[:], self.wt[:], self.held[:], self.clk[:]
        new.doc, new.rank, new.saved = self.doc[:], self.rank[:], [rank[:] for rank in self.saved]
        new.off, new.tested, new.clear, new.touched = self.off, self.tested, self.clear, self.touched
        return new

    def key(self) -> tuple[object, ...]:
        """Equal exactly for equal states."""
        return (
            *self.lv,
            *self.wt,
            *self.held,
            *self.clk,
            *self.doc,
            *self.rank,
            *(n for rank in self.saved for n in rank),
            self.off,
            self.tested,
            self.clear,
            self.touched,
        )

    def read(self, panels: Ranks) -> None:
        """Cautions come into force."""
        for source, rank in panels:
            if rank > self.rank[source]:
                self.rank[source] = rank


def to_live(plan: Plan, w: World, source: int, spread: bool = True) -> None:
    """A source is live, and with it all that it feeds."""
    for n in (source, *plan.sources[source].fed) if spread else (source,):
        w.lv[n], w.wt[n], w.clk[n] = L, 0, 0


def to_landing(plan: Plan, w: World, source: int) -> None:
    """A source is at its landing level with all times at zero."""
    w.lv[source], w.wt[source], w.clk[source] = plan.sources[source].landing, 0, 0


def transfer(plan: Plan, reading: Reading, node: Node, w: World) -> list[tuple[str, int | None]]:
    """Apply a step in the policy's order; the faults of its effects as (kind, source)."""
    faults: list[tuple[str, int | None]] = []
    effects = node.effects
    faults += [("runs-on", n) for n in effects.get("runs-on", ()) if w.lv[n] != L]
    for n in effects.get("isolates", ()):
        w.lv[n] = max(w.lv[n], plan.sources[n].landing)  # a live source has no times to set back
        w.held[n] = True
    _fall(plan, w)
    for least, most in node.waits:
        _wait(plan, reading, w, least, most)
    _release_and_prove(plan, reading, node, w, faults)
    for n in effects.get("restores", ()):
        faults += [("live-first", n)] if not all(w.lv[m] == L for m in plan.sources[n].live_first) else []
    for n in effects.get("restores", ()):
        _restore(plan, reading, w, n, faults)
    for n in effects.get("loads", ()):
        if plan.sources[n].entry == L:
            to_live(plan, w, n, reading.spread)
        else:
            to_landing(plan, w, n)
    _rest(node, w)
    return faults


def _fall(plan: Plan, w: World) -> None:
    """A live source falls once every feed is cut."""
    for n in plan.order:
        feeds = plan.sources[n].feeds
        if feeds and w.lv[n] == L and all(w.lv[f] >= I for f in feeds):
            w.lv[n] = plan.sources[n].landing


def _wait(plan: Plan, reading: Reading, w: World, least: int, most: int) -> None:
    """Bleeding at I, re-accumulating above the landing level."""
    for n, src in enumerate(plan.sources):
        run = most if reading.upper_end else least
        if w.lv[n] == I and src.landing == I:
            if not src.bleed:
                continue
            run -= src.bleed - w.wt[n]
            w.wt[n] += least
            if w.wt[n] < src.bleed:
                continue
            w.lv[n], w.wt[n], w.clk[n] = D, 0, 0
            if not reading.excess:
                continue
        if src.after and w.lv[n] > src.landing:
            w.clk[n] += run
            if w.clk[n] > src.after:
                to_landing(plan, w, n)


def _release_and_prove(
    plan: Plan, reading: Reading, node: Node, w: World, faults: list[tuple[str, int | None]]
) -> None:
    """`releases` from I, `proves` from D; a fault leaves the level."""
    for n in node.effects.get("releases", ()):
        src = plan.sources[n]
        faults += [("held-first", n)] if not all(w.held[m] for m in src.held_first) else []
        by_time = w.lv[n] == I and src.bleed > 0 and not reading.bleed_by_hand
        if w.lv[n] == L or by_time or (w.lv[n] > I and not reading.rework):
            faults.append(("release", n))
            continue
        w.clk[n] = w.clk[n] if w.lv[n] > I else 0
        w.lv[n], w.wt[n] = D, 0
    for n in node.effects.get("proves", ()):
        if w.lv[n] < D or (w.lv[n] == Z and not reading.rework):
            faults.append(("prove", n))
        elif w.lv[n] == D:
            w.clk[n] = w.clk[n] if plan.sources[n].landing == I else 0
            w.lv[n] = Z


def _restore(plan: Plan, reading: Reading, w: World, n: int, faults: list[tuple[str, int | None]]) -> None:
    """Our hold, people clear, guards on; then live, its cautions dead."""
    src = plan.sources[n]
    faults += [("restore-hold", n)] if not w.held[n] else []
    faults += [("restore-clear", None)] if not w.clear else []
    faults += [("restore-guards", None)] if w.off else []
    to_live(plan, w, n)
    w.held[n] = False
    for m in (n, *src.fed) if reading.store_cautions_die else (n,):
        for ranks in (w.rank, w.doc, *w.saved):
            ranks[m] = 0


def _rest(node: Node, w: World) -> None:
    """Guards, the bits, the tests."""
    effects = node.effects
    for g in effects.get("removes", ()):
        w.off |= 1 << g
    for g in effects.get("refits", ()):
        w.off &= ~(1 << g)
    exposed = node.hands >= OPEN and not node.step.do
    if exposed:
        w.clear, w.tested = False, 0
    for t in effects.get("tests", ()):
        w.tested |= 1 << t
    w.clear = w.clear or "all-clear" in effects
    w.touched = w.touched or exposed or any(k in effects for k in ("isolates", "restores", "removes"))


def leave_shared(reading: Reading, w: World, depth: int) -> None:
    """Out of shared stages until `depth` are left: their panels end, the callers' hold on."""
    if len(w.saved) > depth:
        w.rank = w.rank if reading.block_panels_stay else w.saved[depth]
        del w.saved[depth:]


def failed(plan: Plan, reading: Reading, node: Node, marks: tuple[int, ...], before: World, w: World) -> None:
    """The edge of a failed proof."""
    kinds = ("isolates", "releases", "proves", "restores", "loads") if reading.others_acted else ("proves",)
    for n in {n for k in kinds for n in node.effects.get(k, ())} - set(marks):
        if (before.lv[n], before.wt[n]) <= (w.lv[n], w.wt[n]):
            w.lv[n], w.wt[n], w.clk[n] = before.lv[n], before.wt[n], before.clk[n]
            if w.lv[n] == L and reading.spread:
                to_live(plan, w, n)
    for n in [n for n in plan.order if n in marks]:
        src = plan.sources[n]
        if src.entry != L or (src.feeds and all(w.lv[f] >= I for f in src.feeds)):
            to_landing(plan, w, n)
        else:
            to_live(plan, w, n, reading.spread)


def boundary(plan: Plan, stage: int, w: World) -> None:
    """The end of a stage of the main line and the start of the next."""
    for n, src in enumerate(plan.sources):
        if src.reacc:
            if w.lv[n] > src.landing:
                w.lv[n] = src.landing
            w.wt[n] = w.clk[n] = 0
    w.rank = [0] * len(plan.sources)
    w.read(plan.stage_panels[stage])
