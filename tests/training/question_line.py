"""Orders of steps by enumeration: a small machine that walks one straight line of steps and says what is unsafe.

Written from the policy in words, apart from the project's analysis and from the oracle of `tests/energy`; only what
reads a document into plain data is shared. Cautions and reasons are left out: they bind no order.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from tests.energy.spec import Profile, Source, Spec, Step

L, I, D, Z = range(4)  # noqa: E741
OUTSIDE = {"isolates", "restores", "runs-on", "loads", "wait", "all-clear", "tests"}
MOST_LINES, MOST_STATES, SHORT = 6, 2_000, 12


@dataclass(frozen=True)
class State:
    """Of each source level, hold and seconds waited; then the guards that are off, clear, tests done."""

    levels: tuple[int, ...]
    held: tuple[bool, ...]
    waited: tuple[int, ...]
    off: frozenset[str] = frozenset()
    clear: bool = False
    tested: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Placed:
    """A step with what it takes from its stage."""

    step: Step
    zone: str | None
    clear_of: tuple[str, ...]


class Line:
    """The machine of one document."""

    def __init__(self, spec: Spec) -> None:
        self.spec, self.profile = spec, spec.profile
        self.names = [s.name for s in spec.profile.sources]
        self.placed = {
            step.slug: Placed(step, step.zone or stage.zone, step.clear_of or stage.clear_of)
            for stage in spec.stages
            for step in stage.steps
        }
        self.written = {step.slug: step.hands or stage.hands for stage in spec.stages for step in stage.steps}

    def start(self) -> State:
        """Everything live but what nothing can cut off."""
        levels = tuple(L if _cut(s) else _landing(s) for s in self.profile.sources)
        nothing = tuple(False for _ in levels)
        return State(levels, nothing, tuple(0 for _ in levels))

    def hands(self, step: Step) -> str:
        """The level that is exposed: written, or by the effects."""
        kinds = {e.kind for e in step.effects}
        written = self.written[step.slug]
        if written:
            level = written.level
        elif not kinds:
            level = "controls" if step.exit else "inside"
        elif kinds <= OUTSIDE:
            level = "controls"
        else:
            level = (
                "open" if kinds & {"removes", "refits"} and not kinds & {"releases", "proves"} else "probe"
            )
        return "controls" if level == "probe" and self._outside(step) else level

    def _outside(self, step: Step) -> bool:
        kinds = {e.kind for e in step.effects}
        if kinds & {"removes", "refits"} or not kinds & {"releases", "proves"}:
            return False
        return all(
            (self._source(n).release_from if e.kind == "releases" else self._source(n).prove_from)
            == "outside"
            for e in step.effects
            if e.kind in ("releases", "proves")
            for n in e.names
        )

    def _source(self, name: str) -> Source:
        return self.profile.sources[self.names.index(name)]

    def after(self, slug: str, state: State) -> State | None:
        """The state after a step; None where it may not be done in this state."""
        placed = self.placed[slug]
        step, hands = placed.step, self.hands(placed.step)
        levels, held, waited = list(state.levels), list(state.held), list(state.waited)
        if not self._may(placed, hands, levels, state):
            return None
        done: dict[str, list[str]] = {}
        seconds = 0
        for effect in step.effects:
            done.setdefault(effect.kind, []).extend(effect.names)
            seconds += effect.seconds
        at = self.names.index
        if any(levels[at(n)] != L for n in done.get("runs-on", [])):
            return None
        for n in map(at, done.get("isolates", [])):
            levels[n], held[n] = max(levels[n], _landing(self.profile.sources[n])), True
        self._fall(levels)
        for n, source in enumerate(self.profile.sources):
            if levels[n] == I:
                waited[n] += seconds
                if source.release == "bleed" and source.bleed and waited[n] >= source.bleed:
                    levels[n] = D
        for n in map(at, done.get("releases", [])):
            source = self.profile.sources[n]
            if levels[n] < I or any(not held[at(o)] for o in source.needs_releases):
                return None
            levels[n] = D
        for n in map(at, done.get("proves", [])):
            if levels[n] < D:
                return None
            levels[n] = Z
        exposed = hands in ("open", "probe", "inside", "live")
        clear, tested = (False, frozenset[str]()) if exposed else (state.clear, state.tested)
        back = done.get("restores", [])
        for n in map(at, back):
            source = self.profile.sources[n]
            live = all(levels[at(o)] == L for o in source.needs_restores)
            if not (held[n] and clear and not state.off and live):
                return None
        for name in (*back, *done.get("loads", [])):
            n = at(name)
            levels[n] = (
                L if name in back or _cut(self.profile.sources[n]) else _landing(self.profile.sources[n])
            )
            held[n], waited[n] = held[n] and name not in back, 0
            for m in self._fed(name) if levels[n] == L else ():
                levels[m], waited[m] = L, 0
        off = (state.off | set(done.get("removes", []))) - set(done.get("refits", []))
        if "tests" in done:
            tested = tested | set(done["tests"]) | {"any"}
        new = State(tuple(levels), tuple(held), tuple(waited), off, clear or "all-clear" in done, tested)
        if back and exposed and not self._may(placed, hands, levels, new):
            return None
        return None if step.exit == "service" and not self._served(new) else new

    def _fall(self, levels: list[int]) -> None:
        """What lost all its feeds falls to where it lands, one after another."""
        for _ in self.names:
            for n, source in enumerate(self.profile.sources):
                dead = source.fed_by and all(levels[self.names.index(f)] >= I for f in source.fed_by)
                if dead and levels[n] == L:
                    levels[n] = _landing(source)

    def _fed(self, name: str) -> Iterator[int]:
        for n, source in enumerate(self.profile.sources):
            if name in source.fed_by:
                yield n
                yield from self._fed(source.name)

    def _served(self, state: State) -> bool:
        wanted = set(self.profile.before_service) or {"any"}
        return not any(state.held) and not state.off and wanted <= state.tested

    def _may(self, placed: Placed, hands: str, levels: list[int], state: State) -> bool:
        step = placed.step
        if hands not in ("open", "probe", "inside", "live"):
            return True
        if hands in ("inside", "probe") and self.profile.guards and not state.off:
            return False
        zone = dict(self.profile.zones).get(placed.zone or "", tuple(self.names))
        acted = {n for e in step.effects for n in e.names}
        made_safe = {n for e in step.effects if e.kind in ("isolates", "releases", "proves") for n in e.names}
        cut = {n for e in step.effects if e.kind == "isolates" for n in e.names}
        written = self.written[step.slug]
        for name in set(zone) - (set(placed.clear_of) - acted):
            source, level = self._source(name), levels[self.names.index(name)]
            if hands == "live" and written and name in written.named:
                continue
            least = Z if hands in ("inside", "live") else D
            if hands == "open" and (name in cut or _stands_open(source)):
                least = L if name in cut else I
            if hands == "probe" and (name in made_safe or source.release == "action"):
                least = L if name in made_safe else I
            if level < least:
                return False
        return True

    # ways and orders

    def lines(self, wanted: set[str]) -> list[list[str]]:
        """The shortest ways to service that hold all the steps, without loops and without a proof that failed."""
        found = [way for way in self._all_ways if wanted <= set(way)]
        return sorted(found, key=len)[:MOST_LINES]

    @cached_property
    def _all_ways(self) -> list[list[str]]:
        return list(self._ways())

    def _ways(self) -> Iterator[list[str]]:
        stages = {s.slug: s for s in self.spec.stages}
        plain = [s for s in self.spec.stages if not s.shared]
        order = [step.slug for stage in plain for step in stage.steps]
        home = {step.slug: stage for stage in self.spec.stages for step in stage.steps}
        todo: list[tuple[list[str], tuple[str, ...]]] = [([order[0]], ())]
        count = 0
        while todo and count < 4_000:
            way, calls = todo.pop()
            count += 1
            step = self.placed[way[-1]].step

            def on(slug: str | None, stack: tuple[str, ...], way: list[str] = way) -> None:
                if slug is not None and slug not in way:
                    todo.append(([*way, slug], stack))

            if step.exit:
                if step.exit == "service":
                    yield way
            elif step.do:
                on(stages[step.do].steps[0].slug, (*calls, step.slug))
            elif step.answers:
                for answer in step.answers:
                    if answer.not_zero is None:
                        if answer.target == "back":
                            on(_next(home, order, calls[-1]) if calls else None, calls[:-1])
                        else:
                            leaves = calls and home[answer.target] is not home[step.slug]
                            on(answer.target, () if leaves else calls)
            elif step.goto:
                on(step.goto, calls)
            else:
                last = home[step.slug].steps[-1] is step
                if home[step.slug].shared and last:
                    on(_next(home, order, calls[-1]) if calls else None, calls[:-1])
                else:
                    on(_next(home, order, step.slug), calls)

    def works(self, way: list[str]) -> bool:
        """Whether the steps may be done in this order."""
        state: State | None = self.start()
        for slug in way:
            state = self.after(slug, state) if state is not None and not self.placed[slug].step.do else state
        return state is not None

    def other_order(self, way: list[str], first: str, then: str) -> bool:
        """Whether some order of the same steps is safe in which `then` comes before `first`."""
        steps = self._that_matter([s for s in way if not self.placed[s].step.do], {first, then})
        end, todo = steps[-1], [(frozenset[str](), self.start())]
        seen = set(todo)
        while todo:
            done, state = todo.pop()
            if len(done) == len(steps):
                return True
            for slug in steps:
                if slug in done or (slug == first and then not in done):
                    continue
                if slug == end and len(done) < len(steps) - 1:
                    continue
                new = self.after(slug, state)
                here = (done | {slug}, new) if new is not None else None
                if here is not None and here not in seen:
                    seen.add(here)
                    todo.append(here)  # type: ignore[arg-type]
            if len(seen) > (MOST_STATES if len(steps) <= SHORT else MOST_STATES // 10):
                return self._moved(steps, first, then)
        return False

    def _moved(self, steps: list[str], first: str, then: str) -> bool:
        """For lines with too many orders: whether one of the two may go to any place on the other's far side."""
        a, b = steps.index(first), steps.index(then)
        early = [[*steps[:n], then, *(s for s in steps[n:] if s != then)] for n in range(a + 1)]
        late = [
            [s for s in steps[: n + 1] if s != first] + [first, *steps[n + 1 :]]
            for n in range(b, len(steps) - 1)
        ]
        return any(self.works(way) for way in (*early, *late))

    def _that_matter(self, steps: list[str], kept: set[str]) -> list[str]:
        """Without what binds no other order: whatever is safe with all of them is safe without these, too."""
        found, seen = list[str](), set[tuple[object, ...]]()
        for slug in steps:
            placed = self.placed[slug]
            hands = self.hands(placed.step)
            like = (hands, placed.zone, placed.clear_of)
            idle = not placed.step.effects and slug != steps[-1] and slug not in kept
            if idle and (hands in ("away", "controls") or like in seen):
                continue
            if not placed.step.effects:
                seen.add(like)
            found.append(slug)
        return found


def _next(home: dict[str, object], order: list[str], slug: str) -> str | None:
    """The step that stands after another in the main line or in its own shared stage."""
    steps = [s.slug for s in home[slug].steps]  # type: ignore[attr-defined]
    if slug in order:
        at = order.index(slug) + 1
        return order[at] if at < len(order) else None
    at = steps.index(slug) + 1
    return steps[at] if at < len(steps) else None


def _cut(source: Source) -> bool:
    return bool(source.fed_by) or source.isolate or source.lockable


def _landing(source: Source) -> int:
    return I if source.release != "none" or source.bleed else D


def _stands_open(source: Source) -> bool:
    return source.release == "action" and source.release_from == "inside"


__all__ = ["Line", "Profile"]
