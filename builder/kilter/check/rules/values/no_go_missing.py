"""A switch is set, and no test shows that it operates where it should and releases where it should."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.flow.words import instruction
from kilter.check.marked import readable
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, hint
from kilter.model.document import Step

CODE = "K332"
SEVERITY = Severity.HINT

_DOES = r"(?:operat|click|clos|open|switch|trip|mak|actuat|chang|stop)(?:es?|s|ing)?(?:\s+over)?"
NO_GO = re.compile(
    r"\bno[- ]go\b|\brelease[sd]?\b|\blets?\s+go\b|\bdrops?\s+out\b|\bresets?\b"
    rf"|\b(?:does|do|must|may|should|is)\s+not\s+(?:yet\s+)?{_DOES}\b|\bno\s+click\b|\bstays?\s+(?:open|closed|off|on|dark|lit)\b",
    re.I,
)
"""Words of a test that shows the switch at rest where it has to be at rest."""
GO = re.compile(
    r"(?<!no-)(?<!no )\bgo[- ](?:gauge|shim|block|piece|side|end|test|strip)\b"
    r"|\b(?:contacts?|poles?)\s+(?:open|close|make|change\s+over)\b"
    r"|\b(?:operates|clicks|closes|opens|switches|trips|makes|actuates|changes\s+over|stops)\b",
    re.I,
)
"""Words of a test that shows it operated where it has to operate."""


def check(context: Context) -> Iterator[Diagnostic]:
    contacts = _contacts(context)
    for stage in context.document.stages:
        for at, step in enumerate(stage.steps):
            field = step.field("switch")
            if field is None or all(role.name != "set" for role in step.roles):
                continue
            after = stage.steps[at:]
            words = " ".join(map(_words, after))
            measured = {said for s in after for said in contacts.get(s.slug, ())}
            missing = [
                n for n, of in (("go", GO), ("no-go", NO_GO)) if n not in measured and not of.search(words)
            ]
            if missing:
                what = "neither a go nor a no-go" if len(missing) == 2 else f"no {missing[0]}"
                message = f"`{field.value[:40]}` is set, and {what} test follows"
                yield hint("no-go-missing", message, field.span, _HELP, why=_WHY)


def _contacts(context: Context) -> dict[str, set[str]]:
    """What readings of a resistance show, by step: a contact that is made, or one that is open."""
    found: dict[str, set[str]] = {}
    for marked, quantity in readable(context, "read"):
        if quantity.dimension == "resistance":
            found.setdefault(marked.step.slug, set()).add("go" if quantity.high is not None else "no-go")
    return found


_HELP = "test both: it clicks with the part in its place (go), and does not click without it (no-go)"
_WHY = "A measured setting does not show that this switch, here, operates and releases."


def _words(step: Step) -> str:
    return " ".join([instruction(step), *(answer.words for answer in step.answers)])
