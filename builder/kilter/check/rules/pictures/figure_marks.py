"""An arrow or a length in a figure that points at nothing shown, or a length that is none."""

from collections.abc import Iterator

from kilter.check.picturefiles import sound_picture
from kilter.check.rule import Context
from kilter.compute.pictureplan import Size, plan_of
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.text import Figure, Scale

CODE = "K612"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        if figure.scale is not None:
            yield from _length(figure.scale)
        info = sound_picture(context, figure) if figure.motions or figure.scale else None
        if info is not None:
            yield from _places(figure, Size(info.width, info.height))


def _length(scale: Scale) -> Iterator[Diagnostic]:
    help = "write a single length with its unit, such as `:scale: 50 mm = 412,310 612,310`"
    try:
        value = parse_quantity(scale.length)
    except QuantityError as trouble:
        yield error(
            "figure-marks", f"the length of `:scale:` can't be read: {trouble.message}", scale.span, help
        )
        return
    if value.dimension != "length":
        yield error("figure-marks", f"`{scale.length}` of `:scale:` is not a length", scale.span, help)


def _places(figure: Figure, size: Size) -> Iterator[Diagnostic]:
    named = [(f"`{m.words}`", (m.x, m.y), m.span) for m in figure.motions]
    if figure.scale is not None:
        named += [
            ("an end of `:scale:`", p, figure.scale.span) for p in (figure.scale.start, figure.scale.end)
        ]
    plan = plan_of(figure)
    for what, (x, y), span in named:
        outside = "outside its picture" if x >= size.width or y >= size.height else ""
        if trouble := outside or plan.hides(x, y, size):
            help = f"the picture is {size.width} wide and {size.height} high, seen upright; choose a place that is seen"
            yield error("figure-marks", f"{what} stands at {x:g},{y:g}, {trouble}", span, help)
