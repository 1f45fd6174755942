"""An SVG drawing is written anew from plain shapes; whatever else it holds is left out or refused with its line."""

from __future__ import annotations

import time
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kilter.compute import svgwords
from kilter.compute.pictureinfo import inspect
from kilter.compute.svg import Drawing, SvgError, clean

HEAD = b'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="80" height="60" viewBox="0 0 80 60"'


def drawing(inside: bytes) -> bytes:
    return HEAD + b">\n" + inside + b"\n</svg>"


LEFT_OUT = {
    "script": b"<script>alert(1)</script>",
    "handler": b'<rect width="9" height="9" onclick="alert(1)" onload="x()"/>',
    "metadata": b"<metadata>WARD-SEVEN</metadata><title>WARD-SEVEN</title><desc>WARD-SEVEN</desc>",
    "comment": b"<!-- WARD-SEVEN -->",
    "instruction": b'<?xml-stylesheet href="http://example.org/a.css"?>',
    "editor's own": b'<x:name xmlns:x="urn:editor" x:file="/home/WARD-SEVEN/a.svg"><rect/></x:name>',
    "names": b'<g id="WARD-SEVEN" class="WARD-SEVEN" data-who="WARD-SEVEN"/>',
    "link": b'<a xlink:href="http://example.org/"><rect width="9" height="9"/></a>',
    "animation": b'<rect width="9"><animate attributeName="width" values="1;2"/></rect>',
    "style of an editor": b'<rect style="-inkscape-font:WARD-SEVEN;filter:url(http://example.org/a)"/>',
}
REFUSED = {
    "entities": (
        b'<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>' + drawing(b"&b;"),
        "document type",
    ),
    "outer entity": (b'<!DOCTYPE svg SYSTEM "file:///etc/passwd">' + drawing(b""), "document type"),
    "unknown entity": (drawing(b"<text>&who;</text>"), "not well formed"),
    "image": (drawing(b'<image href="http://example.org/a.png"/>'), "`image`"),
    "image inside": (drawing(b'<image href="data:image/png;base64,AAAA"/>'), "`image`"),
    "foreign object": (drawing(b"<foreignObject><p>words</p></foreignObject>"), "`foreignObject`"),
    "copies": (drawing(b'<g id="a"/><use href="#a"/>'), "`use`"),
    "style sheet": (drawing(b"<style>@import url(http://example.org/a.css);</style>"), "`style`"),
    "filter": (drawing(b'<filter id="f"/>'), "`filter`"),
    "svg in svg": (drawing(b"<svg/>"), "`svg`"),
    "outer paint": (drawing(b'<rect fill="url(http://example.org/a#b)"/>'), "points out of itself"),
    "outer paint in style": (drawing(b'<rect style="fill:url(//example.org/a)"/>'), "points out of itself"),
    "escaped paint": (drawing(b'<rect style="fill:u\\72l(http://example.org)"/>'), "not understood"),
    "outer gradient": (drawing(b'<linearGradient xlink:href="a.svg#b"/>'), "points out of itself"),
    "script in a value": (drawing(b'<path d="javascript:alert(1)"/>'), "not understood"),
    "marker in marker": (drawing(b"<marker><marker/></marker>"), "`marker`"),
    "marked marker": (
        drawing(b'<marker id="a"><path d="M0 0 1 1" marker-start="url(#a)"/></marker>'),
        "pointing at another part",
    ),
    "fine dashes": (drawing(b'<path d="M0 0 9 9" stroke-dasharray="0.0001"/>'), "not understood"),
    "one endless number": (drawing(b'<rect x="' + b"1" * 400_000 + b'"/>'), "not understood"),
    "deep": (drawing(b"<g>" * 90 + b"</g>" * 90), "too many elements"),
    "many": (drawing(b"<g/>" * 20_001), "too many elements"),
    "large": (drawing(b" " * 2_100_000), "bytes"),
    "cut short": (drawing(b"<g>")[:-6], "not well formed"),
    "no size": (b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 6"/>', "width, height or viewBox"),
    "no view": (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="80" height="60"/>',
        "width, height or viewBox",
    ),
    "size in parts": (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="100%" height="100%" viewBox="0 0 8 6"/>',
        "width, height or viewBox",
    ),
    "giant": (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="80000" height="60000" viewBox="0 0 8 6"/>',
        "between 16 and 10000",
    ),
    "another shape": (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="80" height="60" viewBox="0 0 60 80"/>',
        "another shape",
    ),
    "no svg": (b"<?xml version='1.0'?><html><svg/></html>", "does not begin"),
}


@pytest.mark.parametrize("name", LEFT_OUT)
def test_what_shows_nothing_is_left_out(name: str) -> None:
    text = clean(drawing(LEFT_OUT[name])).text
    for trace in ("WARD-SEVEN", "alert", "example.org", "script", "<!--", "<?", "animate", "onclick"):
        assert trace not in text
    assert text.startswith("<svg ")


@pytest.mark.parametrize("name", REFUSED)
def test_what_would_show_something_else_is_refused(name: str) -> None:
    data, words = REFUSED[name]
    started = time.perf_counter()
    with pytest.raises(SvgError, match=words) as caught:
        clean(data)
    assert caught.value.help
    info = inspect(data)
    assert info.problem.startswith("is an SVG drawing that ") and info.help
    assert time.perf_counter() - started < 5


def test_the_line_of_the_fault_is_told() -> None:
    with pytest.raises(SvgError, match=r"in line 4$"):
        clean(drawing(b"<g>\n<g/>\n<image/></g>"))


def test_a_drawing_keeps_its_shapes() -> None:
    inside = b"""<defs><linearGradient id="shade"><stop offset="0" style="stop-color: #fff; stop-opacity:1"/></linearGradient>
      <marker id="tip" markerWidth="4" markerHeight="4" orient="auto"><path d="M0 0 4 2 0 4z"/></marker></defs>
      <g transform="translate(3,4) rotate(-12.5)"><path style="fill:url(#shade);stroke:#1a1a1a;stroke-width:0.3mm" d="M 0,0 C 1 2 3 4 5e0-6 z"/>
      <line x1="1" y1="2" x2="3" y2="4" marker-end="url(#tip)" stroke-dasharray="2 1"/></g>
      <text x="5" y="6" font-size="4">6 &lt; 7 &amp; 8</text>"""
    found = clean(drawing(inside))
    root = ElementTree.fromstring(found.text)
    tags = [e.tag.rpartition("}")[2] for e in root.iter()]
    assert tags == ["svg", "defs", "linearGradient", "stop", "marker", "path", "g", "path", "line", "text"]
    assert root[1][0].attrib["fill"] == "url(#shade)" and root[1][0].attrib["stroke-width"] == "0.3mm"
    assert root[2].text == "6 < 7 & 8"
    assert (found.width, found.height) == (80, 60)


def test_a_size_in_millimetres_is_counted_in_pixels() -> None:
    """96 pixels to the inch: CSS Values and Units Level 3."""
    data = b'<svg xmlns="http://www.w3.org/2000/svg" width="254mm" height="127mm" viewBox="0 0 254 127"/>'
    assert (clean(data).width, clean(data).height) == (960, 480)


def _taken(data: bytes) -> Drawing | None:
    """The clean drawing, or None for one that is refused; anything else that is raised is a fault."""
    try:
        return clean(data)
    except SvgError:
        return None


_NAMES = st.sampled_from(sorted(svgwords.FORMS)) | st.sampled_from(
    ["onload", "href", "class", "style", "filter"]
)
_VALUES = st.sampled_from(
    [
        "#fff",
        "url(#a)",
        "url(http://x/)",
        "1 2 3",
        "M0 0L9 9",
        "none",
        "a;b:c",
        "javascript:x",
        "<",
        '"',
        "&",
        "1e9",
    ]
) | st.text(max_size=12)
_TAGS = st.sampled_from(sorted(svgwords.ELEMENTS)) | st.sampled_from(["script", "use", "image", "style"])


@settings(max_examples=300, deadline=None)
@given(
    st.lists(st.tuples(_TAGS, st.dictionaries(_NAMES, _VALUES, max_size=3), st.text(max_size=8)), max_size=4)
)
def test_whatever_is_taken_is_clean_and_cleaning_it_again_changes_nothing(
    parts: list[tuple[str, dict[str, str], str]],
) -> None:
    root = ElementTree.fromstring(drawing(b""))
    for tag, attributes, words in parts:
        ElementTree.SubElement(root, f"{{http://www.w3.org/2000/svg}}{tag}", attributes).text = words
    made = _taken(ElementTree.tostring(root))
    if made is None:
        return
    assert clean(made.text.encode()) == made
    for element in ElementTree.fromstring(made.text).iter():
        name = element.tag.rpartition("}")[2]
        assert name in svgwords.ELEMENTS
        for attribute, value in element.attrib.items():
            assert attribute in svgwords.FORMS or attribute == "href"
            assert not attribute.startswith("on") and "http:" not in value and "javascript" not in value
            assert "url(" not in value or value.startswith("url(#")


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=200))
def test_no_bytes_make_it_fall_over(noise: bytes) -> None:
    for data in (noise, drawing(noise), b"<svg" + noise):
        made = _taken(data)
        assert made is None or made.text.startswith("<svg ")
