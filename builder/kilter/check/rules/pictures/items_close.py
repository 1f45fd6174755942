"""Items of a figure that stand so close together that their leaders can't be told apart on a telephone."""

from collections.abc import Iterator
from math import dist

from kilter.check.picturefiles import sound_picture
from kilter.check.rule import Context
from kilter.compute.pictureplan import Size, plan_of
from kilter.diagnostic import Diagnostic, Severity, hint
from kilter.model.text import Figure

CODE = "K611"
SEVERITY = Severity.HINT

PHONE = 250
"""Pixels that a picture is wide between its margins on a telephone of 360."""
CLOSE = 6.0
"""Pixels between two items there: nearer, the dots of their leaders run into one."""


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        info = sound_picture(context, figure) if len(figure.items) > 1 else None
        if info is not None:
            yield from _close(figure, Size(info.width, info.height))


def _close(figure: Figure, size: Size) -> Iterator[Diagnostic]:
    plan = plan_of(figure)
    scale = PHONE / plan.seen(size).width
    places = [plan.place(i.x, i.y, size) for i in figure.items]
    for n, item in enumerate(figure.items):
        apart = [(dist(places[n], places[k]) * scale, k) for k in range(n)]
        if apart and min(apart)[0] < CLOSE:
            other = figure.items[min(apart)[1]].number
            message = f"items {other} and {item.number} stand {min(apart)[0]:.0f} pixels apart on a telephone"
            help = (
                "enlarge the part with `:detail: x,y,width,height upper right, 3 times`, crop the picture, or "
                f"point at another place of one of them; {CLOSE:g} pixels tell them apart"
            )
            yield hint("items-close", message, item.span, help)
