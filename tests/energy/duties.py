"""The Obligations part of the policy: hands, cautions, exits."""

from __future__ import annotations

from collections.abc import Iterator

from .honesty import Exemptions
from .plan import CONTROLS, INSIDE, LIVE, OPEN, PROBE, D, I, Node, Plan, Z
from .reading import Reading, Violation
from .world import World

CAUTION, WARNING, DANGER = 1, 2, 3


class Duties:
    """Judges one state at a time; results in `core`, `honesty` and `needed`."""

    def __init__(self, plan: Plan, reading: Reading) -> None:
        self.plan, self.reading = plan, reading
        self.core: set[Violation] = set()
        self.honesty: set[Violation] = set()
        self.needed: Exemptions = set()

    def blame(self, node: Node, kind: str, name: str | None = None) -> None:
        """Note a core violation."""
        self.core.add((node.step.slug, kind, name))

    def exposure(self, node: Node, w: World, incoming: bool) -> None:
        """The table of hands."""
        if node.step.do:
            return
        if node.hands <= CONTROLS:
            if w.off and incoming and not node.reason and not node.excused:
                self.blame(node, "reason")
            return
        if incoming and node.hands in (PROBE, INSIDE) and self.plan.spec.profile.guards and not w.off:
            self.honesty.add((node.step.slug, "guards-on", None))
        for n in node.uncleared:
            for kind in self.wrong(node, n, w, incoming):
                self.blame(node, kind, self.plan.sources[n].name)
            if n in node.named and w.lv[n] < Z:
                self.needed.add((node.step.slug, "live", n))
        for n, holder in node.cleared:
            if any(True for _ in self.wrong(node, n, w, incoming)):
                self.needed.add((holder, "clear", n))

    def wrong(self, node: Node, n: int, w: World, incoming: bool) -> Iterator[str]:
        """What is wrong with this source at these hands."""
        src, named = self.plan.sources[n], node.hands == LIVE and n in node.named
        if not named and not self.low_enough(node, n, w.lv[n]):
            yield "exposure"
        if incoming:
            rank = max(w.rank[n], w.doc[n])
            if rank < src.rank:
                yield "caution"
            if named and rank < (WARNING if src.rank <= CAUTION else DANGER):
                yield "live-panel"

    def low_enough(self, node: Node, n: int, level: int) -> bool:
        """Is the level low enough for these hands?"""
        src, effects = self.plan.sources[n], node.effects
        if node.hands == OPEN:
            return (
                level >= D or n in effects.get("isolates", ()) or (src.action and src.inside and level == I)
            )
        if node.hands == PROBE:
            kinds: tuple[str, ...] = ("isolates", "releases", "proves")
            kinds += () if self.reading.probe_narrow else ("restores", "loads", "runs-on")
            return level >= D or any(n in effects.get(k, ()) for k in kinds) or (src.action and level == I)
        return level == Z

    def leave(self, node: Node, w: World) -> None:
        """The exits."""
        sources = self.plan.sources
        if node.step.exit == "tagged":
            for n, src in enumerate(sources):
                if src.lockable and not w.held[n]:
                    self.blame(node, "exit-unheld", src.name)
            return
        for n, src in enumerate(sources):
            if w.held[n]:
                self.blame(node, "exit-hold", src.name)
        if w.off:
            self.blame(node, "exit-guard")
        if node.step.exit == "found" and w.touched:
            self.blame(node, "exit-touched")
        if node.step.exit == "service":
            for n, test in enumerate(self.plan.tests):
                if not w.tested >> n & 1:
                    self.blame(node, "exit-untested", test or None)
