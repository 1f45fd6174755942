"""The package for a learning platform: SCORM 1.2, one page, works from a file and without a network.

No `masteryscore`: platforms overwrite the page's own result with it, and a wrong answer about safety would pass.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files
from typing import Any

from lxml import etree

from kilter.outcome import CouldNotRunError
from kilter.publish.site import words
from kilter.publish.site.bundle import bundle
from kilter.publish.site.markup import Html, el, join, some, text
from kilter.publish.site.page import POLICY
from kilter.publish.site.quiz import quiz_body
from kilter.publish.training.packages.data import PICTURES
from kilter.publish.training.packages.scorm_check import faults
from kilter.publish.training.packages.wire import wire_id
from kilter.publish.training.packages.zipped import zipped

MANIFEST = "imsmanifest.xml"
PAGE = "index.html"
CP = "http://www.imsproject.org/xsd/imscp_rootv1p1p2"
ADLCP = "http://www.adlnet.org/xsd/adlcp_rootv1p2"
LONGEST_TITLE = 200
_META = '<meta name="viewport" content="width=device-width,initial-scale=1"><meta name="color-scheme" content="light dark"><link rel="icon" href="data:,">'
STYLES = ("kilter.css", "quiz.css")
FONTS = (
    "vendor/atkinson-regular.woff2",
    "vendor/atkinson-bold.woff2",
    "vendor/atkinson-hyperlegible.LICENSE",
)


def scorm_package(data: Mapping[str, Any], pictures: Mapping[str, bytes]) -> bytes:
    """The zip. Raises CouldNotRunError if it does not stand our own checks."""
    inside = {PAGE: _page(data), **_assets()}
    inside |= {PICTURES + name: picture for name, picture in pictures.items()}
    inside[MANIFEST] = manifest(data, sorted(inside))
    made = zipped(inside, MANIFEST)
    found = faults(made)
    if found:
        raise CouldNotRunError(f"the package of {data['module']} has faults: {'; '.join(found)}")
    return made


def manifest(data: Mapping[str, Any], names: list[str]) -> bytes:
    """`imsmanifest.xml`: one item that stands for the whole paper, every file listed."""
    same = wire_id(f"{data['module']}-{data['revision']}-{data['digest']}")
    root = etree.Element(f"{{{CP}}}manifest", nsmap={None: CP, "adlcp": ADLCP})
    root.set("identifier", f"{same}-M")
    root.set("version", "1.1")
    about = etree.SubElement(root, f"{{{CP}}}metadata")
    etree.SubElement(about, f"{{{CP}}}schema").text = "ADL SCORM"
    etree.SubElement(about, f"{{{CP}}}schemaversion").text = "1.2"
    organizations = etree.SubElement(root, f"{{{CP}}}organizations", default=f"{same}-O")
    organization = etree.SubElement(organizations, f"{{{CP}}}organization", identifier=f"{same}-O")
    title = _title(data)
    etree.SubElement(organization, f"{{{CP}}}title").text = title
    item = etree.SubElement(
        organization, f"{{{CP}}}item", identifier=f"{same}-I", identifierref=f"{same}-R", isvisible="true"
    )
    etree.SubElement(item, f"{{{CP}}}title").text = title
    resources = etree.SubElement(root, f"{{{CP}}}resources")
    resource = etree.SubElement(
        resources, f"{{{CP}}}resource", identifier=f"{same}-R", type="webcontent", href=PAGE
    )
    resource.set(f"{{{ADLCP}}}scormtype", "sco")
    for name in names:
        etree.SubElement(resource, f"{{{CP}}}file", href=name)
    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True))


def _title(data: Mapping[str, Any]) -> str:
    said = f"{words.word('head.draft')} {data['module']} {data['revision']} {data['title']}"
    return said if len(said) <= LONGEST_TITLE else f"{said[: LONGEST_TITLE - 1].rstrip()}…"


def _page(data: Mapping[str, Any]) -> bytes:
    head = some(
        Html(f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'),
        el("meta", charset="utf-8"),
        Html(_META),
        el("title", text(_title(data))),
        join(el("link", rel="stylesheet", href=f"assets/{name}") for name in STYLES),
        el("script", src="assets/words.js", defer=""),
        el("script", src="assets/quiz.js", defer=""),
    )
    standing = el("p", text(words.word("site.standing")), cls="quiz-note")
    body = el("main", quiz_body(data), standing, cls="quiz-page", data_theirs=words.theirs())
    page = el("html", el("head", head), el("body", body, cls="quiz-body"), lang=words.now().language, dir=words.word("language.direction"))  # fmt: skip
    return f"<!doctype html>\n{page}\n".encode()


def _assets() -> dict[str, bytes]:
    folder = files("kilter.publish.site").joinpath("assets")
    found = {f"assets/{n}": folder.joinpath(n).read_bytes() for n in STYLES}
    found |= {f"assets/{n.lower()}": folder.joinpath(n).read_bytes() for n in FONTS}
    return found | {"assets/words.js": words.script("script.quiz."), "assets/quiz.js": bundle("quizpage.js")}
