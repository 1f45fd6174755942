"""An SVG drawing written anew from what is known to be harmless: an allow-list of elements and attributes.

What shows nothing is left out (scripts, metadata, comments, an editor's own data); what would show something that
is not taken over is refused with its line, so that no drawing loses a part unseen. There is no way to a second
file, no document type, no entity, and nothing that can be nested into an endless picture.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from xml.parsers import expat
from xml.sax.saxutils import escape, quoteattr

from kilter.compute import svgwords as words

MOST_BYTES = 2_000_000
MOST_ELEMENTS = 20_000
MOST_DEPTH = 64
LEAST_SIDE, MOST_SIDE = 16, 10_000
"""Pixels of width and height."""
SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
_LENGTH = re.compile(r"\s*(\d{1,6}(?:\.\d{1,9})?)(px|pt|pc|mm|cm|in)?\s*")
_PIXELS = {"px": 1.0, "pt": 96 / 72, "pc": 16.0, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96.0}
"""CSS pixels in a unit: 96 to the inch (CSS Values and Units Level 3, absolute lengths)."""
_LOCAL = re.compile(r"url\(\s*['\"]?#([A-Za-z_][\w.-]*)['\"]?\s*\)")


class SvgError(Exception):
    """A drawing that is not taken; `help` says how to mend it."""

    def __init__(self, problem: str, help: str) -> None:
        super().__init__(problem)
        self.problem, self.help = problem, help


@dataclass(frozen=True)
class Drawing:
    """A clean drawing."""

    text: str
    width: int
    """Pixels, 96 to the inch."""
    height: int


def looks_like_svg(data: bytes) -> bool:
    """Whether the bytes begin as SVG files do."""
    head = data[:2000].removeprefix(b"\xef\xbb\xbf").lstrip()
    return head.startswith((b"<svg", b"<?xml", b"<!--", b"<!DOCTYPE svg")) and b"<svg" in data[:100_000]


@lru_cache(maxsize=64)
def clean(data: bytes) -> Drawing:
    """The drawing written anew; the same bytes give the same text. Raises SvgError."""
    if len(data) > MOST_BYTES:
        raise SvgError(
            f"has {len(data):,} bytes, the most for a drawing is {MOST_BYTES:,}", "draw it simpler"
        )
    cleaner = _Cleaner()
    try:
        cleaner.parser.Parse(data, True)
    except expat.ExpatError as trouble:
        raise SvgError(
            f"is not well formed: {expat.ErrorString(trouble.code)} in line {trouble.lineno}", "save it again"
        ) from None
    except (ValueError, LookupError):
        raise SvgError("is not well formed: its letters can't be read", "save it as UTF-8") from None
    return cleaner.finished()


@dataclass
class _Open:
    """An element whose end is still to come."""

    name: str
    attributes: dict[str, str]
    inside: list[str] = field(default_factory=list)


class _Cleaner:
    """Builds the clean text while the parser walks over the file."""

    def __init__(self) -> None:
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._characters
        parser.StartDoctypeDeclHandler = self._doctype
        parser.buffer_text = True
        self.parser = parser
        self.open: list[_Open] = []
        self.skipping = 0
        self.count = 0
        self.size = (0.0, 0.0)
        self.used: set[str] = set()
        self.text = ""

    def finished(self) -> Drawing:
        """The document, its ids only where something refers to them."""
        text = re.sub(r' id="([^"]*)"', lambda m: m[0] if m[1] in self.used else "", self.text)
        return Drawing(text + "\n", round(self.size[0]), round(self.size[1]))

    def _refuse(self, what: str, help: str) -> None:
        raise SvgError(f"{what} in line {self.parser.CurrentLineNumber}", help)

    def _doctype(self, *_: object) -> None:
        self._refuse("declares a document type", "take the line `<!DOCTYPE ...>` out, with its entities")

    def _start(self, qualified: str, given: dict[str, str]) -> None:
        self.count += 1
        if self.count > MOST_ELEMENTS or len(self.open) + self.skipping > MOST_DEPTH:
            self._refuse("has too many elements, or too deep ones,", "draw it simpler")
        space, _, name = qualified.rpartition(" ")
        if self.skipping or space != SVG or name in words.SHOWS_NOTHING:
            if not self.open and not self.skipping:
                self._refuse(
                    "does not begin with an `svg` element of SVG", f'write `<svg xmlns="{SVG}" ...>`'
                )
            self.skipping += 1
            return
        self._check_place(name)
        name = words.RENAMED.get(name, name)
        attributes = self._attributes(name, given)
        if not self.open:
            attributes = self._root(given) | attributes
        self.open.append(_Open(name, attributes))

    def _check_place(self, name: str) -> None:
        if not self.open and name != "svg":
            self._refuse("does not begin with `svg`", "save it again from the drawing program")
        if name not in words.ELEMENTS or (self.open and name == "svg"):
            help = words.INSTEAD.get(name, "draw it with plain shapes: paths, lines, text")
            self._refuse(f"has an element `{name}`, which is not taken over,", help)
        around = {o.name for o in self.open}
        if around & {"marker", "clipPath"} and name in ("marker", "clipPath"):
            self._refuse(f"has a `{name}` inside another", "draw the shape out")

    def _root(self, given: dict[str, str]) -> dict[str, str]:
        """Size and view of the drawing; items are placed in its pixels, so both have to agree."""
        help = 'write width, height and viewBox, such as `width="800" height="600" viewBox="0 0 800 600"`'
        sides = [_pixels(given.get(n, "")) for n in ("width", "height")]
        view = [float(n) for n in re.findall(words.NUMBER, given.get("viewBox", ""))]
        if None in sides or len(view) != 4 or min(view[2:]) <= 0:
            self._refuse("lacks width, height or viewBox", help)
        width, height = (s or 0.0 for s in sides)
        if not all(LEAST_SIDE <= s <= MOST_SIDE for s in (width, height)):
            self._refuse(f"is not between {LEAST_SIDE} and {MOST_SIDE} pixels wide and high", help)
        if abs(width / height / (view[2] / view[3]) - 1) > 0.01:
            self._refuse("has a viewBox of another shape than its width and height", help)
        self.size = (width, height)
        shown = " ".join(f"{n:.9g}" for n in view)
        return {"xmlns": SVG, "width": f"{width:.9g}", "height": f"{height:.9g}", "viewBox": shown}

    def _attributes(self, name: str, given: dict[str, str]) -> dict[str, str]:
        found: dict[str, str] = {}
        for qualified, value in given.items():
            space, _, plain = qualified.rpartition(" ")
            if plain == "href" and space in ("", XLINK):
                if name in words.GRADIENTS:
                    found["href"] = self._link(value)
            elif not space and plain == "style":
                continue
            elif not space and words.allowed(plain, name):
                found[plain] = self._value(plain, value)
        for part in filter(None, (p.strip() for p in given.get("style", "").split(";"))):
            plain, _, value = (p.strip() for p in part.partition(":"))
            if plain in words.PRESENTATION:
                found[plain] = self._value(plain, value.removesuffix("!important").strip())
        return dict(sorted(found.items()))

    def _link(self, value: str) -> str:
        if not re.fullmatch(r"#[A-Za-z_][\w.-]*", value.strip()):
            self._refuse("points out of itself", "put everything into the one file, as plain shapes")
        self.used.add(value.strip()[1:])
        return value.strip()

    def _value(self, name: str, value: str) -> str:
        """A value of an allowed attribute; one that is not understood could hide a way out, so it is refused."""
        value = " ".join(value.split())
        if local := _LOCAL.fullmatch(value):
            if name not in words.REFERRING or {o.name for o in self.open} & {"marker", "clipPath"}:
                self._refuse(
                    f"has `{name}` pointing at another part, which is not taken over,", "draw it out"
                )
            self.used.add(local[1])
            return f"url(#{local[1]})"
        if "url" in value.lower() and name != "id":
            self._refuse("points out of itself", "put everything into the one file, as plain shapes")
        if not words.fits(name, value):
            self._refuse(f"has `{name}` with a value that is not understood", f"mend `{name}: {value[:40]}`")
        return value

    def _end(self, qualified: str) -> None:
        if self.skipping:
            self.skipping -= 1
            return
        done = self.open.pop()
        written = "".join(f" {n}={_quoted(v)}" for n, v in done.attributes.items())
        inside = "".join(done.inside)
        whole = f"<{done.name}{written}>{inside}</{done.name}>" if inside else f"<{done.name}{written}/>"
        if self.open:
            self.open[-1].inside.append(whole)
        else:
            self.text = whole

    def _characters(self, text: str) -> None:
        if self.open and not self.skipping and self.open[-1].name in words.HOLDS_TEXT:
            self.open[-1].inside.append(escape(text))


def _quoted(value: str) -> str:
    return quoteattr(value.replace('"', "'"))


def _pixels(value: str) -> float | None:
    match = _LENGTH.fullmatch(value)
    return float(match[1]) * _PIXELS[match[2] or "px"] if match else None
