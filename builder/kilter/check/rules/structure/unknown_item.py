"""An `{item}` that is on no figure."""

import re
from collections.abc import Iterator

from kilter.check.fixes import name_spelt
from kilter.check.lookup import marks, near
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.text import Figure, Name, Role

CODE = "K226"
SEVERITY = Severity.ERROR

_REFERENCE = re.compile(r"^(?:(\S+)\s+)?(\d+)$")


def check(context: Context) -> Iterator[Diagnostic]:
    figures = {f.id: f for f in context.document.figures if f.id is not None}
    for role in marks(context.document, "item"):
        yield from _check_role(context, role, figures)


def _check_role(context: Context, role: Role, figures: dict[str, Figure]) -> Iterator[Diagnostic]:
    """`fig-lift 3, 4`: a name without a figure carries on with the one before it."""
    figure: str | None = None
    for name in role.names:
        match = _REFERENCE.match(name.text)
        if match is None or (match.group(1) or figure) is None:
            help = "write the figure's id and the number: {item}`fig-lift 3`"
            yield error("unknown-item", f"`{name.text}` names no item of a figure", name.span, help)
            return
        figure = match.group(1) or figure
        assert figure is not None
        if (found := _unknown(context, name, figure, int(match.group(2)), figures)) is not None:
            yield found


def _unknown(
    context: Context, name: Name, figure: str, number: int, figures: dict[str, Figure]
) -> Diagnostic | None:
    if figure not in figures:
        help = near(figure, figures, f"give the figure its name: `:id: {figure}`")
        cure = name_spelt(context.library, name.span, figure, figures)
        return error("unknown-item", f"no figure here has the id `{figure}`", name.span, help, fixes=cure)
    items = {i.number: i for p in figures[figure].pictures for i in p.items}
    if number in items:
        return None
    shown = ", ".join(map(str, sorted(items))) or "none"
    return error(
        "unknown-item",
        f"figure `{figure}` has no item {number}",
        name.span,
        f"it has: {shown}; write `:{number}: x,y name` in the figure to add one",
        related=(Label(figures[figure].path_span, "the figure"),),
    )
