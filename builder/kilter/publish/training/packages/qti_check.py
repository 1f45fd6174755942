"""Checks of a QTI 2.1 item that its schema does not make, and some that it does."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from lxml import etree

QTI = "{http://www.imsglobal.org/xsd/imsqti_v2p1}"
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9._-]{0,254}\Z")
_KNOWN = {"p", "img", "choiceInteraction", "hotspotInteraction", "prompt", "object", "simpleChoice", "hotspotChoice"}  # fmt: skip
_CHOICES = {"choiceInteraction": "simpleChoice", "hotspotInteraction": "hotspotChoice"}
Sizes = Mapping[str, tuple[int, int]]


def faults(item: bytes, pictures: Sizes) -> list[str]:
    """What is wrong with it; `pictures` are those that travel with it, by address, with width and height in pixels."""
    try:
        root = etree.fromstring(item, etree.XMLParser(resolve_entities=False, no_network=True))
    except etree.XMLSyntaxError as trouble:
        return [f"it is no XML: {trouble}"]
    if root.tag != f"{QTI}assessmentItem":
        return ["the root is no assessmentItem of QTI 2.1"]
    body = root.find(f"{QTI}itemBody")
    if body is None:
        return ["there is no itemBody"]
    return [*_head(root), *_body(body), *_interactions(root, body, pictures)]


def _head(root: etree._Element) -> Iterator[str]:
    if not _NAME.match(root.get("identifier") or ""):
        yield f"identifier `{root.get('identifier')}` can't travel"
    for name in ("title", "adaptive", "timeDependent"):
        if not root.get(name):
            yield f"`{name}` is missing"
    processing = root.find(f"{QTI}responseProcessing")
    if processing is None or not (processing.get("template") or "").endswith("/match_correct"):
        yield "no rule says how it is marked"
    if root.find(f"{QTI}outcomeDeclaration[@identifier='SCORE']") is None:
        yield "SCORE is not declared"


def _body(body: etree._Element) -> Iterator[str]:
    if (body.text or "").strip() or any((e.tail or "").strip() for e in body):
        yield "words stand in itemBody outside an element"
    for element in body.iter():
        if not isinstance(element.tag, str) or etree.QName(element).localname in _KNOWN | {"itemBody"}:
            continue
        yield f"element `{etree.QName(element).localname}` has no place here"


def _interactions(root: etree._Element, body: etree._Element, pictures: Sizes) -> Iterator[str]:
    declared = {d.get("identifier"): d for d in root.findall(f"{QTI}responseDeclaration")}
    found = [e for name in _CHOICES for e in body.iter(f"{QTI}{name}")]
    if len(found) != 1:
        yield "there has to be one question"
    for asked in found:
        yield from _one(asked, declared, pictures)
    for image in body.iter(f"{QTI}img"):
        yield from _picture(image.get("src"), image, pictures)


def _one(asked: etree._Element, declared: Mapping[str | None, etree._Element], pictures: Sizes) -> Iterator[str]:  # fmt: skip
    response = declared.get(asked.get("responseIdentifier"))
    if response is None:
        yield "the answer is declared nowhere"
        return
    if (response.get("cardinality"), response.get("baseType")) != ("single", "identifier"):
        yield "the answer has to be a single identifier"
    if asked.get("maxChoices") != "1":
        yield "maxChoices has to be written, and 1"
    if not (asked.findtext(f"{QTI}prompt") or "").strip():
        yield "nothing is asked"
    kind = etree.QName(asked).localname
    choices = asked.findall(f"{QTI}{_CHOICES[kind]}")
    ids = [c.get("identifier") or "" for c in choices]
    if len(choices) < 2 or len(set(ids)) != len(ids):
        yield "choices have to be at least two, each with its own identifier"
    if any(not _NAME.match(each) for each in ids):
        yield "identifier of a choice can't travel"
    keys = [v.text for v in response.iter(f"{QTI}value")]
    if len(keys) != 1 or keys[0] not in ids:
        yield "the key names no choice"
    if kind == "choiceInteraction" and any(not "".join(map(str, c.itertext())).strip() for c in choices):
        yield "a choice is empty"
    if kind == "hotspotInteraction":
        yield from _hotspots(asked, choices, pictures)


def _hotspots(asked: etree._Element, choices: list[etree._Element], pictures: Sizes) -> Iterator[str]:
    picture = asked.find(f"{QTI}object")
    if picture is None:
        yield "there is no picture to point at"
        return
    yield from _picture(picture.get("data"), picture, pictures)
    width, height = pictures.get(picture.get("data") or "", (0, 0))
    for choice in choices:
        coords = choice.get("coords") or ""
        if choice.get("shape") != "circle" or not re.fullmatch(r"\d+,\d+,[1-9]\d*", coords):
            yield f"place `{coords}` is no circle of three whole numbers"
            continue
        x, y, r = map(int, coords.split(","))
        if x - r < 0 or y - r < 0 or x + r > width or y + r > height:
            yield f"place `{coords}` lies outside the picture"


def _picture(address: str | None, element: etree._Element, pictures: Sizes) -> Iterator[str]:
    if address is None or address not in pictures:
        yield f"picture `{address}` does not travel with it"
    elif (element.get("width"), element.get("height")) != tuple(map(str, pictures[address])):
        yield "width and height are not those of the picture"
