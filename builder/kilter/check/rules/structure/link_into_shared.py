"""A way from outside into the middle of a shared stage."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.check.targets import home, step_targets
from kilter.diagnostic import Diagnostic, Label, Severity, error

CODE = "K209"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    homes = home(context.document)
    for target in step_targets(context.document):
        stage = homes.get(target.slug)
        if stage is None or not stage.shared or stage is target.stage:
            continue
        yield error(
            "link-into-shared",
            f"`{target.slug}` stands inside the shared stage `{stage.slug}`",
            target.span,
            f"do the whole stage: `:do: {stage.slug}` on a step, and lead to that step",
            why="who enters it here has no place to come back to",
            related=(Label(stage.heading_span, "the shared stage"),),
        )
