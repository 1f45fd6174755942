"""Items of a figure that stand so close together that they can't be told apart on a telephone or a card."""

from collections.abc import Iterator
from math import floor

from kilter.check.picturefiles import sound_picture
from kilter.check.rule import Context
from kilter.compute.pictureclose import (
    CARD_LEAST,
    CARD_SHEET,
    PHONE_LEAST,
    Close,
    close_items,
    detail_for,
)
from kilter.compute.pictureplan import Size
from kilter.diagnostic import Diagnostic, Severity, hint
from kilter.model.text import Figure

CODE = "K611"
SEVERITY = Severity.HINT
DRAWING = "draw the part again, larger, in the drawing itself or as a figure of its own"


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        info = sound_picture(context, figure) if len(figure.items) > 1 else None
        if info is None:
            continue
        size = Size(info.width, info.height)
        for pair in close_items(figure, size):
            first, second = figure.items[pair.first], figure.items[pair.second]
            words = f"items {first.number} and {second.number} stand {_apart(pair)}"
            yield hint("items-close", words, second.span, _help(figure, size, pair, info.format == "SVG"))


def _apart(pair: Close) -> str:
    """Rounded down: what is too near never reads as the least."""
    if pair.phone < PHONE_LEAST:
        return f"{floor(pair.phone):g} px apart on a phone, the least is {PHONE_LEAST:g}"
    return f"{floor(pair.card * 10) / 10:.1f} mm apart on a card, the least is {CARD_LEAST:g}"


def _help(figure: Figure, size: Size, pair: Close, drawing: bool) -> str:
    detail = "" if drawing else detail_for(figure, size, pair)
    enlarge = (
        DRAWING if drawing else f"enlarge the part: `{detail or ':detail: x,y,width,height corner, n times'}`"
    )
    crop = "" if drawing else ", crop the picture to what matters"
    where = (
        "measured where the picture is shown on a phone of 360 px"
        if pair.phone < PHONE_LEAST
        else f"a card may have to print the figure {CARD_SHEET[1]:g} mm high"
    )
    return f"{enlarge}{crop}, or point at another place of one of them; {where}"
