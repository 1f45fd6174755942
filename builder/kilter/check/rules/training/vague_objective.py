"""An objective whose verb nobody can watch."""

import re
from collections.abc import Iterator

from kilter.check.module import ModuleContext
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K903"
SEVERITY = Severity.WARNING

UNSEEN = (
    "know", "understand", "appreciate", "learn", "be aware", "be familiar", "become familiar", "grasp", "believe",
    "realise", "realize", "think", "feel", "see the need", "have knowledge", "comprehend", "be able to understand",
)  # fmt: skip
"""Verbs of the mind: common practice since Mager, Preparing Instructional Objectives (1962); list from memory."""
_LEAD = re.compile(
    r"^(?:to |be able to |you can |the trainee (?:can|will|shall) (?:be able to )?)", re.IGNORECASE
)


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    for name, objective in context.module.front.objectives.items():
        words = " ".join(objective.text.split()).casefold()
        words = _LEAD.sub("", words)
        verb = next((v for v in UNSEEN if re.match(rf"{v}s?\b", words)), None)
        if verb is not None:
            span = context.module.places.of("objectives", name, "text")
            help = "begin with what an observer can see or hear: isolate, prove, measure, set, name, decide"
            yield warning(
                "vague-objective", f"objective `{name}`: nobody can watch a person `{verb}`", span, help
            )
