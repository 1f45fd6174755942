"""Questions as QTI 2.1 items in a content package: choice, or a place in a picture."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any

from lxml import etree

from kilter.outcome import CouldNotRunError
from kilter.publish.site.quiz import place_marked
from kilter.publish.training.packages.data import PICTURES
from kilter.publish.training.packages.figures import Ring, ringed
from kilter.publish.training.packages.gift import once
from kilter.publish.training.packages.qti_check import faults
from kilter.publish.training.packages.wire import wire_id
from kilter.publish.training.packages.zipped import zipped
from kilter.publish.training.questions.model import LETTERS

QTI = "http://www.imsglobal.org/xsd/imsqti_v2p1"
CP = "http://www.imsglobal.org/xsd/imscp_v1p1"
RIGHT = "http://www.imsglobal.org/question/qti_v2p1/rptemplates/match_correct"
MANIFEST = "imsmanifest.xml"


def qti_package(data: Mapping[str, Any], pictures: Mapping[str, bytes]) -> bytes:
    """The zip. Raises CouldNotRunError if an item does not stand our own checks."""
    inside: dict[str, bytes] = {}
    resources = []
    for n, asked in enumerate(once(data), 1):
        question, name = dict(asked), f"item-{n:03}.xml"
        sizes: dict[str, tuple[int, int]] = {}
        if figure := question["figure"]:
            question["figure"] = figure = _marked(figure, pictures, inside)
            sizes[figure["src"]] = figure["width"], figure["height"]
        inside[name] = item(question)
        found = faults(inside[name], sizes)
        if found:
            raise CouldNotRunError(f"question {question['id']}: faults in QTI: {'; '.join(found)}")
        resources.append((question["wire"], name, [*sizes]))
    inside[MANIFEST] = _manifest(data, resources)
    return zipped(inside, MANIFEST)


def _marked(
    figure: Mapping[str, Any], pictures: Mapping[str, bytes], inside: dict[str, bytes]
) -> Mapping[str, Any]:
    """The figure as it travels: where one place is asked about, the ring is drawn into the picture."""
    name = figure["src"].removeprefix(PICTURES)
    made = pictures[name]
    if len(figure["regions"]) == 1:
        region = figure["regions"][0]
        made = ringed(made, Ring(region["x"], region["y"], region["r"]))
        name = f"{hashlib.sha256(made).hexdigest()[:16]}.jpg"
    inside[PICTURES + name] = made
    return {**figure, "src": PICTURES + name}


def item(question: Mapping[str, Any]) -> bytes:
    """One `assessmentItem`; it is right or not, as a whole."""
    root = etree.Element(f"{{{QTI}}}assessmentItem", nsmap={None: QTI})
    for name, value in {
        "identifier": question["wire"],
        "title": _short(question["stem"]),
        "adaptive": "false",
        "timeDependent": "false",
    }.items():
        root.set(name, value)
    response = _sub(root, "responseDeclaration", identifier="RESPONSE", cardinality="single", baseType="identifier")  # fmt: skip
    _sub(_sub(response, "correctResponse"), "value").text = LETTERS[question["key"]]
    _sub(root, "outcomeDeclaration", identifier="SCORE", cardinality="single", baseType="float")
    body = _sub(root, "itemBody")
    figure = question["figure"]
    if figure and len(figure["regions"]) > 1:
        _places(body, question, figure)
    else:
        _choices(body, question, figure)
    _sub(root, "responseProcessing", template=RIGHT)
    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True))


def _choices(body: etree._Element, question: Mapping[str, Any], figure: Mapping[str, Any] | None) -> None:
    if figure:
        size = {"width": str(figure["width"]), "height": str(figure["height"])}
        _sub(_sub(body, "p"), "img", src=figure["src"], alt=place_marked(), **size)
    asked = _sub(body, "choiceInteraction", responseIdentifier="RESPONSE", shuffle="false", maxChoices="1")
    _sub(asked, "prompt").text = " ".join(question["stem"].split())
    for letter, choice in zip(LETTERS, question["choices"], strict=False):
        _sub(asked, "simpleChoice", identifier=letter).text = choice["text"]


def _places(body: etree._Element, question: Mapping[str, Any], figure: Mapping[str, Any]) -> None:
    asked = _sub(body, "hotspotInteraction", responseIdentifier="RESPONSE", maxChoices="1")
    _sub(asked, "prompt").text = " ".join(question["stem"].split())
    size = {"width": str(figure["width"]), "height": str(figure["height"])}
    _sub(asked, "object", type="image/jpeg", data=figure["src"], **size)
    for letter, region in zip(LETTERS, figure["regions"], strict=False):
        _sub(asked, "hotspotChoice", identifier=letter, shape="circle", coords=_coords(region, figure))


def _coords(region: Mapping[str, Any], figure: Mapping[str, Any]) -> str:
    """Whole pixels; a circle over the edge is made smaller, never moved."""
    x, y = round(region["x"]), round(region["y"])
    room = min(x, y, figure["width"] - x, figure["height"] - y)
    return f"{x},{y},{max(1, min(round(region['r']), room))}"


def _manifest(data: Mapping[str, Any], resources: list[tuple[str, str, list[str]]]) -> bytes:
    same = wire_id(f"{data['module']}-{data['revision']}-{data['digest']}")
    root = etree.Element(f"{{{CP}}}manifest", nsmap={None: CP}, identifier=f"{same}-Q")
    about = etree.SubElement(root, f"{{{CP}}}metadata")
    etree.SubElement(about, f"{{{CP}}}schema").text = "QTIv2.1 Package"
    etree.SubElement(about, f"{{{CP}}}schemaversion").text = "1.0.0"
    etree.SubElement(root, f"{{{CP}}}organizations")
    listed = etree.SubElement(root, f"{{{CP}}}resources")
    for identifier, name, pictures in resources:
        one = etree.SubElement(
            listed, f"{{{CP}}}resource", identifier=identifier, type="imsqti_item_xmlv2p1", href=name
        )
        for file in (name, *pictures):
            etree.SubElement(one, f"{{{CP}}}file", href=file)
    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True))


def _sub(above: etree._Element, tag: str, **attributes: str) -> etree._Element:
    return etree.SubElement(above, f"{{{QTI}}}{tag}", attributes)


def _short(words: str) -> str:
    joined = " ".join(words.split())
    return joined if len(joined) <= 100 else f"{joined[:99].rstrip()}…"
