"""Sentences that text, picture and page share."""

from __future__ import annotations

from kilter.publish.states.data import SourceLine, States, StepLine, Stop, Unmet

MEANS = (
    "Accepted means: every way through the document, as it is annotated, meets the policy. "
    "It says nothing about whether the annotations are true or the repair is right; that is yours to judge."
)
WORST = (
    "Each step shows the worst that any way in leaves before it. Nothing here says that something was done."
)


def varies(line: SourceLine) -> str:
    return f"varies: {line.best} .. {line.worst}" if line.varies else ""


def held(line: SourceLine) -> str:
    return "held by us" if line.held else "not held"


def needs(line: SourceLine) -> str:
    return f"needs {line.needs}" if line.needs else ""


def explained(line: SourceLine) -> str:
    """The exemption: what it spares, and the author's reason."""
    if not line.reason:
        return ""
    spared = f"would need {line.without_reason}" if line.without_reason else "would need a caution only"
    return f"{spared}; explained: {line.reason}"


def cautions(step: StepLine) -> tuple[tuple[str, str], ...]:
    """Label and sources, for those that ask for a caution; what nobody warned of comes first."""
    asked = [s for s in step.sources if s.caution_asked]
    if asked and all(s.caution == "on every way" for s in asked):
        return (("caution read", "every source in reach" if len(asked) > 1 else _named(asked[0])),)
    labels = {
        "on no way": "NO CAUTION READ",
        "on some ways": "caution read on some ways only",
        "on every way": "caution read",
    }
    found = ((label, [s for s in asked if s.caution == force]) for force, label in labels.items())
    return tuple((label, ", ".join(map(_named, those))) for label, those in found if those)


def _named(line: SourceLine) -> str:
    return f"{line.source} ({line.word.upper()})"


def hop(stop: Stop) -> str:
    return f"{stop.number} {stop.title}".strip()


def unmet(found: Unmet) -> str:
    return f"{found.source}: {found.rule}" if found.source else found.rule


def no_origin(table: States) -> tuple[StepLine, ...]:
    """Steps with values that do not say where they come from."""
    return tuple(s for s in table.steps if s.origins and not s.origins.origin)


def count(n: int, word: str) -> str:
    return f"{n} {word}" if n == 1 else f"{n} {word}s"
