"""A value of an equipment profile that can't be read, or is of the wrong kind."""

from __future__ import annotations

from collections.abc import Generator, Iterator

from kilter.check.fixes import value_fixes
from kilter.check.marked import place, shortened
from kilter.check.rule import Context
from kilter.compute.quantity import Quantity, QuantityError, parse_quantity
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.front import Loc, ProfileFront, Switch
from kilter.read.blanks import BLANK_MARK

CODE = "K314"
SEVERITY = Severity.ERROR


_TRAVEL = ("fp", "op", "ttp", "rp", "pt", "ot", "md", "window")


def check(context: Context) -> Iterator[Diagnostic]:
    front = context.document.front
    if not isinstance(front, ProfileFront):
        return
    for name, source in front.sources.items():
        for key, text in (("bleed", source.bleed), ("reaccumulates", source.reaccumulates)):
            if isinstance(text, str):
                yield from _time(context, ("sources", name, key), text)
    for name, switch in front.switches.items():
        yield from _switch(context, name, switch)


def _time(context: Context, loc: Loc, text: str) -> Iterator[Diagnostic]:
    quantity = yield from _read(context, loc, text, ("time",), "5 min")
    if quantity is not None and (quantity.low is None or quantity.low <= 0):
        message = f"`{loc[-1]}` of `{loc[-2]}` says no least time"
        yield error(
            "profile-value", message, context.document.places.of(*loc), "write the time, such as `5 min`"
        )


def _switch(context: Context, name: str, switch: Switch) -> Iterator[Diagnostic]:
    seen: dict[str, str] = {}
    for key in _TRAVEL:
        text = getattr(switch, key)
        if text is not None:
            quantity = yield from _read(
                context, ("switches", name, key), text, ("length", "angle"), "8.8 ± 0.2 mm"
            )
            if quantity is not None:
                seen.setdefault(quantity.dimension, key)
    if len(seen) > 1:
        message = f"switch `{name}`: figures in {' and in '.join(seen)}"
        span = context.document.places.key("switches", name)
        yield error("profile-value", message, span, "write all of its figures as lengths, or all as angles")
    if switch.use is not None:
        yield from _read(context, ("switches", name, "use"), switch.use, ("ratio",), "70–100 %")


def _read(
    context: Context, loc: Loc, text: str, wanted: tuple[str, ...], example: str
) -> Generator[Diagnostic, None, Quantity | None]:
    span = context.document.places.of(*loc)
    try:
        quantity = parse_quantity(text)
    except QuantityError as trouble:
        if BLANK_MARK not in text:
            at = place(context.library, span, text, trouble.start, trouble.end)
            message = f"`{loc[-1]}` of `{loc[-2]}`, `{shortened(text)}`: {trouble.message}"
            cure = value_fixes(trouble, text, at, proof=loc[0] == "sources")
            yield error("profile-value", message, at, trouble.help, fixes=cure)
        return None
    if quantity.dimension in wanted:
        return quantity
    message = f"`{loc[-1]}` of `{loc[-2]}` should be a {' or '.join(wanted)}, not `{shortened(text)}`"
    yield error("profile-value", message, span, f"for example `{loc[-1]}: {example}`")
    return None
