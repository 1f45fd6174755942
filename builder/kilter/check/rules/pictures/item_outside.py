"""A numbered item that stands outside its picture."""

from collections.abc import Iterator

from kilter.check.picturefiles import sound_picture
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K606"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        info = sound_picture(context, figure) if figure.items else None
        if info is None:
            continue
        for item in figure.items:
            if item.x >= info.width or item.y >= info.height:
                message = f"item {item.number} stands at {item.x:g},{item.y:g}, outside its picture"
                help = (
                    f"the picture is {info.width} wide and {info.height} high, seen upright; "
                    "pixels count from its upper left"
                )
                yield error("item-outside", message, item.span, help)
