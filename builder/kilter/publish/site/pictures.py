"""Figures: the picture made fit to publish, numbers in its margins, the list of items under it."""

from __future__ import annotations

from pathlib import Path

from mkdocs.exceptions import PluginError

from kilter.compute.pictureplan import plan_of
from kilter.model.text import Figure
from kilter.picture.callouts.layout import lay_out
from kilter.picture.callouts.model import STYLES, Anchor
from kilter.picture.encode import Kind, Published, variants
from kilter.picture.marks import marks_of
from kilter.picture.overlay import sheet_svg
from kilter.publish.site.blocks import blocks_html
from kilter.publish.site.markup import NOTHING, Html, el, join, some, text
from kilter.publish.site.scope import Scope
from kilter.publish.site.words import ours, theirs, word
from kilter.publish.view import figure_key, picture_path

WIDTHS = (1440, 720, 360)
"""Pixels: a desk, a phone, a phone on a slow line."""
SIZES = "(min-width: 62rem) 44rem, 94vw"
OLD = 720
"""Pixels of the JPEG for browsers that know no WebP: one width, since few are left."""
WANTED: list[tuple[int, Kind]] = [*((width, "webp") for width in WIDTHS), (OLD, "jpeg")]
PAIR_SIZES = "(min-width: 62rem) 22rem, 94vw"
PARTS = ("figure.before", "figure.after")
FOLDER = "pictures"


class Pictures:
    """Draws figures and keeps the encoded files of the whole site."""

    def __init__(self, base: Path) -> None:
        self.base = base
        self.files: dict[str, bytes] = {}

    def drawer(self, numbers: dict[str, int]) -> _Drawer:
        """For one page, whose figures have these numbers."""
        return _Drawer(self, numbers)

    def encode(self, figure: Figure, scope: Scope) -> list[Published]:
        """The widths that differ, the widest first, then the JPEG. Raises PluginError for what is no picture."""
        file = self.base / picture_path(scope.owner, figure)
        try:
            made = variants(file, WANTED, plan_of(figure))
        except (OSError, ValueError) as trouble:
            raise PluginError(f"{figure.path_span}: picture can't be published: {trouble}") from None
        distinct = list({p.name: p for p in made}.values())
        self.files.update({f"{FOLDER}/{p.name}": p.data for p in distinct})
        return distinct


class _Drawer:
    def __init__(self, pictures: Pictures, numbers: dict[str, int]) -> None:
        self.pictures, self.numbers = pictures, numbers

    def __call__(self, figure: Figure, scope: Scope) -> Html:
        number = self.numbers.get(figure_key(scope.owner, figure), 0)
        caption, id = _caption(figure, number, scope), f"fig.{number}" if number else None
        if figure.after is None:
            shown = _picture(figure, self.pictures.encode(figure, scope))
            return el("figure", shown, caption, _arrows(figure), _items(figure), id=id)
        parts = (self._part(each, scope, said) for each, said in zip(figure.pictures, PARTS, strict=True))
        return el("figure", *parts, caption, cls="pair", id=id)

    def _part(self, figure: Figure, scope: Scope, said: str) -> Html:
        """One picture of a pair under its word."""
        lead = el("p", el("b", text(word(said))), cls="half-name", lang=ours())
        shown = _picture(figure, self.pictures.encode(figure, scope), PAIR_SIZES)
        return el("div", lead, shown, _arrows(figure), _items(figure), cls="half")


def _image(figure: Figure, made: list[Published], sizes: str) -> Html:
    """WebP for whoever knows it, else the JPEG; a drawing is one file for all."""
    last = made[-1]
    image = el(
        "img",
        src=f"{FOLDER}/{last.name}",
        width=last.width,
        height=last.height,
        alt=figure.alt or "",
        decoding="async",
    )
    if len(made) == 1:
        return image
    sources = ", ".join(f"{FOLDER}/{p.name} {p.width}w" for p in made[:-1])
    return el("picture", el("source", type="image/webp", srcset=sources, sizes=sizes), image)


def _picture(figure: Figure, made: list[Published], sizes: str = SIZES) -> Html:
    image, full = _image(figure, made, sizes), made[0]
    if not (figure.items or figure.motions or figure.scale):
        return el("div", image, cls="picture")
    anchors = [Anchor(i.number, *full.at(i.x, i.y)) for i in figure.items]
    layouts = {name: lay_out(anchors, full.width, full.height, style) for name, style in STYLES.items()}

    def place(x: float, y: float) -> tuple[float, float]:
        shown = full.at(x, y)
        return shown[0] / full.width, shown[1] / full.height

    sheets = (
        el("div", Html(sheet_svg(x, marks_of(figure, place, x))), cls=f"sheet {name}", lang=theirs())
        for name, x in layouts.items()
    )
    digits = min(layouts["wide"].digits, 3) if figure.items else 0
    return el("div", image, *sheets, cls=f"picture numbered digits-{digits}")


def _caption(figure: Figure, number: int, scope: Scope) -> Html:
    lead = el("b", text(f"{word('figure.short', n=number)} "), lang=ours()) if number else NOTHING
    words = blocks_html(figure.caption, scope)
    return el("figcaption", lead, words) if lead or words else NOTHING


def _arrows(figure: Figure) -> Html:
    """What the arrows and the length say, for those who read and do not see."""
    said = [el("span", text(m.words), lang=theirs()) for m in figure.motions]
    said += [text(word("figure.length", length=figure.scale.length))] if figure.scale else []
    lead, _, rest = word("figure.drawn", words="{words}").partition("{words}")
    body = some(text(lead), join(said, Html("; ")), text(rest))
    return el("p", body, cls="drawn", lang=ours()) if said else NOTHING


def _items(figure: Figure) -> Html:
    if not figure.items:
        return NOTHING
    rows = (
        el("li", el("b", text(str(item.number))), text(f" {item.label}"), data_item=item.number)
        for item in sorted(figure.items, key=lambda i: i.number)
    )
    return el("ul", *rows, cls="items")
