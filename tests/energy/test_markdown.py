"""What is written for the reader is what the oracle judged."""

from __future__ import annotations

from .adapter import read_case
from .generate import cases
from .markdown import EXIT_WORDS, to_markdown
from .spec import Spec, Step

MARKS = (
    "isolates",
    "releases",
    "proves",
    "restores",
    "loads",
    "runs-on",
    "wait",
    "removes",
    "refits",
    "tests",
    "all-clear",
)


def wanted(step: Step) -> list[tuple[str, ...]]:
    """Effects in writing order, of a wait only the kind."""
    return [
        (e.kind, *e.names) if e.kind != "all-clear" else (e.kind, "people and tools") for e in step.effects
    ]


def test_the_real_reader_finds_every_effect_and_answer_again() -> None:
    """Reading a written case brings back its steps, effects, panels, answers, marks and exits, without a finding."""
    for _, _, spec in cases(250, 6):
        check(spec)


def check(spec: Spec) -> None:
    """Compare one case with what was read."""
    _, profile, procedure = read_case(*to_markdown(spec))
    read = {s.slug: s for d in (profile, procedure) for stage in d.stages for s in stage.steps}
    assert set(read) == {s.slug for s in spec.steps()}
    for step in spec.steps():
        got = read[step.slug]
        marks = [
            (r.name, *(n.text for n in r.names)) if r.name != "wait" else ("wait",)
            for r in got.roles
            if r.name in MARKS
        ]
        assert marks == wanted(step)
        assert [(p.word, tuple(n.text for n in p.sources)) for p in got.panels] == [
            (p.word, p.sources) for p in step.panels
        ]
        assert [(a.target, a.failure.mark if a.failure else None) for a in got.answers] == [
            (a.target, "not-zero" if a.not_zero is not None else "not-ok" if a.not_ok else None)
            for a in step.answers
        ]
        left = got.field("exit")
        assert (left.value if left else None) == (EXIT_WORDS[step.exit] if step.exit else None)
