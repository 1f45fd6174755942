"""An area of a picture that can't be cropped, covered or enlarged as it is written, or that hides an item."""

from collections.abc import Iterator

from kilter.check.picturefiles import sound_picture
from kilter.check.rule import Context
from kilter.compute.pictureplan import Box, Inset, Plan, Size, box_of, plan_of
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.text import Figure

CODE = "K609"
SEVERITY = Severity.ERROR

LEAST_CROP, LEAST_DETAIL = 32, 8
"""Pixels of the shorter side; less is hardly meant."""
MOST_INSET = 0.5
"""Share of the picture's width and height that a detail may take in its corner."""


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        if not (figure.crop or figure.covers or figure.details):
            continue
        info = sound_picture(context, figure)
        if info is not None and info.format == "SVG":
            yield from _drawing(figure)
        elif info is not None:
            size = Size(info.width, info.height)
            found = list(_outside(figure, size)) or list(_details(figure, size)) or _items(figure, size)
            yield from found


def _drawing(figure: Figure) -> Iterator[Diagnostic]:
    """What is covered or cut off in an SVG would still stand in the file."""
    spans = [a.span for a in (figure.crop, *figure.covers, *(d.area for d in figure.details)) if a]
    help = "change the drawing itself; whatever is only hidden in an SVG file can be read in it"
    yield error("picture-area", "an SVG drawing can't be cropped, covered or enlarged here", min(spans), help)


def _outside(figure: Figure, size: Size) -> Iterator[Diagnostic]:
    whole = Box(0, 0, size.width, size.height)
    named = [("crop", figure.crop)] + [("cover", a) for a in figure.covers]
    for name, area in [*named, *(("detail", d.area) for d in figure.details)]:
        if area is None:
            continue
        box, shown = box_of(area), f"{area.x},{area.y},{area.width},{area.height}"
        least = {"crop": LEAST_CROP, "detail": LEAST_DETAIL}.get(name, 1)
        if not box.within(whole):
            message = f"`:{name}: {shown}` reaches outside its picture"
            yield error("picture-area", message, area.span, _size_help(size))
        elif min(box.width, box.height) < least:
            message = f"`:{name}: {shown}` is smaller than {least} by {least} pixels"
            yield error(
                "picture-area", message, area.span, f"take in more of the picture; {_size_help(size)}"
            )


def _size_help(size: Size) -> str:
    return (
        f"the picture is {size.width} wide and {size.height} high, seen upright; write left edge, upper edge, "
        "width and height in its pixels"
    )


def _details(figure: Figure, size: Size) -> Iterator[Diagnostic]:
    plan, before = plan_of(figure), list[Box]()
    seen = plan.seen(size)
    for inset, detail in zip(plan.insets, figure.details, strict=True):
        trouble = _trouble(plan, inset, size, before)
        if trouble is not None:
            message, help = trouble
            yield error("picture-area", message, detail.area.span, help)
        if inset.box.within(seen):
            before.append(plan.inset_box(inset, size))


def _trouble(plan: Plan, inset: Inset, size: Size, before: list[Box]) -> tuple[str, str] | None:
    seen, to = plan.seen(size), plan.inset_box(inset, size)
    if not inset.box.within(seen):
        return (
            "a detail reaches outside what `:crop:` leaves of the picture",
            "crop less, or enlarge another part",
        )
    share = max(to.width / seen.width, to.height / seen.height)
    if share > MOST_INSET:
        most = inset.times * MOST_INSET / share
        return (
            f"the detail would take {share * 100:.0f} % of the picture in its corner",
            f"the most is {MOST_INSET * 100:.0f} %: enlarge it less than {most:.1f} times, or take in less",
        )
    if to.meets(plan.marked_box(inset, size)):
        return "the detail would lie over the part that it enlarges", "put it in another corner"
    if any(to.meets(other) for other in before):
        return "two details would lie over each other", "put them in different corners"
    return None


def _items(figure: Figure, size: Size) -> Iterator[Diagnostic]:
    plan = plan_of(figure)
    for item in figure.items:
        hidden = plan.hides(item.x, item.y, size)
        if hidden:
            message = f"item {item.number} stands at {item.x:g},{item.y:g}, {hidden}"
            help = "place it where it is seen, or change the area; both count in pixels of the whole upright picture"
            yield error("picture-area", message, item.span, help)
