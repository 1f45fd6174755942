"""A reading as found without one as left of the same name, or the other way round."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.marked import marked_values
from kilter.check.rule import Context
from kilter.compute.reading import Phase
from kilter.diagnostic import Diagnostic, Severity, hint
from kilter.model.base import fold
from kilter.model.front import ProcedureFront

CODE = "K310"
SEVERITY = Severity.HINT


_OTHER: dict[Phase, Phase] = {"as found": "as left", "as left": "as found"}


def check(context: Context) -> Iterator[Diagnostic]:
    readings = [m for m in marked_values(context.document) if m.phase is not None]
    had = {(m.phase, fold(m.name)) for m in readings}
    for marked in readings:
        assert marked.phase is not None
        other = _OTHER[marked.phase]
        if (other, fold(marked.name)) not in had and not _new_part(context, marked.phase):
            named = f" `{marked.name}`" if marked.name else ""
            message = f"reading{named} is taken {marked.phase} but not {other}"
            help = f"take it {other} too, under the same name: `{other}, {marked.name or 'name'}: ...`"
            yield hint("reading-unpaired", message, marked.span, help)


def _new_part(context: Context, phase: Phase) -> bool:
    """A new part is measured as left; the old one, worn or dead, need not have been."""
    front = context.document.front
    return phase == "as left" and isinstance(front, ProcedureFront) and front.task == "replacement"
