"""Steps in the order in which they are worked through: a shared stage stands where it is first called."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.publish.view import DocumentView, StageView, StepView


def in_order(view: DocumentView) -> list[tuple[StageView, StepView]]:
    """Every step once; what no step calls comes at the end."""
    by_anchor = {stage.anchor: stage for stage in view.stages}
    done: set[str] = set()

    def walk(stage: StageView) -> Iterator[tuple[StageView, StepView]]:
        if stage.anchor in done:
            return
        done.add(stage.anchor)
        for step in stage.steps:
            yield stage, step
            if step.do in by_anchor:
                yield from walk(by_anchor[step.do])

    found = [pair for stage in view.stages if not stage.stage.shared for pair in walk(stage)]
    return found + [pair for stage in view.stages for pair in walk(stage)]
