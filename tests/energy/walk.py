"""The walk over every state of every way through."""

from __future__ import annotations

from collections.abc import Iterator

from .duties import Duties
from .honesty import on_the_way
from .plan import Node, Plan
from .reading import MOST, Position, Reading, TooLarge
from .world import World, boundary, failed, leave_shared, transfer


class Walk(Duties):
    """One exhaustive walk; results in `core` and `honesty`."""

    def __init__(self, plan: Plan, reading: Reading) -> None:
        super().__init__(plan, reading)
        self.edges: dict[Position, set[Position]] = {}
        self.ends: set[Position] = set()
        self.states = 0

    def run(self) -> None:
        """Visit every state, then judge the graph."""
        plan = self.plan
        main = [n for n, stage in enumerate(plan.spec.stages) if not stage.shared]
        world = World(plan)
        world.read(plan.stage_panels[main[0]])
        todo: list[tuple[Position, World]] = [(((), plan.first[main[0]]), world)]
        seen = {(todo[0][0], world.key())}
        while todo:
            position, world = todo.pop()
            for there, state in self.visit(position, world):
                self.edges[position].add(there)
                key = (there, state.key())
                if key not in seen:
                    seen.add(key)
                    todo.append((there, state))
            if len(seen) > MOST:
                raise TooLarge
        self.states = len(seen)
        self.graph()
        self.honesty |= on_the_way(plan, self.needed, {i for _, i in self.edges})

    def visit(self, position: Position, world: World) -> Iterator[tuple[Position, World]]:
        """Judge one step in one state; where it leads, with which state."""
        stack, index = position
        node = self.plan.nodes[index]
        self.edges.setdefault(position, set())
        before = world.copy()
        before.read(node.panels)
        self.exposure(node, before, incoming=True)
        after = before.copy()
        for kind, source in transfer(self.plan, self.reading, node, after):
            self.blame(node, kind, None if source is None else self.plan.sources[source].name)
        if "loads" in node.effects or "restores" in node.effects:
            self.exposure(node, after, incoming=False)
        if not self.reading.step_panel_stays:
            after.rank = [min(a, b) for a, b in zip(after.rank, world.rank, strict=True)]
        if node.step.exit:
            self.ends.add(position)
            self.leave(node, after)
            return
        yield from self.onward(stack, node, before, after)

    def onward(
        self, stack: tuple[int, ...], node: Node, before: World, after: World
    ) -> Iterator[tuple[Position, World]]:
        """The edges of a step."""
        step = node.step
        if step.do is not None:
            yield from self.call(stack, node, after)
        elif step.answers:
            for answer, marks in zip(step.answers, node.marks, strict=True):
                state = after.copy()
                if marks is not None:
                    failed(self.plan, self.reading, node, marks, before, state)
                if answer.not_ok and self.reading.not_ok_clears:
                    for test in node.effects.get("tests", ()):
                        state.tested &= ~(1 << test)
                yield from self.arrive(stack, node, self.jump(stack, node, answer.target), state)
        elif step.goto:
            yield from self.arrive(stack, node, self.jump(stack, node, step.goto), after)
        else:
            yield from self.arrive(stack, node, self.follow(stack, node), after)

    def call(self, stack: tuple[int, ...], node: Node, after: World) -> Iterator[tuple[Position, World]]:
        """Into a shared stage: no boundary, its panels are read."""
        block = self.plan.blocks[str(node.step.do)]
        if any(self.plan.nodes[i].step.do == node.step.do for i in stack) or block == node.stage:
            self.blame(node, "recursion")
            return
        state = after.copy()
        state.saved.append(state.rank[:])
        state.read(self.plan.stage_panels[block])
        yield ((*stack, node.index), self.plan.first[block]), state

    def arrive(
        self, stack: tuple[int, ...], node: Node, there: Position | None, state: World
    ) -> Iterator[tuple[Position, World]]:
        """Cross a stage boundary where there is one."""
        if there is None:
            return
        leave_shared(self.reading, state, len(there[0]))
        old, new = self.main_stage(stack, node.index), self.main_stage(*there)
        if old != new:
            boundary(self.plan, new, state)
        yield there, state

    def main_stage(self, stack: tuple[int, ...], index: int) -> int:
        """The stage of the main line, whatever shared stage we are in."""
        return self.plan.nodes[stack[0] if stack else index].stage

    def jump(self, stack: tuple[int, ...], node: Node, target: str) -> Position | None:
        """Follow a link."""
        if target == "back":
            return self.back(stack, node)
        there = self.plan.nodes[self.plan.by_slug[target]]
        if not self.plan.spec.stages[there.stage].shared:
            return (), there.index
        if there.stage == node.stage:
            return stack, there.index
        self.blame(node, "into-shared")
        return None

    def follow(self, stack: tuple[int, ...], node: Node) -> Position | None:
        """The next step in document order, past shared stages; the end of a shared stage returns."""
        stages = self.plan.spec.stages
        if not node.last:
            return stack, node.index + 1
        if stages[node.stage].shared:
            return self.back(stack, node)
        for later in range(node.stage + 1, len(stages)):
            if not stages[later].shared:
                return stack, self.plan.first[later]
        self.blame(node, "dead-end")
        return None

    def back(self, stack: tuple[int, ...], node: Node) -> Position | None:
        """Return to what comes after the step that asked."""
        if not stack:
            self.blame(node, "back-outside")
            return None
        caller = self.plan.nodes[stack[-1]]
        if caller.step.goto:
            return self.jump(stack[:-1], caller, caller.step.goto)
        return self.follow(stack[:-1], caller)

    def graph(self) -> None:
        """Steps never reached, and steps from which no exit can be reached."""
        reached = {index for _, index in self.edges}
        called = {self.plan.nodes[i].stage for i in reached}
        for node in self.plan.nodes:
            spare = self.plan.spec.stages[node.stage].in_profile and node.stage not in called
            if node.index not in reached and not spare:
                self.blame(node, "unreachable")
        good = set(self.ends)
        while more := {p for p, to in self.edges.items() if p not in good and to & good}:
            good |= more
        for _, index in self.edges.keys() - good:
            self.blame(self.plan.nodes[index], "no-way-out")
