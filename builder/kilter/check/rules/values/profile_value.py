"""A value of an equipment profile that can't be read, or is of the wrong kind."""

from __future__ import annotations

from collections.abc import Generator, Iterator

from kilter.check import store
from kilter.check.fixes import value_fixes
from kilter.check.marked import place, shortened
from kilter.check.rule import Context
from kilter.compute.quantity import Quantity, QuantityError, parse_quantity
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.front import EnergySource, Loc, ProfileFront, Switch
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
        yield from _store(context, name, source)
    for name, switch in front.switches.items():
        yield from _switch(context, name, switch)


def _store(context: Context, name: str, source: EnergySource) -> Iterator[Diagnostic]:
    """What is said of a battery or a capacitor, each key only where it belongs."""
    for kind, keys in store.KEYS.items():
        for key in keys:
            texts = store.texts(source, key)
            loc = ("sources", name, key)
            if texts and source.kind != kind:
                message = f"`{key}` belongs to a {kind}, `{name}` is of kind {source.kind}"
                help = f"delete it, or write `kind: {kind}`"
                yield error("profile-value", message, context.document.places.key(*loc), help)
            elif key in store.DIMENSIONS:
                for text in texts:
                    dimension, example = store.DIMENSIONS[key]
                    quantity = yield from _read(context, loc, text, (dimension,), example)
                    if quantity is not None and (quantity.base_high is None or quantity.base_high <= 0):
                        message = f"`{key}` of `{name}`, `{shortened(text)}`: no upper end above zero"
                        help = f"for example `{key}: {example}`"
                        yield error("profile-value", message, context.document.places.of(*loc), help)
            else:
                yield from _words(context, loc, source, texts)


def _words(context: Context, loc: Loc, source: EnergySource, texts: tuple[str, ...]) -> Iterator[Diagnostic]:
    key, name = loc[-1], loc[-2]
    for number, text in enumerate(texts):
        trouble = store.trouble(str(key), text, source) if BLANK_MARK not in text else None
        if trouble is not None:
            places = context.document.places
            span = places.of(*loc, number) if places.known(*loc, number) else places.of(*loc)
            yield error("profile-value", f"`{key}` of `{name}`: {trouble.message}", span, trouble.help)


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
