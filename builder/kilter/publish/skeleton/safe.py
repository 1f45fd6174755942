"""The parts that every task shares: make safe, open, prove, close, give back, test, leave.

Each follows what the profile says: what is held, what drains, what is let out and from where, and in which order.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable

from kilter.compute.duration import bounds
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import EnergySource
from kilter.publish.skeleton.naming import Naming
from kilter.publish.skeleton.stages import AGAIN, HAND_BACK, TAG, Stages, done_by
from kilter.publish.skeleton.words import Stop, listed, panel
from kilter.publish.skeleton.zone import covers_of, sources_of

RANKS = ("danger", "warning", "caution")


class Frame:
    """What one profile asks of every procedure on its machine."""

    def __init__(self, document: Document, shared: Collection[str] = (), zone: str = "") -> None:
        """`shared`: for which of PARTS the profile's own shared stages are asked for, if they do the whole part.

        In a `zone` only what it reaches is let out and proved. What has a lock is locked all the same: a machine
        that is left with a tag has every lock on.
        """
        self.profile = profile = document.profile
        self.zone, self.reached = zone, sources_of(profile, zone)
        self.stages = Stages(document, shared)
        self.naming = Naming(profile)
        # what can fall is parked first, while there is still power to do it
        self.sources = dict(sorted(profile.sources.items(), key=lambda item: item[1].kind != "gravity"))
        self.cut = [n for n, s in self.sources.items() if s.isolate or s.lockable]
        stores = [n for n in self._near() if self.sources[n].release == "action"]
        self.stores = self._ordered(stores, lambda s: s.needs.releases)
        self.outside = [n for n in self.stores if self.sources[n].release_from == "outside"]
        self.inside = [n for n in self.stores if n not in self.outside]
        self.guards = covers_of(profile, zone)
        self.tests = profile.before_service or ("[fill in: function]",)
        self.safe = self._kept_near(self.stages.with_all("isolates", self.cut))
        self.back = self.stages.with_all("restores", self.cut)
        self.tested = self.stages.with_all("tests", profile.before_service)

    def _near(self) -> list[str]:
        """The sources that the work can meet."""
        return [n for n in self.sources if fold(n) in self.reached]

    def _kept_near(self, stage: str) -> str:
        """A shared stage, unless it lets out or proves what the zone does not reach."""
        acted = self.stages.names(stage, "releases") | self.stages.names(stage, "proves")
        return stage if acted <= self.reached else ""

    @property
    def stop(self) -> str:
        """Where a step leads that can't go on and may have left something without a lock."""
        return AGAIN if self.cut else TAG

    def panels(self, avoid: str = "Isolate, release and prove first.") -> Iterable[str]:
        """A panel for each signal word that the profile asks for, the gravest first."""
        for word in RANKS:
            some = {n: s for n, s in self.sources.items() if s.word == word}
            yield from panel(word, some, avoid) if some else ()

    # make safe

    def isolate(self) -> Iterable[Stop]:
        for name in self.cut:
            yield Stop(f"Isolate {name}", self._held([name]))

    def _held(self, names: list[str]) -> str:
        ask = "[fill in: how %s is cut off, and the lock that holds it]"
        return self.naming.sentences("isolates", [(n, self.sources[n].isolate, ask % n) for n in names])

    def drain(self, names: Iterable[str]) -> Iterable[Stop]:
        """One wait, as long as the slowest store: all drain at the same time."""
        bleeding = {n: s.bleed for n in names if (s := self.sources[n]).release == "bleed"}
        if bleeding:
            wait = max(bleeding.values(), key=lambda t: (bounds(t or "") or (0, 0))[0])
            yield Stop(
                f"Let {listed(bleeding)} drain", f"Wait {{wait}}`{wait or '[fill in: time, such as 5 min]'}`."
            )

    def release(self, names: list[str]) -> Iterable[Stop]:
        for name in names:
            yield Stop(f"Release {name}", f"[fill in: how {name} is let go]: {{releases}}`{name}`.")

    def open(self) -> Iterable[Stop]:
        for guard in self.guards:
            yield Stop(f"Take off the {guard}", f"Undo its screws. Take off the {{removes}}`{guard}`.")

    def make_safe(self, then: str) -> list[Stop]:
        """Everything up to the first step with hands inside, which is `then`.

        A store that is released inside is proved there, after that; wherever it could be proved from.
        """
        done = self.stages.names(self.safe, "releases")
        inside = [n for n in self.inside if fold(n) not in done]
        left = [n for n in self._near() if fold(n) not in self.stages.names(self.safe, "proves")]
        proved = [n for n in left if self.sources[n].prove_from == "outside" and n not in inside]
        later = [n for n in left if n not in proved]
        within = [*self.open(), *self.release(inside), *self.prove("inside", later, then)]
        after = within[0].slug if within else then
        before = [done_by("Make it safe", self.safe)] if self.safe else [*self.isolate()]
        before += self.drain(left)
        before += self.release([n for n in self.outside if fold(n) not in done])
        return [*before, *self.prove("from outside", proved, after), *within]

    def prove(self, where: str, names: list[str], then: str) -> Iterable[Stop]:
        if not names:
            return
        said = [(n, self.sources[n].prove, f"[fill in: how {n} is proved]") for n in names]
        answers = (("All at zero", then, ""), ("Anything else", TAG, "{not-zero}"))
        fields: tuple[str, ...] = (
            ":origin: [fill in: where the limits come from, such as maker's manual p. 12]",
        )
        if where == "inside" and self.guards and all(self.sources[n].prove_from == "outside" for n in names):
            # counts as work at the controls, and a guard is off
            fields = (":hands: controls - [fill in: why nobody reaches in while it is proved]", *fields)
        yield Stop(f"Prove zero {where}", self.naming.sentences("proves", said), fields, answers)

    # give back

    def close(self) -> Iterable[Stop]:
        """The springs that were let out inside are loaded before the covers go on, the others after."""
        yield from self._load([n for n in self.inside if self._wound(n)], bool(self.guards))
        for guard in reversed(self.guards):
            yield Stop(f"Put back the {guard}", f"Put on the {{refits}}`{guard}`. Tighten its screws.")
        yield from self._load([n for n in self.outside if self._wound(n)], False)

    def _wound(self, name: str) -> bool:
        """Whether the work has to load it again: nothing feeds it, or the profile has words for loading it."""
        source = self.sources[name]
        if fold(name) in self.stages.names(self.back, "loads"):
            return False
        return bool(source.loaded_by) or not (source.fed_by or name in self.cut)

    def _load(self, names: list[str], open: bool) -> Iterable[Stop]:
        for name in names:
            reason = (
                (":hands: controls - [fill in: why nobody reaches in while it is loaded]",) if open else ()
            )
            words = listed(self.sources[name].loaded_by or ("how it is loaded again",))
            yield Stop(f"Load {name}", f"[fill in: {words}, and how far]: {{loads}}`{name}`.", reason)

    def give_back(self) -> Iterable[Stop]:
        if self.back:
            yield done_by("Give it back", self.back)
            return
        yield Stop(
            "Clear the machine", "Count the tools and send everybody clear: {all-clear}`people and tools`."
        )
        # feeds first, what can fall comes last
        order = [*(n for n in self.cut if self.sources[n].kind != "gravity")]
        order += [n for n in self.cut if n not in order]
        for name in self._ordered(order, lambda s: (*s.needs.restores, *s.fed_by)):
            yield Stop(f"Give back {name}", f"[fill in: how the lock comes off]: {{restores}}`{name}`.")

    def test(self, then: str = HAND_BACK) -> Iterable[Stop]:
        """One step for each test that comes before service; what fails is locked out again."""
        if self.tested and then == HAND_BACK:
            yield done_by("Test it", self.tested, "test-1")
            return
        for n, name in enumerate(self.tests, 1):
            next = f"test-{n + 1}" if n < len(self.tests) else then
            answers = (
                ("[fill in: what is seen when it is right]", next, ""),
                ("[fill in: anything else]", self.stop, "{not-ok}"),
            )
            yield Stop(
                f"Test {name}", f"[fill in: how it is tested]: {{tests}}`{name}`.", (), answers, f"test-{n}"
            )

    def hand_back(self) -> Stop:
        return Stop("Hand it back", "Write down what was done.", (":exit: returned to service",))

    def leave(self) -> Iterable[Stop]:
        if self.cut:
            yield Stop("Lock it out again", self._held(self.cut))
        text = "Hang your tag. Treat the machine as live. Tell the workshop."
        yield Stop("Stop and tag", text, (":exit: left locked out, tagged",))

    # order

    def _ordered(self, names: list[str], needs: Callable[[EnergySource], Iterable[str]]) -> list[str]:
        """The same names, each after those that it needs; of those that need each other the first goes first."""
        left, done = list(names), list[str]()
        while left:
            wanted = {n: self._roots(needs(self.sources[n])) for n in left}
            ready = [n for n in left if not (wanted[n] & set(left) - {n})]
            done.append(ready[0] if ready else left[0])
            left.remove(done[-1])
        return done

    def _roots(self, names: Iterable[str]) -> set[str]:
        """The sources themselves, with all that feeds them: a store is live again when its feeds are."""
        found, open = set[str](), [self.profile.source_name(n) for n in names]
        while open:
            name = open.pop()
            if name is not None and name not in found:
                found.add(name)
                open += [self.profile.source_name(n) for n in self.sources[name].fed_by]
        return found
